"""Everything that a person may say, by subject: what ``ladderside words`` prints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.dialogue.asking import (
    BOTH,
    FIRST_TO_THIRD,
    NEITHER,
    NOTHING,
    PROFILE_UNKNOWN,
    READY,
    REPAIR_DONE,
    UNDERSTOOD,
)
from assistant.language import sums, units
from assistant.language.closed import REFRIGERANTS, SUPPLIES, YES_NO
from assistant.language.sources import shipped, strings
from assistant.language.state import ANYTIME, command_phrases
from assistant.language.tagged import tagged_alternatives
from assistant.library.loader import Library
from assistant.library.models import Check, Question

#: Ways to say one thing that are printed; the grammar takes more, and the net beneath more still.
_MOST = 6
#: So many of a sum's numbers are shown.
_FEW = 3


@dataclass(frozen=True)
class Line:
    """``what`` can be said about, and some of the ways to ``say`` it."""

    what: str
    say: tuple[str, ...]


@dataclass(frozen=True)
class Page:
    """One subject."""

    subject: str
    lines: tuple[Line, ...]


def pages(library: Library) -> tuple[Page, ...]:
    """A page for requests, one for what may always be said, one for symptoms, and one for each system's checks."""
    return (
        Page("requests", tuple(_commands())),
        Page("at any time", tuple(_anytime())),
        Page("yes, no and which", tuple(_which())),
        Page("readings", READINGS),
        Page("notes and amounts", NOTES),
        Page("sums", tuple(_sums())),
        Page("arriving", tuple(_arriving())),
        Page("what the unit does", tuple(Line(one.name, one.phrases[:_MOST]) for one in library.symptoms.values())),
        *(Page(system.replace("-", " "), tuple(_checks(library, system))) for system in library.systems),
    )


#: Readings in the forms that people say them in; the unit may be left out.
READINGS = (
    Line("one number", ("two forty one", "two hundred forty one volts", "I'm getting about two forty", "it reads 241")),
    Line("nothing, or more than it shows", ("no voltage", "zero", "no reading")),
    Line("a number that moves", ("between two thirty and two forty", "it jumps from two thirty to two forty")),
    Line("another one than was said", ("no, make that two thirty nine", "correction, two thirty nine volts")),
)
#: What is kept in passing, whatever is asked.
NOTES = (
    Line(
        "refrigerant",
        ("charged two pounds three ounces", "recovered four pounds", "weighed in one kilo from cylinder two"),
    ),
    Line("time", ("travel time forty minutes", "start the clock", "stop the clock", "lunch break")),
    Line("a note", ("note the drain was glued", "make a note customer wants a quote")),
    Line("a part", ("part fan motor", "parts two capacitors")),
    Line("a picture", ("photo taken", "picture taken")),
)


def _which() -> Iterator[Line]:
    for name, choices in (
        ("whether something is so", YES_NO),
        ("a caution", UNDERSTOOD),
        ("a wait", READY),
        ("which of several", (*FIRST_TO_THIRD, BOTH, NEITHER)),
        ("a repair", REPAIR_DONE),
        ("no note", NOTHING),
    ):
        for choice in choices:
            yield Line(name, choice.phrases[:_MOST])


def _sums() -> Iterator[Line]:
    for one in sums.known().values():
        given = " ".join(f"{taken.phrases[0]} ..." for taken in one.parameters[:_FEW])
        yield Line(one.name.replace("-", " "), (f"calculate {one.phrases[0]} {given}",))


def _arriving() -> Iterator[Line]:
    yield Line("the unit", PROFILE_UNKNOWN.phrases[:_MOST])
    for name, choices in (("the supply", SUPPLIES), ("the refrigerant", REFRIGERANTS)):
        for choice in choices:
            yield Line(name, choice.phrases[:_MOST])


def _commands() -> Iterator[Line]:
    said: dict[str, list[str]] = {}
    for phrase in command_phrases():
        said.setdefault(phrase.tag.removeprefix("command ").replace("-", " "), []).append(phrase.words)
    said["check something"] = ["check the float switch", "test the fuse", "go to the breaker"]
    said["trend"] += ["trend of the superheat"]
    said["correction"] = ["correction", "scratch that", "my mistake"]
    return (Line(name, tuple(phrases[:_MOST])) for name, phrases in said.items())


def _anytime() -> Iterator[Line]:
    find = shipped().lookup({})
    for rule in ANYTIME:
        for tag, item in tagged_alternatives(rule):
            name = tag.partition(" ")[2].replace("-", " ")
            yield Line(name, tuple(dict.fromkeys(strings(item, find, rule.partition(".")[0])))[:_MOST])


def _checks(library: Library, system: str) -> Iterator[Line]:
    for check in library.checks.values():
        if library.system_of[check.id] == system:
            for question in check.ask:
                yield from _answers(check, question)


def _answers(check: Check, question: Question) -> Iterator[Line]:
    if question.reading is not None:
        unit = units.say(question.reading.unit, question.reading.quantity)
        places = tuple(f"{place.in_writing}, ..." for place in question.reading.places)
        line = "open line" if question.reading.open_line else "no reading"
        yield Line(question.say, (f"a number in {unit}".strip(), *places, line))
        return
    for choice in question.choices:
        yield Line(question.say, choice.phrases[:_MOST])
    if question.text:
        yield Line(question.say, ("free words",))
