"""Everything that a person may say, by subject: what ``ladderside words`` prints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.language import units
from assistant.language.sources import shipped, strings
from assistant.language.state import ANYTIME, command_phrases
from assistant.language.tagged import tagged_alternatives
from assistant.library.loader import Library
from assistant.library.models import Check, Question

#: Ways to say one thing that are printed; the grammar takes more, and the net beneath more still.
_MOST = 6


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
        Page("what the unit does", tuple(Line(one.name, one.phrases[:_MOST]) for one in library.symptoms.values())),
        *(Page(system.replace("-", " "), tuple(_checks(library, system))) for system in library.systems),
    )


def _commands() -> Iterator[Line]:
    said: dict[str, list[str]] = {}
    for phrase in command_phrases():
        said.setdefault(phrase.tag.removeprefix("command ").replace("-", " "), []).append(phrase.words)
    said["check something"] = ["check the float switch", "test the fuse", "go to the breaker"]
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
