"""A temperature sensor on its curve, with the band that counts as good."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from assistant.calculations.errors import CalculationError
from assistant.calculations.thermistors import BetaCurve, Curve, TableCurve
from assistant.library.profile import Thermistor, UnitProfile
from assistant.record.drawn import Line, Mark, Picture
from assistant.record.model import AnswerLine, CheckLine
from assistant.record.wording import quantity

#: The picture reaches so far to either side of what was read, K.
_REACH_K = 25
_POINTS = 41


def sensor_of(
    check: CheckLine, given: Sequence[AnswerLine], name: str, inputs: Mapping[str, str], profile: UnitProfile | None
) -> Picture | None:
    """The sensor of a thermistor check; None without curve or numbers."""
    data = profile.sensors.get(name) if profile else None
    keys = {line.question.partition(".")[2]: line for line in given}
    warm, ohms = keys.get(inputs.get("temperature", "")), keys.get(inputs.get("resistance", ""))
    curve = _curve(data) if data else None
    if data is None or curve is None or warm is None or ohms is None or warm.inside is None:
        return None
    t = warm.inside
    points = [(x, y) for x, y in ((at, _ohm(curve, at)) for at in _around(t)) if y is not None]
    expected = _ohm(curve, t)
    if not points or expected is None:
        return None
    tolerance_k = next((bound.value for bound in check.bounds if bound.name == "tolerance_k"), 0.0)
    edges = [(_edge(curve, x, tolerance_k, data.tolerance_percent), x) for x, _ in points]
    lines = [
        Line(name="should be", role="curve", x=tuple(x for x, _ in points), y=tuple(y / 1000 for _, y in points)),
        *(
            Line(
                name=f"{side} edge of what is good",
                role="edge",
                x=tuple(x for ends, x in edges if ends),
                y=tuple(ends[at] / 1000 for ends, _ in edges if ends),
            )
            for at, side in ((0, "lower"), (1, "upper"))
        ),
    ]
    good = {"pass": True, "fail": False}.get(check.verdict)
    marks: tuple[Mark, ...] = ()
    if ohms.inside is not None:
        marks = (Mark(name=f"read {ohms.said} at {warm.said}", x=t, y=ohms.inside / 1000, good=good),)
    due = quantity(round(expected / 1000, 2 if expected < 1e5 else 1), "kohm")
    return Picture(
        id=f"sensor-{check.id}-{check.answers[0]}",
        kind="sensor",
        title=check.title,
        says=f"At {warm.said} the sensor should read {due}; it read {ohms.said}.",
        x_label="temperature, °C",
        y_label="resistance, kΩ",
        y_log=True,
        lines=tuple(lines),
        marks=marks,
        columns=("Temperature", "Should be", "Was"),
        rows=((warm.said, due, ohms.said),),
        source=f"curve: {profile.source}" if profile else "",
    )


def _curve(data: Thermistor) -> Curve | None:
    try:
        if data.table:
            return TableCurve(data.table)
        if data.r25_ohm and data.beta_k:
            return BetaCurve(data.r25_ohm, data.beta_k)
    except CalculationError:
        return None
    return None


def _around(t: float) -> list[float]:
    return [t + _REACH_K * (2 * at / (_POINTS - 1) - 1) for at in range(_POINTS)]


def _ohm(curve: Curve, t: float) -> float | None:
    try:
        return curve.resistance_ohm(t)
    except CalculationError:
        return None


def _edge(curve: Curve, t: float, kelvin: float, percent: float) -> tuple[float, float] | None:
    """The wider of the tolerance in kelvin and the sensor's own in percent, as the judge takes it."""
    here, warmer, colder = _ohm(curve, t), _ohm(curve, t + kelvin), _ohm(curve, t - kelvin)
    if here is None or warmer is None or colder is None:
        return None
    return min(warmer, here * (1 - percent / 100)), max(colder, here * (1 + percent / 100))
