"""Judges of the refrigerant circuit and its air: superheat, subcooling, saturation, dew-point, split, switches."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Literal

from assistant.calculations.atmosphere import ATMOSPHERE_SOURCE, absolute_kpa
from assistant.calculations.errors import CalculationError
from assistant.calculations.saturation import bubble_temperature_c, dew_temperature_c, saturation_source
from assistant.calculations.uncertainty import GUM, combined, judged, propagated
from assistant.language.meaning import Quantity
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, sum_of
from assistant.reasoning.judges.limits import Names, settling, shares
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured, plain

_K: Quantity = "temperature_difference"
#: What the circuit moves between reading gauge and thermometer. Common practice, no source.
STEADINESS_K = 0.5

Boiling = Callable[[str, float], float]


def _saturation_c(case: Case, gauge_kpa: float, line: Boiling) -> float:
    if case.profile is None:
        raise ValueError("a circuit is judged with a profile")
    return line(case.profile.refrigerant.name, absolute_kpa(gauge_kpa))


def _temperature_judge(
    case: Case,
    formula: str,
    function: Callable[[float, float], float],
    warm: Measured | None,
    pressure: Measured | None,
    names: Names = ("low", "ok", "high"),
    what: str = "superheat",
    band: tuple[Known | None, Known | None] = (None, None),
) -> Judgement:
    """Judge ``function(temperature, gauge pressure)`` in K, with the uncertainty of both readings."""
    if warm is None or pressure is None or warm.value is None or pressure.value is None:
        return case.missing_reading("temperature and pressure")
    low, high = band
    if case.profile is None or (low is None and high is None):
        return case.missing_limit(f"the {what}")
    try:
        value = function(warm.number, pressure.number)
        width = propagated(function, (warm.number, pressure.number), (warm.expanded, pressure.expanded))
    except CalculationError as error:
        return case.impossible("That pressure is outside the refrigerant's table.", error)
    result = judged(value, combined([width, STEADINESS_K]), low.value if low else None, high.value if high else None)
    found = shares(result, names)
    likely = max(found, key=lambda key: found[key])
    name = case.profile.refrigerant.name
    says = f"{what[:1].upper()}{what[1:]} is {plain(value)} kelvin; {_band(low, high)}: {likely}."
    working = sum_of(
        formula,
        f"{warm.spoken()}, {pressure.spoken()} gauge, {name}",
        f"{plain(value)} ± {plain(result.expanded)} K, {_band(low, high)}",
        "; ".join([saturation_source(name), ATMOSPHERE_SOURCE, *(limit.source for limit in (low, high) if limit), GUM]),
    )
    return case.judged(found, says, [working], settling(result, _K), (low, high))


def _band(low: Known | None, high: Known | None) -> str:
    if low is not None and high is not None:
        return f"{plain(low.value)} to {plain(high.value)} is right"
    return f"at least {plain(low.value)}" if low is not None else f"at most {plain(high.value) if high else ''}"


def _limits_k(case: Case) -> tuple[Known | None, Known | None]:
    return case.limit("low", _K), case.limit("high", _K)


@register(
    "superheat",
    inputs={"line": "reading", "pressure": "reading"},
    limits={"low": _K, "high": _K},
    one_of=(("low", "high"),),
    options=("side",),
    outcomes=("low", "ok", "high"),
)
def superheat(case: Case) -> Judgement:
    """Line temperature less the dew point at the suction pressure."""
    return _temperature_judge(
        case,
        "superheat = line temperature - dew temperature at suction pressure",
        lambda line_c, gauge: line_c - _saturation_c(case, gauge, dew_temperature_c),
        case.reading("line"),
        case.reading("pressure"),
        band=_limits_k(case),
    )


@register(
    "subcooling",
    inputs={"line": "reading", "pressure": "reading"},
    limits={"low": _K, "high": _K},
    one_of=(("low", "high"),),
    outcomes=("low", "ok", "high"),
)
def subcooling(case: Case) -> Judgement:
    """Bubble point at the liquid pressure less the line temperature."""
    return _temperature_judge(
        case,
        "subcooling = bubble temperature at liquid pressure - line temperature",
        lambda line_c, gauge: _saturation_c(case, gauge, bubble_temperature_c) - line_c,
        case.reading("line"),
        case.reading("pressure"),
        what="subcooling",
        band=_limits_k(case),
    )


@register(
    "saturation",
    inputs={"temperature": "reading", "pressure": "reading"},
    limits={"tolerance_k": _K},
    one_of=(("tolerance_k",),),
    outcomes=("low", "ok", "high"),
)
def saturation(case: Case) -> Judgement:
    """The pressure of resting refrigerant against that of pure refrigerant at the measured temperature.

    Above it: another gas is mixed in. Of a blend anything between bubble and dew is right.
    """

    def excess(temperature_c: float, gauge: float) -> float:
        bubble = _saturation_c(case, gauge, bubble_temperature_c) - temperature_c
        dew = _saturation_c(case, gauge, dew_temperature_c) - temperature_c
        low, high = min(bubble, dew), max(bubble, dew)
        return low if low > 0 else high if high < 0 else 0.0

    tolerance = case.limit("tolerance_k", _K)
    low = None if tolerance is None else replace(tolerance, value=-tolerance.value)
    return _temperature_judge(
        case,
        "saturation temperature of the measured pressure - measured temperature",
        excess,
        case.reading("temperature"),
        case.reading("pressure"),
        what="excess of saturation",
        band=(low, tolerance),
    )


@register(
    "dew-point",
    inputs={"pressure": "reading"},
    limits={"low": "temperature", "high": "temperature"},
    one_of=(("low", "high"),),
    options=("point",),
    outcomes=("low", "ok", "high"),
)
def dew_point(case: Case) -> Judgement:
    """The saturation temperature of a pressure against its limits."""
    pressure = case.reading("pressure")
    low, high = case.limit("low", "temperature"), case.limit("high", "temperature")
    if pressure is None or pressure.value is None:
        return case.missing_reading("pressure")
    if case.profile is None or (low is None and high is None):
        return case.missing_limit("the saturation temperature")
    point: Literal["dew", "bubble"] = "bubble" if case.option("point") == "bubble" else "dew"
    line = bubble_temperature_c if point == "bubble" else dew_temperature_c
    try:
        value = _saturation_c(case, pressure.number, line)
        width = propagated(lambda gauge: _saturation_c(case, gauge, line), (pressure.number,), (pressure.expanded,))
    except CalculationError as error:
        return case.impossible("That pressure is outside the refrigerant's table.", error)
    result = judged(value, width, low.value if low else None, high.value if high else None)
    found = shares(result)
    likely = max(found, key=lambda key: found[key])
    name = case.profile.refrigerant.name
    says = f"{pressure.spoken()} saturates at {plain(value)} degrees Celsius; {_band(low, high)}: {likely}."
    working = sum_of(
        f"{point} temperature at the gauge pressure plus 101.325 kPa",
        f"{pressure.spoken()}, {name}",
        f"{plain(value)} ± {plain(width)} degrees Celsius, {_band(low, high)}",
        "; ".join([saturation_source(name), *(limit.source for limit in (low, high) if limit), GUM]),
    )
    return case.judged(found, says, [working], settling(result, "temperature"), (low, high))


@register(
    "temperature-split",
    inputs={"inlet": "reading", "outlet": "reading"},
    limits={"low": _K, "high": _K},
    one_of=(("low", "high"),),
    options=("expects",),
    outcomes=("low", "ok", "high"),
)
def temperature_split(case: Case) -> Judgement:
    """The difference of two temperatures, whichever is the warmer.

    With option ``expects`` (outlet-colder, outlet-warmer) the sign counts: the wrong way round is below any limit.
    """
    inlet, outlet = case.reading("inlet"), case.reading("outlet")
    if inlet is None or outlet is None or inlet.value is None or outlet.value is None:
        return case.missing_reading("two temperatures")
    low, high = _limits_k(case)
    if low is None and high is None:
        return case.missing_limit("the temperature difference")
    value = inlet.number - outlet.number
    expects = case.option("expects")
    value = value if expects == "outlet-colder" else -value if expects == "outlet-warmer" else abs(value)
    width = combined([inlet.expanded, outlet.expanded])
    result = judged(value, width, low.value if low else None, high.value if high else None)
    found = shares(result)
    likely = max(found, key=lambda key: found[key])
    apart = f"{plain(abs(value))} kelvin {'the wrong way round' if value < 0 else 'apart'}"
    says = f"{apart}; {_band(low, high)}: {likely}."
    working = sum_of(
        {"outlet-colder": "inlet - outlet", "outlet-warmer": "outlet - inlet"}.get(str(expects), "|inlet - outlet|"),
        f"{inlet.spoken()}, {outlet.spoken()}",
        f"{plain(value)} ± {plain(width)} K",
        "; ".join([*(limit.source for limit in (low, high) if limit), GUM]),
    )
    return case.judged(found, says, [working], settling(result, _K), (low, high))


@register(
    "pressure-switch",
    inputs={"pressure": "reading", "contact": "choice"},
    limits={"opens": "pressure_gauge", "closes": "pressure_gauge"},
    one_of=(("opens",), ("closes",)),
    options=("side",),
    outcomes=("ok", "stuck-open", "stuck-closed"),
)
def pressure_switch(case: Case) -> Judgement:
    """A switch's contact against the pressure it feels; between its two points either contact is right."""
    pressure, contact = case.reading("pressure"), case.choice("contact")
    opens, closes = case.limit("opens", "pressure_gauge"), case.limit("closes", "pressure_gauge")
    if pressure is None or pressure.value is None or contact not in ("open", "closed"):
        return case.missing_reading("pressure and the contact")
    if opens is None or closes is None:
        return case.missing_limit("the pressure switch")
    high_side = case.option("side", "high") == "high"
    to_open = judged(pressure.number, pressure.expanded, None, opens.value)
    to_close = judged(pressure.number, pressure.expanded, None, closes.value)
    must_open = to_open.chance_above if high_side else 1 - to_open.chance_above
    must_close = 1 - to_close.chance_above if high_side else to_close.chance_above
    wrong = must_close if contact == "open" else must_open
    name = "stuck-open" if contact == "open" else "stuck-closed"
    likely = name if wrong > 0.5 else "ok"
    meaning = {"ok": "as it should be", "stuck-open": "it should be closed", "stuck-closed": "it should be open"}[
        likely
    ]
    says = f"The contact is {contact} at {pressure.spoken()}: {meaning}."
    working = sum_of(
        "opens and closes against the pressure",
        f"{pressure.spoken()}; opens {opens.spoken()}, closes {closes.spoken()}",
        likely,
        f"{opens.source}; {GUM}",
    )
    better = settling(to_close if contact == "open" else to_open, "pressure_gauge")
    return case.judged({name: wrong, "ok": 1 - wrong}, says, [working], better, (opens, closes))
