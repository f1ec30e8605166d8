"""A judgement by sampling, for what bends too sharply to be judged by its slope: spreads and departures.

The largest departure of three readings has a kink where they are equal, and is never negative: its error there is
neither small nor normal. So the readings are drawn many times with their errors, as in JCGM 101:2008 (Monte Carlo), but
at the evenly spread points of a fixed sequence: the same readings always give the same chances.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from statistics import NormalDist

from assistant.calculations.errors import within
from assistant.calculations.uncertainty import (
    COVERAGE_95,
    LARGEST,
    Judged,
    Metered,
    against_limits,
    check_limits,
    errors_of,
)

SAMPLING_SOURCE = "JCGM 101:2008, propagation of distributions"
DRAWS = 1024


@cache
def _normals(dimensions: int) -> tuple[tuple[float, ...], ...]:
    """``DRAWS`` points of a Kronecker sequence as independent standard normals in units of 95 % half-widths.

    The steps are the powers of the inverse of the root of x^(d+1) = x + 1, the generalised golden ratio (M. Roberts,
    "The unreasonable effectiveness of quasirandom sequences", 2018); every point also comes mirrored.
    """
    root = 2.0
    for _ in range(60):
        root = (1 + root) ** (1 / (dimensions + 1))
    steps = [root ** -(i + 1) for i in range(dimensions)]
    inverse = NormalDist().inv_cdf
    points = []
    for count in range(1, DRAWS // 2 + 1):
        point = tuple(inverse(min(max(count * s % 1.0, 1e-9), 1 - 1e-9)) / COVERAGE_95 for s in steps)
        points += [point, tuple(-x for x in point)]
    return tuple(points)


def samples(function: Callable[..., float], readings: Sequence[Metered]) -> list[float]:
    """``function`` of the readings drawn with their errors, sorted; one value only when they have none."""
    rows = errors_of(readings)
    numbers = [r.value for r in readings]
    if not rows:
        return [function(*numbers)]
    columns = list(zip(*rows, strict=True))
    drawn = []
    for point in _normals(len(rows)):
        shifted = (n + sum(s * z for s, z in zip(c, point, strict=True)) for n, c in zip(numbers, columns, strict=True))
        drawn.append(function(*shifted))
    return sorted(drawn)


def judged_by_sampling(
    function: Callable[..., float], readings: Sequence[Metered], low: float | None = None, high: float | None = None
) -> Judged:
    """Judge ``function`` of the readings against limits in its unit, its errors drawn. See ``uncertainty.judged``.

    ``expanded`` is the farther end of the 95 % interval from the value itself (at a kink the interval is one-sided).
    Source: SAMPLING_SOURCE. Raises what ``function`` raises, Inconsistent and OutOfRange as ``judged``.
    """
    check_limits(low, high)
    value = within("value", function(*(r.value for r in readings)), -LARGEST, LARGEST, "")
    drawn = samples(function, readings)
    below = 0.0 if low is None else sum(1 for x in drawn if x < low) / len(drawn)
    above = 0.0 if high is None else sum(1 for x in drawn if x > high) / len(drawn)
    ends = drawn[round(0.025 * (len(drawn) - 1))], drawn[round(0.975 * (len(drawn) - 1))]
    expanded = max(abs(ends[1] - value), abs(value - ends[0]))
    return against_limits(value, expanded, low, high, (below, max(0.0, 1 - below - above), above))
