"""How far the oddest of some like values stands from their mean."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.calculations.errors import Inconsistent


def largest_departure_percent(values: Sequence[float]) -> float:
    """100·max|x - mean|/mean in %. Raises Inconsistent for values whose mean is nothing.

    Source: the definition of voltage unbalance in NEMA MG-1, 12.45; used for windings in the same way.
    """
    mean = sum(values) / len(values)
    if abs(mean) <= 1e-9 * max(abs(value) for value in values):
        raise Inconsistent("The values are about nothing, or within the meter's accuracy of it: there is no unbalance.")
    return 100 * max(abs(value - mean) for value in values) / abs(mean)
