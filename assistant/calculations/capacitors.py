"""Run capacitors: value from voltage, current and frequency, judged against the printed tolerance. V, A, Hz, µF.

Sine voltage only: not behind an inverter.
"""

from __future__ import annotations

import math

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.found import Found, Limit, certain, sided
from assistant.calculations.uncertainty import Accuracy, Metered, combined, judged

CAPACITOR_SOURCE = "C = I/(2π·f·V) (definition of reactance)"
TOLERANCE_SOURCE = (
    "replace outside the printed tolerance: common practice, no source; ±5, 10, 15 % are printed (IEC 60252-1)"
)
#: What a run capacitor may be off when nothing is printed, and an electrolytic bus capacitor in service.
TOLERANCE_PERCENT, BUS_TOLERANCE_PERCENT = Limit(5.0), Limit(25.0)
#: A capacitor under this share of its printed value is open. Common practice, no source.
OPEN_SHARE = 0.05
KINDS = ("run", "bus")


def capacitance_uf(voltage_v: float, current_a: float, frequency_hz: float) -> float:
    """Capacitance in µF from the volts across and amperes through a capacitor at work. Source: CAPACITOR_SOURCE.

    ``voltage_v`` 1 to 1000, ``current_a`` 0 to 1000, ``frequency_hz`` 45 to 65.
    """
    within("capacitor voltage", voltage_v, 1, 1000, "V")
    within("capacitor current", current_a, 0, 1000, "A")
    within("line frequency", frequency_hz, 45, 65, "Hz")
    return 1e6 * current_a / (2 * math.pi * frequency_hz * voltage_v)


def expected_current_a(capacitance: float, voltage_v: float, frequency_hz: float) -> float:
    """Current in A through ``capacitance`` (0 to 1e5 µF): the inverse. Source: CAPACITOR_SOURCE.

    Takes ``voltage_v`` 1 to 1000, ``frequency_hz`` 45 to 65.
    """
    within("capacitance", capacitance, 0, 1e5, "µF")
    within("capacitor voltage", voltage_v, 1, 1000, "V")
    within("line frequency", frequency_hz, 45, 65, "Hz")
    return 2 * math.pi * frequency_hz * voltage_v * capacitance * 1e-6


OUTCOMES = ("ok", "low", "high", "open")


def judge_capacitance(
    measured: Metered, rated_uf: float, tolerance_percent: float = TOLERANCE_PERCENT, kind: str = "run"
) -> Found:
    """Judge ``measured`` (µF, 0 to 1e5, may be open) against ``rated_uf`` (0.1 to 1e4) ± ``tolerance_percent``.

    ok, low, high, or open (under ``OPEN_SHARE``). Of a ``kind`` "bus" (electrolytic) high settles nothing: another
    capacitor may lie beside it, and a leaky one reads high; of a "run" capacitor it is a fault. Values: capacitance,
    low, high (µF). Source: TOLERANCE_SOURCE.
    Takes ``tolerance_percent`` 0.1 to 50.
    """
    if kind not in KINDS:
        raise UnknownName("kind of capacitor", kind, KINDS)
    within("rated capacitance", rated_uf, 0.1, 1e4, "µF")
    share = within("capacitor tolerance", tolerance_percent, 0.1, 50, "%") / 100
    low, high = rated_uf * (1 - share), rated_uf * (1 + share)
    values = {"capacitance": None if measured.open else measured.value, "low": low, "high": high}
    unsettled = ("high",) if kind == "bus" else ()
    if measured.open or within("measured capacitance", measured.value, 0, 1e5, "µF") < OPEN_SHARE * rated_uf:
        return Found(certain("open", OUTCOMES), ("ok",), unsettled, values)
    against = judged(measured.value, measured.expanded, low, high)
    return Found({**sided(against), "open": 0.0}, ("ok",), unsettled, values, against)


def judge_capacitor_at_work(
    voltage: Metered,
    current: Metered,
    frequency_hz: float,
    rated_uf: float,
    tolerance_percent: float = TOLERANCE_PERCENT,
) -> Found:
    """Judge by V, I and f; relative uncertainties of voltage and current add in squares (GUM 5.1.6).

    Raises Inconsistent when no current flows: the capacitor or its path is open.
    Takes ``voltage`` 1 to 1000, ``current`` 0 to 1000, ``frequency_hz`` 45 to 65, ``rated_uf`` 0.1 to 10000,
    ``tolerance_percent`` 0.1 to 50.
    """
    value = capacitance_uf(voltage.value, current.value, frequency_hz)
    if current.value == 0:
        raise Inconsistent("No current flows through the capacitor: it, or the path to it, is open.")
    width = value * combined([voltage.expanded / voltage.value, current.expanded / current.value])
    return judge_capacitance(Metered(value, Accuracy(0, width)), rated_uf, tolerance_percent)
