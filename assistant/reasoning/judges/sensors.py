"""Judges of temperature sensors: one against its curve, or several for a break or a short."""

from __future__ import annotations

from assistant.calculations.entry import Result
from assistant.calculations.errors import CalculationError
from assistant.calculations.sensor_judging import OPEN_ABOVE_OHM, SHORT_BELOW_OHM, TOLERANCE_K, judge_sweep
from assistant.language.meaning import Quantity
from assistant.library.models import Check
from assistant.messages.message import Amount, Message, Value, message
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, Taken, sum_of, told
from assistant.reasoning.judges.limits import number
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Measured

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
    if data is None or case.profile is None:
        return case.missing_limit("sensor-curve", sensor)
    if warm is None or warm.value is None:
        return case.missing_reading("temperature")
    if ohms is None or not ohms.there:
        return case.missing_reading("resistance")
    limit = case.limit_or("tolerance_k", "temperature_difference", TOLERANCE_K)
    values: dict[str, Taken] = {"resistance": ohms, "temperature": warm, "tolerance_k": limit}
    values |= {"r25": data.r25_ohm, "beta": data.beta_k, "tolerance": data.tolerance_percent}
    try:
        result = case.run("sensor", {**values, "table": data.table or None})
    except CalculationError as error:
        return case.impossible(message("temperature-outside-curve"), error)
    own = limit if case.profile.general else None
    judgement = case.ran(result, _says(result, ohms), limits=(own,), quantity=_OHM)
    curve = tuple(
        line.model_copy(update={"source": f"{line.source}; curve: {case.profile.source}"}) for line in judgement.working
    )
    return judgement.model_copy(update={"working": curve})


def _says(result: Result, ohms: Measured) -> Message:
    told: dict[str, Value] = {"reading": ohms.amount(), "due": ohms.amount(number(result.answer("expected")))}
    outcome, error = str(result.answer("outcome")), result.answer("error")
    if outcome == "drifted" and error is not None:
        off = Amount(quantity="temperature_difference", value=abs(number(error)), unit="K")
        return message("sensor-off", **told, off=off)
    return message("sensor-judged", **told, outcome=outcome)


def _swept(check: Check) -> set[str]:
    key = check.judge.inputs.get("resistances")
    asked = next((question.reading for question in check.ask if question.key == key), None)
    return {"none", *(place.id for place in asked.places)} if asked else {"none"}


@register(
    "sensor-sweep",
    inputs={"resistances": "readings"},
    limits={"open_above": "resistance", "short_below": "resistance"},
    outcomes_of=_swept,
)
def sensor_sweep(case: Case) -> Judgement:
    """The sensor that is open or shorted among several, the farthest off where several are; else "none"."""
    given = case.readings("resistances")
    if not given or any(not reading.there for reading in given):
        return case.missing_reading("sensors")
    above = case.limit_or("open_above", _OHM, OPEN_ABOVE_OHM)
    below = case.limit_or("short_below", _OHM, SHORT_BELOW_OHM)
    by_place = {reading.place_id: reading for reading in given}
    found = judge_sweep({place: reading.metered for place, reading in by_place.items()}, above.bound, below.bound)
    says = message("no-sensor-off")
    if found.places:
        worst = by_place[found.places[0]]
        how = str(found.values["how"])
        says = message("one-sensor-off", place=worst.at, reading=worst.amount(), how=how)
    working = sum_of(
        "short below ≤ resistance ≤ open above",
        ", ".join(f"{reading.place} {told(reading)}" for reading in given),
        f"{found.outcome}; {below.spoken()} to {above.spoken()}",
        above.source,
    )
    return case.found(found, says, [working])
