"""Puts messages into words, with the sentences of ``grammars/messages`` (written in Project Fluent's open format)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from fluent.runtime import FluentBundle
from fluent.syntax import FluentParser
from fluent.syntax.ast import Junk, VariableReference
from fluent.syntax.ast import Message as Entry
from fluent.syntax.visitor import Visitor

from assistant.data.places import data_folder
from assistant.errors import LaddersideError
from assistant.messages.message import Amount, Message, Ref, Value, Why
from assistant.quantities.spelling import unit_of

LANGUAGE = "en"


class MessageError(LaddersideError):
    """A message that the catalogue has not, or a catalogue file that cannot be read."""


class Catalogue:
    """The sentences of one language; ``variables`` tells which values each message takes.

    ``folder`` holds the files of that language; without it they are those of ``grammars/messages``.
    """

    def __init__(self, language: str = LANGUAGE, folder: Path | None = None) -> None:
        self._bundle = FluentBundle([language], functions=_FUNCTIONS, use_isolating=False)
        self._of_knowledge = lru_cache(maxsize=2048)(lambda said, library: sentence(self._plain(said, library)))
        self.variables: dict[str, frozenset[str]] = {}
        self.files: dict[str, str] = {}
        for path in sorted((folder or data_folder("grammars") / "messages" / language).glob("*.ftl")):
            self._read(path.name, path.read_text("utf-8"))

    def _read(self, name: str, text: str) -> None:
        resource = FluentParser().parse(text)
        for entry in resource.body:
            if isinstance(entry, Junk):
                line = text.count("\n", 0, entry.span.start if entry.span else 0) + 1
                raise MessageError(f"{name}, line {line}: not a message; write it as: name = The words.")
            if isinstance(entry, Entry):
                if entry.id.name in self.files:
                    raise MessageError(f"{name}: {entry.id.name} stands in {self.files[entry.id.name]} too; keep one.")
                self.files[entry.id.name] = name
                self.variables[entry.id.name] = _variables(entry)
        self._bundle.add_resource(resource)

    def words(self, said: Message, library: object) -> str:
        """The words of a message as one sentence: capital first, a full stop last. Knowledge comes from ``library``."""
        if all(type(value) is Ref for _, value in said.values):  # the same each time, and what is said most
            return self._of_knowledge(said, library)
        return sentence(self._plain(said, library))

    def in_words(self, why: Why, library: object) -> str:
        """A kept message as a sentence, of a journal older than ``library`` too; words that were kept as they are."""
        return why if isinstance(why, str) else sentence(self._plain(why, library, lenient=True))

    def phrase(self, value: Value, library: object) -> str:
        """A value as a part of a sentence, of a journal older than ``library`` too."""
        return str(self._value(value, library, lenient=True))

    def _plain(self, said: Message, library: object, lenient: bool = False) -> str:
        entry = self._bundle.get_message(said.id) if self._bundle.has_message(said.id) else None
        if entry is None or entry.value is None:
            raise MessageError(f"There are no words for the message {said.id}; add it to grammars/messages.")
        values = {name: self._value(value, library, lenient) for name, value in said.values}
        text, problems = self._bundle.format_pattern(entry.value, values)
        if problems:
            raise MessageError(f"The message {said.id} cannot be worded: {problems[0]}.")
        return " ".join(str(text).split())

    def _value(self, value: Value, library: object, lenient: bool) -> str | int:
        match value:
            case Message():
                return self._plain(value, library, lenient).removesuffix(".")  # the sentence around it ends with one
            case Ref():
                try:
                    return knowledge_text(library, value)
                except MessageError:
                    if not lenient:
                        raise
                    return value.id.replace("-", " ")  # the knowledge has it no more: its name is all that is left
            case Amount():
                return AmountInWords(value)
            case float():
                return number(value)
            case None:
                return ""
        return value


def _lowered(text: Any) -> str:
    """``LOWERED($title)``: a title in the middle of a sentence."""
    return str(text)[:1].lower() + str(text)[1:]


def _with_the(text: Any) -> str:
    """``WITH_THE($component)``: a part with its article."""
    return str(text) if str(text).startswith(("the ", "a ", "an ")) else f"the {text}"


class AmountInWords(str):
    """An amount as it is said, with three figures: "1.9 ohms"; ``bare`` is the number alone."""

    bare: str

    def __new__(cls, amount: Amount) -> AmountInWords:
        unit = unit_of(amount.quantity, amount.unit)
        value = float(f"{(amount.value - unit.offset) / unit.factor:.12g}")
        bare = plain(value)
        made = super().__new__(cls, f"{bare} {unit.one if abs(value) == 1 else unit.many}".strip())
        made.bare = bare
        return made


def _bare(amount: Any) -> str:
    """``BARE($limit)``: the number of an amount, where its unit was just said."""
    return amount.bare if isinstance(amount, AmountInWords) else str(amount)


#: What a sentence may do with its values, besides selecting by them.
_FUNCTIONS: dict[str, Callable[[Any], Any]] = {"LOWERED": _lowered, "WITH_THE": _with_the, "BARE": _bare}


class _Variables(Visitor):
    def __init__(self) -> None:
        self.found: set[str] = set()

    def visit_VariableReference(self, node: VariableReference) -> None:
        self.found.add(node.id.name)


def _variables(entry: Entry) -> frozenset[str]:
    visitor = _Variables()
    visitor.visit(entry)
    return frozenset(visitor.found)


@lru_cache(maxsize=2)
def catalogue(language: str = LANGUAGE) -> Catalogue:
    """The catalogue of a language, read once."""
    return Catalogue(language)


def knowledge_text(library: object, ref: Ref) -> str:
    """The text that ``ref`` names. Raises MessageError when the knowledge has no such text any more."""
    found: Any = getattr(library, ref.of, {}).get(ref.id)
    for part in ref.field.split("."):
        if isinstance(found, Mapping):
            found = found.get(part)
        elif isinstance(found, tuple) and part.isdigit():
            found = found[int(part)] if int(part) < len(found) else None
        elif isinstance(found, tuple):  # questions by their key
            found = next((item for item in found if getattr(item, "key", getattr(item, "id", None)) == part), None)
        else:
            found = getattr(found, part, None)
    if not isinstance(found, str):
        raise MessageError(f"The knowledge has no text {ref.of}.{ref.id}.{ref.field}.")
    return found


def plain(number: float) -> str:
    """Three significant figures without an exponent: 0.0042, 1.9, 46, 1230."""
    if number == 0:
        return "0"
    text = f"{number:.3g}"
    return f"{float(text):.0f}" if "e" in text and abs(number) >= 1 else f"{float(text):.10f}".rstrip("0").rstrip(".")


def number(value: float) -> str:
    """A number as it was said: no trailing zeros, no exponent."""
    text = f"{value:.6g}" if abs(value) >= 1e-3 or value == 0 else f"{value:.9f}".rstrip("0")
    return text if "e" not in text else f"{value:.0f}"


def sentence(text: str) -> str:
    """Capital first letter and a full stop."""
    text = text.strip()
    if not text:
        return ""
    text = text[0].upper() + text[1:]
    return text if text[-1] in ".?!:" else text + "."
