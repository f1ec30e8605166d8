"""Saturation look-up against CoolProp: ``python -m tests.benchmarks.saturation`` prints times, ratio, largest error."""

from __future__ import annotations

import random
import time
from itertools import pairwise

from assistant.calculations import saturation
from assistant.calculations.make_saturation_tables import COOLPROP_NAMES, rows_c, solved_kpa
from assistant.calculations.refrigerants import REFRIGERANTS

LOOKUPS, SOLVES = 20_000, 300
BAR_US, BAR_K = 20.0, 0.02


def largest_error_k(name: str) -> tuple[float, float, int]:
    """(largest error in K, where in °C, points) of both lines over the whole range, ten steps a row, off the rows."""
    worst, where, points = 0.0, 0.0, 0
    rows = rows_c(name)
    for quality, line in ((0, saturation.bubble_line(name)), (1, saturation.dew_line(name))):
        for low, high in pairwise(rows):
            for step in range(1, 10):
                temperature = low + (high - low) * step / 10
                solved = solved_kpa(name, temperature, quality)
                if solved is None or not line.lowest_kpa <= solved <= line.highest_kpa:
                    continue
                points += 1
                if (error := abs(line.temperature_c(solved) - temperature)) > worst:
                    worst, where = error, temperature
    return worst, where, points


def microseconds(name: str) -> tuple[float, float, float]:
    """(first look-up, a look-up after it, a CoolProp solve), each the best of five runs but the first, in µs."""
    from CoolProp.CoolProp import PropsSI

    saturation.lines_of.cache_clear()
    start = time.perf_counter()
    saturation.dew_temperature_c(name, 800.0)
    first = (time.perf_counter() - start) * 1e6
    pressures = [random.Random(1).uniform(300, 2000) for _ in range(LOOKUPS)]

    def look_up() -> float:
        begin = time.perf_counter()
        for p in pressures:
            saturation.dew_temperature_c(name, p)
        return (time.perf_counter() - begin) * 1e6 / LOOKUPS

    def solve() -> float:
        begin = time.perf_counter()
        for p in pressures[:SOLVES]:
            PropsSI("T", "P", p * 1000, "Q", 1, COOLPROP_NAMES.get(name, name))
        return (time.perf_counter() - begin) * 1e6 / SOLVES

    return first, min(look_up() for _ in range(5)), min(solve() for _ in range(5))


def main() -> int:
    """Print one line a refrigerant and say whether the bars hold."""
    solved_kpa("R32", 0, 0)  # loads CoolProp before anything is timed
    held = True
    print(f"{'':6} {'first':>10} {'look-up':>10} {'CoolProp':>10} {'ratio':>7} {'largest error':>22} {'points':>7}")
    for name in REFRIGERANTS:
        first, table, solver = microseconds(name)
        error, where, points = largest_error_k(name)
        held &= table < BAR_US and error < BAR_K
        print(
            f"{name:6} {first:7.0f} µs {table:7.2f} µs {solver:7.1f} µs {solver / table:7.0f} "
            f"{error:9.5f} K at {where:5.1f} °C {points:7}"
        )
    print(f"Bars (under {BAR_US:.0f} µs after the first, within {BAR_K} K): {'hold' if held else 'DO NOT HOLD'}")
    return 0 if held else 1


if __name__ == "__main__":
    raise SystemExit(main())
