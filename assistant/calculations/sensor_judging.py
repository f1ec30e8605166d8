"""A thermistor reading judged at a measured temperature: ok, drifted, open or shorted."""

from __future__ import annotations

from typing import Literal, NamedTuple

from assistant.calculations.errors import CalculationError, within
from assistant.calculations.thermistors import Curve, percent_per_kelvin
from assistant.calculations.uncertainty import Accuracy, Judged, combined, judged

#: Beyond these, and more than FAR_OFF times from the curve, a sensor is open or shorted, not drifted.
#: Common practice, no source.
OPEN_ABOVE_OHM, SHORT_BELOW_OHM, FAR_OFF = 1e6, 100.0, 20.0
THRESHOLD_SOURCE = "open above 1 Mohm, shorted below 100 ohm, both 20 times off the curve: common practice, no source"

Outcome = Literal["ok", "drifted", "open", "shorted"]


class SensorJudgement(NamedTuple):
    """What a sensor's resistance says.

    ``outcome`` is the likeliest, ``chances`` those of all four outcomes (sum 1). ``expected_ohm`` with ``low_ohm`` and
    ``high_ohm`` is the curve with the sensor's tolerance. ``reads_as_c`` is what the control believes, ``error_k``
    how far that is from the true temperature (None when off the curve), ``uncertainty_k`` the 95 % uncertainty
    of that error from meter and thermometer. ``against_limits`` is None for an open or shorted sensor.
    """

    outcome: Outcome
    chances: tuple[tuple[Outcome, float], ...]
    expected_ohm: float
    low_ohm: float
    high_ohm: float
    reads_as_c: float | None
    error_k: float | None
    uncertainty_k: float
    against_limits: Judged | None


def judge_sensor(
    resistance_ohm: float | None,
    temperature_c: float,
    curve: Curve,
    tolerance_percent: float,
    meter: Accuracy,
    thermometer_k: float,
) -> SensorJudgement:
    """Judge ``resistance_ohm`` (None: open line on the display) measured while the sensor is at ``temperature_c``.

    ``tolerance_percent`` is the sensor's own, of resistance (0 to 50); ``meter`` its ohm accuracy; ``thermometer_k``
    the 95 % accuracy of the thermometer beside it (0 to 20 K). Uncertainties of meter and thermometer
    add by the GUM (5.1.2), the thermometer's through the slope of the curve. Raises OutOfRange outside the curve.
    """
    within("sensor tolerance", tolerance_percent, 0, 50, "%")
    within("thermometer accuracy", thermometer_k, 0, 20, "K")
    expected = curve.resistance_ohm(temperature_c)
    low, high = expected * (1 - tolerance_percent / 100), expected * (1 + tolerance_percent / 100)
    slope_ohm_k = abs(percent_per_kelvin(curve, temperature_c)) / 100 * expected
    if resistance_ohm is not None:
        within("sensor resistance", resistance_ohm, 0, 1e9, "ohm")
    gross = _gross(resistance_ohm, expected)
    measured = expected if gross or resistance_ohm is None else resistance_ohm
    expanded = combined([meter.expanded(measured), thermometer_k * slope_ohm_k])
    if gross or resistance_ohm is None:
        outcome = gross or "open"
        return SensorJudgement(
            outcome, _certain(outcome), expected, low, high, None, None, expanded / slope_ohm_k, None
        )
    against = judged(resistance_ohm, expanded, low, high)
    drifted = against.chance_below + against.chance_above
    chances: tuple[tuple[Outcome, float], ...] = (
        ("ok", 1 - drifted),
        ("drifted", drifted),
        ("open", 0.0),
        ("shorted", 0.0),
    )
    reads_as = _believed(curve, resistance_ohm)
    return SensorJudgement(
        "drifted" if drifted > 0.5 else "ok",
        chances,
        expected,
        low,
        high,
        reads_as,
        None if reads_as is None else reads_as - temperature_c,
        expanded / slope_ohm_k,
        against,
    )


def _gross(resistance_ohm: float | None, expected_ohm: float) -> Literal["open", "shorted"] | None:
    if resistance_ohm is None or resistance_ohm >= max(OPEN_ABOVE_OHM, FAR_OFF * expected_ohm):
        return "open"
    if resistance_ohm <= min(SHORT_BELOW_OHM, expected_ohm / FAR_OFF):
        return "shorted"
    return None


def _certain(outcome: Outcome) -> tuple[tuple[Outcome, float], ...]:
    names: tuple[Outcome, ...] = ("ok", "drifted", "open", "shorted")
    return tuple((name, 1.0 if name == outcome else 0.0) for name in names)


def _believed(curve: Curve, resistance_ohm: float) -> float | None:
    """The temperature that a control with this curve reads, or None when it is off the curve."""
    try:
        return curve.temperature_c(resistance_ohm)
    except CalculationError:
        return None
