"""Superheat, subcooling, their targets, compression ratio. Gauge pressures in kPa, temperatures °C, differences K."""

from __future__ import annotations

from collections.abc import Callable

from assistant.calculations.atmosphere import ATMOSPHERE_EXPANDED_KPA, absolute_kpa
from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.found import PRACTICE, Found, Limit, sided, source_of
from assistant.calculations.refrigerants import refrigerant as known_refrigerant
from assistant.calculations.saturation import bubble_temperature_c, dew_temperature_c
from assistant.calculations.uncertainty import Accuracy, Metered, combined, judged, propagated
from assistant.calculations.units import shown

RA3 = "California Title 24, 2008 Residential Appendix RA3.2.2"
SUPERHEAT_SOURCE = "superheat counts from the dew temperature (definition)"
SUBCOOLING_SOURCE = "subcooling counts from the bubble temperature (definition)"
ORIFICE_SOURCE = (
    "(3·wet bulb - 80 - outdoor)/2 in °F: common practice, no source (within 2 °F of the printed charging charts, "
    "up to 5 °F in their hot, humid corner); ±5 °F from " + RA3 + ".5"
)
VALVE_SOURCE = RA3 + ".6: superheat 4 to 25 °F, subcooling ±3 °F of the maker's target"

#: Superheat that a metering valve may show where the maker gives none. RA3.2.2.6 has 4 to 25 °F for thermostatic
#: valves; an electronic valve works with less.
SUPERHEAT_LOW_K = Limit(1.0, f"{PRACTICE} for electronic valves (RA3.2.2.6: 4 °F for thermostatic ones)")
SUPERHEAT_HIGH_K = Limit(25 / 1.8, RA3 + ".6: superheat up to 25 °F")
#: Of these nothing is too little: their valve is often led by the discharge temperature, with the suction about
#: saturated. Common practice, no source.
WET_SUCTION = frozenset({"R32"})
#: Subcooling where the maker gives no target.
SUBCOOLING_LOW_K, SUBCOOLING_HIGH_K = Limit(3.0), Limit(15.0)
#: How far a suction line may seem colder than anything that boils in it before its readings are doubted: what the
#: pressure falls between the line and the gauge. Common practice, no source.
COLDER_THAN_BOILING_K = 3.0
#: What the circuit moves between reading gauge and thermometer, 95 %. Common practice, no source.
STEADINESS_K = 0.5
#: How far superheat at an orifice, and subcooling at a valve, may be from target (RA3.2.2.5 and .6: 5 and 3 °F).
ORIFICE_TOLERANCE_K, SUBCOOLING_TOLERANCE_K = 5 / 1.8, 3 / 1.8


def _line(temperature_c: float) -> float:
    return within("line temperature", temperature_c, -80, 200, "°C")


def superheat_k(refrigerant: str, suction_gauge_kpa: float, line_c: float, altitude_m: float = 0.0) -> float:
    """Line temperature less dew temperature at the suction pressure, K; negative values are told, never clamped.

    ``line_c`` -80 to 200 °C. Raises OutOfRange outside the saturation table, UnknownName. Source: SUPERHEAT_SOURCE.
    Takes ``suction_gauge_kpa`` -101.325 to 10000, ``altitude_m`` -500 to 9000.
    """
    return _line(line_c) - dew_temperature_c(refrigerant, absolute_kpa(suction_gauge_kpa, altitude_m))


def subcooling_k(refrigerant: str, liquid_gauge_kpa: float, line_c: float, altitude_m: float = 0.0) -> float:
    """Bubble temperature at the liquid pressure less line temperature, K; negative values are told, never clamped.

    ``line_c`` -80 to 200 °C. Raises OutOfRange outside the saturation table, UnknownName. Source: SUBCOOLING_SOURCE.
    Takes ``liquid_gauge_kpa`` -101.325 to 10000, ``altitude_m`` -500 to 9000.
    """
    return bubble_temperature_c(refrigerant, absolute_kpa(liquid_gauge_kpa, altitude_m)) - _line(line_c)


def orifice_target_superheat_k(indoor_wet_bulb_c: float, outdoor_c: float) -> float:
    """Target superheat of a fixed orifice in cooling, K: (3·WB - 80 - DB)/2 in °F. Source: ORIFICE_SOURCE.

    ``indoor_wet_bulb_c`` 10 to 24.5, ``outdoor_c`` 12.5 to 46.5 °C. Raises Inconsistent when the target is under
    5 °F, where no charge test is valid (RA3.2.2.5).
    """
    within("indoor wet bulb", indoor_wet_bulb_c, 10, 24.5, "°C")
    within("outdoor temperature", outdoor_c, 12.5, 46.5, "°C")
    target_f = (3 * (indoor_wet_bulb_c * 1.8 + 32) - 80 - (outdoor_c * 1.8 + 32)) / 2
    if target_f < 5:
        raise Inconsistent(
            f"At {shown('temperature', indoor_wet_bulb_c)} indoor wet bulb and {shown('temperature', outdoor_c)} "
            "outdoors the target superheat is under 5 °F: charge cannot be tested by superheat now, weigh it in."
        )
    return target_f / 1.8


def at_saturation(refrigerant: str, value: Callable[[float, float], float]) -> Callable[..., float]:
    """``value`` of absolute pressure and another reading, as a function of (gauge kPa less weather, reading, table %).

    The last two arguments carry the errors that no instrument shows: what the atmosphere is off its standard (kPa), and
    the saturation table (percent of pressure).
    """

    def function(absolute_kpa: float, other: float, weather_kpa: float, table_percent: float) -> float:
        return value((absolute_kpa + weather_kpa) * (1 + table_percent / 100), other)

    return function


def unseen_errors(refrigerant: str) -> tuple[Metered, Metered]:
    """The atmosphere's and the table's error as readings of nothing, for ``at_saturation``."""
    table = known_refrigerant(refrigerant).table_percent
    return Metered(0.0, Accuracy(0, ATMOSPHERE_EXPANDED_KPA)), Metered(0.0, Accuracy(0, table))


def absolute(pressure: Metered, altitude_m: float) -> Metered:
    """A gauge reading as absolute pressure in kPa with the gauge's own error."""
    value = absolute_kpa(pressure.value, altitude_m)
    error = Accuracy(0, pressure.accuracy.expanded(pressure.value), min(pressure.apart, pressure.expanded))
    return Metered(value, error, pressure.meter, pressure.unsteady)


def width_at_saturation(
    refrigerant: str, value: Callable[[float, float], float], pressure: Metered, other: Metered, altitude_m: float
) -> float:
    """95 % uncertainty of ``value(absolute kPa, other)``: gauge, the other reading, atmosphere and table together."""
    readings = (absolute(pressure, altitude_m), other, *unseen_errors(refrigerant))
    return propagated(at_saturation(refrigerant, value), readings)


def _judged(value: float, width: float, low: float | None, high: float | None, name: str) -> Found:
    against = judged(value, combined([width, STEADINESS_K]), low, high)
    limits = {"low": None if low is None else float(low), "high": None if high is None else float(high)}
    rule = "; ".join(dict.fromkeys(filter(None, (source_of(low), source_of(high))))) or "limits as given"
    return Found(sided(against), ("ok",), values={name: value, **limits, "rule": rule}, against=against)


def _refuse_what_cannot_be(name: str, suction: Metered, line: Metered, altitude_m: float, width: float) -> None:
    """Raise Inconsistent for a suction line colder than the boiling liquid in it, beyond ``width`` (K, 95 %)."""
    boils = bubble_temperature_c(name, absolute_kpa(suction.value, altitude_m))
    if line.value + width + COLDER_THAN_BOILING_K < boils:
        raise Inconsistent(
            f"A suction line of {shown('temperature', line.value)} cannot be colder than {name} boils at this "
            f"pressure, {shown('temperature', boils)}: look at the probe, at the gauge's side and at the refrigerant, "
            "and read both again."
        )


def judge_superheat(
    refrigerant: str,
    suction: Metered,
    line: Metered,
    target_k: float | None = None,
    low_k: float | None = None,
    high_k: float | None = None,
    altitude_m: float = 0.0,
) -> Found:
    """Judge superheat: within 5 °F of ``target_k`` (0 to 30, orifice), or without one within what a valve may show.

    low, ok or high. ``suction`` gauge kPa, ``line`` °C. The limits may be given; of R-32, whose valve is often led by
    the discharge temperature, nothing is too low. Gauge, thermometer, atmosphere, saturation table and what the circuit
    moves meanwhile propagate numerically (GUM 5.1.3). Values: superheat, low, high (K), rule.
    Raises OutOfRange when the reading or its uncertainty leaves the saturation table, and Inconsistent for a line that
    is colder than what boils in it.
    Takes ``suction`` -101.325 to 10000, ``line`` -80 to 200, ``altitude_m`` -500 to 9000.
    """
    if target_k is not None:
        within("target superheat", target_k, 0, 30, "K")
        low_k = Limit(target_k - ORIFICE_TOLERANCE_K, ORIFICE_SOURCE)
        high_k = Limit(target_k + ORIFICE_TOLERANCE_K, ORIFICE_SOURCE)
    elif low_k is None and high_k is None:
        wet = known_refrigerant(refrigerant).name in WET_SUCTION
        low_k, high_k = None if wet else SUPERHEAT_LOW_K, SUPERHEAT_HIGH_K
    value = superheat_k(refrigerant, suction.value, line.value, altitude_m)
    width = width_at_saturation(
        refrigerant, lambda kpa, c: c - dew_temperature_c(refrigerant, kpa), suction, line, altitude_m
    )
    _refuse_what_cannot_be(refrigerant, suction, line, altitude_m, combined([width, STEADINESS_K]))
    return _judged(value, width, low_k, high_k, "superheat")


def judge_subcooling(
    refrigerant: str,
    liquid: Metered,
    line: Metered,
    target_k: float | None = None,
    low_k: float | None = None,
    high_k: float | None = None,
    altitude_m: float = 0.0,
) -> Found:
    """Judge subcooling: within 3 °F of the maker's ``target_k`` (0 to 30 K), or without one within the usual span.

    low, ok or high. ``liquid`` gauge kPa, ``line`` °C. Uncertainty as in ``judge_superheat``. Values: subcooling, low,
    high (K), rule.
    Takes ``liquid`` -101.325 to 10000, ``line`` -80 to 200, ``altitude_m`` -500 to 9000.
    """
    if target_k is not None:
        within("target subcooling", target_k, 0, 30, "K")
        low_k = Limit(target_k - SUBCOOLING_TOLERANCE_K, VALVE_SOURCE)
        high_k = Limit(target_k + SUBCOOLING_TOLERANCE_K, VALVE_SOURCE)
    elif low_k is None and high_k is None:
        low_k, high_k = SUBCOOLING_LOW_K, SUBCOOLING_HIGH_K
    value = subcooling_k(refrigerant, liquid.value, line.value, altitude_m)
    width = width_at_saturation(
        refrigerant, lambda kpa, c: bubble_temperature_c(refrigerant, kpa) - c, liquid, line, altitude_m
    )
    return _judged(value, width, low_k, high_k, "subcooling")


POINTS = ("dew", "bubble")


def judge_saturation(
    refrigerant: str,
    pressure: Metered,
    low_c: float | None,
    high_c: float | None,
    point: str = "dew",
    altitude_m: float = 0.0,
) -> Found:
    """The saturation temperature of a gauge pressure (kPa) between two temperatures: low, ok or high.

    ``point``: dew for what boils, bubble for what condenses. Values: saturation, low, high (°C).
    Takes ``pressure`` -101.325 to 10000, ``altitude_m`` -500 to 9000.
    """
    if point not in POINTS:
        raise UnknownName("point", point, POINTS)
    line = bubble_temperature_c if point == "bubble" else dew_temperature_c
    value = line(refrigerant, absolute_kpa(pressure.value, altitude_m))
    width = width_at_saturation(refrigerant, lambda kpa, _: line(refrigerant, kpa), pressure, Metered(0.0), altitude_m)
    return _judged(value, width, low_c, high_c, "saturation")


def compression_ratio(suction_gauge_kpa: float, discharge_gauge_kpa: float, altitude_m: float = 0.0) -> float:
    """Absolute discharge over absolute suction pressure. Definition.

    Raises OutOfRange for a suction under 1 kPa absolute, Inconsistent when discharge is below suction.
    Takes ``suction_gauge_kpa`` and ``discharge_gauge_kpa`` -101.325 to 10000, ``altitude_m`` -500 to 9000.
    """
    suction = within("absolute suction pressure", absolute_kpa(suction_gauge_kpa, altitude_m), 1, 10_101.5, "kPa")
    discharge = absolute_kpa(discharge_gauge_kpa, altitude_m)
    if discharge < suction:
        raise Inconsistent(
            f"Discharge at {shown('pressure_gauge', discharge_gauge_kpa)} is below suction at "
            f"{shown('pressure_gauge', suction_gauge_kpa)}: "
            "look whether the hoses are swapped or the valve has reversed."
        )
    return discharge / suction
