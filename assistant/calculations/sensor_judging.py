"""Thermistor readings judged: one at a measured temperature (ok, drifted, open or shorted), several for a break."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.calculations.errors import CalculationError, Inconsistent, within
from assistant.calculations.found import Found, Limit, certain, sided
from assistant.calculations.thermistors import Curve, percent_per_kelvin
from assistant.calculations.uncertainty import Metered, combined, judged

#: Beyond these, and more than FAR_OFF times from the curve where there is one, a sensor is open or shorted, not
#: drifted.
OPEN_ABOVE_OHM, SHORT_BELOW_OHM, FAR_OFF = Limit(1e6), Limit(100.0), 20.0
#: How far a sensor may lead its control astray, where that is more than its own tolerance.
TOLERANCE_K = Limit(2.0)
THRESHOLD_SOURCE = "open above 1 Mohm, shorted below 100 ohm, both 20 times off the curve: common practice, no source"

OUTCOMES = ("ok", "drifted", "open", "shorted")
#: No tolerance is wider than this, or a short would be inside it.
WIDEST_PERCENT = 50.0


def judge_sensor(
    resistance: Metered,
    temperature: Metered,
    curve: Curve,
    tolerance_percent: float,
    tolerance_k: float | None = None,
) -> Found:
    """Judge ``resistance`` (ohm; may be open) measured while the sensor is at ``temperature`` (°C).

    ``tolerance_percent`` is the sensor's own, of resistance (0 to 50), ``tolerance_k`` (0 to 20) what the control can
    bear; the wider counts. Uncertainties of meter and thermometer add by the GUM (5.1.2), the thermometer's through the
    slope of the curve. Values: expected, low, high (ohm), tolerance_used (%), reads_as (°C that a control with this
    curve reads, None off the curve), error and error_uncertainty (K). Raises OutOfRange outside the curve.
    Takes ``temperature`` -60 to 200.
    """
    within("sensor tolerance", tolerance_percent, 0, WIDEST_PERCENT, "%")
    expected = curve.resistance_ohm(temperature.value)
    slope_percent = abs(percent_per_kelvin(curve, temperature.value))
    percent = tolerance_percent
    if tolerance_k is not None:
        within("sensor tolerance in temperature", tolerance_k, 0, 20, "K")
        percent = min(WIDEST_PERCENT, max(percent, slope_percent * tolerance_k))
    low, high = expected * (1 - percent / 100), expected * (1 + percent / 100)
    slope = slope_percent / 100 * expected
    values: dict[str, float | str | None] = {"expected": expected, "low": low, "high": high}
    values |= {"tolerance_used": percent, "reads_as": None, "error": None}
    gross = _gross(resistance, expected)
    if gross is not None:
        return Found(certain(gross, OUTCOMES), ("ok",), values=values)
    within("sensor resistance", resistance.value, 0, 1e9, "ohm")
    expanded = combined([resistance.expanded, temperature.expanded * slope])
    against = judged(resistance.value, expanded, low, high)
    reads_as = _believed(curve, resistance.value)
    values["reads_as"] = reads_as
    values["error"] = None if reads_as is None else reads_as - temperature.value
    values["error_uncertainty"] = expanded / slope
    chances = {**sided(against, ("drifted", "ok", "drifted")), "open": 0.0, "shorted": 0.0}
    return Found({name: chances[name] for name in OUTCOMES}, ("ok",), values=values, against=against)


def _gross(resistance: Metered, expected_ohm: float) -> str | None:
    if resistance.open or resistance.value >= max(OPEN_ABOVE_OHM, FAR_OFF * expected_ohm):
        return "open"
    if 0 <= resistance.value <= min(SHORT_BELOW_OHM, expected_ohm / FAR_OFF):
        return "shorted"
    return None


def _believed(curve: Curve, resistance_ohm: float) -> float | None:
    """The temperature that a control with this curve reads, or None when it is off the curve."""
    try:
        return curve.temperature_c(resistance_ohm)
    except CalculationError:
        return None


def judge_sweep(
    resistances: Mapping[str, Metered],
    open_above_ohm: float = OPEN_ABOVE_OHM,
    short_below_ohm: float = SHORT_BELOW_OHM,
) -> Found:
    """The sensor that is open or shorted among several by name, the farthest off where several are; else "none".

    Raises Inconsistent without any sensor, or with the limits upside down.
    """
    if not resistances:
        raise Inconsistent("At least one sensor is needed.")
    within("limit of a shorted sensor", short_below_ohm, 1e-3, 1e9, "ohm")
    within("limit of an open sensor", open_above_ohm, 1e-3, 1e9, "ohm")
    if short_below_ohm >= open_above_ohm:
        raise Inconsistent("A shorted sensor must read less than an open one.")
    off = {name: _times_outside(r, open_above_ohm, short_below_ohm) for name, r in resistances.items()}
    worst = max(off, key=lambda name: off[name])
    outcomes = ("none", *resistances)
    if off[worst] <= 1:
        return Found(certain("none", outcomes), ("none",), values={"how": "none"})
    reading = resistances[worst]
    how = "open" if reading.open or reading.value > open_above_ohm else "shorted"
    return Found(certain(worst, outcomes), ("none",), values={"how": how}, places=(worst,))


def _times_outside(reading: Metered, above_ohm: float, below_ohm: float) -> float:
    """How many times beyond the nearer limit; 1 or less inside."""
    if reading.open:
        return math.inf
    return max(reading.value / above_ohm, below_ohm / max(within("sensor", reading.value, 0, 1e9, "ohm"), 1e-9))
