"""What is live and what is dead, what bars a hand, what is off, and what the refrigerant circuit holds."""

from __future__ import annotations

from typing import Literal

from assistant.library.kinds import Circuit
from assistant.messages.message import Why
from assistant.model import Model
from assistant.reasoning.effort import UnitState


class EnergyChanged(Model):
    """The power is off and locked, proved dead at ``place``, or on. Without a place it is the whole unit (older visits
    had no places). ``lock_left``: it counts as live, but the lock may hang yet, so that it has no power."""

    kind: Literal["energy-changed"] = "energy-changed"
    to: UnitState
    because: Why
    place: str = ""
    lock_left: bool = False


class VoltageMeasured(Model):
    """A voltage was measured on the way to proving ``place`` dead: ``mains`` (AC) or ``stored`` (DC), in V.

    ``absent``: below the limit, the meter's uncertainty included. ``at_s`` is the visit's time, for the decay.
    """

    kind: Literal["voltage-measured"] = "voltage-measured"
    place: str
    what: Literal["mains", "stored"]
    volts: float
    absent: bool
    at_s: float


class ProofDoubted(Model):
    """What was measured at ``place`` counts no more: the meter was not good, or a reading was corrected."""

    kind: Literal["proof-doubted"] = "proof-doubted"
    place: str


class HazardRaised(Model):
    """A hazard latches. ``cleared_by``: the checks and the outcomes that clear it."""

    kind: Literal["hazard-raised"] = "hazard-raised"
    hazard: str
    by: str
    cleared_by: tuple[tuple[str, tuple[str, ...]], ...] = ()


class HazardDisputed(Model):
    """The reading that raised it was corrected; it stands until it is measured again."""

    kind: Literal["hazard-disputed"] = "hazard-disputed"
    hazard: str


class HazardPassed(Model):
    """One of the checks that clear it passed, measured anew."""

    kind: Literal["hazard-passed"] = "hazard-passed"
    hazard: str
    check: str


class HazardCleared(Model):
    """It is over. ``by`` is the check that showed it, or "misheard" for an emergency that nobody had called."""

    kind: Literal["hazard-cleared"] = "hazard-cleared"
    hazard: str
    by: str


class TakenOff(Model):
    """From here on these things may be off, out or clipped on; hands go to ``places`` (of the state) to undo it."""

    kind: Literal["taken-off"] = "taken-off"
    things: tuple[str, ...]
    places: tuple[str, ...]
    by: str


class PutBackOrdered(Model):
    """These things were ordered back, and wait to be reported."""

    kind: Literal["put-back-ordered"] = "put-back-ordered"
    things: tuple[str, ...]


class PutBack(Model):
    """These things are back, as the technician said."""

    kind: Literal["put-back"] = "put-back"
    things: tuple[str, ...]


class CircuitChanged(Model):
    """What the refrigerant circuit holds now; not ``certain``: what it may hold besides, work on it having begun."""

    kind: Literal["circuit-changed"] = "circuit-changed"
    to: Circuit
    because: str
    certain: bool = True


class EmergencyCalled(Model):
    """An emergency was called out. ``sure``: beyond doubt; otherwise it is asked back while its bars already hold."""

    kind: Literal["emergency-called"] = "emergency-called"
    emergency: str
    sure: bool = True


class EmergencySettled(Model):
    """The emergency that was asked back: real, or misheard."""

    kind: Literal["emergency-settled"] = "emergency-settled"
    real: bool
