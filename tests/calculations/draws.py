"""Readings drawn with their errors by NumPy: the Monte Carlo that propagation and sampling are held against."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from assistant.calculations.uncertainty import COVERAGE_95, Metered


def drawn(readings: Sequence[Metered], count: int = 200_000, seed: int = 1) -> np.ndarray:
    """``count`` rows of the readings: an instrument's common error once a row, each reading's own for itself."""
    generator = np.random.default_rng(seed)
    names = [reading.meter or f"its own {place}" for place, reading in enumerate(readings)]
    common = {name: generator.standard_normal(count) for name in names}
    columns = []
    for name, reading in zip(names, readings, strict=True):
        shared = np.sqrt(max(0.0, reading.expanded**2 - reading.apart**2))
        own = generator.standard_normal(count)
        columns.append(reading.value + (shared * common[name] + reading.apart * own) / COVERAGE_95)
    return np.stack(columns, axis=1)


def expanded_of(function: Callable[..., float], readings: Sequence[Metered], count: int = 20_000) -> float:
    """1.96 standard deviations of ``function`` over the draws."""
    values = [function(*(float(x) for x in row)) for row in drawn(readings, count)]
    return float(COVERAGE_95 * np.std(values))


def share_within(
    function: Callable[..., float],
    readings: Sequence[Metered],
    low: float = -np.inf,
    high: float = np.inf,
    count: int = 20_000,
) -> float:
    """Share of the draws whose ``function`` lies between the limits."""
    values = np.array([function(*(float(x) for x in row)) for row in drawn(readings, count)])
    return float(np.mean((values >= low) & (values <= high)))
