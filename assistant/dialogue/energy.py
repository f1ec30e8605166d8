"""What has been shown of the power at each place: the state that everything unsafe must ask.

    live ──lock-out──► isolated ──no voltage, mains and stored, measured there──► proved dead there
      ▲                    │                                                          │
      └── restored, reset, still fed, an emergency, doubt, a long hold ───────────────┘

The lock isolates the whole unit; a proof holds only for the place where it was measured ("at each point of work", NFPA
70E-2024, 120.6; 29 CFR 1910.333(b)(2)(iv), its (B) from memory). A visit starts *live*: until something was locked out
and measured, it can hurt. Whatever is uncertain falls back to the less safe state.
"""

from __future__ import annotations

from typing import Literal, get_args

from assistant.library.kinds import At, Energy
from assistant.model import Model
from assistant.reasoning.effort import UnitState

#: From what can hurt most to what has been shown to be dead.
ORDER: tuple[UnitState, ...] = ("live", "isolated", "proved-dead")
#: A visit of before the states had places: what was shown then was taken for the whole unit.
EVERYWHERE = "*"

Absent = Literal["mains", "stored"]


class Shown(Model):
    """A voltage found absent at a place: ``mains`` (AC, line to line and line to earth) or ``stored`` (DC)."""

    place: str
    what: Absent
    volts: float


class Stored(Model):
    """A stored voltage that was measured, dead or not, with the visit's time in seconds: two of them show the decay."""

    place: str
    volts: float
    at_s: float


class Power(Model):
    """The lock, and what was measured since it was hung. ``dead`` are the places proved dead.

    ``left``: it counts as live because nobody watched it, but a lock was hung and may hang yet.
    """

    locked: bool = False
    left: bool = False
    shown: tuple[Shown, ...] = ()
    stored: tuple[Stored, ...] = ()
    dead: tuple[str, ...] = ()

    def at(self, place: str) -> UnitState:
        """The state of one place (``place_key``)."""
        if not self.locked:
            return "live"
        return "proved-dead" if place in self.dead or EVERYWHERE in self.dead else "isolated"

    def has_shown(self, place: str, what: Absent) -> bool:
        """Whether this voltage was found absent there since the lock was hung."""
        return any(item.place == place and item.what == what for item in self.shown)

    def stored_v(self, place: str) -> float | None:
        """The last stored voltage measured there since the lock was hung, in V; None when there was none."""
        return next((item.volts for item in reversed(self.stored) if item.place == place), None)

    def with_lock(self) -> Power:
        """Locked, nothing measured yet. A unit already locked keeps what was measured."""
        return self if self.locked else Power(locked=True)

    def measured(self, place: str, what: Absent, volts: float, at_s: float, absent: bool) -> Power:
        """After one more measurement; one that found voltage takes back what was shown of that place."""
        shown = tuple(item for item in self.shown if (item.place, item.what) != (place, what))
        if absent:
            shown += (Shown(place=place, what=what, volts=volts),)
        new = (Stored(place=place, volts=volts, at_s=at_s),) if what == "stored" else ()
        dead = self.dead if absent else tuple(item for item in self.dead if item not in (place, EVERYWHERE))
        return self.model_copy(update={"shown": shown, "stored": (*self.stored, *new), "dead": dead})

    def proved(self, place: str) -> Power:
        """After the whole proof at one place, or everywhere. Nothing is proved of a unit that is not locked out."""
        if not self.locked or place in self.dead:
            return self
        return self.model_copy(update={"dead": (*self.dead, place)})

    def doubted(self, place: str) -> Power:
        """Nothing that was shown of this place counts any more."""
        shown = tuple(item for item in self.shown if item.place != place)
        stored = tuple(item for item in self.stored if item.place != place)
        dead = tuple(item for item in self.dead if item not in (place, EVERYWHERE))
        return self.model_copy(update={"shown": shown, "stored": stored, "dead": dead})


def less_safe(one: Power, other: Power) -> Power:
    """What holds in both: what going back or doubt leaves us with. A lock that was hung may hang yet."""
    if not (one.locked and other.locked):
        return Power(left=one.left or other.left or one.locked or other.locked)
    return Power(
        locked=True,
        shown=tuple(item for item in one.shown if item in other.shown),
        stored=one.stored if one.stored[: len(other.stored)] == other.stored else other.stored,
        dead=tuple(item for item in one.dead if item in other.dead),
    )


def overall(power: Power) -> UnitState:
    """One word for the whole unit, for planning and display only: the farthest that any place was brought.

    Whether a hand may go in is never asked of this but of ``Power.at``.
    """
    if not power.locked:
        return "live"
    return "proved-dead" if power.dead else "isolated"


def place_key(at: At, zone: str | None) -> str:
    """The name of a place in the state: each indoor unit is one of its own."""
    return f"indoor/{zone}" if at == "indoor" and zone else at


def allows(now: UnitState, needed: Energy) -> bool:
    """Whether work that needs ``needed`` may be described where the state is ``now``.

    "isolated" work may also be done where it is proved dead; "live" work needs power on.
    """
    if needed == "any":
        return True
    if needed == "live":
        return now == "live"
    return ORDER.index(now) >= ORDER.index(needed)


#: Every place with a state of its own.
PLACES: tuple[At, ...] = tuple(at for at in get_args(At) if at != "anywhere")
