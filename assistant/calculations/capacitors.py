"""Run capacitors: value from voltage, current and frequency, judged against the printed tolerance. V, A, Hz, µF.

Sine voltage only: not behind an inverter.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.uncertainty import Accuracy, Judged, combined, judged

CAPACITOR_SOURCE = "C = I/(2π·f·V) (definition of reactance)"
TOLERANCE_SOURCE = (
    "replace outside the printed tolerance: common practice, no source; ±5, 10, 15 % are printed (IEC 60252-1)"
)


def capacitance_uf(voltage_v: float, current_a: float, frequency_hz: float) -> float:
    """Capacitance in µF from the volts across and amperes through a capacitor at work. Source: CAPACITOR_SOURCE.

    ``voltage_v`` 1 to 1000, ``current_a`` 0 to 1000, ``frequency_hz`` 45 to 65.
    """
    within("capacitor voltage", voltage_v, 1, 1000, "V")
    within("capacitor current", current_a, 0, 1000, "A")
    within("line frequency", frequency_hz, 45, 65, "Hz")
    return 1e6 * current_a / (2 * math.pi * frequency_hz * voltage_v)


def expected_current_a(capacitance: float, voltage_v: float, frequency_hz: float) -> float:
    """Current in A through ``capacitance`` (0 to 1e5 µF): the inverse. Source: CAPACITOR_SOURCE."""
    within("capacitance", capacitance, 0, 1e5, "µF")
    within("capacitor voltage", voltage_v, 1, 1000, "V")
    within("line frequency", frequency_hz, 45, 65, "Hz")
    return 2 * math.pi * frequency_hz * voltage_v * capacitance * 1e-6


class CapacitorJudgement(NamedTuple):
    """A capacitance in µF against its printed limits."""

    low_uf: float
    high_uf: float
    against: Judged


def judge_capacitance(
    measured_uf: float, rated_uf: float, tolerance_percent: float, meter: Accuracy
) -> CapacitorJudgement:
    """Judge ``measured_uf`` (0 to 1e5) against ``rated_uf`` (0.1 to 1e4) ± ``tolerance_percent`` (0.1 to 50).

    Source: TOLERANCE_SOURCE.
    """
    within("measured capacitance", measured_uf, 0, 1e5, "µF")
    within("rated capacitance", rated_uf, 0.1, 1e4, "µF")
    share = within("capacitor tolerance", tolerance_percent, 0.1, 50, "%") / 100
    low, high = rated_uf * (1 - share), rated_uf * (1 + share)
    return CapacitorJudgement(low, high, judged(measured_uf, meter.expanded(measured_uf), low, high))


def judge_capacitor_at_work(
    voltage_v: float,
    current_a: float,
    frequency_hz: float,
    rated_uf: float,
    tolerance_percent: float,
    volt_meter: Accuracy,
    clamp: Accuracy,
) -> CapacitorJudgement:
    """Judge by V, I and f; relative uncertainties of voltage and current add in squares (GUM 5.1.6).

    Raises Inconsistent when no current flows: the capacitor or its path is open.
    """
    value = capacitance_uf(voltage_v, current_a, frequency_hz)
    if current_a == 0:
        raise Inconsistent("No current flows through the capacitor: it, or the path to it, is open.")
    relative = combined([volt_meter.expanded(voltage_v) / voltage_v, clamp.expanded(current_a) / current_a])
    share = within("capacitor tolerance", tolerance_percent, 0.1, 50, "%") / 100
    within("rated capacitance", rated_uf, 0.1, 1e4, "µF")
    low, high = rated_uf * (1 - share), rated_uf * (1 + share)
    return CapacitorJudgement(low, high, judged(value, value * relative, low, high))
