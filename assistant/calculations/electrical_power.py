"""Electrical power: single and three phase, power factor, running current against the nameplate. V, A, W, VA."""

from __future__ import annotations

import math

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.found import Found, Limit
from assistant.calculations.uncertainty import Metered
from assistant.calculations.values import judge_share

POWER_SOURCE = "P = V·I·cos φ, three-phase P = √3·V·I·cos φ with line values (IEC 60050-131 definitions)"
NAMEPLATE_SOURCE = "the nameplate's current (unit profile)"
#: Full cooling or heating draws between these shares of the nameplate's current.
RUNNING_LOW_PERCENT, RUNNING_HIGH_PERCENT = Limit(35.0), Limit(120.0)


def _factor(phases: int) -> float:
    if phases not in (1, 3):
        raise Inconsistent(f"Power is single-phase or three-phase, not {phases}-phase.")
    return 1.0 if phases == 1 else math.sqrt(3)


def apparent_va(voltage_v: float, current_a: float, phases: int = 1) -> float:
    """Apparent power in VA; 0 to 1000 V (line to line when three-phase), 0 to 10 000 A. Source: POWER_SOURCE."""
    within("voltage", voltage_v, 0, 1000, "V")
    within("current", current_a, 0, 1e4, "A")
    return _factor(phases) * voltage_v * current_a


def active_w(voltage_v: float, current_a: float, power_factor: float = 1.0, phases: int = 1) -> float:
    """Active power in W; ``power_factor`` 0 to 1. Source: POWER_SOURCE.

    Takes ``voltage_v`` 0 to 1000, ``current_a`` 0 to 10000.
    """
    within("power factor", power_factor, 0, 1, "1")
    return apparent_va(voltage_v, current_a, phases) * power_factor


def power_factor(active: float, voltage_v: float, current_a: float, phases: int = 1) -> float:
    """Active over apparent power, 0 to 1.02 (above 1 is the meters' rounding, and told). Source: POWER_SOURCE.

    ``active`` 0 to 1e7 W. Raises Inconsistent when nothing flows, or when it exceeds the apparent power by
    more than 2 %: the clamp is on the wrong wire or the readings are not of one moment.
    Takes ``voltage_v`` 0 to 1000, ``current_a`` 0 to 10000.
    """
    within("active power", active, 0, 1e7, "W")
    apparent = apparent_va(voltage_v, current_a, phases)
    if apparent < 1e-3:
        raise Inconsistent("There is no power factor without voltage and current.")
    if active > 1.02 * apparent:
        raise Inconsistent(
            f"{active:.4g} W is more than the {apparent:.4g} VA of {voltage_v:.4g} V and {current_a:.4g} A: "
            "look at the clamp, and take the readings at one moment."
        )
    return active / apparent


def reactive_var(voltage_v: float, current_a: float, factor: float, phases: int = 1) -> float:
    """Reactive power in var: √(S² - P²) for sine waves. Source: POWER_SOURCE.

    Takes ``voltage_v`` 0 to 1000, ``current_a`` 0 to 10000, ``factor`` 0 to 1.
    """
    within("power factor", factor, 0, 1, "1")
    return apparent_va(voltage_v, current_a, phases) * math.sqrt(1 - factor**2)


def current_from_power_a(active: float, voltage_v: float, factor: float, phases: int = 1) -> float:
    """Line current in A: the inverse of ``active_w``; ``voltage_v`` 1 to 1000, ``factor`` 0.01 to 1.

    Takes ``active`` 0 to 1e7.
    """
    within("active power", active, 0, 1e7, "W")
    within("voltage", voltage_v, 1, 1000, "V")
    within("power factor", factor, 0.01, 1, "1")
    return active / (_factor(phases) * voltage_v * factor)


def judge_running_current(
    current: Metered,
    nameplate_a: float,
    low_percent: float | None = RUNNING_LOW_PERCENT,
    high_percent: float = RUNNING_HIGH_PERCENT,
) -> Found:
    """Judge a running current (0 to 10 000 A) in percent of the nameplate's (0.05 to 10 000 A): ok, low or high.

    Low settles nothing: an inverter unit at part load draws little. Value: share (%). Source: NAMEPLATE_SOURCE.
    """
    within("running current", current.value, 0, 1e4, "A")
    within("nameplate current", nameplate_a, 0.05, 1e4, "A")
    found = judge_share(current, nameplate_a, low_percent, high_percent)
    return Found(found.chances, found.good, ("low",), found.values, found.against)
