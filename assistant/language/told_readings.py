"""Readings told unasked: "two forty one leg to leg". What names them stands in ``grammars/told-readings.txt``."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from assistant.language.loose_readings import Loose, loose_readings
from assistant.language.meaning import Expectation, Reading, Readings, ToldAnswer
from assistant.language.notions import shipped as notions
from assistant.language.number_words import DIGITS
from assistant.language.quantities import UNIT_UNSAID
from assistant.language.said_units import VOLTAGES
from assistant.language.scope import Tellable
from assistant.language.sources import Problem, folder, lines_of
from assistant.language.written import as_words

FILE = "told-readings.txt"
#: How sure a reading is that its name and its unit were said with; with its name alone; and by a name that only may be.
WITH_UNIT, WITHOUT_UNIT, PERHAPS = 0.97, 0.93, 0.7
#: What stands between two readings of one check.
_PIECES = re.compile(r"\s+(?:with|and|by|then)\s+(?:an?\s+|the\s+)?", re.IGNORECASE)
#: Strange words beside a reading without its unit make it doubtful.
_MOST_STRANGE = 3


@dataclass(frozen=True)
class Name:
    """Words of which one each must be said, and words that must not be; ``sure`` unless it is to be asked back."""

    wanted: tuple[tuple[str, ...], ...]
    barred: tuple[str, ...] = ()
    sure: bool = True


@dataclass(frozen=True)
class Found:
    """Readings that were told, each of its own question, and how sure it is that they were."""

    facts: tuple[ToldAnswer, ...]
    chance: float


def read(path: Path) -> tuple[dict[str, tuple[Name, ...]], list[Problem]]:
    """The names of each question's reading, and what is wrong in the table."""
    names: dict[str, tuple[Name, ...]] = {}
    problems: list[Problem] = []
    for number, line in lines_of(path):
        key, colon, told = (part.strip() for part in line.partition(":"))
        if not colon or not told:
            what = f'"{line}" cannot be read.'
            problems.append(Problem(path.name, number, what, 'Write "CHECK.QUESTION: name; name".'))
        elif key in names:
            problems.append(Problem(path.name, number, f"{key} stands there twice.", "Put its names into one line."))
        else:
            names[key] = tuple(_name(part.strip()) for part in told.split(";") if part.strip())
    return names, problems


def _name(text: str) -> Name:
    words = text.removeprefix("~").split()
    wanted = tuple(tuple(word.split("/")) for word in words if not word.startswith("-"))
    return Name(wanted, tuple(word[1:] for word in words if word.startswith("-")), not text.startswith("~"))


@lru_cache(maxsize=1)
def shipped() -> dict[str, tuple[Name, ...]]:
    """The table of this installation."""
    return read(folder() / FILE)[0]


def told_readings(words: str, tellable: Tellable) -> tuple[Found, ...]:
    """The readings that ``words`` may tell, the surest first; of those whose names fit, the ones that name most.

    Two readings of one check in one clause ("fifteen meters long with four meters of height") are found piece by piece.
    """
    found = _told(words, tellable)
    pieces = _PIECES.split(words)
    if found or len(pieces) != 2:
        return found
    each = [next(iter(_told(piece, tellable)), None) for piece in pieces]
    told = [one for one in each if one is not None]
    if len(told) < len(pieces) or len({one.facts[0].question.partition(".")[0] for one in told}) > 1:
        return ()
    facts = tuple(fact for one in told for fact in one.facts)
    return (Found(facts, min(one.chance for one in told)),) if len({fact.question for fact in facts}) > 1 else ()


def _told(words: str, tellable: Tellable) -> tuple[Found, ...]:
    said = _Said(words)
    fits = [(key, name, len(name.wanted)) for key, name in _fitting(said, tellable.questions)]
    if not fits:
        return ()
    found: dict[str, tuple[int, Found]] = {}
    for key, name, length in fits:
        asked = tellable.questions[key]
        made = _reading(said.without(name), asked, tellable.words)
        if made is not None:
            told, chance = made
            chance = chance if name.sure else min(chance, PERHAPS)
            best = found.get(key)
            if best is None or (length, chance) > (best[0], best[1].chance):
                found[key] = (length, Found((ToldAnswer(question=key, answer=told),), chance))
    most = max((length for length, _ in found.values()), default=0)
    mine = [one for length, one in found.values() if length == most]
    if len({one.facts[0].question for one in mine}) > 1:
        mine = [Found(one.facts, one.chance / len(mine)) for one in mine]
    return tuple(sorted(mine, key=lambda one: -one.chance))


def _fitting(said: _Said, questions: Mapping[str, Expectation]) -> Iterator[tuple[str, Name]]:
    for key, names in shipped().items():
        asked = questions.get(key)
        if asked is not None and asked.reading is not None:
            for name in names:
                if said.names(name):
                    yield key, name


class _Said:
    """A sentence as its words and what they mean."""

    def __init__(self, words: str) -> None:
        self._words_said = words
        self._text = f" {as_words(words).replace(chr(39) + 's', '')} "
        self._words = {*self._text.split(), *(one.removeprefix("+") for one in notions().notions(self._text))}

    def names(self, name: Name) -> bool:
        return all(any(self._has(word) for word in one) for one in name.wanted) and not any(
            self._has(word) for word in name.barred
        )

    def _has(self, word: str) -> bool:
        return f" {word.replace('_', ' ')} " in self._text if "_" in word else word in self._words

    def without(self, name: Name) -> str:
        """The sentence without those words of the name that hold a number: "the five volt pin gives two point one"."""
        text = _CALLED_BY_VOLTS.sub("", self._words_said)
        for one in name.wanted:
            for word in one:
                if "_" in word and _NUMBERS & set(word.split("_")):
                    text = re.sub(rf"\b{word.replace('_', ' ')}\b", " ", text, flags=re.IGNORECASE)
        return text


#: A voltage that is the name of a supply and no reading of it: "the five volt rail".
_CALLED_BY_VOLTS = re.compile(
    r"\b\w+[ -]volt (?=(?:supply|rail|pin|line|output|point|feed|regulator)\b)", re.IGNORECASE
)
_NO_VOLTAGE = re.compile(
    r"\b(?:no|not any|zero|without|any) (?:\w+ )?(?:volts?|voltage|power|juice|potential)\b", re.IGNORECASE
)
_SMALL = frozenset({*DIGITS, "ten", "eleven", "twelve"})
_NUMBERS = frozenset({"one", "two", "three", "four", "five", "5"})


def _reading(words: str, asked: Expectation, vocabulary: frozenset[str]) -> tuple[Readings, float] | None:
    """The readings in ``words`` as answers to ``asked``, and how sure they are; None when there are none that fit."""
    assert asked.reading is not None
    found = loose_readings(words, asked.reading, vocabulary)
    if found is None or not isinstance(found.meaning, Readings):
        return None
    if found.doubt and not found.doubt.lower().startswith(UNIT_UNSAID):  # the unit is asked where it counts
        return None
    readings = found.meaning
    places = {one.place for one in readings.items}
    if asked.reading.places and (None in places or len(places) < len(asked.reading.places)):
        return None
    low, high = asked.reading.plausible
    if not asked.reading.places and len(readings.items) > 1:
        return None
    if any(one.value is not None and not low <= one.value <= high for one in readings.items):
        return None
    if not all(_is_told(one, words) for one in readings.items):
        return None
    return readings, _chance(found)


def _is_told(reading: Reading, words: str) -> bool:
    """Whether it is a reading by itself: no "nothing" or "jumping" alone, no "one" of several things."""
    if reading.special == "no_reading":
        return reading.quantity in VOLTAGES and _NO_VOLTAGE.search(words) is not None
    if reading.special == "unstable":
        return reading.span is not None
    if reading.spoken_value is None or not reading.unit_assumed:
        return True
    is_short = reading.words in _SMALL and reading.spoken_value != 0
    return not is_short and (reading.spoken_value != 0 or "zero" in reading.words)


def _chance(found: Loose) -> float:
    if found.units and not found.unknown:
        return WITH_UNIT
    if len(found.unknown) + len(found.strange) <= _MOST_STRANGE or found.units:
        return WITHOUT_UNIT
    return PERHAPS
