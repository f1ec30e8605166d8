"""Sentences with what they mean, as lines of a table; and whether an understood meaning is the one that was meant.

A table is a TSV file with the columns sentence, state, meaning and kind; ``tests/words/README.md`` tells its form.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from assistant.errors import LaddersideError
from assistant.language import units
from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Command,
    Correction,
    Emergency,
    Expectation,
    Finding,
    Indication,
    Meaning,
    Quantity,
    Reading,
    Readings,
    Told,
)

COLUMNS = ("sentence", "state", "meaning", "kind")
#: How units are written in the table where they differ from the symbols of ``units``.
_WRITTEN = {"l/s": "L/s"}
#: A reading said without a unit.
_UNSAID = "?"
#: The state of words that may be said whatever is asked.
ANY_STATE = "any"
#: Shares of a value that make no other reading of it.
_EQUAL = 1e-4

#: The question with a key, or None when there is no such question.
Ask = Callable[[str], Expectation | None]


class CorpusError(LaddersideError):
    """The table cannot be read; the text names file and line and tells what to do."""


@dataclass(frozen=True)
class Atom:
    """One thing that was meant: ``what`` names it ("filter-look.filter=choice:clear", "command:skip"); a reading has
    its ``values`` (one, or the two ends of an unsteady one) in ``unit``, and its place in ``what``."""

    what: str
    values: tuple[float, ...] = ()
    unit: str = ""


Atoms = frozenset[Atom]


@dataclass(frozen=True)
class Row:
    """A sentence said in ``state``; each of ``meanings`` would be right. Talk has one without atoms."""

    sentence: str
    state: str
    meanings: tuple[Atoms, ...]
    kind: str
    line: int


def read(path: Path, ask: Ask, gone: list[str] | None = None) -> list[Row]:
    """The rows of a table. Raises CorpusError naming file and line.

    With ``gone``, lines about questions that the knowledge has no more are left out and told there: the knowledge
    changes, and sentences that were written once stay as they were said.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise CorpusError(f"{path} does not exist; name a table of sentences.") from None
    except (OSError, UnicodeDecodeError) as error:
        raise CorpusError(f"{path} cannot be read as UTF-8 text ({error}); save it so.") from None
    lines = csv.reader(text.splitlines(), delimiter="\t", quoting=csv.QUOTE_NONE)
    head = next(lines, [])
    if tuple(head) != COLUMNS:
        raise CorpusError(f"{path}, line 1: the columns must be {', '.join(COLUMNS)}, with a tab between them.")
    rows: list[Row] = []
    for number, cells in enumerate(lines, start=2):
        try:
            rows += [_row(path, number, cells, ask)] if any(cells) else []
        except _GoneError as error:
            if gone is None:
                raise
            gone.append(str(error))
    return rows


class _GoneError(CorpusError):
    """A line about a question or a choice that is not there."""


def _row(path: Path, number: int, cells: list[str], ask: Ask) -> Row:
    if len(cells) != len(COLUMNS):
        raise CorpusError(f"{path}, line {number}: {len(cells)} cells instead of {len(COLUMNS)}; mend the tabs.")
    sentence, state, meaning, kind = (cell.strip() for cell in cells)
    if state != ANY_STATE and ask(state) is None:
        raise _GoneError(f"{path}, line {number}: there is no question “{state}”; write its key, or any.")
    try:
        meanings = tuple(_atoms(one, state, ask) for one in meaning.split(" | "))
    except _GoneError as error:
        raise _GoneError(f"{path}, line {number}: {error}") from None
    except (ValueError, LaddersideError) as error:
        raise CorpusError(f"{path}, line {number}: the meaning “{meaning}” cannot be read: {error}") from None
    return Row(sentence, state, meanings, kind, number)


def _atoms(text: str, state: str, ask: Ask) -> Atoms:
    kind, _, rest = text.strip().partition(":")
    if kind == "none":
        return frozenset()
    if kind in ("facts", "answer-and-facts"):
        return frozenset(atom for part in rest.split(" + ") for atom in _part(part.strip(), state, ask))
    return frozenset(_part(text.strip(), state, ask))


def _part(text: str, state: str, ask: Ask) -> Iterable[Atom]:
    """The atoms of one fact or one answer; an answer is a fact about the open question."""
    kind, _, rest = text.partition(":")
    key, named, value = text.partition("=")
    if named and not kind.startswith(("indication", "command")):
        kind, _, rest = value.partition(":")
        state = key
    if kind in ("command", "cannot", "ask", "emergency", "indication"):
        return [Atom(f"{kind}:{rest}")]
    question = ask(state) if kind in ("choice", "reading") else None
    if kind in ("choice", "reading") and question is None:
        raise _GoneError(f"there is no question “{state}”.")
    if kind == "choice":
        if question is not None and all(choice.id != rest for choice in question.choices):
            raise _GoneError(f"“{state}” has no answer “{rest}”.")
        return [Atom(f"{state}=choice:{rest}")]
    if kind == "reading":
        return [_reading(one.strip(), state, ask) for one in rest.split(";")]
    raise ValueError(f"“{kind}” is no kind of meaning.")


def _reading(text: str, state: str, ask: Ask) -> Atom:
    said, _, place = text.partition("@")
    where = f"{state}@{place}" if place else state
    if said in ("OL", "none"):
        return Atom(f"{where}={'open_line' if said == 'OL' else 'no_reading'}")
    number, _, unit = said.partition(" ")
    ends = tuple(float(end) for end in number.split(".."))
    question = ask(state)
    if question is None or question.reading is None:
        raise _GoneError(f"“{state}” asks for no reading.")
    if unit == _UNSAID:
        return Atom(f"{where}=reading", ends, _UNSAID)
    quantity = question.reading.quantity
    symbol = units.unit(_WRITTEN.get(unit, unit), quantity).symbol
    return Atom(f"{where}=reading", _canonical(ends, symbol, quantity), units.canonical(quantity))


def _canonical(values: Iterable[float], symbol: str, quantity: Quantity) -> tuple[float, ...]:
    return tuple(sorted(units.to_canonical(value, symbol, quantity) for value in values))


def atoms_of(meaning: Meaning | None, state: str) -> Atoms:
    """What an understood meaning says, with readings in canonical units and as they were spoken."""
    return frozenset(_of(meaning, state)) if meaning is not None else frozenset()


def _of(meaning: Meaning, state: str) -> Iterable[Atom]:
    match meaning:
        case Told(answer=answer, facts=facts):
            answered = list(_of(answer, state)) if answer is not None else []
            told = [atom for fact in facts for atom in _fact(fact)]
            return [*answered, *told]
        case Indication(choice=choice):
            return [Atom(f"indication:{choice}")]
        case Finding(choice=choice):
            return [Atom(f"{state}=choice:{choice}")]
        case Readings(items=items):
            return [_read(item, state) for item in items]
        case Command(name=name, argument=argument):
            return [Atom(f"command:{name} {argument}".rstrip())]
        case Correction(meaning=None):
            return [Atom("command:correction")]
        case Correction(meaning=inner) if inner is not None:
            return [Atom("correction"), *_of(inner, state)]
        case Cannot(reason=reason):
            return [Atom(f"cannot:{reason}")]
        case BackQuestion(topic=topic):
            return [Atom(f"ask:{topic}")]
        case Emergency(what=what):
            return [Atom(f"emergency:{what}")]
    return [Atom(meaning.kind)]


def _fact(fact: Meaning | object) -> Iterable[Atom]:
    if isinstance(fact, Indication):
        return _of(fact, "")
    assert hasattr(fact, "question")
    assert hasattr(fact, "answer")
    return _of(fact.answer, fact.question)


def _read(item: Reading, state: str) -> Atom:
    where = f"{state}@{item.place}" if item.place else state
    if item.value is None and item.span is None:
        return Atom(f"{where}={item.special}")
    values = item.span if item.span is not None else (item.value or 0.0,)
    unit = f"{item.spoken_unit}{_UNSAID if item.unit_assumed else ''} {item.quantity}"
    return Atom(f"{where}=reading", tuple(values), unit)


def one_named(atoms: Atoms, twins: Mapping[str, frozenset[str]]) -> Atoms:
    """What was said, each thing that has several names under the first of them (``Tellable.twins``)."""
    return frozenset(replace(atom, what=min({atom.what, *twins.get(atom.what, ())})) for atom in atoms)


def same(wanted: Atoms, got: Atoms, names: Callable[[str, str], bool]) -> bool:
    """Whether what was understood is what was meant. ``names(slug, target)`` tells whether a target of "check the ..."
    is what the slug names."""
    if len(wanted) != len(got):
        return False
    left = list(got)
    for atom in wanted:
        found = next((other for other in left if _same(atom, other, names)), None)
        if found is None:
            return False
        left.remove(found)
    return True


def _same(wanted: Atom, got: Atom, names: Callable[[str, str], bool]) -> bool:
    check = "command:check "
    if wanted.what.startswith(check) and got.what.startswith(check):
        return names(wanted.what.removeprefix(check), got.what.removeprefix(check))
    if wanted.what != got.what or len(wanted.values) != len(got.values):
        return False
    values = got.values
    if wanted.unit == _UNSAID:
        symbol, _, quantity = got.unit.partition(" ")
        if not symbol.endswith(_UNSAID):
            return False
        values = tuple(units.from_canonical(value, symbol.rstrip(_UNSAID), quantity) for value in values)  # type: ignore[arg-type]
    return all(
        abs(one - other) <= _EQUAL * max(abs(one), 1e-9) for one, other in zip(wanted.values, values, strict=True)
    )


def slug_words(slug: str) -> frozenset[str]:
    """The words of a slug without those that name no part."""
    return frozenset(re.split(r"[-\s]+", slug)) - {"check", "the", "look", "test", "a", "of"}
