"""Finds, parses and links the grammar sources; says with file and line what is missing, recursive or double."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from assistant.data.places import data_folder
from assistant.language.automaton import Lookup
from assistant.language.jsgf import Alt, Expansion, Grammar, GrammarError, Ref, Repeat, Rule, Seq, Tagged, Word, parse

#: Rules that the question gives, not a file: see ``assistant/language/state.py``.
STATE_RULES = ("unit", "value", "place", "readings", "choice", "sum", "parameter")
#: A question's rules exist twice: for what is asked now, and for what "correction" would replace. Grammars say
#: <state.x> for their own side and <now.x> or <before.x> to change sides. The name of a grammar that is used for a
#: question carries the side: "readings@now".
SIDES = ("now", "before")


@dataclass(frozen=True)
class Problem:
    """Something wrong in the grammars, or between them and a question; ``line`` 0 when no line can be named."""

    file: str
    line: int
    what: str
    remedy: str


def folder() -> Path:
    """The grammar folder. Raises DataFolderError when the installation has none."""
    return data_folder("grammars")


def lines_of(path: Path) -> Iterator[tuple[int, str]]:
    """The lines of a plain table with their numbers, without what is remarked and without those that say nothing."""
    for number, raw in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        if line := raw.partition("#")[0].strip():
            yield number, line


@dataclass(frozen=True)
class Sources:
    """Every grammar by name, linked."""

    grammars: dict[str, Grammar]
    _found: dict[tuple[str, str], tuple[Rule, str] | None] = field(default_factory=dict)

    def find(self, name: str, asking: str) -> tuple[Rule, str] | None:
        """The rule that ``name`` means when it is written in grammar ``asking``, and its home grammar."""
        if (name, asking) not in self._found:
            self._found[name, asking] = self._search(name, asking)
        return self._found[name, asking]

    def _search(self, name: str, asking: str) -> tuple[Rule, str] | None:
        home, _, short = name.rpartition(".")
        for where in [home] if home else [asking, *self._imported(name, asking)]:
            grammar = self.grammars.get(where)
            for rule in grammar.rules if grammar else ():
                if rule.name == short and (rule.public or where == asking or home):
                    return rule, where
        return None

    def _imported(self, name: str, asking: str) -> Iterator[str]:
        grammar = self.grammars.get(asking)
        for target, _ in grammar.imports if grammar else ():
            home, _, rule = target.rpartition(".")
            if rule in ("*", name):
                yield home

    def lookup(self, given: dict[str, dict[str, Expansion]]) -> Lookup:
        """Resolves references; ``given`` holds, for each side, the rules that the question gives."""

        def find(name: str, asking: str) -> tuple[Expansion, str]:
            grammar, _, side = asking.partition("@")
            home, _, short = name.rpartition(".")
            if home in SIDES:
                return given[home][short], f"state@{home}"
            if home == "state":
                return given[side or "now"][short], f"state@{side or 'now'}"
            found = self.find(name, grammar)
            if found is None:
                raise GrammarError(grammar, 0, f"The rule <{name}> is missing.", "Write it or correct its name.")
            return found[0].expansion, f"{found[1]}@{side}" if side else found[1]

        return find


def given_by_state(name: str) -> str:
    """The short name of a rule that the question gives ("place" for <state.place>), else empty."""
    home, _, short = name.rpartition(".")
    return short if home == "state" or home in SIDES else ""


def references(what: Expansion) -> Iterator[Ref]:
    """Every reference within an expansion."""
    if isinstance(what, Ref):
        yield what
    elif isinstance(what, Seq):
        for item in what.items:
            yield from references(item)
    elif isinstance(what, Alt):
        for _, item in what.items:
            yield from references(item)
    elif isinstance(what, (Repeat, Tagged)):
        yield from references(what.item)


def words(what: Expansion) -> Iterator[Word]:
    """Every word written within an expansion, not those of the rules that it uses."""
    if isinstance(what, Word):
        yield what
    elif isinstance(what, Seq):
        for item in what.items:
            yield from words(item)
    elif isinstance(what, Alt):
        for _, item in what.items:
            yield from words(item)
    elif isinstance(what, (Repeat, Tagged)):
        yield from words(what.item)


def strings(what: Expansion, lookup: Lookup, grammar: str) -> list[str]:
    """Every word string of a closed expansion; only for small ones without ``+`` and ``*``."""
    if isinstance(what, Word):
        return [what.text]
    if isinstance(what, Ref):
        expansion, home = lookup(what.name, grammar)
        return strings(expansion, lookup, home)
    if isinstance(what, Tagged):
        return strings(what.item, lookup, grammar)
    if isinstance(what, Alt):
        return [text for _, item in what.items for text in strings(item, lookup, grammar)]
    if isinstance(what, Repeat):
        return ([] if what.least else [""]) + strings(what.item, lookup, grammar)
    found = [""]
    for item in what.items:
        found = [f"{before} {after}".strip() for before in found for after in strings(item, lookup, grammar)]
    return found


def read(where: Path) -> tuple[Sources, list[Problem]]:
    """Every ``*.jsgf`` under ``where``, and what is wrong in them."""
    grammars: dict[str, Grammar] = {}
    problems: list[Problem] = []
    for path in sorted(where.glob("*.jsgf")):
        try:
            grammar = parse(path.read_text(encoding="utf-8"), path.name)
        except UnicodeDecodeError:
            problems.append(Problem(path.name, 1, "The file is not written in UTF-8.", "Save it as UTF-8."))
            continue
        except GrammarError as error:
            problems.append(Problem(error.file, error.line, error.what, error.remedy))
            continue
        if grammar.name != path.stem:
            problems.append(
                Problem(path.name, 2, f'The grammar is named "{grammar.name}".', f'Name it "{path.stem}", as its file.')
            )
        grammars[grammar.name] = grammar
    sources = Sources(grammars)
    for grammar in grammars.values():
        problems += _unlinked(sources, grammar) + _doubles(grammar) + _recursive(sources, grammar)
        problems += _bad_words(grammar)
    if not grammars:
        problems.append(Problem(str(where), 0, "No grammar was found.", "Put the grammars folder beside the program."))
    return sources, problems


def _unlinked(sources: Sources, grammar: Grammar) -> list[Problem]:
    found: list[Problem] = []
    for target, line in grammar.imports:
        home, _, wanted = target.rpartition(".")
        there = sources.grammars.get(home)
        if home == "state" and (wanted == "*" or wanted in STATE_RULES):
            continue
        if there is None or (wanted != "*" and not any(r.name == wanted and r.public for r in there.rules)):
            found.append(
                Problem(grammar.file, line, f"The import <{target}> finds nothing public.", "Correct the name.")
            )
    for rule in grammar.rules:
        for ref in references(rule.expansion):
            given = given_by_state(ref.name)
            if given not in STATE_RULES and sources.find(ref.name, grammar.name) is None:
                what = f"The rule <{ref.name}> is used in <{rule.name}> but stands nowhere."
                found.append(Problem(grammar.file, ref.line, what, "Write the rule, import it, or correct its name."))
    return found


def _doubles(grammar: Grammar) -> list[Problem]:
    seen: dict[str, int] = {}
    found: list[Problem] = []
    for rule in grammar.rules:
        if rule.name in seen:
            what = f"The rule <{rule.name}> stands a second time; the first is in line {seen[rule.name]}."
            found.append(Problem(grammar.file, rule.line, what, "Rename one or join them."))
        seen.setdefault(rule.name, rule.line)
    return found


def _recursive(sources: Sources, grammar: Grammar) -> list[Problem]:
    """Rules that use themselves: a search graph without a stack cannot hold them."""
    found: list[Problem] = []
    for rule in grammar.rules:
        seen: set[tuple[str, str]] = set()
        queue = [(ref.name, grammar.name) for ref in references(rule.expansion)]
        while queue:
            name, asking = queue.pop()
            target = sources.find(name, asking)
            if target is None or (target[0].name, target[1]) in seen:
                continue
            seen.add((target[0].name, target[1]))
            queue += [(ref.name, target[1]) for ref in references(target[0].expansion)]
        if (rule.name, grammar.name) in seen:
            what = f"The rule <{rule.name}> uses itself."
            found.append(Problem(grammar.file, rule.line, what, "Write the repetition with * or +."))
    return found


def _bad_words(grammar: Grammar) -> list[Problem]:
    """Words that no normalised utterance can hold."""
    found: list[Problem] = []
    for rule in grammar.rules:
        for word in words(rule.expansion):
            if not all(letter.isalpha() or letter == "'" for letter in word.text) or word.text != word.text.lower():
                what = f'The word "{word.text}" in <{rule.name}> can never be heard.'
                found.append(Problem(grammar.file, word.line, what, "Write it in lower-case letters, as it is spoken."))
    return found


@lru_cache(maxsize=1)
def shipped() -> Sources:
    """The grammars of this installation. Raises GrammarError with the first problem, if there is one."""
    sources, problems = read(folder())
    if problems:
        first = problems[0]
        raise GrammarError(first.file, first.line, first.what, first.remedy)
    return sources
