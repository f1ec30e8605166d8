"""Two suspects that every check answers alike cannot be told apart: say which, and what would tell them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from assistant.library.finding import Finding
from assistant.library.loader import Library
from assistant.library.models import Check, Suspect
from assistant.review.units import units

#: Two suspects count as told apart when some check answers differently in at least this share of visits (total
#: variation of the two sets of chances). Below it, even a check done twice leaves the choice to luck.
LEAST_DIFFERENCE = 0.3

Array = NDArray[np.float64]


def indistinguishable(library: Library) -> Iterator[Finding]:
    """Pairs of suspects that no check can tell apart on some unit that can have both."""
    told: set[tuple[str, str]] = set()
    every = differences(tuple(library.checks.values()), tuple(library.suspects.values()))
    at = {suspect: place for place, suspect in enumerate(library.suspects)}
    names = tuple(library.checks)
    for unit in units(library):
        checks = [place for place, check in enumerate(library.checks.values()) if check in unit.checks]
        suspects = [at[suspect.id] for suspect in unit.suspects]
        here = every[np.ix_(checks, suspects, suspects)]
        best = here.max(axis=0, initial=0.0)
        for i, j in zip(*np.nonzero(np.triu(best < LEAST_DIFFERENCE, k=1)), strict=True):
            first, second = unit.suspects[i], unit.suspects[j]
            if (first.id, second.id) in told:
                continue
            told.add((first.id, second.id))
            nearest = names[checks[int(here[:, i, j].argmax())]], float(best[i, j])
            elsewhere = names[int(every[:, suspects[i], suspects[j]].argmax())]
            other = elsewhere if every[:, suspects[i], suspects[j]].max() >= LEAST_DIFFERENCE else None
            what = f"no check can tell it from “{second.id}” on a {unit.name} unit"
            yield Finding("suspect", first.id, what, _remedy(first, second, nearest, other, library))


def differences(checks: Sequence[Check], suspects: Sequence[Suspect]) -> Array:
    """How differently each check answers for each pair of suspects, 0 to 1: shape (checks, suspects, suspects)."""
    made = np.zeros((len(checks), len(suspects), len(suspects)))
    for place, check in enumerate(checks):
        if check.tells:
            rows = [check.tells.get(suspect.id, check.otherwise) for suspect in suspects]
            given = np.array([[row.get(outcome, 0.0) for outcome in check.outcomes] for row in rows])
            made[place] = 0.5 * np.abs(given[:, None, :] - given[None, :, :]).sum(axis=2)
    return made


def _remedy(first: Suspect, second: Suspect, nearest: tuple[str, float], other: str | None, library: Library) -> str:
    if other is not None:
        return f"“{other}” would, but that unit lacks {', '.join(library.checks[other].needs)}; add a check without it"
    part = first.component if first.component == second.component else f"{first.component} or {second.component}"
    return f"nearest is “{nearest[0]}” ({nearest[1]:.0%} apart); sharpen it, or add a check of the {part}"
