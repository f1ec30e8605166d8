"""What was read of the refrigerant circuit, on the refrigerant's pressure-enthalpy diagram."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from assistant.calculations import enthalpy
from assistant.calculations.atmosphere import absolute_kpa
from assistant.calculations.errors import CalculationError
from assistant.calculations.refrigerant_cycle import subcooling_k, superheat_k
from assistant.calculations.saturation import bubble_line, dew_line
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.record.drawn import Line, Mark, Picture
from assistant.record.model import AnswerLine, CheckLine
from assistant.record.wording import quantity, sentence

_MPA = 1000.0


def cycle_of(
    profile: UnitProfile | None, checks: Sequence[CheckLine], given: Mapping[int, AnswerLine], library: Library
) -> Picture | None:
    """Suction and liquid line of the last superheat and subcooling that were measured; None without either."""
    if profile is None:
        return None
    name = profile.refrigerant.name
    marks: list[Mark] = []
    rows: list[tuple[str, ...]] = []
    says: list[str] = []
    for judge in ("superheat", "subcooling"):
        pair = _pair(judge, checks, given, library)
        if pair is None:
            continue
        check, pressure, line = pair
        try:
            mark, kelvin = _mark(judge, name, pressure, line, {"pass": True, "fail": False}.get(check.verdict))
        except CalculationError:
            continue
        marks.append(mark)
        rows.append((judge, pressure.said, line.said, quantity(round(kelvin, 1), "K")))
        side = "right" if judge == "superheat" else "left"
        says.append(f"{judge} is {kelvin:.1f} K, the distance {side} of the dome")
    if not marks:
        return None
    return Picture(
        id="cycle",
        kind="cycle",
        title=f"The circuit on the diagram of {name}",
        says=sentence("; ".join(says)),
        x_label="enthalpy, kJ/kg",
        y_label="pressure, MPa absolute",
        y_log=True,
        lines=(*_dome(name), *_cycle(marks)),
        marks=tuple(marks),
        columns=("What", "Pressure", "Line", "Result"),
        rows=tuple(rows),
        source=enthalpy.ENTHALPY_SOURCE,
    )


def _pair(
    judge: str, checks: Sequence[CheckLine], given: Mapping[int, AnswerLine], library: Library
) -> tuple[CheckLine, AnswerLine, AnswerLine] | None:
    for check in reversed(checks):
        known = library.checks.get(check.id)
        if known is None or known.judge.by != judge:
            continue
        lines = {given[n].question.partition(".")[2]: given[n] for n in check.answers if n in given}
        pressure, line = (lines.get(known.judge.inputs.get(name, "")) for name in ("pressure", "line"))
        if pressure and line and pressure.inside is not None and line.inside is not None:
            return check, pressure, line
    return None


def _mark(judge: str, name: str, pressure: AnswerLine, line: AnswerLine, good: bool | None) -> tuple[Mark, float]:
    """The point and the kelvins, at sea level as the visit reckons."""
    gauge, t = pressure.inside or 0.0, line.inside or 0.0
    kpa = absolute_kpa(gauge, 0.0)
    if judge == "superheat":
        h, kelvin, what = enthalpy.suction_kj_kg(name, kpa, t), superheat_k(name, gauge, t), "suction"
    else:
        h, kelvin, what = enthalpy.liquid_line_kj_kg(name, kpa, t), subcooling_k(name, gauge, t), "liquid line"
    return Mark(name=f"{what}: {pressure.said}, {line.said}", x=h, y=kpa / _MPA, good=good), kelvin


def _dome(name: str) -> list[Line]:
    """Bubble and dew line from the shipped tables, pressures from ours."""
    low, high = enthalpy.span_c(name)
    rows = [low + (high - low) * at / 60 for at in range(61)]
    liquid, vapour = (
        Line(
            name=title,
            role="curve",
            x=tuple(enthalpy_at(name, t) for t in rows),
            y=tuple(line.pressure_kpa(t) / _MPA for t in rows),
        )
        for title, enthalpy_at, line in (
            ("saturated liquid", enthalpy.liquid_kj_kg, bubble_line(name)),
            ("saturated vapour", enthalpy.vapour_kj_kg, dew_line(name)),
        )
    )
    return [liquid, vapour]


def _cycle(marks: Sequence[Mark]) -> list[Line]:
    """With both points: evaporation and the throttle, what the two readings show of the cycle."""
    if len(marks) < 2:
        return []
    suction, liquid = marks
    return [
        Line(
            name="throttle, then evaporation",
            role="path",
            x=(liquid.x, liquid.x, suction.x),
            y=(liquid.y, suction.y, suction.y),
        )
    ]
