"""Reads the JSpeech Grammar Format (W3C Note, June 2000) into small expansion trees that keep their lines.

Own parser, because every public one (seen on PyPI: pyjsgf 1.9.0 of 2020, jsgf-tools 2.1.0) loses the line
numbers that a library check must name, and jsgf-tools knows neither imports nor tags. Supported: header, grammar
name, imports, public rules, words, quoted words, references, ``<NULL>``, ``<VOID>``, grouping, optional,
``*``, ``+``, weights and tags. A tag marks the words of the expansion that it follows.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from assistant.errors import LaddersideError


class GrammarError(LaddersideError):
    """A grammar that cannot be used; the text names file, line, what is wrong and what to do."""

    def __init__(self, file: str, line: int, what: str, remedy: str) -> None:
        super().__init__(f"{file}, line {line}: {what} {remedy}")
        self.file, self.line, self.what, self.remedy = file, line, what, remedy


@dataclass(frozen=True)
class Word:
    text: str
    line: int = field(default=0, compare=False)


@dataclass(frozen=True)
class Ref:
    """A use of another rule; ``name`` is as written, with or without its grammar's name."""

    name: str
    line: int = field(default=0, compare=False)


@dataclass(frozen=True)
class Seq:
    items: tuple[Expansion, ...]


@dataclass(frozen=True)
class Alt:
    """Alternatives with their weights: 1 where none is written."""

    items: tuple[tuple[float, Expansion], ...]


@dataclass(frozen=True)
class Repeat:
    """``item`` at least ``least`` times (0 or 1), and more than once only when ``many``."""

    item: Expansion
    least: int
    many: bool


@dataclass(frozen=True)
class Tagged:
    item: Expansion
    tag: str


Expansion = Word | Ref | Seq | Alt | Repeat | Tagged

#: Matches nothing at all, and the empty string.
VOID = Alt(())
NULL = Seq(())


@dataclass(frozen=True)
class Rule:
    name: str
    expansion: Expansion
    public: bool
    file: str
    line: int


@dataclass(frozen=True)
class Grammar:
    """One source file: its name, its imports with their lines, and its rules in order."""

    name: str
    file: str
    imports: tuple[tuple[str, int], ...]
    rules: tuple[Rule, ...]


_TOKEN = re.compile(
    r"""(?P<space>\s+|//[^\n]*|/\*.*?\*/)
      |(?P<weight>/\s*[0-9.eE+-]+\s*/)
      |(?P<ref><[^<>\s]+>)
      |(?P<tag>\{(?:\\.|[^}\\])*\})
      |(?P<quoted>"(?:\\.|[^"\\])*")
      |(?P<sign>[=;|()\[\]*+])
      |(?P<word>[^\s=;|()\[\]*+<>{}"/]+)""",
    re.VERBOSE | re.DOTALL,
)


@dataclass(frozen=True)
class _Token:
    kind: str
    text: str
    line: int


def _tokens(text: str, file: str) -> list[_Token]:
    found: list[_Token] = []
    at, line = 0, 1
    while at < len(text):
        match = _TOKEN.match(text, at)
        if match is None:
            raise GrammarError(file, line, f"The character {text[at]!r} has no place here.", "Remove or complete it.")
        kind = match.lastgroup or ""
        if kind != "space":
            found.append(_Token(kind, match.group(), line))
        line += match.group().count("\n")
        at = match.end()
    return found


class _Parser:
    """Recursive descent over the tokens of one file."""

    def __init__(self, text: str, file: str) -> None:
        self.file = file
        first, _, rest = text.partition("\n")
        if not re.match(r"\ufeff?#JSGF\s+V1\.0\b[^;]*;\s*$", first):
            raise GrammarError(file, 1, "The header is missing.", 'Begin the file with "#JSGF V1.0 UTF-8 en;".')
        self.tokens = _tokens("\n" + rest, file)
        self.at = 0

    def fail(self, what: str, remedy: str) -> GrammarError:
        near = self.tokens[min(self.at, len(self.tokens) - 1)].line if self.tokens else 1
        return GrammarError(self.file, near, what, remedy)

    def peek(self) -> str:
        """The sign, or the kind of the token that comes next; empty at the end."""
        if self.at >= len(self.tokens):
            return ""
        token = self.tokens[self.at]
        return token.text if token.kind == "sign" else token.kind

    def take(self, wanted: str) -> _Token:
        if self.peek() != wanted:
            seen = self.tokens[self.at].text if self.at < len(self.tokens) else "the end of the file"
            raise self.fail(f'Found "{seen}" where {wanted!r} must stand.', "Complete the rule before it.")
        self.at += 1
        return self.tokens[self.at - 1]

    def grammar(self) -> Grammar:
        if self.take("word").text != "grammar":
            raise self.fail("The grammar's name is missing.", 'Write "grammar name;" after the header.')
        name = self.take("word").text
        self.take(";")
        imports: list[tuple[str, int]] = []
        rules: list[Rule] = []
        while self.peek():
            if self.peek() == "word" and self.tokens[self.at].text == "import":
                self.at += 1
                ref = self._import()
                imports.append((ref.text, ref.line))
                self.take(";")
            else:
                rules.append(self.rule())
        return Grammar(name, self.file, tuple(imports), tuple(rules))

    def _import(self) -> _Token:
        ref = self.take("ref")
        return _Token("ref", ref.text[1:-1], ref.line)

    def rule(self) -> Rule:
        public = self.peek() == "word" and self.tokens[self.at].text == "public"
        self.at += public
        name = self.take("ref")
        self.take("=")
        expansion = self.alternatives()
        self.take(";")
        return Rule(name.text[1:-1], expansion, public, self.file, name.line)

    def alternatives(self) -> Expansion:
        found = [self.weighted()]
        while self.peek() == "|":
            self.at += 1
            found.append(self.weighted())
        if len(found) == 1 and found[0][0] == 1.0:
            return found[0][1]
        return Alt(tuple(found))

    def weighted(self) -> tuple[float, Expansion]:
        weight = 1.0
        if self.peek() == "weight":
            text = self.take("weight").text.strip("/ ")
            try:
                weight = float(text)
            except ValueError:
                weight = 0.0
            if weight <= 0:
                raise self.fail(f"The weight {text} is not a number above zero.", "Write it like /0.5/.")
        return weight, self.sequence()

    def sequence(self) -> Expansion:
        items: list[Expansion] = []
        while self.peek() in ("word", "quoted", "ref", "(", "["):
            items.append(self.item())
        if not items:
            raise self.fail("An expansion is empty.", "Write words, or <NULL> where nothing is meant.")
        return items[0] if len(items) == 1 else Seq(tuple(items))

    def item(self) -> Expansion:
        found = self.atom()
        while self.peek() in ("*", "+", "tag"):
            token = self.tokens[self.at]
            self.at += 1
            if token.kind == "tag":
                found = Tagged(found, re.sub(r"\\(.)", r"\1", token.text[1:-1]).strip())
            else:
                found = Repeat(found, least=0 if token.text == "*" else 1, many=True)
        return found

    def atom(self) -> Expansion:
        token = self.tokens[self.at]
        self.at += 1
        if token.text == "(":
            inside = self.alternatives()
            self.take(")")
            return inside
        if token.text == "[":
            inside = self.alternatives()
            self.take("]")
            return Repeat(inside, least=0, many=False)
        if token.kind == "ref":
            name = token.text[1:-1]
            if name in ("NULL", "VOID"):
                return NULL if name == "NULL" else VOID
            return Ref(name, token.line)
        text = token.text[1:-1] if token.kind == "quoted" else token.text
        return Word(text, token.line)


def parse(text: str, file: str) -> Grammar:
    """The grammar written in ``text``; ``file`` is only named in errors.

    Raises GrammarError at the first thing that the format does not allow.
    """
    return _Parser(text, file).grammar()


def phrase(words: str) -> Expansion:
    """A plain string of words as an expansion."""
    return Seq(tuple(Word(word) for word in words.split()))
