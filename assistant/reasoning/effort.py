"""What it costs in minutes to be at the right place with the unit in the right energy state.

The times are common practice, no source, unless the library holds a safety procedure for the step or the
profile holds the bus data from which the wait is computed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from assistant.library.models import Check, Energy, Where

#: The states a unit can be in; "any" is only ever a need.
UnitState = Literal["live", "isolated", "proved-dead"]

#: Switch off, lock, tag, try to start. Common practice, no source.
LOCK_OUT_MIN = 3.0
#: Wait for the capacitors when the profile says nothing of the bus. Common practice, no source.
DEFAULT_WAIT_MIN = 5.0
#: Open the cover, try the meter, measure the bus, try the meter again. Common practice, no source.
PROVE_DEAD_MIN = 2.0
#: Close, remove lock and tag, switch on, wait for the unit to wake. Common practice, no source.
RESTORE_MIN = 3.0
#: Down the ladder and up another, tools with you. Common practice, no source.
WALK_MIN = 2.0

WHERES: tuple[Where, ...] = get_args(Where)
ENERGIES: tuple[Energy, ...] = get_args(Energy)


@dataclass(frozen=True)
class Effort:
    """Minutes of each change of state; built from the library's procedures where it has them."""

    lock_out_min: float = LOCK_OUT_MIN
    wait_min: float = DEFAULT_WAIT_MIN
    prove_dead_min: float = PROVE_DEAD_MIN
    restore_min: float = RESTORE_MIN
    walk_min: float = WALK_MIN

    def changeover(self, state: UnitState, need: Energy) -> float:
        """Minutes to bring the unit from ``state`` to what a check needs; 0 when it is there already.

        A check that needs "isolated" may be done on a unit proved dead.
        """
        if need in ("any", state) or (state, need) == ("proved-dead", "isolated"):
            return 0.0
        if need == "live":
            return self.restore_min
        dead = self.wait_min + self.prove_dead_min if need == "proved-dead" else 0.0
        return dead + (self.lock_out_min if state == "live" else 0.0)

    def changeovers(self, state: UnitState) -> NDArray[np.float64]:
        """Minutes to each of ``ENERGIES`` from ``state``, shape (4,)."""
        return np.array([self.changeover(state, need) for need in ENERGIES])

    def walks(self, where: Where) -> NDArray[np.float64]:
        """Minutes to each of ``WHERES`` from ``where``, shape (5,)."""
        return np.array([0.0 if "anywhere" in (where, to) or to == where else self.walk_min for to in WHERES])


def effort_of(checks: Iterable[Check], wait_min: float = DEFAULT_WAIT_MIN) -> Effort:
    """The times of this library's own safety procedures (checks that set the energy state), else the usual ones."""
    # The first outcome of a procedure is the one it is done for; later ones ("it trips") are its failures.
    checks = tuple(checks)
    minutes = {next(iter(check.sets_energy.values())): check.minutes for check in checks if check.sets_energy}
    # What it takes outdoors, where most of it is done; each kind of voltage is measured once.
    proofs: dict[tuple[str, ...], float] = {}
    for check in checks:
        if check.proves == "outdoor" and not check.needs:
            proofs.setdefault(check.absent, check.minutes)
    return Effort(
        lock_out_min=minutes.get("isolated", LOCK_OUT_MIN),
        wait_min=wait_min,
        prove_dead_min=sum(proofs.values()) or PROVE_DEAD_MIN,
        restore_min=minutes.get("live", RESTORE_MIN),
    )
