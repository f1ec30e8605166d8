"""What a sentence about readings mentions: numbers with units, places, "all three", "no, make that", and the rest.

The grammar (``readings.jsgf``) takes whole sentences; people say more around a reading than any grammar holds. Here
the sentence is cut into mentions, and ``loose_readings`` puts them together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from assistant.language import around
from assistant.language.meaning import ReadingExpectation
from assistant.language.number_words import DIGITS
from assistant.language.place_names import place_names
from assistant.language.said_numbers import Cuts, cut_at, number_at
from assistant.language.said_units import VOLTAGES, respelt, unit_phrases
from assistant.language.said_words import SaidWord, longest, said_words, text_of

Kind = Literal[
    "number",
    "unit",
    "open",
    "none",
    "zero",
    "place",
    "all",
    "rest",
    "same",
    "amend",
    "swing",
    "to",
    "and",
    "stop",
    "word",
]
_DOES: dict[str, Kind] = {
    "all": "all",
    "rest": "rest",
    "same": "same",
    "amend": "amend",
    "swing": "swing",
    "open": "open",
    "none": "none",
    "zero": "zero",
}
_TO = frozenset({"to", "through", "thru"})
_SMALL = frozenset({*DIGITS[1:], "ten", "eleven", "twelve"})
#: "All three", "both": for how many places it holds.
_COUNTS = {"both": "2", "two": "2", "three": "3", "four": "4"}


@dataclass(frozen=True)
class Mention:
    """A part of the sentence. ``name``: the place's id, or how many places "all three" means ("": as many as asked).

    ``words`` are as they were said; a number has its ``value`` as a decimal literal, the number words alone in ``said``
    (as the grammar would say them), and the ``unit`` said with it; ``foreign`` names the quantity when the unit is of
    another one than was asked. A word is ``known`` when it is said around readings or belongs to the trade, and
    ``usual`` only in the first case.
    """

    kind: Kind
    words: str
    name: str = ""
    value: str = ""
    said: str = ""
    unit: str = ""
    foreign: str = ""
    known: bool = True
    usual: bool = True


def mentions(words: str, expected: ReadingExpectation, vocabulary: frozenset[str] = frozenset()) -> list[Mention]:
    """The parts of ``words`` in order. A word in ``vocabulary``, or among those said around readings, is ``known``."""
    row = said_words(words, respelt())
    found: list[Mention] = []
    cuts: Cuts = {}
    at = 0
    while at < len(row):
        if row[at].stop and found:
            found.append(Mention("stop", ","))
        if at not in cuts:
            cuts |= cut_at(row, at, max(1, len(expected.places) - sum(one.kind == "number" for one in found)))
        mention, at = _next(row, at, expected, vocabulary, cuts)
        found.append(mention)
    return found


def _next(
    row: Sequence[SaidWord], at: int, expected: ReadingExpectation, vocabulary: frozenset[str], cuts: Cuts
) -> tuple[Mention, int]:
    """The mention that begins at ``at``, and where the next one begins."""
    place, to = longest(row, at, place_names(expected))
    number = number_at(row, at, expected, cuts)
    section, end = longest(row, at, around.shipped().section)
    # A place that looks like a number ("one to two") is one only where more is said.
    if place is not None and to >= end and (number is None or to >= number[1] or to < len(row)):
        # "Second one point five" may be the second, 1.5, or the second one, 0.5: it is left to be asked.
        unclear = row[to - 1].text == "one" and to < len(row) and row[to].text == "point"
        return Mention("place", text_of(row, at, to), name=place, known=not unclear), to
    if number is not None and number[1] >= end and not _counts(row, at, number[1], number[0].unit, vocabulary):
        found, after = number
        words = text_of(row, at, after)
        return Mention("number", words, "", found.value, found.said, found.unit, found.foreign), after
    if section is not None:
        words = text_of(row, at, end)
        kind = _does(section, expected)
        if kind is not None:
            return Mention(kind, words, name=_count(words) if kind == "all" else ""), end
    unit, after = longest(row, at, unit_phrases(expected.quantity))
    if unit is not None and len(row[at].text) > 2 and after >= end:
        return Mention("unit", text_of(row, at, after), unit=unit), after
    word = row[at].text
    if word in (*_TO, "and"):
        return Mention("and" if word == "and" else "to", word), at + 1
    end = max(end, at + 1)
    usual = section is not None
    return Mention("word", text_of(row, at, end), known=usual or word in vocabulary, usual=usual), end


def _counts(row: Sequence[SaidWord], at: int, end: int, unit: str, vocabulary: frozenset[str]) -> bool:
    """ "One flare was loose", "five wires", "a four way valve": a small number of things, and no reading."""
    small = end == at + 1 and row[at].text in _SMALL and not unit
    if not small or end >= len(row) or row[end].stop or row[end].text in around.shipped().section:
        return False
    return row[end].text in vocabulary and row[end].text not in _TO


def _count(words: str) -> str:
    """For how many places "all three" or "both" holds; "" for as many as were asked."""
    if words == "the pair":
        return _COUNTS["both"]
    return next((_COUNTS[word] for word in words.split() if word in _COUNTS), "")


def _is_voltage(expected: ReadingExpectation) -> bool:
    return expected.quantity in VOLTAGES


def _does(section: str, expected: ReadingExpectation) -> Kind | None:
    """What a phrase does where this quantity is asked; None when it only stands around the reading."""
    if section == "zero-voltage":
        return "zero" if _is_voltage(expected) else None
    if section == "short":  # across a diode a short is no volts
        return "zero" if expected.quantity == "resistance" or (expected.open_line and _is_voltage(expected)) else None
    if section == "open":
        return "open" if expected.open_line else None
    if section == "all" and len(expected.places) < 2:
        return None
    if section in ("rest", "same") and len(expected.places) < 2:
        return None
    return _DOES.get(section)
