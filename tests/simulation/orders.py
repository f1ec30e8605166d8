"""Three ways to choose the next check: the assistant's own, the fixed textbook order, and the cheapest first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from assistant.library.loader import Library
from assistant.library.models import Check, Where
from assistant.reasoning import standing as here
from assistant.reasoning.belief import Belief
from assistant.reasoning.choice import LEAST_GAIN_BITS, gains
from assistant.reasoning.conclusion import lacking
from assistant.reasoning.effort import UnitState
from assistant.reasoning.likelihoods import Array
from assistant.reasoning.reasoner import Reasoner
from assistant.reasoning.standing import minutes_from_here

#: The order of a service manual: what the customer can see, air and water, controls, supply, wires, sensors, power
#: electronics and motors, and the refrigerant circuit last, since it must be opened. Common practice, no source.
TEXTBOOK = (
    "nothing-found",
    "indoor-fan",
    "airflow-and-coil",
    "condensate",
    "display-and-control",
    "zone-conflict",
    "supply",
    "communication",
    "sensors",
    "outdoor-fan",
    "power-stage",
    "compressor",
    "noise-smell-water",
    "defrost-and-icing",
    "installation",
    "pressure",
    "expansion-valve",
    "reversing-valve",
    "refrigerant-circuit",
    "commissioning",
)


@dataclass
class Standing:
    """Where a search stands."""

    state: UnitState = "live"
    where: Where = "indoor"
    done: list[str] = field(default_factory=list)
    skipped: list[str] = field(default_factory=list)


Order = Callable[[Belief, Standing], str | None]


def ours(reasoner: Reasoner) -> Order:
    """The check that the reasoner advises."""

    def choose(belief: Belief, now: Standing) -> str | None:
        advice = reasoner.next_check(belief, now.done, now.skipped, now.state, now.where)
        return advice.check_id if advice else None

    return choose


def textbook(reasoner: Reasoner, library: Library, symptoms: list[str]) -> Order:
    """The systems that the complaint belongs to first, then the others as the book has them; inside one as listed."""
    first = [library.system_of[symptom] for symptom in symptoms]
    rank = {system: place for place, system in enumerate(TEXTBOOK)}
    listed = {check: place for place, check in enumerate(library.checks)}

    def place_of(check_id: str) -> tuple[int, int, int]:
        system = library.system_of[check_id]
        return (0 if system in first else 1, rank.get(system, len(rank)), listed[check_id])

    order = sorted(reasoner.table.checks, key=place_of)
    turn = np.empty(len(order))
    turn[[reasoner.table.check_at[check] for check in order]] = np.arange(len(order))
    return _least(reasoner, lambda at: turn)


def cheapest(reasoner: Reasoner) -> Order:
    """Whatever takes the fewest minutes from here, changeover and walk included."""
    return _least(reasoner, lambda at: minutes_from_here(reasoner.table, reasoner.effort, at))


def _least(reasoner: Reasoner, cost: Callable[[here.Standing], Array]) -> Order:
    """The check of least cost among those that still tell something, so that no order is burdened with idle work.

    In all else as the assistant does: what must come before it first, and what a likely suspect still lacks before
    all; the rule to stop is the same.
    """
    table = reasoner.table

    def choose(belief: Belief, now: Standing) -> str | None:
        at = here.standing(table, belief, now.done, now.skipped, now.state, now.where)
        gain, foreseen = gains(table, belief)
        telling = at.open & (gain * here.sensible(table, at, foreseen) >= LEAST_GAIN_BITS)
        if lacking(table, belief, now.done, now.skipped) or not telling.any():
            advice = reasoner.next_check(belief, now.done, now.skipped, now.state, now.where)
            return advice.check_id if advice else None
        best = int(np.argmin(np.where(telling, cost(at), np.inf)))
        return table.checks[(at.pending(table, best) or [best])[0]]

    return choose


def minutes_of(reasoner: Reasoner, check: Check, now: Standing) -> float:
    """Minutes of a check from here: changeover, walk, and its own."""
    walk = 0.0 if "anywhere" in (check.where, now.where) or check.where == now.where else reasoner.effort.walk_min
    return reasoner.effort.changeover(now.state, check.energy) + walk + check.minutes


def move(check: Check, now: Standing) -> None:
    """Be where the check left us."""
    if check.energy != "any" and not (now.state == "proved-dead" and check.energy == "isolated"):
        now.state = check.energy
    if check.where != "anywhere":
        now.where = check.where
    if check.id not in now.done:
        now.done.append(check.id)
