"""What a screen shows of a visit. Keys are for programs and stay the same; labels are words, worded anew at will."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from assistant.messages.message import Message
from assistant.model import Model
from assistant.reasoning.judgement import Bound, Margin


class Named(Model):
    """A key with its label."""

    key: str
    label: str


class ReadingAsked(Model):
    """A number is asked for. ``plausible`` bounds are in ``unit``; ``units`` are all that a reading may be given in.

    ``places``: one reading of each is asked, in this order; empty: there is one place. ``open_line``: the meter may
    honestly show no number.
    """

    quantity: str
    unit: str
    units: tuple[Named, ...]
    plausible: tuple[float, float]
    places: tuple[Named, ...] = ()
    open_line: bool = False


class PlaceShown(Model):
    """A place of the unit and what was shown of its power: live, isolated, or proved dead by measurement there."""

    key: str
    label: str
    power: Literal["live", "isolated", "proved-dead"]


class HazardShown(Model):
    """A hazard that stands, and what it bars: power, flame, touch, stay."""

    key: str
    label: str
    bars: tuple[str, ...]


class SuspectShown(Model):
    """A suspect with its present chance, 0 to 1."""

    key: str
    label: str
    chance: float


class VerdictShown(Model):
    """The newest verdict. ``message`` is what it says as an id with values: reading, place, limit, margin.

    ``chances``: of every outcome of the check. ``better``: the reading that would settle an undecided one.
    """

    check: Named
    verdict: str
    outcome: str
    says: str
    message: Message | None
    better: str = ""
    bounds: tuple[Bound, ...] = ()
    margin: Margin | None = None
    chances: tuple[tuple[str, float], ...] = ()


class SaidNow(Model):
    """One reply of the turn; ``about``: caution, result, instruction, question or remark."""

    about: str
    text: str
    message: Message | None


class Screen(Model):
    """Everything that a screen beside the voice needs after a turn.

    ``question`` is the key of what is open now: a tap names it, so that none is ever taken for the answer to another
    question. ``asked`` are its words, "" where nothing is asked. ``text``: free words may be given. ``confirming``:
    what was heard and is to be confirmed, "" if nothing is. ``wait_until_s``: a wait ends then, in the visit's seconds.
    """

    version: Literal[1] = 1
    at_s: float
    stage: str
    question: str
    asked: str
    choices: tuple[Named, ...] = ()
    reading: ReadingAsked | None = None
    text: bool = False
    acknowledge: tuple[Named, ...] = Field(default=(), description="cautions that wait to be acknowledged")
    confirming: str = ""
    held: bool = False
    wait_until_s: float | None = None
    check: Named | None = Field(default=None, description="the check under way")
    commands: tuple[Named, ...] = ()
    locked: bool
    places: tuple[PlaceShown, ...]
    circuit: tuple[Named, ...]
    hazards: tuple[HazardShown, ...] = ()
    suspects: tuple[SuspectShown, ...] = ()
    verdict: VerdictShown | None = None
    says: tuple[SaidNow, ...] = ()
