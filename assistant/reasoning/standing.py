"""Where a visit stands: what was done, which checks are open from here, and what they cost in minutes."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.library.models import Where
from assistant.reasoning.belief import Belief
from assistant.reasoning.effort import Effort, UnitState
from assistant.reasoning.likelihoods import Array, Table

Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Change:
    """What must be changed before each check can be done: safety procedures, covers put back, power restored.

    ``minutes``: of all of it, shape (C,). ``kind``: checks with the same number need the same change and are open
    together once it is made; those that need none have 0 minutes.
    """

    minutes: Array
    kind: NDArray[np.intp]


#: By check, the procedures that must come first, in order.
Ways = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, eq=False)
class Standing:
    """``done``, ``open`` and ``repeatable`` by places in the table, the unit's state, the place of the technician.

    A check is open when it is not done or skipped, no earlier outcome speaks against it, and the same holds of
    everything that must still come before it. It can be repeated when neither it nor what must still come before it
    was skipped.
    """

    done: Mask
    open: Mask
    repeatable: Mask
    state: UnitState
    where: Where
    #: likeliest outcome of each answered check, -1 where there is none; what a symptom answers is among them
    outcomes: NDArray[np.intp]

    def pending(self, table: Table, check: int) -> list[int]:
        """What must still be done before ``check``, first to last."""
        return [before for before in table.after[check] if not self.done[before]]


def standing(
    table: Table, belief: Belief, done: Collection[str], skipped: Collection[str], state: UnitState, where: Where
) -> Standing:
    """The standing from check ids; those that are not in the table (procedures, other units' checks) are ignored."""
    outcomes = np.full(len(table.checks), -1, dtype=np.intp)
    for symptom in belief.symptoms:
        for check, outcome in table.answered_by[symptom]:
            outcomes[check] = outcome
    for item in belief.current:
        check = table.check_at[item.check_id]
        outcomes[check] = table.outcomes[check].index(item.likeliest)
    finished = _mask(table, done) | (outcomes >= 0)
    left = _mask(table, skipped)
    usable = ~left
    usable[[check for check, wanted in table.only_with if wanted.isdisjoint(belief.symptoms)]] = False
    given = np.flatnonzero(outcomes >= 0)
    if table.cuts_power[given, outcomes[given]].any():
        usable &= ~table.wants_power
    gave = outcomes[table.gate_on]
    against = (gave >= 0) & (table.gate_allows[np.arange(len(gave)), np.maximum(gave, 0)] == 0)
    usable[table.gate_check[against]] = False
    blocked = table.before @ (~(finished | usable)).astype(float) > 0
    repeatable = ~left & (table.before @ (left & ~finished).astype(float) == 0)
    return Standing(finished, usable & ~finished & ~blocked, repeatable, state, where, outcomes)


def _mask(table: Table, checks: Collection[str]) -> Mask:
    mask = np.zeros(len(table.checks), dtype=bool)
    mask[[table.check_at[check] for check in checks if check in table.check_at]] = True
    return mask


def sensible(table: Table, now: Standing, foreseen: Array) -> Array:
    """Chance that each check will make sense: that the earlier outcomes it still needs come about, shape (C,)."""
    chance = np.ones(len(table.checks))
    allowed = (foreseen[table.gate_on] * table.gate_allows).sum(axis=1)
    np.multiply.at(chance, table.gate_check, np.where(now.outcomes[table.gate_on] < 0, allowed, 1.0))
    return chance


def change_of_state(table: Table, effort: Effort, now: Standing) -> Change:
    """The change as the one state of the whole unit has it: what is known without the places."""
    return Change(effort.changeovers(now.state)[table.energy], table.energy.astype(np.intp))


def change_by_ways(table: Table, ways: Ways, minutes: Mapping[str, float], wait_min: Mapping[str, float]) -> Change:
    """The change as the way to each check has it. ``minutes``: of each procedure; ``wait_min``: of those before which
    the capacitors must run down."""
    kinds: dict[tuple[str, ...], int] = {(): 0}
    kind = np.zeros(len(table.checks), dtype=np.intp)
    cost = [0.0]
    for place, check in enumerate(table.checks):
        steps = ways.get(check, ())
        if steps not in kinds:
            kinds[steps] = len(kinds)
            cost.append(sum(minutes.get(step, 0.0) + wait_min.get(step, 0.0) for step in steps))
        kind[place] = kinds[steps]
    return Change(np.array(cost)[kind], kind)


def minutes_there(table: Table, effort: Effort, now: Standing) -> Array:
    """Minutes of each check once the state is as it needs: walk, what must come before, its own; shape (C,)."""
    walk = effort.walks(now.where)[table.where]
    return np.asarray(table.minutes + walk + table.before @ (table.minutes * ~now.done))


def minutes_from_here(table: Table, effort: Effort, now: Standing) -> Array:
    """Minutes to the end of each check from here, what must come before it included: shape (C,)."""
    return np.asarray(minutes_there(table, effort, now) + change_of_state(table, effort, now).minutes)
