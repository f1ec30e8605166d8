"""Where a statement about a number turns from true to false, found by halving to the last digit of a float."""

from __future__ import annotations

from collections.abc import Callable


def last_where(holds: Callable[[float], bool], low: float, high: float) -> float:
    """The number from ``low`` to ``high`` up to which ``holds`` is true; it must turn once, from true to false.

    ``low`` where it holds nowhere, ``high`` where it holds everywhere, to within the last digit of a float.
    """
    while low < (middle := (low + high) / 2) < high:
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low
