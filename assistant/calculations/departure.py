"""How far the oddest of some like values stands from their mean."""

from __future__ import annotations

from collections.abc import Sequence


def largest_departure_percent(values: Sequence[float]) -> float:
    """100·max|x - mean|/mean in %, for values whose mean is not zero (callers check their own ranges).

    Source: the definition of voltage unbalance in NEMA MG-1, 12.45; used for windings in the same way.
    """
    mean = sum(values) / len(values)
    return 100 * max(abs(value - mean) for value in values) / abs(mean)
