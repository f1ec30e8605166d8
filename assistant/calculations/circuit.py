"""The branch circuit from the nameplate: least ampacity, largest breaker, and whether what is there fits. A."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from assistant.calculations.errors import Inconsistent, within

CIRCUIT_SOURCE = (
    "MCA = 1.25 · largest motor + other loads, MOCP = 2.25 · largest motor + other loads, down to a standard size but "
    "not under MCA: UL 1995 and NEC 440.22, 440.32 to 440.35 (as makers print it); what the nameplate says comes first"
)
BREAKER_SOURCE = "a breaker between the nameplate's MCA and its MOCP (NEC 110.3(B), 440.22); local code comes first"
#: Standard ratings of fuses and inverse-time breakers in A: NEC 240.6(A).
STANDARD_A = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200)


class Circuit(NamedTuple):
    """Least ampacity and largest overcurrent device in A; ``calculated_a`` before rounding to a standard size."""

    least_ampacity_a: float
    largest_device_a: float
    calculated_a: float


def circuit(largest_motor_a: float, others_a: Sequence[float] = ()) -> Circuit:
    """MCA and MOCP from the rated currents of the largest motor (0.1 to 150 A) and the other loads (0 to 150 A each).

    Source: CIRCUIT_SOURCE. Raises OutOfRange, Inconsistent when another load is larger than the largest motor or the
    sum is beyond the standard sizes.
    """
    within("largest motor current", largest_motor_a, 0.1, 150, "A")
    for load in others_a:
        within("other load", load, 0, 150, "A")
    rest = sum(others_a)
    if others_a and max(others_a) > largest_motor_a:
        raise Inconsistent("Another load is larger than the largest motor: give the largest one first.")
    least, most = 1.25 * largest_motor_a + rest, 2.25 * largest_motor_a + rest
    if least > STANDARD_A[-1]:
        raise Inconsistent(f"{least:.4g} A is more than a branch circuit of this kind carries.")
    down = [size for size in STANDARD_A if size <= most]
    up = next(size for size in STANDARD_A if size >= least)
    return Circuit(least, float(max(down[-1] if down else up, up)), most)


def breaker_fits(breaker_a: float, least_ampacity_a: float, largest_device_a: float) -> str:
    """ "fits", "too small" or "too large" for a breaker (1 to 1000 A) by the nameplate's MCA and MOCP (1 to 1000 A).

    Source: BREAKER_SOURCE. Raises Inconsistent for a nameplate whose MCA is over its MOCP.
    Takes ``least_ampacity_a`` 0.5 to 1000.
    """
    within("breaker", breaker_a, 1, 1000, "A")
    within("least ampacity", least_ampacity_a, 0.5, 1000, "A")
    within("largest device", largest_device_a, 1, 1000, "A")
    if least_ampacity_a > largest_device_a:
        raise Inconsistent("The nameplate's least ampacity is over its largest device: look whether they were swapped.")
    if breaker_a > largest_device_a:
        return "too large"
    return "too small" if breaker_a < least_ampacity_a else "fits"
