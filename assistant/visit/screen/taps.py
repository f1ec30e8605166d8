"""What is tapped on a screen: a choice, a reading, free words, a request or an emergency.

A tap is taken as a typed answer is, by the same rules: it is read back, a number out of range is refused, a caution
counts by its own acknowledgement alone. It names the question that it answers; one that is open no more is refused.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, TypeAdapter, ValidationError

from assistant.errors import LaddersideError
from assistant.language.meaning import (
    Command,
    Correction,
    Emergency,
    EmergencyKind,
    Expectation,
    Finding,
    Heard,
    Indication,
    Meaning,
    Reading,
    Readings,
    Text,
)
from assistant.language.units import UnitError, to_canonical
from assistant.model import Model


class TapError(LaddersideError):
    """A tap that is no answer to what is open: says what is wrong and what may be tapped."""


class TapChoice(Model):
    """One of ``Screen.choices`` by its key."""

    kind: Literal["choice"] = "choice"
    question: str
    choice: str


class TapReading(Model):
    """A number in ``unit`` (the asked one when empty) at ``place``, or what the meter shows in place of a number.

    ``corrects``: it replaces the last answer, or that of the place.
    """

    kind: Literal["reading"] = "reading"
    question: str
    value: Annotated[float, Field(allow_inf_nan=False)] | None = None
    unit: str = ""
    place: str | None = None
    special: Literal["open_line", "unstable", "no_reading"] | None = None
    corrects: bool = False


class TapText(Model):
    """Free words, where ``Screen.text`` says that they may be given."""

    kind: Literal["text"] = "text"
    question: str
    words: Annotated[str, Field(min_length=1, max_length=2000)]


class TapCommand(Model):
    """A request by its key; ``argument`` is a check's or a component's key for "check"."""

    kind: Literal["command"] = "command"
    name: str
    argument: str = ""


class TapEmergency(Model):
    """Someone is in danger."""

    kind: Literal["emergency"] = "emergency"
    what: EmergencyKind


Tap = Annotated[TapChoice | TapReading | TapText | TapCommand | TapEmergency, Field(discriminator="kind")]
TAP: TypeAdapter[Tap] = TypeAdapter(Tap)


def read_tap(line: str) -> Tap:
    """A tap written as JSON. Raises TapError with one sentence."""
    try:
        return TAP.validate_json(line)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        where = ".".join(str(part) for part in first["loc"]) or "the tap"
        raise TapError(
            f"That is no tap: {where}: {first['msg'].lower()}. assistant/visit/screen/schema.json tells its fields."
        ) from None


def tapped(tap: Tap, asked: Expectation, commands: frozenset[str]) -> Heard:
    """The tap as if it had been typed. ``asked`` is what is open now. Raises TapError."""
    meaning = _meaning(tap, asked, commands)
    words = _as_typed(tap)
    return Heard(words=words, meaning=meaning, trust="sure", ears=(("typed", words),))


def _as_typed(tap: Tap) -> str:
    """How the record shows it, where the words as heard stand."""
    match tap:
        case TapChoice(choice=key) | TapCommand(name=key) | TapEmergency(what=key):
            return key.replace("-", " ")
        case TapText(words=words):
            return words
        case TapReading():
            shown = (tap.special or "").replace("_", " ") if tap.value is None else f"{tap.value:g} {tap.unit}"
            return f"{(tap.place or '').replace('-', ' ')} {shown}".strip()


def _meaning(tap: Tap, asked: Expectation, commands: frozenset[str]) -> Meaning:
    match tap:
        case TapCommand(name=name, argument=argument):
            return _command(name, argument, asked, commands)
        case TapEmergency(what=what):
            return Emergency(what=what)
    if tap.question != asked.question:
        raise TapError(f"{tap.question} is open no more, {asked.question} is; nothing was taken.")
    match tap:
        case TapChoice(choice=choice):
            keys = [one.id for one in asked.choices]
            if choice not in keys:
                raise TapError(f"{choice} is no choice of {asked.question}; there are {', '.join(keys) or 'none'}.")
            return Indication(choice=choice) if asked.choice_kind == "indication" else Finding(choice=choice)
        case TapText(words=words):
            if not asked.text:
                raise TapError(f"{asked.question} takes no free words.")
            return Text(words=words)
        case TapReading():
            return _reading(tap, asked)


def _command(name: str, argument: str, asked: Expectation, commands: frozenset[str]) -> Command:
    if name not in commands:
        raise TapError(f"{name} is no request; there are {', '.join(sorted(commands))}.")
    if argument and argument not in [one.id for one in asked.checks]:
        raise TapError(f"{argument} cannot be asked for here.")
    return Command(name=name, argument=argument)


def _reading(tap: TapReading, asked: Expectation) -> Meaning:
    wanted = asked.corrects if tap.corrects else asked.reading
    if wanted is None:
        raise TapError(f"{asked.question} takes no reading.")
    places = [place.id for place in wanted.places]
    if tap.place is not None and tap.place not in places:
        raise TapError(f"{tap.place} is no place of {asked.question}; there are {', '.join(places) or 'none'}.")
    if (tap.value is None) == (tap.special is None):
        raise TapError("A reading is either a value or a special (open_line, unstable, no_reading); give one of them.")
    unit = tap.unit or wanted.unit
    try:
        value = None if tap.value is None else to_canonical(tap.value, unit, wanted.quantity)
    except UnitError as error:
        raise TapError(str(error)) from None
    reading = Reading(
        quantity=wanted.quantity,
        value=value,
        spoken_value=tap.value,
        spoken_unit=unit,
        unit_assumed=not tap.unit,
        special=tap.special,
        place=tap.place,
    )
    readings = Readings(items=(reading,))
    return Correction(meaning=readings) if tap.corrects else readings
