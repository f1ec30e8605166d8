"""Electrical power: single and three phase, power factor, running current against the nameplate. V, A, W, VA."""

from __future__ import annotations

import math

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.uncertainty import Accuracy, Judged, judged

POWER_SOURCE = "P = V·I·cos φ, three-phase P = √3·V·I·cos φ with line values (IEC 60050-131 definitions)"
NAMEPLATE_SOURCE = "running current not above the nameplate's: the nameplate (unit profile)"


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
    """Active power in W; ``power_factor`` 0 to 1. Source: POWER_SOURCE."""
    within("power factor", power_factor, 0, 1, "1")
    return apparent_va(voltage_v, current_a, phases) * power_factor


def power_factor(active: float, voltage_v: float, current_a: float, phases: int = 1) -> float:
    """Active over apparent power, 0 to 1.02 (above 1 is the meters' rounding, and told). Source: POWER_SOURCE.

    ``active`` 0 to 1e7 W. Raises Inconsistent when nothing flows, or when it exceeds the apparent power by
    more than 2 %: the clamp is on the wrong wire or the readings are not of one moment.
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
    """Reactive power in var: √(S² - P²) for sine waves. Source: POWER_SOURCE."""
    within("power factor", factor, 0, 1, "1")
    return apparent_va(voltage_v, current_a, phases) * math.sqrt(1 - factor**2)


def current_from_power_a(active: float, voltage_v: float, factor: float, phases: int = 1) -> float:
    """Line current in A: the inverse of ``active_w``; ``voltage_v`` 1 to 1000, ``factor`` 0.01 to 1."""
    within("active power", active, 0, 1e7, "W")
    within("voltage", voltage_v, 1, 1000, "V")
    within("power factor", factor, 0.01, 1, "1")
    return active / (_factor(phases) * voltage_v * factor)


def judge_running_current(
    current_a: float, nameplate_a: float, meter: Accuracy, least_share: float | None = None
) -> Judged:
    """Judge a running current (0 to 10 000 A) against the nameplate (0.05 to 10 000 A). Source: NAMEPLATE_SOURCE.

    ``least_share`` (0 to 1) also sets a low limit, as a share of the nameplate, for a motor that should be loaded; an
    inverter unit at part load has none.
    """
    within("running current", current_a, 0, 1e4, "A")
    within("nameplate current", nameplate_a, 0.05, 1e4, "A")
    low = None if least_share is None else within("least share", least_share, 0, 1, "1") * nameplate_a
    return judged(current_a, meter.expanded(current_a), low, nameplate_a)
