"""Which check next: the most expected information for a minute of work, among those that the safe order allows.

The plan looks ahead over one change of the energy state: what it costs is set against all that it opens, not against
one check; and what is open without a change is done first while it still tells a fair share of that.

- The information of a check is the expected fall of the entropy over the hypotheses (single suspects,
  none-of-these, two-faults), in bits. For the pairs the outcome is foreseen from how likely each suspect is to be
  in one, so that a choice costs checks x suspects; belief itself treats every pair.
- Its minutes are its own, the walk to it and the change before it (lock-out, proof at the place, covers put back).
  A change that the visit will need anyway, or a check that will have to confirm the suspect anyway, is charged only
  for the chance that it would not have been needed.
- A check behind others (``after``) is judged with the time of those, and the first of them is advised; one that makes
  sense only with a certain outcome of an earlier check (``only_if``) counts with the chance of that outcome.
- When nothing new is worth its time, an answer that may have been a slip is asked once more.
- Looking comes before opening: what takes a cover off or a wire out waits while a look still tells something.
- Before a change comes what is open as things are and is so likely to be needed for the suspects that coming back for
  it would cost more.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from assistant.library.models import Energy
from assistant.reasoning.belief import Belief, Weights, at_fault
from assistant.reasoning.conclusion import PURSUE_CHANCE, Lacking
from assistant.reasoning.effort import ENERGIES, Effort
from assistant.reasoning.likelihoods import Array, Table, entropy_bits
from assistant.reasoning.repeats import repeat_gains
from assistant.reasoning.standing import Change, Standing, minutes_there, sensible

#: A check expected to tell less than this is not worth climbing a ladder for. Chosen by the simulated visits:
#: 0.01 makes hopeless visits a third longer and names half a percent more, 0.04 leaves two percent more unnamed.
LEAST_GAIN_BITS = 0.02
#: However sure a check is to be needed later, some of its time is charged: answers change plans.
LEAST_CHARGE = 0.25
#: Looking goes first while its information for a minute is at least this share of the best check's.
LOOK_FIRST_SHARE = 0.5
#: What is open in the present state goes before a change while it tells at least this share for a minute of what the
#: change with all that it opens would.
STAY_SHARE = 0.5
#: Of several checks after one change each tells so much of what it would tell alone: they look at the same faults.
OVERLAP = 0.7
#: A change is planned for at most so many checks.
MOST_AHEAD = 6
#: Coming back for one thing that was left undone: the change back, and the change that is then made once more. Common
#: practice, no source.
COME_BACK_MIN = 10.0

Motive = Literal["confirm", "look-first", "most-information", "prepare", "make-sure"]


@dataclass(frozen=True)
class Advice:
    """The check to do next.

    ``minutes``: all of it, changeover and walk included. ``energy``: the state it needs. ``reason``: why this one;
    with "prepare", ``towards`` is the check it comes before, with "confirm" the suspect it confirms. "make-sure" asks
    a check again that was answered once: before a part is thrown away on that answer alone (``towards`` is then the
    suspect), or since nothing new tells more than knowing whether it was right.
    """

    check_id: str
    minutes: float
    gain_bits: float
    energy: Energy
    reason: Motive
    towards: str = ""


def gains(table: Table, belief: Belief) -> tuple[Array, Array]:
    """Expected information of every check in bits, shape (C,), and the chances of its outcomes, shape (C, O).

    Cost: checks x suspects; kept, for several questions of one turn are about the same belief.
    """
    return _gains(table, belief.weights)


@lru_cache(maxsize=8)
def _gains(table: Table, weights: Weights) -> tuple[Array, Array]:
    alone = np.append(weights.singles, weights.none)
    two = weights.two
    pair_outcomes = _foreseen_of_pairs(table, weights.involved, two)
    change = table.told_seen - table.unnamed_seen[table.told_row]
    outcomes = table.unnamed_seen * alone.sum() + _by_row(table, change * weights.singles[table.told_suspect])
    outcomes = outcomes.reshape(pair_outcomes.shape) + two * pair_outcomes
    doubt = table.doubt @ alone + two * entropy_bits(pair_outcomes, axis=1)
    gain = np.maximum(entropy_bits(outcomes, axis=1) - doubt, 0.0)
    for kept in (gain, outcomes):
        kept.setflags(write=False)
    return gain, np.asarray(outcomes)


def _by_row(table: Table, told: Array) -> Array:
    """Sum over the named suspects of each check and outcome, shape (C * O,)."""
    return np.bincount(table.told_row, weights=told, minlength=len(table.unnamed_seen)).astype(np.float64)


def _foreseen_of_pairs(table: Table, involved: Array, two: float) -> Array:
    """Chance of each outcome if two suspects are at fault, by how likely each is one of the two: shape (C, O)."""
    share = involved / two if two > 0 else involved
    reached = table.named @ share
    shape = (len(table.checks), -1)
    shown = _by_row(table, table.told_seen * share[table.told_suspect]).reshape(shape)
    scale = np.minimum(reached, 1.0) / np.maximum(reached, 1e-12)
    rest = (1 - np.minimum(reached, 1.0))[:, None] * table.unnamed_seen.reshape(shape)
    return np.asarray(shown * scale[:, None] + rest)


def choose(
    table: Table,
    looks: NDArray[np.bool_],
    effort: Effort,
    belief: Belief,
    now: Standing,
    change: Change,
    lack: Lacking | None,
) -> Advice | None:
    """The best next check, or None when none is worth its time. What a likely suspect still lacks goes before all."""
    gain, foreseen = gains(table, belief)
    gain = gain * sensible(table, now, foreseen)
    there = minutes_there(table, effort, now)
    minutes = there + change.minutes
    open_ = now.open
    if lack is not None:
        sure = at_fault(belief)[lack.suspect] >= PURSUE_CHANCE
        allowed = (now.repeatable if lack.again else open_) & (sure | (change.minutes == 0))
        confirming = [check for check in lack.checks if allowed[check]]
        if confirming:
            best = min(confirming, key=lambda check: minutes[check])
            left = _left_behind(table, belief, open_ & (gain >= LEAST_GAIN_BITS), there, change, best)
            if left is not None:
                return _advice(table, left, minutes, gain, now, "most-information", "")
            motive: Motive = "make-sure" if lack.again else "confirm"
            return _advice(table, best, minutes, gain, now, motive, table.suspects[lack.suspect])
    open_ = open_ & (gain >= LEAST_GAIN_BITS)
    if not open_.any():
        return _make_sure(table, belief, now, minutes)
    spared_there, spared_change = _spared(table, belief, there, change)
    rate = np.where(open_, gain / spared_there, -1.0)
    best, best_rate = _with_its_change(rate, gain, spared_there, spared_change, change)
    motive = "most-information"
    here = np.where((change.minutes == 0) & open_, rate, -1.0)
    if change.minutes[best] > 0 and here.max() >= STAY_SHARE * best_rate:
        best = int(np.argmax(here))
        best_rate = float(here[best])
    left = _left_behind(table, belief, open_, there, change, best)
    if left is not None:
        return _advice(table, left, minutes, gain, now, motive, "")
    if not looks[best]:
        look_rate = np.where(looks, here, -1.0)
        look = int(np.argmax(look_rate))
        if look_rate[look] >= LOOK_FIRST_SHARE * best_rate:
            best, motive = look, "look-first"
    return _advice(table, best, minutes, gain, now, motive, "")


def _with_its_change(rate: Array, gain: Array, there: Array, changeover: Array, change: Change) -> tuple[int, float]:
    """The first check of the change that is most worth its time with all it opens, and that rate in bits a minute."""
    best, best_rate = -1, -1.0
    for kind in np.unique(change.kind[rate > 0]):
        members = np.flatnonzero((change.kind == kind) & (rate > 0))
        members = members[np.argsort(-rate[members])][:MOST_AHEAD]
        told = np.cumsum(gain[members] * OVERLAP ** np.arange(len(members)))
        ahead = told / (changeover[members[0]] + np.cumsum(there[members]))
        if float(ahead.max()) > best_rate:
            best, best_rate = int(members[0]), float(ahead.max())
    return best, best_rate


def _left_behind(
    table: Table, belief: Belief, open_: NDArray[np.bool_], there: Array, change: Change, best: int
) -> int | None:
    """What is made before the change to ``best``: a check that is open as things are and so likely to be needed for
    what is suspected that coming back for it would cost more than making it now. None when there is nothing."""
    if change.minutes[best] == 0:
        return None
    saved = table.needed @ np.minimum(at_fault(belief), 1.0) * COME_BACK_MIN - there
    saved = np.where(open_ & (change.minutes == 0), saved, -1.0)
    most = int(np.argmax(saved))
    return most if saved[most] > 0 else None


def _make_sure(table: Table, belief: Belief, now: Standing, minutes: Array) -> Advice | None:
    """The answered check that is most worth asking again for its time, or None."""
    again = repeat_gains(table, belief).items()
    worth = {check: gain for check, gain in again if gain >= LEAST_GAIN_BITS and now.repeatable[check]}
    if not worth:
        return None
    best = max(worth, key=lambda check: worth[check] / minutes[check])
    energy = ENERGIES[table.energy[best]]
    return Advice(table.checks[best], float(minutes[best]), worth[best], energy, "make-sure")


def _spared(table: Table, belief: Belief, there: Array, change: Change) -> tuple[Array, Array]:
    """Minutes of each check and of the change before it, less what the visit is expected to need anyway: (C,) each."""
    suspected = np.minimum(at_fault(belief), 1.0)
    needed = table.confirms @ suspected
    change_needed = np.bincount(change.kind, weights=needed)[change.kind]
    own = there * (1 - np.minimum(needed, 1 - LEAST_CHARGE))
    return own, change.minutes * (1 - np.minimum(change_needed, 1 - LEAST_CHARGE))


def _advice(
    table: Table, check: int, minutes: Array, gain: Array, now: Standing, motive: Motive, towards: str
) -> Advice:
    before = now.pending(table, check)
    if before:
        motive, towards = "prepare", table.checks[check]
    first = before[0] if before else check
    energy = ENERGIES[table.energy[first]]
    return Advice(table.checks[first], float(minutes[first]), float(gain[first]), energy, motive, towards)
