"""When a visit may stop: one suspect above a stated chance and confirmed, or nothing left that tells."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

import numpy as np

from assistant.reasoning.belief import Belief, at_fault, ranked
from assistant.reasoning.likelihoods import Table

#: A suspect is named when its chance is at least this, and its confirming check was done. One wrong name in twenty
#: would already be too many for a part that is thrown away; the confirming check brings it under one in a hundred
#: (tests/benchmarks/bench_reasoning.py prints the share), and a higher bar only adds minutes.
FOUND_CHANCE = 0.95
#: A hypothesis under this chance is not spoken of when saying what remains.
REMAINS_CHANCE = 0.05


@dataclass(frozen=True)
class Conclusion:
    """Where the search stands.

    kind "found": ``suspect`` may be named and mended. "go-on": there is a check worth doing. "exhausted": there is
    none; ``remaining`` holds what is still possible, most likely first. ``suspect`` is the likeliest single suspect
    in every case (None without suspects) and ``probability`` the chance that it is at fault, alone or with another.
    ``missing_confirm``: the checks of which one must still confirm it, when only that is lacking.
    """

    kind: Literal["found", "go-on", "exhausted"]
    suspect: str | None
    probability: float
    missing_confirm: tuple[str, ...] = ()
    remaining: tuple[tuple[str, float], ...] = ()


def likeliest(table: Table, belief: Belief) -> tuple[int, float] | None:
    """The suspect most likely at fault, alone or with another, and that chance; None when a unit has no suspects."""
    if not table.suspects:
        return None
    chances = at_fault(belief)
    best = int(np.argmax(chances))
    return best, float(chances[best])


def lacking_confirmation(table: Table, belief: Belief, done: Collection[str], suspect: int) -> tuple[str, ...]:
    """The confirming checks of a suspect when none of them was done; empty when one was, or it has none here."""
    confirming = tuple(table.checks[check] for check in np.flatnonzero(table.confirms[:, suspect]))
    answered = {item.check_id for item in belief.current} | set(done)
    return () if answered.intersection(confirming) else confirming


def wanted(table: Table, belief: Belief, done: Collection[str]) -> int | None:
    """The suspect that is likely enough to be named but lacks its confirming check."""
    best = likeliest(table, belief)
    if best is None or best[1] < FOUND_CHANCE or is_found(table, belief, done):
        return None
    return best[0]


def is_found(table: Table, belief: Belief, done: Collection[str]) -> bool:
    """One suspect is likely enough to be named, and one of its confirming checks was done."""
    best = likeliest(table, belief)
    if best is None or best[1] < FOUND_CHANCE:
        return False
    return not lacking_confirmation(table, belief, done, best[0])


def conclude(table: Table, belief: Belief, done: Collection[str], more: bool) -> Conclusion:
    """The conclusion; ``more``: some check is still worth doing."""
    best = likeliest(table, belief)
    remaining = tuple(item for item in ranked(table, belief) if item[1] >= REMAINS_CHANCE)
    if best is None:
        return Conclusion("exhausted", None, 0.0, remaining=remaining)
    place, chance = best
    suspect = table.suspects[place]
    if is_found(table, belief, done):
        return Conclusion("found", suspect, chance, remaining=remaining)
    missing = lacking_confirmation(table, belief, done, place) if chance >= FOUND_CHANCE else ()
    return Conclusion("go-on" if more else "exhausted", suspect, chance, missing, remaining)
