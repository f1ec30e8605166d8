"""When a visit may stop: one suspect above a stated chance and confirmed, or nothing left that tells."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

import numpy as np

from assistant.reasoning.belief import Belief, at_fault, ranked
from assistant.reasoning.likelihoods import Table
from assistant.reasoning.repeats import lone_witness

#: A suspect is named when its chance is at least this, and its confirming check was done. One wrong name in twenty
#: would already be too many for a part that is thrown away; the confirming check brings it under one in a hundred
#: (tests/benchmarks/reasoning.py prints the share), and a higher bar only adds minutes.
FOUND_CHANCE = 0.95
#: When no check is left that tells, a suspect whose repair throws nothing away is named from this chance on: trying the
#: repair, with its proof after it, is then the next check. Common practice, no source.
HARMLESS_CHANCE = 0.8
#: A hypothesis under this chance is not spoken of when saying what remains.
REMAINS_CHANCE = 0.05


@dataclass(frozen=True)
class Conclusion:
    """Where the search stands.

    kind "found": ``suspect`` may be named and mended. "go-on": there is a check worth doing. "exhausted": there is
    none; ``remaining`` holds what is still possible, most likely first. ``suspect`` is the likeliest single suspect
    in every case (None without suspects) and ``probability`` the chance that it is at fault, alone or with another.
    ``missing_confirm``: the checks of which one must still confirm it, or confirm it again, when only that is lacking.
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


@dataclass(frozen=True)
class Lacking:
    """What a likely suspect still lacks before it may be named: one of the ``checks``, by place in the table.

    ``again``: they were answered, but a part would be thrown away on one answer alone, so it is asked once more.
    """

    suspect: int
    checks: tuple[int, ...]
    again: bool


def lacking(
    table: Table, belief: Belief, done: Collection[str], skipped: Collection[str], least: float = FOUND_CHANCE
) -> Lacking | None:
    """What the likeliest suspect lacks, when it has the ``least`` chance to be named; None when it has not, or lacks
    nothing.

    Who will not confirm a single answer by a second one (``skipped``) is taken at his word.
    """
    best = likeliest(table, belief)
    if best is None or best[1] < least:
        return None
    suspect = best[0]
    confirming = np.flatnonzero(table.confirms[:, suspect])
    answered = {item.check_id for item in belief.current} | set(done)
    if len(confirming) and not any(table.checks[check] in answered for check in confirming):
        return Lacking(suspect, tuple(int(check) for check in confirming), again=False)
    witness = lone_witness(table, belief, suspect) if table.condemns[suspect] else None
    if witness is not None and table.checks[witness] not in skipped:
        return Lacking(suspect, (witness,), again=True)
    return None


def named(
    table: Table, belief: Belief, done: Collection[str], skipped: Collection[str], more: bool = True
) -> tuple[str, float] | None:
    """The suspect that may be named, likely enough and lacking nothing, with its chance; None while there is none.

    ``more``: some check is still worth doing. When none is, a harmless repair may be tried on less, and a part may be
    renewed when it is sure that the part is at fault, though not in which way (a winding on the shell or leaking to
    it: the compressor is renewed either way).
    """
    best = likeliest(table, belief)
    if best is None:
        return None
    suspect, chance = best
    least = FOUND_CHANCE
    if not more:
        least = HARMLESS_CHANCE if not table.condemns[suspect] else _least_with_part(table, belief, suspect)
    if chance < least or lacking(table, belief, done, skipped, least) is not None:
        return None
    return table.suspects[suspect], chance


def _least_with_part(table: Table, belief: Belief, suspect: int) -> float:
    """The chance from which this suspect may be named: lower where another fault of the same part takes the rest."""
    same = table.part == table.part[suspect]
    others = float(belief.weights.singles[same].sum() - belief.weights.singles[suspect])
    return FOUND_CHANCE - others


def conclude(table: Table, belief: Belief, done: Collection[str], skipped: Collection[str], more: bool) -> Conclusion:
    """The conclusion; ``more``: some check is still worth doing."""
    best = likeliest(table, belief)
    remaining = tuple(item for item in ranked(table, belief) if item[1] >= REMAINS_CHANCE)
    if best is None:
        return Conclusion("exhausted", None, 0.0, remaining=remaining)
    suspect, chance = table.suspects[best[0]], best[1]
    if named(table, belief, done, skipped, more) is not None:
        return Conclusion("found", suspect, chance, remaining=remaining)
    lack = lacking(table, belief, done, skipped)
    missing = tuple(table.checks[check] for check in lack.checks) if lack else ()
    return Conclusion("go-on" if more else "exhausted", suspect, chance, missing, remaining)
