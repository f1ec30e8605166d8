"""A thermistor's curve fitted to measured points, least squares.

Source of the equations: Steinhart and Hart (1968); Beta after IEC 60539-1 (title from memory). Both are linear in
their unknowns once written for 1/T, so the fit is ordinary least squares (through all points when there are
just enough).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from assistant.calculations.errors import CalculationError, Inconsistent
from assistant.calculations.thermistors import (
    REFERENCE_K,
    ZERO_C_K,
    BetaCurve,
    Curve,
    SteinhartHartCurve,
    TableCurve,
)

C = TypeVar("C", bound=Curve)


@dataclass(frozen=True)
class Fitted(Generic[C]):
    """A fitted curve and ``worst_k``, the largest miss over the points given, in K."""

    curve: C
    worst_k: float


def fit_beta(points: Sequence[tuple[float, float]]) -> Fitted[BetaCurve]:
    """R25 and Beta through three or more (°C, ohm) points.

    Raises Inconsistent for fewer than three different temperatures or points that do not fall,
    OutOfRange when the fit is no thermistor.
    """
    inverse, logs = _prepared(points)
    mean_x, mean_y = sum(inverse) / len(inverse), sum(logs) / len(logs)
    spread = sum((x - mean_x) ** 2 for x in inverse)
    beta = sum((x - mean_x) * y for x, y in zip(inverse, logs, strict=True)) / spread
    curve = BetaCurve(math.exp(mean_y + beta * (1 / REFERENCE_K - mean_x)), beta)
    return Fitted(curve, _worst(curve, points))


def fit_steinhart_hart(points: Sequence[tuple[float, float]]) -> Fitted[SteinhartHartCurve]:
    """a, b and c through three or more (°C, ohm) points.

    Raises Inconsistent for fewer than three different temperatures, points that do not fall, or points that bend the
    wrong way (measured too roughly or too close together: then fit Beta).
    """
    import numpy as np  # only here: costs 0.1 s

    inverse, logs = _prepared(points)
    middle = sum(logs) / len(logs)
    shifted = np.array(logs) - middle  # conditioning: 1, ln R and its cube are nearly parallel far from zero
    columns = np.stack([np.ones(len(logs)), shifted, np.array(logs) ** 3 - middle**3], axis=1)
    scale = np.abs(columns).max(axis=0)
    solution = np.linalg.lstsq(columns / scale, np.array(inverse), rcond=None)[0] / scale
    b, c = float(solution[1]), float(solution[2])
    a = float(solution[0]) - b * middle - c * middle**3
    try:
        curve = SteinhartHartCurve(a, b, c)
    except CalculationError as error:
        raise Inconsistent(
            "The points do not bend as a thermistor does, so Steinhart-Hart cannot be fitted: take them further "
            f"apart, or fit Beta ({error})"
        ) from error
    return Fitted(curve, _worst(curve, points))


def _prepared(points: Sequence[tuple[float, float]]) -> tuple[list[float], list[float]]:
    """1/T and ln R of the points, checked by making a table of them."""
    if len({t for t, _ in points}) < 3:
        raise Inconsistent("A thermistor fit needs at least three points at different temperatures.")
    TableCurve(tuple(points))
    ordered = sorted(points)
    return [1 / (t + ZERO_C_K) for t, _ in ordered], [math.log(r) for _, r in ordered]


def _worst(curve: Curve, points: Sequence[tuple[float, float]]) -> float:
    return max(abs(curve.temperature_c(r) - t) for t, r in points)
