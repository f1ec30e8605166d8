"""The energy state of the unit: a small state machine that everything unsafe must ask.

    live ──lock-out-power──► isolated ──prove-dead──► proved-dead
      ▲                         │                          │
      └──────restore-power──────┴──────────────────────────┘

A visit starts *live*: until something was locked out and measured, it can hurt. States are ordered by
how much has been shown; whatever is uncertain falls back to the less safe one.
"""

from __future__ import annotations

from assistant.library.models import Energy
from assistant.reasoning.effort import UnitState

#: From what can hurt most to what has been shown to be dead.
ORDER: tuple[UnitState, ...] = ("live", "isolated", "proved-dead")

LOCK_OUT = "lock-out-power"
PROVE_DEAD = "prove-dead"
RESTORE = "restore-power"
PROCEDURES = (LOCK_OUT, PROVE_DEAD, RESTORE)


def allows(now: UnitState, needed: Energy) -> bool:
    """Whether a step that needs ``needed`` may be described while the unit is ``now``.

    "isolated" work may also be done on a unit that is proved dead; "live" work needs power on.
    """
    if needed == "any":
        return True
    if needed == "live":
        return now == "live"
    return ORDER.index(now) >= ORDER.index(needed)


def changeover(now: UnitState, needed: Energy) -> tuple[str, ...]:
    """The procedures, in order, that bring ``now`` to what ``needed`` asks; empty when it is allowed."""
    if allows(now, needed):
        return ()
    if needed == "live":
        return (RESTORE,)
    steps = (LOCK_OUT,) if now == "live" else ()
    return (*steps, PROVE_DEAD) if needed == "proved-dead" else steps


def less_safe(one: UnitState, other: UnitState) -> UnitState:
    """Of two states the one in which more can still hurt: what going back or doubt leaves us with."""
    return min(one, other, key=ORDER.index)


def after_procedure(now: UnitState, procedure: str, outcome: str, sets: dict[str, Energy]) -> UnitState:
    """The state after a procedure was judged ``outcome``; ``sets`` is the check's ``sets_energy``.

    A failed or corrected proof of death never leaves the unit proved dead. Proving dead something that was
    not locked out shows nothing and leaves it live.
    """
    target = sets.get(outcome)
    if procedure == PROVE_DEAD:
        if now == "live":
            return "live"
        return "proved-dead" if target == "proved-dead" else "isolated"
    if target is None or target == "any":
        return now
    if procedure == LOCK_OUT and now == "proved-dead":
        return now
    return target


def after_a_break(then: UnitState) -> str:
    """The caution when a visit is resumed: what was so need not be so any more. Common practice, no source."""
    if then == "live":
        return ""
    was = "proved dead" if then == "proved-dead" else "locked out"
    return f"It was {was} when the visit stopped. See that your lock is still on, and measure before you touch."


def safe_to_touch(now: UnitState) -> str:
    """The spoken answer to "is it safe to touch?"."""
    if now == "live":
        return "No. Power is on. Touch nothing inside until it is locked out and proved dead."
    if now == "isolated":
        return "Not yet. Power is locked out, but the capacitors may hold charge until you have measured them."
    return "The supply is locked out and the bus was measured dead. Still check with your own meter before you touch."
