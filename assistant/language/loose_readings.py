"""Readings as people say them, put together from what a sentence mentions: any order, any words around them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from assistant.language import around, units
from assistant.language.meaning import Correction, Meaning, Reading, ReadingExpectation, Readings
from assistant.language.mentions import Mention, mentions
from assistant.language.number_words import say_digits
from assistant.language.parsing import Span
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


@dataclass
class _Said:
    """A reading with the places named for it; ``rest``: for all that were not named."""

    reading: Reading
    doubt: str
    places: list[str] = field(default_factory=list)
    everywhere: str | None = None
    rest: bool = False


def loose_readings(words: str, expected: ReadingExpectation, vocabulary: frozenset[str] = frozenset()) -> Loose | None:
    """The readings in ``words``, or None when there are none or they cannot be told apart."""
    found = mentions(words, expected, vocabulary)
    unknown = tuple(one.words for one in found if one.kind == "word" and not one.known)
    strange = tuple(one.words for one in found if one.kind == "word" and one.known and not one.usual)
    if _is_not_read(found):
        return None
    found = _with_the_point(_with_ranges(_with_units(found), expected), expected)
    corrects = bool(found) and found[0].kind == "amend" and any(one.kind in _READ for one in found)
    said = _said(found, expected)
    if not said:
        return _unsteady(found, words, expected, unknown, strange)
    placed = _placed(said, expected)
    if placed is None:
        return None
    readings, doubt = placed
    if not doubt and any(one.kind == "place" and not one.known for one in found):
        doubt = "It may be one point something."
    said_so = Readings(items=tuple(readings))
    meaning: Meaning = Correction(meaning=said_so) if corrects else said_so
    if not doubt and any(one.kind == "number" and not one.known for one in found):
        doubt = "The point was said once only."
    explicit = all(not item.unit_assumed or item.value is None or item.spoken_value == 0 for item in readings)
    return Loose(meaning, doubt, unknown, strange, explicit)


def _is_not_read(found: Sequence[Mention]) -> bool:
    """Whether a number stands behind a word that makes it what was, should be or might be: "it should be two forty"."""
    table = around.shipped().words
    words: set[str] = set()
    for one in found:
        if one.kind == "stop":
            words = set()
        elif one.kind == "word":
            words |= {*one.words.split()}
        elif one.kind == "number" and words & table["not-read"]:
            return True
    return any(one.kind == "word" and {*one.words.split()} & table["other-numbers"] for one in found)


def _with_units(found: Sequence[Mention]) -> list[Mention]:
    """A unit said for itself belongs to the numbers before it that have none: "one ten, one twelve, degrees"."""
    made: list[Mention] = []
    for one in found:
        if one.kind == "unit":
            made = [replace(m, unit=one.unit) if m.kind == "number" and not (m.unit or m.foreign) else m for m in made]
        else:
            made.append(one)
    return made


def _with_the_point(found: list[Mention], expected: ReadingExpectation) -> list[Mention]:
    """Numbers behind one that began with "point", which cannot be read here without it: "point four one, four two"."""
    made: list[Mention] = []
    began = False
    for one in found:
        if one.kind == "number" and not (one.unit or one.foreign or one.name):
            began = one.said.startswith("point ") or (began and not _fits(one.value, expected))
            if began and one.value.isdigit() and _fits(f"0.{one.value}", expected):
                one = replace(one, value=f"0.{one.value}", said=f"point {say_digits(one.value)}", known=False)
        made.append(one)
    return made


def _fits(value: str, expected: ReadingExpectation) -> bool:
    return plausible(units.to_canonical(float(value), expected.unit, expected.quantity), expected)


_READ = ("number", "open", "none", "zero", "span")


def _with_ranges(found: Sequence[Mention], expected: ReadingExpectation) -> list[Mention]:
    """ "ten to twenty eight volts" as one mention; what only says that the display moves is dropped with it."""
    unsteady = any(one.kind == "swing" for one in found)
    between = any(one.kind == "word" and one.words in ("between", "anywhere", "somewhere", "from") for one in found)
    made: list[Mention] = []
    at = 0
    while at < len(found):
        ends = _range_at(found, at, expected, unsteady or between)
        if ends is None:
            made.append(found[at])
            at += 1
        else:
            made.append(ends)
            at += 3
    return made


def _range_at(found: Sequence[Mention], at: int, expected: ReadingExpectation, moving: bool) -> Mention | None:
    if at + 2 >= len(found) or [one.kind for one in found[at : at + 3]] not in (
        ["number", "to", "number"],
        ["number", "and", "number"],
    ):
        return None
    low, joint, high = found[at : at + 3]
    if joint.kind == "and" and not (moving and not expected.places):
        return None
    if expected.places and not moving:
        return None
    if low.foreign or high.foreign or (low.unit and high.unit and low.unit != high.unit):
        return None
    unit = high.unit or low.unit
    return Mention("number", f"{low.words} {joint.words} {high.words}", name=low.value, value=high.value, unit=unit)


def _said(found: Sequence[Mention], expected: ReadingExpectation) -> list[_Said]:
    """Every reading with what was named for it, in the order said."""
    said: list[_Said] = []
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
                said.append(_Said(_NOTHING, "", named, everywhere, rest))
            continue
        if amends and said:
            before = said.pop()
            named = named or before.places
            everywhere = everywhere if everywhere is not None else before.everywhere
        waiting = said.pop() if said and said[-1].reading is _NOTHING else None
        for index, (reading, doubt) in enumerate(made):
            one = _Said(reading, doubt)
            if len(made) == 1:
                one = _Said(reading, doubt, named, everywhere, rest)
            elif len(named) == len(made):
                one.places = [named[index]]
            if waiting is not None and not (one.places or one.rest or one.everywhere is not None):
                one = _Said(reading, doubt, waiting.places, waiting.everywhere, waiting.rest)
            said.append(one)
    return [one for one in said if one.reading is not _NOTHING]


_NOTHING = Reading(quantity="count", value=None, spoken_value=None, spoken_unit="")


def _begins_another(one: Mention) -> bool:
    return one.kind in _READ


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
            ahead = any(other.kind in _READ for other in found[at + 1 :])
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


def _in_words(reading: Reading) -> bool:
    """Whether it was told in words: "closed" beside "point one ohms" is the state of a contact."""
    return reading.spoken_value == 0 and "zero" not in reading.words


def _key(reading: Reading) -> tuple[object, ...]:
    return (reading.value, reading.special, reading.span)


def _placed(said: list[_Said], expected: ReadingExpectation) -> tuple[list[Reading], str] | None:
    """The readings with their places; None when they cannot be given out."""
    doubts = [one.doubt for one in said if one.doubt]
    doubt = _sentence(doubts[0] if doubts else "")
    places = [place.id for place in expected.places]
    if not places:
        return _one(said, doubt)
    given: dict[str, Reading] = {}
    open_ones: list[Reading] = []
    rest: Reading | None = None
    before: Reading | None = None
    for one in said:
        if one.everywhere is not None and (one.everywhere in ("", str(len(places)))):
            if len({_key(other.reading) for other in said}) > 1:
                return None
            return [one.reading.model_copy(update={"place": place}) for place in places], doubt
        if one.rest:
            rest = one.reading
        elif one.places:
            for place in one.places:
                if place in given and _key(given[place]) != _key(one.reading):
                    return None
                given[place] = one.reading
        elif before is None or _key(before) != _key(one.reading) or not given:  # else it was said once more
            open_ones.append(one.reading)
        before = one.reading
    left = [place for place in places if place not in given]
    if open_ones and not given and rest is None:
        return _in_order(open_ones, places, doubt)
    if len(open_ones) > len(left):
        return None
    for reading, place in zip(open_ones, left, strict=False):
        given[place] = reading
    if rest is not None:
        for place in places:
            given.setdefault(place, rest)
    order = [place for place in dict.fromkeys([*given, *places]) if place in given]
    return [given[place].model_copy(update={"place": place}) for place in order], doubt


def _in_order(readings: list[Reading], places: list[str], doubt: str) -> tuple[list[Reading], str] | None:
    if len(readings) == len(places):
        return [one.model_copy(update={"place": place}) for one, place in zip(readings, places, strict=True)], doubt
    if len({_key(one) for one in readings}) == 1:
        return [readings[0]], doubt
    return None if len(readings) > len(places) else (readings, doubt or "It was not said where that was read.")


def _one(said: list[_Said], doubt: str) -> tuple[list[Reading], str] | None:
    """The one reading that was asked: said twice it is still one; an open line is more than "nothing".

    Two that differ come back as two, in the order said.
    """
    told = [one for one in said if one.reading.special != "no_reading"] or said
    measured = [one for one in told if one.reading.value is not None and not _in_words(one.reading)] or told
    sure = [one for one in measured if one.reading.value is None or not one.reading.unit_assumed] or measured
    distinct = {_key(one.reading): one for one in sorted(sure, key=lambda one: bool(one.doubt), reverse=True)}
    if len(distinct) == 1:
        only = next(iter(distinct.values()))
        return [only.reading], _sentence(only.doubt)
    return ([one.reading for one in sure], doubt) if len(sure) == 2 else None


def _sentence(doubt: str) -> str:
    return f"{doubt[0].upper()}{doubt[1:]}." if doubt else ""
