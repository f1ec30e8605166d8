"""The power stage: rectified bus, ripple, bleed-down, stored energy. Volts, ohm, µF, seconds.

A computed time is advice only: a bus is dead when a meter says so.
"""

from __future__ import annotations

import math

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.halving import last_where

RECTIFIER_SOURCE = "full-wave bridge: no-load peak √2·V; three-phase loaded mean (3√2/π)·V line to line (textbook)"
DISCHARGE_SOURCE = "RC discharge V = V0·exp(-t/RC) (textbook)"
LIMIT_SOURCE = "IEC 60204-1 6.2.4: 60 V within 5 s, else warn; the unit profile's own limit wins"

SAFETY_NOTE = "Advice only: prove it dead with a meter."


def bus_peak_v(line_v: float, diode_drop_v: float = 0.0) -> float:
    """Idle bus in V: √2·V - 2·drop. ``line_v`` 0 to 1000 V RMS, ``diode_drop_v`` 0 to 3 V a diode.

    An active boost stage holds the bus higher; that is no fault. Source: RECTIFIER_SOURCE.
    Raises Inconsistent when the drops are more than the peak.
    """
    within("line voltage", line_v, 0, 1000, "V")
    within("diode drop", diode_drop_v, 0, 3, "V")
    peak = math.sqrt(2) * line_v - 2 * diode_drop_v
    if peak < 0:
        raise Inconsistent(f"Two diode drops of {diode_drop_v:.3g} V are more than the peak of {line_v:.3g} V.")
    return peak


def three_phase_mean_v(line_v: float) -> float:
    """Mean of a loaded three-phase bridge without capacitor, V: (3√2/π)·V line to line, 0 to 1000 V."""
    within("line voltage", line_v, 0, 1000, "V")
    return 3 * math.sqrt(2) / math.pi * line_v


def ripple_v(line_v: float, load_a: float, capacitance_uf: float, line_hz: float, phases: int = 1) -> float:
    """Peak-to-peak ripple of the bus in V under a constant current, ideal diodes and line.

    The bus follows the rectified sine past its peak until that falls faster than I/C, then falls in a straight line
    until the next pulse meets it. ``line_v`` 1 to 1000 V RMS (line to line when three-phase), ``load_a`` 0 to 100 A
    drawn from the bus, ``capacitance_uf`` 1 to 1e5, ``line_hz`` 45 to 65, ``phases`` 1 or 3. Source: RECTIFIER_SOURCE.
    """
    within("line voltage", line_v, 1, 1000, "V")
    within("bus current", load_a, 0, 100, "A")
    within("bus capacitance", capacitance_uf, 1, 1e5, "µF")
    within("line frequency", line_hz, 45, 65, "Hz")
    if phases not in (1, 3):
        raise Inconsistent(f"A rectifier has 1 or 3 phases, not {phases}.")
    peak, slope, omega = math.sqrt(2) * line_v, load_a / (capacitance_uf * 1e-6), 2 * math.pi * line_hz
    apart = 1 / ((2 if phases == 1 else 6) * line_hz)  # from peak to peak
    if slope >= peak * omega * math.sin(omega * apart / 2):  # the bus follows the line down to the valley
        return peak * (1 - math.cos(omega * apart / 2))
    leaves = math.asin(slope / (peak * omega)) / omega
    at_leaving = peak * math.cos(omega * leaves)
    meets = last_where(
        lambda t: at_leaving - slope * (t - leaves) > peak * math.cos(omega * (apart - t)), apart / 2, apart
    )
    return peak - at_leaving + slope * (meets - leaves)


def _time_constant_s(bleed_ohm: float, capacitance_uf: float) -> float:
    within("bleed resistance", bleed_ohm, 1, 1e9, "ohm")
    within("bus capacitance", capacitance_uf, 1e-3, 1e6, "µF")
    return bleed_ohm * capacitance_uf * 1e-6


def bleed_time_s(start_v: float, limit_v: float, bleed_ohm: float, capacitance_uf: float) -> float:
    """Seconds from ``start_v`` down to ``limit_v`` (both 0.1 to 2000 V): t = R·C·ln(V0/V). 0 when already below.

    ``bleed_ohm`` 1 to 1e9, ``capacitance_uf`` 1e-3 to 1e6. Source: DISCHARGE_SOURCE.
    """
    within("starting voltage", start_v, 0.1, 2000, "V")
    within("voltage limit", limit_v, 0.1, 2000, "V")
    tau = _time_constant_s(bleed_ohm, capacitance_uf)
    return 0.0 if start_v <= limit_v else tau * math.log(start_v / limit_v)


def remaining_v(start_v: float, wait_s: float, bleed_ohm: float, capacitance_uf: float) -> float:
    """Volts left after ``wait_s`` (0 to 1e7 s). Source: DISCHARGE_SOURCE.

    Takes ``start_v`` 0 to 2000, ``bleed_ohm`` 1 to 1e9, ``capacitance_uf`` 0.001 to 1e6.
    """
    within("starting voltage", start_v, 0, 2000, "V")
    within("waiting time", wait_s, 0, 1e7, "s")
    return start_v * math.exp(-wait_s / _time_constant_s(bleed_ohm, capacitance_uf))


def safe_wait_s(
    start_v: float,
    limit_v: float,
    bleed_ohm: float,
    capacitance_uf: float,
    bleed_tolerance_percent: float = 5.0,
    capacitance_tolerance_percent: float = 20.0,
) -> float:
    """The bleed time with both parts at the slow end of their tolerance (0 to 100 %), in seconds.

    The default tolerances are those usual for bleed resistors and electrolytic capacitors (common practice, no
    source). An open bleed resistor never empties the bus: measure.
    Takes ``start_v`` and ``limit_v`` 0.1 to 2000, ``bleed_ohm`` 1 to 1e9, ``capacitance_uf`` 0.001 to 1e6.
    """
    within("bleed tolerance", bleed_tolerance_percent, 0, 100, "%")
    within("capacitance tolerance", capacitance_tolerance_percent, 0, 100, "%")
    slow = (1 + bleed_tolerance_percent / 100) * (1 + capacitance_tolerance_percent / 100)
    return slow * bleed_time_s(start_v, limit_v, bleed_ohm, capacitance_uf)


def bleed_from_decay_ohm(first_v: float, later_v: float, apart_s: float, capacitance_uf: float) -> float:
    """The bleed resistance that explains a measured decay, in ohm: R = t/(C·ln(V1/V2)).

    Voltages 0.1 to 2000 V, ``apart_s`` 0.1 to 1e6 s. Raises Inconsistent when the voltage did not fall: the bus
    is still fed or the bleed is open.
    Takes ``capacitance_uf`` 0.001 to 1e6.
    """
    within("first voltage", first_v, 0.1, 2000, "V")
    within("later voltage", later_v, 0.1, 2000, "V")
    within("time between", apart_s, 0.1, 1e6, "s")
    within("bus capacitance", capacitance_uf, 1e-3, 1e6, "µF")
    if later_v >= first_v * (1 - 1e-9):
        raise Inconsistent(
            f"The bus did not fall ({first_v:.4g} V, then {later_v:.4g} V): it is still fed, or its bleed is open."
        )
    return apart_s / (capacitance_uf * 1e-6 * math.log(first_v / later_v))


def stored_energy_j(voltage_v: float, capacitance_uf: float) -> float:
    """Energy in the bus, J: ½·C·V². 0 to 2000 V, 1e-3 to 1e6 µF. Textbook.

    Takes ``capacitance_uf`` 0.001 to 1e6.
    """
    within("bus voltage", voltage_v, 0, 2000, "V")
    within("bus capacitance", capacitance_uf, 1e-3, 1e6, "µF")
    return 0.5 * capacitance_uf * 1e-6 * voltage_v**2
