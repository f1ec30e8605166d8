"""A smooth curve through points that never overshoots them, and its inverse."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.halving import last_where


class MonotoneCurve:
    """Piecewise cubic through strictly rising ``xs`` and strictly rising or falling ``ys``.

    The slopes follow Fritsch and Carlson, "Monotone Piecewise Cubic Interpolation", SIAM J. Numer. Anal. 17
    (1980), with the weighted harmonic mean of Fritsch and Butland (1984); so the curve is monotone between
    every two points. Raises Inconsistent for fewer than two points or points that are not in such an order.
    """

    def __init__(self, xs: Sequence[float], ys: Sequence[float], what: str = "curve") -> None:
        if len(xs) != len(ys) or len(xs) < 2:
            raise Inconsistent(f"The {what} needs at least two points, each with both values.")
        steps = [b - a for a, b in pairwise(xs)]
        rises = [b - a for a, b in pairwise(ys)]
        if min(steps) <= 0 or not (min(rises) > 0 or max(rises) < 0):
            raise Inconsistent(f"The points of the {what} must go one way only, without repeats.")
        self.what, self._xs, self._ys = what, list(xs), list(ys)
        self._slopes = _slopes(steps, [r / s for r, s in zip(rises, steps, strict=True)])
        self._falling = rises[0] < 0

    def at(self, x: float) -> float:
        """y at ``x``; OutOfRange outside the points (nothing is extrapolated)."""
        within(self.what, x, self._xs[0], self._xs[-1], "")
        place = min(bisect_right(self._xs, x), len(self._xs) - 1) - 1
        return self._inside(place, x)

    def inverse(self, y: float) -> float:
        """x at ``y``; OutOfRange outside the points."""
        within(self.what, y, min(self._ys[0], self._ys[-1]), max(self._ys[0], self._ys[-1]), "")
        keys = [-v for v in self._ys] if self._falling else self._ys
        place = min(bisect_right(keys, -y if self._falling else y), len(keys) - 1) - 1
        return last_where(lambda x: (self._inside(place, x) > y) == self._falling, self._xs[place], self._xs[place + 1])

    def _inside(self, place: int, x: float) -> float:
        x0, step = self._xs[place], self._xs[place + 1] - self._xs[place]
        t = (x - x0) / step
        u = 1 - t
        return u * u * ((1 + 2 * t) * self._ys[place] + t * step * self._slopes[place]) + t * t * (
            (1 + 2 * u) * self._ys[place + 1] - u * step * self._slopes[place + 1]
        )


def _slopes(steps: list[float], chords: list[float]) -> list[float]:
    if len(chords) == 1:
        return [chords[0], chords[0]]
    inner = []
    for h0, h1, d0, d1 in zip(steps, steps[1:], chords, chords[1:], strict=False):
        w0, w1 = 2 * h1 + h0, h1 + 2 * h0
        inner.append((w0 + w1) / (w0 / d0 + w1 / d1))  # every chord has one sign: no flat spots
    return [
        _end_slope(steps[0], steps[1], chords[0], chords[1]),
        *inner,
        _end_slope(steps[-1], steps[-2], chords[-1], chords[-2]),
    ]


def _end_slope(h0: float, h1: float, d0: float, d1: float) -> float:
    """Three-point end slope, kept between nothing and three chords so that the end stays monotone."""
    slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
    if slope * d0 <= 0:
        return 0.0
    return 3 * d0 if abs(slope) > 3 * abs(d0) else slope
