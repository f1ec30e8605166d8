"""Judges of temperature sensors: one against its curve, or several for a break or a short."""

from __future__ import annotations

import math

from assistant.calculations.errors import CalculationError
from assistant.calculations.sensor_judging import THRESHOLD_SOURCE, SensorJudgement, judge_sensor
from assistant.calculations.thermistors import Curve, curve_from, percent_per_kelvin
from assistant.calculations.uncertainty import GUM
from assistant.language.meaning import Quantity
from assistant.library.models import Check
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, sum_of
from assistant.reasoning.judges.limits import settling
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured, plain, spoken

_OHM: Quantity = "resistance"


@register(
    "thermistor",
    inputs={"temperature": "reading", "resistance": "reading"},
    limits={"tolerance_k": "temperature_difference"},
    options=("sensor",),
    outcomes=("ok", "drifted", "open", "shorted"),
)
def thermistor(case: Case) -> Judgement:
    """A sensor's resistance at a measured temperature against its curve in the profile.

    The tolerance is ``tolerance_k`` as resistance, or the sensor's own when that is wider.
    """
    warm, ohms = case.reading("temperature"), case.reading("resistance")
    sensor = str(case.option("sensor", ""))
    data = case.profile.sensors.get(sensor) if case.profile else None
    if data is None:
        return case.missing_limit(f"the {sensor} sensor's curve")
    if warm is None or warm.value is None:
        return case.missing_reading("temperature")
    if ohms is None or (ohms.value is None and not ohms.open):
        return case.missing_reading("resistance")
    curve = curve_from(data.r25_ohm, data.beta_k, data.table)
    limit = case.limit("tolerance_k", "temperature_difference")
    try:
        tolerance = _tolerance_percent(curve, warm.number, data.tolerance_percent, limit)
        found = judge_sensor(
            None if ohms.open else ohms.value, warm.number, curve, tolerance, ohms.accuracy, warm.expanded
        )
    except CalculationError as error:
        return case.impossible("That temperature is outside the sensor's curve.", error)
    working = sum_of(
        "resistance of the curve at the measured temperature, with its tolerance",
        f"{ohms.spoken()} at {warm.spoken()}; curve {spoken(found.expected_ohm, ohms.shown, _OHM)} "
        f"± {plain(tolerance)} percent",
        _result(found, warm.number),
        f"{_curve_source(case)}; {THRESHOLD_SOURCE}; {GUM}",
    )
    better = settling(found.against_limits, _OHM) if found.against_limits else ""
    own = None if case.profile is None or not case.profile.general else limit
    return case.judged(dict(found.chances), _says(found, ohms), [working], better, (own,))


def _tolerance_percent(curve: Curve, temperature_c: float, own_percent: float, limit: Known | None) -> float:
    if limit is None:
        return own_percent
    return min(50.0, max(own_percent, abs(percent_per_kelvin(curve, temperature_c)) * limit.value))


def _curve_source(case: Case) -> str:
    return case.profile.source if case.profile else ""


def _result(found: SensorJudgement, temperature_c: float) -> str:
    if found.error_k is None or found.reads_as_c is None:
        return found.outcome
    return (
        f"reads as {plain(found.reads_as_c)} at {plain(temperature_c)} degrees Celsius: "
        f"{plain(found.error_k)} ± {plain(found.uncertainty_k)} K, {found.outcome}"
    )


def _says(found: SensorJudgement, ohms: Measured) -> str:
    expected = spoken(found.expected_ohm, ohms.shown, _OHM)
    if found.outcome == "open":
        return f"The sensor is open: {ohms.spoken()} where {expected} is due."
    if found.outcome == "shorted":
        return f"The sensor is shorted: {ohms.spoken()} where {expected} is due."
    off = "" if found.error_k is None else f", {plain(abs(found.error_k))} kelvin off"
    if found.outcome == "drifted":
        return f"{ohms.spoken()} where {expected} is due: drifted{off}."
    return f"{ohms.spoken()} where {expected} is due: the sensor is good."


def _swept(check: Check) -> set[str]:
    key = check.judge.inputs.get("resistances")
    asked = next((question.reading for question in check.ask if question.key == key), None)
    return {"none", *(place.id for place in asked.places)} if asked else {"none"}


@register(
    "sensor-sweep",
    inputs={"resistances": "readings"},
    limits={"open_above": "resistance", "short_below": "resistance"},
    one_of=(("open_above",), ("short_below",)),
    outcomes_of=_swept,
)
def sensor_sweep(case: Case) -> Judgement:
    """The sensor that is open or shorted among several, the farthest off where several are; else "none"."""
    given = case.readings("resistances")
    above, below = case.limit("open_above", _OHM), case.limit("short_below", _OHM)
    if not given or any(reading.value is None and not reading.open for reading in given):
        return case.missing_reading("sensors")
    if above is None or below is None:
        return case.missing_limit("an open or shorted sensor")
    off = {reading.place_id: _times_outside(reading, above, below) for reading in given}
    worst = max(given, key=lambda reading: off[reading.place_id])
    found = off[worst.place_id] > 1
    open_ = worst.open or worst.number > above.value
    says = (
        f"The {worst.place} sensor reads {worst.spoken()}: {'open' if open_ else 'shorted'}."
        if found
        else "None of them is open or shorted."
    )
    working = sum_of(
        "short below ≤ resistance ≤ open above",
        ", ".join(f"{reading.place} {reading.spoken()}" for reading in given),
        worst.place if found else "none",
        above.source,
    )
    return case.judged({worst.place_id if found else "none": 1.0}, says, [working], limits=(above, below))


def _times_outside(reading: Measured, above: Known, below: Known) -> float:
    """How many times beyond the nearer limit; under 1 inside."""
    if reading.open:
        return math.inf
    return max(reading.number / above.value, below.value / max(reading.number, 1e-9))
