"""Which check next: the most expected information for a minute of work, among those that the safe order allows.

- The information of a check is the expected fall of the entropy over the hypotheses (single suspects,
  none-of-these, two-faults), in bits. For the pairs the outcome is foreseen from how likely each suspect is to be
  in one, so that a choice costs checks x suspects; belief itself treats every pair.
- Its minutes are its own, the walk to it and the change of the energy state before it. A state that the visit will
  need anyway, or a check that will have to confirm the suspect anyway, is charged only for the chance that it
  would not have been needed.
- A check behind others (``after``) is judged with the time of those, and the first of them is advised; one that makes
  sense only with a certain outcome of an earlier check (``only_if``) counts with the chance of that outcome.
- Looking comes before opening: what takes a cover off or a wire out waits while a look still tells something.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from assistant.library.models import Energy, Where
from assistant.reasoning.belief import Belief, Evidence, at_fault
from assistant.reasoning.effort import ENERGIES, Effort, UnitState
from assistant.reasoning.likelihoods import Array, Table, entropy_bits

#: A check expected to tell less than this is not worth climbing a ladder for. Chosen by the simulated visits:
#: lower only lengthens hopeless visits, higher leaves rare suspects unnamed.
LEAST_GAIN_BITS = 0.002
#: However sure a check is to be needed later, some of its time is charged: answers change plans.
LEAST_CHARGE = 0.25
#: Looking goes first while its information for a minute is at least this share of the best check's.
LOOK_FIRST_SHARE = 0.5

Motive = Literal["confirm", "look-first", "most-information", "prepare"]


@dataclass(frozen=True)
class Advice:
    """The check to do next.

    ``minutes``: all of it, changeover and walk included. ``energy``: the state it needs. ``reason``: why this one;
    with "prepare", ``towards`` is the check it comes before, with "confirm" the suspect it confirms.
    """

    check_id: str
    minutes: float
    gain_bits: float
    energy: Energy
    reason: Motive
    towards: str = ""


def gains(table: Table, belief: Belief) -> tuple[Array, Array]:
    """Expected information of every check in bits, shape (C,), and the chances of its outcomes, shape (C, O).

    Cost: checks x suspects.
    """
    weights = belief.weights
    alone = np.append(weights.singles, weights.none)
    two = weights.two
    pair_outcomes = _foreseen_of_pairs(table, weights.involved, two)
    outcomes = table.seen @ alone + two * pair_outcomes
    doubt = table.doubt @ alone + two * entropy_bits(pair_outcomes, axis=1)
    return np.maximum(entropy_bits(outcomes, axis=1) - doubt, 0.0), np.asarray(outcomes)


def _foreseen_of_pairs(table: Table, involved: Array, two: float) -> Array:
    """Chance of each outcome if two suspects are at fault, by how likely each is one of the two: shape (C, O)."""
    share = involved / two if two > 0 else involved
    reached = table.named @ share
    shown = np.einsum("cos,cs->co", table.seen[:, :, :-1], table.named * share)
    scale = np.minimum(reached, 1.0) / np.maximum(reached, 1e-12)
    return np.asarray(shown * scale[:, None] + (1 - np.minimum(reached, 1.0))[:, None] * table.seen[:, :, -1])


@dataclass(frozen=True)
class Standing:
    """Where a visit stands: what was done and skipped, the unit's state, and where the technician is."""

    done: frozenset[int]
    skipped: frozenset[int]
    state: UnitState
    where: Where
    #: likeliest outcome of each answered check, by places in the table
    outcomes: Mapping[int, int] = field(default_factory=dict)


def standing(
    table: Table, belief: Belief, done: Collection[str], skipped: Collection[str], state: UnitState, where: Where
) -> Standing:
    """The same by places in the table; ids that are not there (procedures, other units' checks) are ignored."""
    answered = {item.check_id for item in belief.current}
    return Standing(
        frozenset(table.check_at[check] for check in (*done, *answered) if check in table.check_at),
        frozenset(table.check_at[check] for check in skipped if check in table.check_at),
        state,
        where,
        {table.check_at[item.check_id]: _likeliest(table, item) for item in belief.current},
    )


def _likeliest(table: Table, item: Evidence) -> int:
    outcome = max(item.chances, key=lambda pair: pair[1])[0]
    return table.outcomes[table.check_at[item.check_id]].index(outcome)


def choose(
    table: Table, looks: NDArray[np.bool_], effort: Effort, belief: Belief, now: Standing, wanted: int | None
) -> Advice | None:
    """The best next check, or None when none is worth its time. ``wanted``: a suspect that only lacks its
    confirming check, which then goes before all others."""
    gain, foreseen = gains(table, belief)
    gain = gain * _sensible(table, now, foreseen)
    minutes = _minutes(table, effort, now)
    open_ = np.array([_is_open(table, check, now) for check in range(len(table.checks))], dtype=bool)
    if wanted is not None:
        confirming = np.flatnonzero(open_ & (table.confirms[:, wanted] > 0))
        if len(confirming):
            best = int(confirming[np.argmin(minutes[confirming])])
            return _advice(table, best, minutes, gain, now, "confirm", table.suspects[wanted])
    open_ &= gain >= LEAST_GAIN_BITS
    if not open_.any():
        return None
    rate = np.where(open_, gain / _charged(table, effort, belief, now, minutes), -1.0)
    best = int(np.argmax(rate))
    motive: Motive = "most-information"
    if not looks[best]:
        look_rate = np.where(looks, rate, -1.0)
        look = int(np.argmax(look_rate))
        if look_rate[look] >= LOOK_FIRST_SHARE * rate[best]:
            best, motive = look, "look-first"
    return _advice(table, best, minutes, gain, now, motive, "")


def _is_open(table: Table, check: int, now: Standing) -> bool:
    """Not done, not skipped, nothing that must come before it was skipped, and no earlier outcome speaks against it."""
    if check in now.done or not now.skipped.isdisjoint((check, *table.after[check])):
        return False
    return all(now.outcomes.get(gate, next(iter(wanted), -1)) in wanted for gate, wanted in table.gates[check])


def _sensible(table: Table, now: Standing, outcomes: Array) -> Array:
    """Chance that each check will make sense: that the earlier outcomes it needs come about, shape (C,)."""
    chance = np.ones(len(table.checks))
    for check, gates in enumerate(table.gates):
        for gate, wanted in gates:
            if gate not in now.outcomes:
                chance[check] *= outcomes[gate, sorted(wanted)].sum()
    return chance


def _pending(table: Table, check: int, now: Standing) -> list[int]:
    """What must still be done before ``check``, first to last."""
    return [before for before in table.after[check] if before not in now.done]


def _minutes(table: Table, effort: Effort, now: Standing) -> Array:
    """Minutes to the end of each check from here, those that come before it included: shape (C,)."""
    way = effort.changeovers(now.state)[table.energy] + effort.walks(now.where)[table.where]
    minutes = np.asarray(table.minutes + way)
    for check, before in enumerate(table.after):
        if before:
            minutes[check] += sum(table.minutes[step] for step in _pending(table, check, now))
    return minutes


def _charged(table: Table, effort: Effort, belief: Belief, now: Standing, minutes: Array) -> Array:
    """Minutes less what the visit is expected to need anyway, shape (C,)."""
    suspected = np.minimum(at_fault(belief), 1.0)
    needed = table.confirms @ suspected
    state_needed = np.array([needed[table.energy == state].sum() for state in range(len(ENERGIES))])
    changeover = effort.changeovers(now.state)[table.energy]
    spared = np.minimum(needed, 1 - LEAST_CHARGE) * (minutes - changeover)
    spared += np.minimum(state_needed, 1 - LEAST_CHARGE)[table.energy] * changeover
    return np.asarray(minutes - spared)


def _advice(
    table: Table, check: int, minutes: Array, gain: Array, now: Standing, motive: Motive, towards: str
) -> Advice:
    before = _pending(table, check, now)
    if before:
        motive, towards = "prepare", table.checks[check]
    first = before[0] if before else check
    energy = ENERGIES[table.energy[first]]
    return Advice(table.checks[first], float(minutes[first]), float(gain[first]), energy, motive, towards)
