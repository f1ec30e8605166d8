"""A part that was mended at this unit not long ago: what made it fail may still be there.

When the unit fails again, what the knowledge names as roots of that fault (``Suspect.roots``), the other faults of the
same component and the fault itself start with more weight. The answers of this visit decide all the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from assistant.library.models import Suspect
from assistant.reasoning.belief import Belief, changed, normalised
from assistant.reasoning.likelihoods import Table

#: How many times likelier a root, another fault of the same component, and the same fault again become. Estimates, no
#: source: large enough that a root is looked at while nothing else speaks, small enough that one look outweighs them.
ROOT, NEIGHBOR, AGAIN = 4.0, 2.0, 2.0


@dataclass(frozen=True)
class MendedBefore:
    """Suspects that were mended at this unit at earlier visits."""

    suspects: tuple[str, ...]


def recurring(table: Table, suspects: Mapping[str, Suspect], belief: Belief, mended: Iterable[str]) -> Belief:
    """``belief`` before any answer, weighed by what was mended before; ids that this unit has not are left out."""
    factor = np.ones(len(table.suspects))
    for name in mended:
        if name not in table.suspect_at:
            continue
        one = suspects[name]
        for place, other in enumerate(table.suspects):
            if other in one.roots:
                factor[place] = max(factor[place], ROOT)
            elif other == name or suspects[other].component == one.component:
                factor[place] = max(factor[place], AGAIN if other == name else NEIGHBOR)
    both = np.maximum.outer(factor, factor)
    return changed(belief, lambda now: normalised(now.singles * factor, now.pairs * both, now.none))
