"""Which side of a reading a limit stands on, by the names that the judges give their limits.

Limits of differences and shares (``spread_v``, ``imbalance_percent``) stand on no side of a single reading.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from assistant.reasoning.judgement import Bound

_SIDES = {
    "low": frozenset({"low", "normal_low", "control_low", "present", "swing", "shorted_below_v", "short_below"}),
    "high": frozenset({"high", "stored_below", "mains_below", "reached", "longest", "greatest", "open_above"}),
}


def limit(bounds: Iterable[Bound], side: Literal["low", "high"]) -> Bound | None:
    """The limit on one side; None where there is none."""
    return next((bound for bound in bounds if bound.name in _SIDES[side]), None)
