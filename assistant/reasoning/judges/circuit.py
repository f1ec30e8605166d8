"""Judges of the refrigerant circuit and its air: superheat, subcooling, saturation, dew-point, split, switches."""

from __future__ import annotations

from assistant.calculations.errors import OutOfRange
from assistant.calculations.refrigerant_cycle import WET_SUCTION
from assistant.calculations.standing import TOLERANCE_K, switch_points_kpa
from assistant.language.meaning import CANONICAL_UNIT, Quantity
from assistant.messages.message import Amount, Message, message
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, Taken
from assistant.reasoning.judges.limits import number
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known

_K: Quantity = "temperature_difference"


def _limits(case: Case, quantity: Quantity) -> tuple[Known | None, Known | None]:
    return case.limit("low", quantity), case.limit("high", quantity)


def _band(low: object, high: object, quantity: Quantity = _K) -> Message:
    """What is right, in the unit that was just said."""
    ends = {name: _amount(end, quantity) for name, end in (("low", low), ("high", high)) if isinstance(end, float)}
    if len(ends) == 2:
        return message("band-between", **ends)
    return message("band-least", **ends) if "low" in ends else message("band-most", **ends)


def _amount(value: object, quantity: Quantity = _K) -> Amount:
    return Amount(quantity=quantity, value=number(value), unit=CANONICAL_UNIT[quantity])


def _cycle(
    case: Case, name: str, pressure: str, limits: tuple[Known | None, Known | None], wet: bool = False
) -> Judgement:
    """Superheat or subcooling of the visit's refrigerant, told in kelvin with its band."""
    given = case.given("line", "pressure")
    if given is None:
        return case.missing_reading("temperature-and-pressure")
    if case.profile is None:
        return case.missing_limit(name)
    low, high = limits
    values = {"line": given[0], pressure: given[1], "lowest": low, "highest": high, "target": case.limit("target", _K)}
    try:
        result = case.run(f"{name}-judged", values)
    except OutOfRange as error:
        return case.impossible(message("pressure-outside-table"), error)
    says = message(
        "cycle-judged-wet" if wet else "cycle-judged",
        what=name,
        value=_amount(result.answer(name)),
        band=_band(result.answer("low"), result.answer("high")),
        outcome=str(result.answer("outcome")),
    )
    return case.ran(result, says, limits=(low, high), quantity=_K)


@register(
    "superheat",
    inputs={"line": "reading", "pressure": "reading"},
    limits={"low": _K, "high": _K, "target": _K},
    options=("side",),
    outcomes=("low", "ok", "high"),
    absolute=True,
)
def superheat(case: Case) -> Judgement:
    """Line temperature less the dew point at the suction pressure, against what a valve may show or a target."""
    name = case.profile.refrigerant.name if case.profile else ""
    return _cycle(case, "superheat", "suction", _limits(case, _K), wet=name in WET_SUCTION and not _limits(case, _K)[0])


@register(
    "subcooling",
    inputs={"line": "reading", "pressure": "reading"},
    limits={"low": _K, "high": _K, "target": _K},
    outcomes=("low", "ok", "high"),
    absolute=True,
)
def subcooling(case: Case) -> Judgement:
    """Bubble point at the liquid pressure less the line temperature, against what is usual or the maker's target."""
    return _cycle(case, "subcooling", "liquid", _limits(case, _K))


@register(
    "saturation",
    inputs={"temperature": "reading", "pressure": "reading"},
    may={"warmest": "reading"},
    limits={"tolerance_k": _K},
    outcomes=("low", "ok", "high"),
    absolute=True,
)
def saturation(case: Case) -> Judgement:
    """The pressure of resting refrigerant against that of pure refrigerant at the measured temperature.

    Above it: another gas is mixed in. Of a blend anything between bubble and dew is right.
    """
    given = case.given("temperature", "pressure")
    if given is None:
        return case.missing_reading("temperature-and-pressure")
    if case.profile is None:
        return case.missing_limit("refrigerant")
    tolerance = case.limit_or("tolerance_k", _K, TOLERANCE_K)
    values = {"pressure": given[1], "coldest": given[0], "warmest": case.reading("warmest"), "tolerance": tolerance}
    try:
        result = case.run("standing-pressure", values)
    except OutOfRange as error:
        return case.impossible(message("pressure-outside-table"), error)
    excess, outcome = number(result.answer("excess")), str(result.answer("outcome"))
    side = "ok" if outcome == "ok" else "over" if excess > 0 else "under"
    says = message(
        "standing-judged",
        pressure=given[1].amount(),
        temperature=given[0].amount(),
        off=_amount(abs(excess)),
        side=side,
        limit=tolerance.amount(),
        outcome=outcome,
    )
    return case.ran(result, says, limits=(tolerance,), quantity=_K)


@register(
    "dew-point",
    inputs={"pressure": "reading"},
    limits={"low": "temperature", "high": "temperature"},
    one_of=(("low", "high"),),
    options=("point",),
    outcomes=("low", "ok", "high"),
    absolute=True,
)
def dew_point(case: Case) -> Judgement:
    """The saturation temperature of a pressure against its limits."""
    given, (low, high) = case.given("pressure"), _limits(case, "temperature")
    if given is None:
        return case.missing_reading("pressure")
    if case.profile is None or (low is None and high is None):
        return case.missing_limit("saturation")
    point = "bubble" if case.option("point") == "bubble" else "dew"
    try:
        result = case.run("saturation-judged", {"pressure": given[0], "lowest": low, "highest": high, "point": point})
    except OutOfRange as error:
        return case.impossible(message("pressure-outside-table"), error)
    says = message(
        "saturation-judged",
        pressure=given[0].amount(),
        temperature=_amount(result.answer("saturation"), "temperature"),
        band=_band(low.value if low else None, high.value if high else None, "temperature"),
        outcome=str(result.answer("outcome")),
    )
    return case.ran(result, says, limits=(low, high), quantity="temperature")


#: The judge's words for which end must be the warmer, and the calculation's.
_EXPECTS = {"outlet-colder": "second-lower", "outlet-warmer": "second-higher"}


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
    given, (low, high) = case.given("inlet", "outlet"), _limits(case, _K)
    if given is None:
        return case.missing_reading("two-temperatures")
    if low is None and high is None:
        return case.missing_limit("temperature-difference")
    inlet, outlet = given
    expects = str(case.option("expects"))
    values = {"first": inlet, "second": outlet, "low": low, "high": high, "expects": _EXPECTS.get(expects)}
    result = case.run("temperature-difference", values)
    value = number(result.answer("difference"))
    says = message(
        "split-judged",
        apart=_amount(abs(value)),
        way="wrong" if value < 0 else "right",
        band=_band(low.value if low else None, high.value if high else None),
        outcome=str(result.answer("outcome")),
    )
    return case.ran(result, says, limits=(low, high), quantity=_K)


@register(
    "pressure-switch",
    inputs={"pressure": "reading", "contact": "choice"},
    limits={"opens": "pressure_gauge", "closes": "pressure_gauge"},
    options=("side",),
    outcomes=("ok", "stuck-open", "stuck-closed"),
    absolute=True,
)
def pressure_switch(case: Case) -> Judgement:
    """A switch's contact against the pressure it feels; between its two points either contact is right.

    Without the unit's own points it is judged by those that every unit's switch keeps to with this refrigerant.
    """
    given, contact = case.given("pressure"), case.choice("contact")
    if given is None or contact not in ("open", "closed"):
        return case.missing_reading("pressure-and-contact")
    side = str(case.option("side", "high"))
    opens, closes = case.limit("opens", "pressure_gauge"), case.limit("closes", "pressure_gauge")
    if opens is None or closes is None:
        if case.profile is None:
            return case.missing_limit("pressure-switch")
        points = switch_points_kpa(case.profile.refrigerant.name, side, case.altitude_m)
        opens, closes = (Known(float(p), "pressure_gauge", p.source, p.general) for p in points)
    values: dict[str, Taken] = {
        "pressure": given[0],
        "contact": contact,
        "side": side,
        "opens": opens,
        "closes": closes,
    }
    result = case.run("pressure-switch", values)
    outcome = str(result.answer("outcome"))
    says = message("switch-judged", contact=contact, pressure=given[0].amount(), outcome=outcome)
    return case.ran(result, says, limits=(opens, closes), quantity="pressure_gauge")
