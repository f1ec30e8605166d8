"""Mentions of a sentence as a row, before readings are made of them: units, ranges, a point said once, talk beside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from assistant.language import around, units
from assistant.language.meaning import ReadingExpectation
from assistant.language.mentions import Mention
from assistant.language.number_words import ONES, say_digits
from assistant.language.quantities import plausible

#: Words of a clause of their own that take back, or put in doubt, what was read.
_DOUBTS = frozenset(
    [
        "wrong",
        "not",
        "no",
        "mistake",
        "oops",
        "sorry",
        "maybe",
        "guess",
        "think",
        "bad",
        "lying",
        "dead",
        "battery",
        "wait",
    ]
)


def beside_readings(found: Sequence[Mention]) -> list[Mention]:
    """What stands in a clause with a reading or a place.

    Talk in a clause of its own leaves the reading as it is, unless it may take it back: "two forty, nice and steady",
    but not "two forty, wrong lug".
    """
    clauses: list[list[Mention]] = [[]]
    for one in found:
        if one.kind == "stop":
            clauses.append([])
        else:
            clauses[-1].append(one)
    read = [any(one.kind in (*READ, "place", "same") for one in clause) for clause in clauses]
    first = read.index(True) if True in read else len(read)
    return [
        one
        for at, (clause, is_read) in enumerate(zip(clauses, read, strict=True))
        if is_read or at < first or not _is_remark(clause)
        for one in clause
    ]


def _is_remark(clause: Sequence[Mention]) -> bool:
    """Whether a clause is a short remark on what was read, and is said to nobody."""
    said = [word for one in clause for word in one.words.split()]
    strange = sum(not one.known for one in clause if one.kind == "word")
    return strange <= _REMARK and _PEOPLE.isdisjoint(said) and not any(map(_puts_in_doubt, said))


_REMARK = 2
_PEOPLE = frozenset(
    [
        "you",
        "your",
        "we",
        "us",
        "our",
        "he",
        "him",
        "his",
        "she",
        "her",
        "they",
        "them",
        "their",
        "honey",
        "dear",
        "buddy",
        "sir",
        "ma'am",
    ]
)


def _puts_in_doubt(words: str) -> bool:
    return any(word in _DOUBTS or word.endswith("n't") for word in words.split())


def is_not_read(found: Sequence[Mention]) -> bool:
    """Whether a number stands behind a word that makes it what was, should be or might be, or of people: "it should be
    two forty", "my kid turned eleven"."""
    table = around.shipped().words
    words: set[str] = set()
    for one in found:
        if one.kind == "stop":
            words = set()
        elif one.kind == "word":
            words |= {*one.words.split()}
        elif one.kind == "number" and words & (table["not-read"] | table["of-people"]):
            return True
    return any(one.kind == "word" and {*one.words.split()} & table["other-numbers"] for one in found)


def with_units(found: Sequence[Mention]) -> list[Mention]:
    """A unit said for itself belongs to the numbers before it that have none: "one ten, one twelve, degrees"."""
    made: list[Mention] = []
    for one in found:
        if one.kind == "unit":
            made = [replace(m, unit=one.unit) if m.kind == "number" and not (m.unit or m.foreign) else m for m in made]
        else:
            made.append(one)
    return made


def with_the_point(found: list[Mention], expected: ReadingExpectation) -> list[Mention]:
    """Numbers behind one that began with "point", which cannot be read here without it: "point four one, four two"."""
    made: list[Mention] = []
    began = pointed = False
    for one in found:
        if one.kind == "number" and not (one.unit or one.foreign or one.name):
            began = one.said.startswith("point ") or (began and not _fits(one.value, expected))
            if began and one.value.isdigit() and _fits(f"0.{one.value}", expected):
                one = replace(one, value=f"0.{one.value}", said=f"point {say_digits(one.value)}", known=False)
            elif pointed and is_pair(one.said):
                one = replace(
                    one, value=f"{one.value[0]}.{one.value[1]}", said=one.said.replace(" ", " point "), known=False
                )
            pointed |= "point" in one.said.split()
        made.append(one)
    return made


def is_pair(said: str) -> bool:
    """Whether a number was said as two digits: "nine eight" may be 9.8 beside "ten point one"."""
    words = said.split()
    return len(words) == _PAIR and all(ONES.get(word, 0) > 0 for word in words)


_PAIR = 2


def _fits(value: str, expected: ReadingExpectation) -> bool:
    return plausible(units.to_canonical(float(value), expected.unit, expected.quantity), expected)


READ = ("number", "open", "none", "zero", "span")


def with_ranges(found: Sequence[Mention], expected: ReadingExpectation) -> list[Mention]:
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
