"""Readings as people say them, put together from what a sentence mentions: any order, any words around them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.language import units
from assistant.language.meaning import Correction, Meaning, Reading, ReadingExpectation, Readings
from assistant.language.mention_rows import (
    READ,
    beside_readings,
    is_not_read,
    with_ranges,
    with_the_point,
    with_units,
)
from assistant.language.mentions import Mention, mentions
from assistant.language.parsing import Span
from assistant.language.placed_readings import SaidReading, placed
from assistant.language.quantities import Candidate, candidates, plausible

#: Another reading of the same words within this cost makes the best one doubtful.
_RIVAL = 1.6


@dataclass(frozen=True)
class Loose:
    """Readings found in a sentence.

    ``unknown``: words that nobody knows; ``strange``: words of the trade that are not said around readings; ``units``:
    whether every reading has its unit, or is an open line or the like.
    """

    meaning: Meaning
    doubt: str = ""
    unknown: tuple[str, ...] = ()
    strange: tuple[str, ...] = ()
    units: bool = False


def loose_readings(words: str, expected: ReadingExpectation, vocabulary: frozenset[str] = frozenset()) -> Loose | None:
    """The readings in ``words``, or None when there are none or they cannot be told apart."""
    found = mentions(words, expected, vocabulary)
    beside = beside_readings(found)
    unknown = tuple(one.words for one in beside if one.kind == "word" and not one.known)
    strange = tuple(one.words for one in beside if one.kind == "word" and one.known and not one.usual)
    if is_not_read(found):
        return None
    found = with_the_point(with_ranges(with_units(found), expected), expected)
    corrects = bool(found) and found[0].kind == "amend" and any(one.kind in READ for one in found)
    said = _said(found, expected)
    if not said:
        return _unsteady(found, words, expected, unknown, strange)
    given = placed(said, expected)
    if given is None:
        return None
    readings, doubt = given
    if not doubt and any(one.kind == "place" and not one.known for one in found):
        doubt = "It may be one point something."
    said_so = Readings(items=tuple(readings))
    meaning: Meaning = Correction(meaning=said_so) if corrects else said_so
    if not doubt and any(one.kind == "number" and not one.known for one in found):
        doubt = "The point was said once only."
    explicit = all(not item.unit_assumed or item.value is None or item.spoken_value == 0 for item in readings)
    return Loose(meaning, doubt, unknown, strange, explicit)


def _said(found: Sequence[Mention], expected: ReadingExpectation) -> list[SaidReading]:
    """Every reading with what was named for it, in the order said."""
    said: list[SaidReading] = []
    segments = _segments(found)
    for segment, amends in segments:
        readings = [one for one in segment if one.kind in ("number", "open", "none", "zero") and not one.foreign]
        named = [one.name for one in segment if one.kind == "place"]
        everywhere = next((one.name for one in segment if one.kind == "all"), None)
        rest = any(one.kind == "rest" for one in segment)
        same = any(one.kind == "same" for one in segment)
        made = _readings(readings, expected)
        if not made and same and said and (named or rest):
            made = [(said[-1].reading, "")]
        if not made:
            if everywhere is not None and len(said) == 1 and not said[0].places:
                said[0].everywhere = everywhere
            elif said and named and not said[-1].places and len(segment) == len(named):
                said[-1].places += named
            elif everywhere is not None or named or rest:
                said.append(SaidReading(_NOTHING, "", named, everywhere, rest))
            continue
        if amends and said:
            before = said.pop()
            named = named or before.places
            everywhere = everywhere if everywhere is not None else before.everywhere
        waiting = said.pop() if said and said[-1].reading is _NOTHING else None
        for index, (reading, doubt) in enumerate(made):
            one = SaidReading(reading, doubt)
            if len(made) == 1:
                one = SaidReading(reading, doubt, named, everywhere, rest)
            elif len(named) == len(made):
                one.places = [named[index]]
            if waiting is not None and not (one.places or one.rest or one.everywhere is not None):
                one = SaidReading(reading, doubt, waiting.places, waiting.everywhere, waiting.rest)
            said.append(one)
    return [one for one in said if one.reading is not _NOTHING]


_NOTHING = Reading(quantity="count", value=None, spoken_value=None, spoken_unit="")


def _begins_another(one: Mention) -> bool:
    return one.kind in READ


def _names_place(segment: Sequence[Mention]) -> bool:
    return any(one.kind == "place" for one in segment)


def _segments(found: Sequence[Mention]) -> list[tuple[list[Mention], bool]]:
    """The mentions between pauses, and whether each takes back what was said before it."""
    segments: list[tuple[list[Mention], bool]] = [([], False)]

    def whole(segment: Sequence[Mention]) -> bool:
        kinds = {one.kind for one in segment}
        return bool(kinds & {"number", "open", "none", "zero", "same"})

    for at, one in enumerate(found):
        here = segments[-1][0]
        if one.kind == "stop":
            segments.append(([], False))
        elif one.kind == "amend":
            ahead = any(other.kind in READ for other in found[at + 1 :])
            before = any(whole(segment) for segment, _ in segments)
            segments.append(([], ahead and before))
        elif one.kind == "and" and whole(here):
            segments.append(([], False))
        elif whole(here) and (_begins_another(one) or (one.kind == "place" and _names_place(here))):
            segments.append(([one], False))
        else:
            here.append(one)
    merged: list[tuple[list[Mention], bool]] = []
    amends = False
    for segment, takes_back in segments:
        amends = amends or takes_back
        if any(one.kind != "word" for one in segment):
            merged.append((segment, amends and whole(segment)))
            amends = amends and not whole(segment)
    return merged


def _readings(said: Sequence[Mention], expected: ReadingExpectation) -> list[tuple[Reading, str]]:
    found: list[tuple[Reading, str]] = []
    for one in said:
        best = _reading(one, expected)
        if best is not None:
            found.append(best)
    return found


def _reading(said: Mention, expected: ReadingExpectation) -> tuple[Reading, str] | None:
    """The likeliest reading of one mention, with its doubt."""
    if said.kind in ("open", "none"):
        special = "open_line" if said.kind == "open" else "no_reading"
        return _special(special, said.words, expected), ""
    if said.kind == "zero":
        return (
            Reading(
                quantity=expected.quantity,
                value=units.to_canonical(0.0, expected.unit, expected.quantity),
                spoken_value=0.0,
                spoken_unit=expected.unit,
                unit_assumed=True,
                words=said.words,
            ),
            "",
        )
    if said.name:
        return _span(said, expected)
    item = Span("item", "", said.said.split())
    item.inner.append(Span("number", "", said.said.split()))
    if said.unit:
        item.inner.append(Span("unit", said.unit, said.unit.split()))
    offered: list[Candidate] = sorted(candidates(item, expected), key=lambda one: one.cost)
    if not offered:
        return None
    first = offered[0]
    rivals = [one for one in offered[1:] if one.cost - first.cost < _RIVAL]
    doubt = first.doubt or next((one.doubt for one in rivals if one.doubt), "")
    if rivals and not doubt:
        doubt = f'"{said.words}" can mean two things'
    return first.reading.model_copy(update={"words": said.words}), doubt


def _special(special: str, words: str, expected: ReadingExpectation) -> Reading:
    return Reading(
        quantity=expected.quantity,
        value=None,
        spoken_value=None,
        spoken_unit=expected.unit,
        unit_assumed=True,
        special=special,  # type: ignore[arg-type]
        words=words,
    )


def _span(said: Mention, expected: ReadingExpectation) -> tuple[Reading, str]:
    """An unsteady display: from ``name`` to ``value``."""
    symbol = said.unit if said.unit and said.unit != "degrees" else expected.unit
    ends = [units.to_canonical(float(end), symbol, expected.quantity) for end in (said.name, said.value)]
    low, high = sorted(ends)
    doubt = "" if plausible(low, expected) and plausible(high, expected) else "that is outside what can be read here"
    reading = Reading(
        quantity=expected.quantity,
        value=None,
        spoken_value=None,
        spoken_unit=symbol,
        unit_assumed=not said.unit,
        special="unstable",
        span=(low, high),
        words=said.words,
    )
    return reading, doubt


def _unsteady(
    found: Sequence[Mention],
    words: str,
    expected: ReadingExpectation,
    unknown: tuple[str, ...],
    strange: tuple[str, ...],
) -> Loose | None:
    """ "It's jumping all over", without numbers."""
    if not any(one.kind == "swing" for one in found) or any(one.kind == "number" for one in found):
        return None
    reading = _special("unstable", words, expected)
    return Loose(Readings(items=(reading,)), "", unknown, strange, True)
