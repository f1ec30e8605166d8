"""Readings of one sentence given to the places that were asked for."""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.language.meaning import Reading, ReadingExpectation


@dataclass
class SaidReading:
    """A reading with the places named for it; ``rest``: for all that were not named."""

    reading: Reading
    doubt: str
    places: list[str] = field(default_factory=list)
    everywhere: str | None = None
    rest: bool = False


def _in_words(reading: Reading) -> bool:
    """Whether it was told in words: "closed" beside "point one ohms" is the state of a contact."""
    return reading.spoken_value == 0 and "zero" not in reading.words


def _key(reading: Reading) -> tuple[object, ...]:
    return (reading.value, reading.special, reading.span)


def placed(said: list[SaidReading], expected: ReadingExpectation) -> tuple[list[Reading], str] | None:
    """The readings with their places; None when they cannot be given out."""
    doubts = [one.doubt for one in said if one.doubt]
    doubt = sentence(doubts[0] if doubts else "")
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


def _one(said: list[SaidReading], doubt: str) -> tuple[list[Reading], str] | None:
    """The one reading that was asked: said twice it is still one; an open line is more than "nothing".

    Two that differ come back as two, in the order said.
    """
    told = [one for one in said if one.reading.special != "no_reading"] or said
    measured = [one for one in told if one.reading.value is not None and not _in_words(one.reading)] or told
    sure = [one for one in measured if one.reading.value is None or not one.reading.unit_assumed] or measured
    distinct = {_key(one.reading): one for one in sorted(sure, key=lambda one: bool(one.doubt), reverse=True)}
    if len(distinct) == 1:
        only = next(iter(distinct.values()))
        return [only.reading], sentence(only.doubt)
    return ([one.reading for one in sure], doubt) if len(sure) == 2 else None


def sentence(doubt: str) -> str:
    return f"{doubt[0].upper()}{doubt[1:]}." if doubt else ""
