"""Refrigerant pressures and temperatures in the catalogue."""

from __future__ import annotations

from assistant.calculations import atmosphere, pressure_envelope, refrigerant_cycle, saturation
from assistant.calculations.entries.common import (
    ALTITUDE,
    GAUGE,
    REFRIGERANT,
    THERMOMETER,
    accuracy,
    judged_outputs,
    judged_values,
)
from assistant.calculations.entry import Calculation, Output, Value, quantity, word
from assistant.calculations.errors import OutOfRange

_SUCTION = quantity(
    "suction", "pressure_gauge", "suction pressure", said_in="psi", spoken=("suction", "suction pressure")
)
_LIQUID = quantity("liquid", "pressure_gauge", "liquid pressure", said_in="psi", spoken=("liquid", "liquid pressure"))
_LINE = quantity("line", "temperature", "line temperature", said_in="degF", spoken=("line", "line temperature"))
_TEMPERATURES = (
    Output("dew", "temperature", "dew"),
    Output("bubble", "temperature", "bubble"),
    Output("midpoint", "temperature", "midpoint"),
    Output("glide", "temperature_difference", "glide"),
    Output("table", "word", "table", True),
)


def _temperatures(refrigerant: str, pressure: float, altitude: float) -> dict[str, Value]:
    absolute = atmosphere.absolute_kpa(pressure, altitude)
    return {
        "dew": saturation.dew_temperature_c(refrigerant, absolute),
        "bubble": saturation.bubble_temperature_c(refrigerant, absolute),
        "midpoint": saturation.midpoint_temperature_c(refrigerant, absolute),
        "glide": saturation.glide_k(refrigerant, absolute),
        "table": saturation.saturation_source(refrigerant),
    }


def _pressures(refrigerant: str, temperature: float, altitude: float) -> dict[str, Value]:
    return {
        "dew": atmosphere.gauge_kpa(saturation.dew_pressure_kpa(refrigerant, temperature), altitude),
        "bubble": atmosphere.gauge_kpa(saturation.bubble_pressure_kpa(refrigerant, temperature), altitude),
        "midpoint": _midpoint(refrigerant, temperature, altitude),
        "table": saturation.saturation_source(refrigerant),
    }


def _midpoint(refrigerant: str, temperature: float, altitude: float) -> float | None:
    """Gauge pressure of the midpoint, None at the ends where only one of bubble and dew is in the table."""
    try:
        return atmosphere.gauge_kpa(saturation.midpoint_pressure_kpa(refrigerant, temperature), altitude)
    except OutOfRange:
        return None


def _superheat(refrigerant: str, suction: float, line: float, altitude: float) -> dict[str, Value]:
    value = refrigerant_cycle.superheat_k(refrigerant, suction, line, altitude)
    return {"superheat": value, "dew": line - value, "table": saturation.saturation_source(refrigerant)}


def _subcooling(refrigerant: str, liquid: float, line: float, altitude: float) -> dict[str, Value]:
    value = refrigerant_cycle.subcooling_k(refrigerant, liquid, line, altitude)
    return {"subcooling": value, "bubble": line + value, "table": saturation.saturation_source(refrigerant)}


def _judge_superheat(**v: float) -> dict[str, Value]:
    found = refrigerant_cycle.judge_superheat(
        str(v["refrigerant"]),
        v["suction"],
        v["line"],
        gauge=accuracy(v, "gauge"),
        thermometer_k=v["thermometer"],
        target_k=v["target"],
        altitude_m=v["altitude"],
    )
    judged = judged_values(found.against, "K", "superheat")
    return {"superheat": found.value_k, "low": found.low_k, "high": found.high_k, **judged, "rule": found.source}


def _judge_subcooling(**v: float) -> dict[str, Value]:
    found = refrigerant_cycle.judge_subcooling(
        str(v["refrigerant"]),
        v["liquid"],
        v["line"],
        target_k=v["target"],
        gauge=accuracy(v, "gauge"),
        thermometer_k=v["thermometer"],
        altitude_m=v["altitude"],
    )
    judged = judged_values(found.against, "K", "subcooling")
    return {"subcooling": found.value_k, "low": found.low_k, "high": found.high_k, **judged, "rule": found.source}


def _envelope(refrigerant: str, mode: str, indoor: float, outdoor: float, altitude: float) -> dict[str, Value]:
    found = pressure_envelope.pressure_envelope(refrigerant, mode, indoor, outdoor, altitude)
    return {
        "suction_low": found.suction_kpa[0],
        "suction_high": found.suction_kpa[1],
        "discharge_low": found.discharge_kpa[0],
        "discharge_high": found.discharge_kpa[1],
    }


def _standing(**v: float) -> dict[str, Value]:
    found = pressure_envelope.judge_standing_pressure(
        str(v["refrigerant"]), v["pressure"], v["coldest"], v["warmest"], accuracy(v, "gauge"), v["altitude"]
    )
    judged = judged_values(found.against, "kPa", "pressure")
    return {**judged, "low": found.low_kpa, "high": found.high_kpa}


ENTRIES = (
    Calculation(
        "saturation-temperature",
        "refrigerant",
        "saturation temperature at a pressure",
        (REFRIGERANT, quantity("pressure", "pressure_gauge", "pressure", said_in="psi"), ALTITUDE),
        _TEMPERATURES,
        "T_sat(p_gauge + p_atmosphere)",
        "{refrigerant} at {pressure}, altitude {altitude}",
        "{table}; " + atmosphere.ATMOSPHERE_SOURCE,
        _temperatures,
        spoken=("saturation temperature", "saturation"),
    ),
    Calculation(
        "saturation-pressure",
        "refrigerant",
        "saturation pressure at a temperature",
        (REFRIGERANT, quantity("temperature", "temperature", "temperature", said_in="degF"), ALTITUDE),
        (
            Output("dew", "pressure_gauge", "dew"),
            Output("bubble", "pressure_gauge", "bubble"),
            Output("midpoint", "pressure_gauge", "midpoint"),
            Output("table", "word", "table", True),
        ),
        "p_sat(T) - p_atmosphere",
        "{refrigerant} at {temperature}, altitude {altitude}",
        "{table}; " + atmosphere.ATMOSPHERE_SOURCE,
        _pressures,
        spoken=("saturation pressure",),
    ),
    Calculation(
        "atmosphere",
        "refrigerant",
        "atmospheric pressure at an altitude",
        (quantity("altitude", "length", "altitude", said_in="ft"),),
        (Output("pressure", "pressure_absolute", "atmosphere"),),
        "101.325·(1 - 2.25577e-5·Z)^5.2559 kPa",
        "Z = {altitude}",
        atmosphere.ATMOSPHERE_SOURCE,
        lambda altitude: {"pressure": atmosphere.atmospheric_kpa(altitude)},
    ),
    Calculation(
        "gauge-pressure",
        "refrigerant",
        "gauge pressure from an absolute one",
        (quantity("absolute", "pressure_absolute", "absolute pressure"), ALTITUDE),
        (Output("gauge", "pressure_gauge", "gauge"),),
        "p_absolute - p_atmosphere",
        "{absolute} at {altitude}",
        atmosphere.ATMOSPHERE_SOURCE,
        lambda absolute, altitude: {"gauge": atmosphere.gauge_kpa(absolute, altitude)},
    ),
    Calculation(
        "superheat",
        "refrigerant",
        "superheat",
        (_SUCTION, _LINE, REFRIGERANT, ALTITUDE),
        (
            Output("superheat", "temperature_difference", "superheat"),
            Output("dew", "temperature", "dew temperature"),
            Output("table", "word", "table", True),
        ),
        "superheat = T_line - T_dew(p_suction)",
        "{line} - {dew} ({refrigerant} at {suction})",
        refrigerant_cycle.SUPERHEAT_SOURCE + "; {table}",
        _superheat,
        spoken=("superheat", "super heat"),
    ),
    Calculation(
        "subcooling",
        "refrigerant",
        "subcooling",
        (_LIQUID, _LINE, REFRIGERANT, ALTITUDE),
        (
            Output("subcooling", "temperature_difference", "subcooling"),
            Output("bubble", "temperature", "bubble temperature"),
            Output("table", "word", "table", True),
        ),
        "subcooling = T_bubble(p_liquid) - T_line",
        "{bubble} - {line} ({refrigerant} at {liquid})",
        refrigerant_cycle.SUBCOOLING_SOURCE + "; {table}",
        _subcooling,
        spoken=("subcooling", "sub cooling"),
    ),
    Calculation(
        "target-superheat",
        "refrigerant",
        "target superheat of a fixed orifice in cooling",
        (
            quantity(
                "wet_bulb", "temperature", "indoor wet bulb", said_in="degF", spoken=("wet bulb", "indoor wet bulb")
            ),
            quantity("outdoor", "temperature", "outdoor temperature", said_in="degF", spoken=("outdoor", "outdoors")),
        ),
        (Output("target", "temperature_difference", "target superheat"),),
        "(3·WB - 80 - DB)/2 in °F",
        "wet bulb {wet_bulb}, outdoor {outdoor}",
        refrigerant_cycle.ORIFICE_SOURCE,
        lambda wet_bulb, outdoor: {"target": refrigerant_cycle.orifice_target_superheat_k(wet_bulb, outdoor)},
        spoken=("target superheat",),
    ),
    Calculation(
        "superheat-judged",
        "refrigerant",
        "superheat judged against a target, or what a valve may show",
        (
            _SUCTION,
            _LINE,
            REFRIGERANT,
            quantity("target", "temperature_difference", "target", optional=True, said_in="degF"),
            ALTITUDE,
            *GAUGE,
            THERMOMETER,
        ),
        (
            Output("superheat", "temperature_difference", "superheat"),
            Output("low", "temperature_difference", "lowest allowed"),
            Output("high", "temperature_difference", "highest allowed"),
            *judged_outputs("temperature_difference"),
            Output("rule", "word", "rule", True),
        ),
        "superheat = T_line - T_dew(p_suction), uncertainty propagated",
        "{low} ≤ {superheat} ± {uncertainty} ≤ {high}",
        "{rule}; JCGM 100:2008 5.1.3",
        _judge_superheat,
    ),
    Calculation(
        "subcooling-judged",
        "refrigerant",
        "subcooling judged against the maker's target",
        (
            _LIQUID,
            _LINE,
            REFRIGERANT,
            quantity("target", "temperature_difference", "target", said_in="degF"),
            ALTITUDE,
            *GAUGE,
            THERMOMETER,
        ),
        (
            Output("subcooling", "temperature_difference", "subcooling"),
            Output("low", "temperature_difference", "lowest allowed"),
            Output("high", "temperature_difference", "highest allowed"),
            *judged_outputs("temperature_difference"),
            Output("rule", "word", "rule", True),
        ),
        "subcooling = T_bubble(p_liquid) - T_line, uncertainty propagated",
        "{low} ≤ {subcooling} ± {uncertainty} ≤ {high}",
        "{rule}; JCGM 100:2008 5.1.3",
        _judge_subcooling,
    ),
    Calculation(
        "compression-ratio",
        "refrigerant",
        "compression ratio",
        (_SUCTION, quantity("discharge", "pressure_gauge", "discharge pressure", said_in="psi"), ALTITUDE),
        (Output("ratio", "count", "compression ratio"),),
        "absolute discharge over absolute suction",
        "({discharge} + atmosphere)/({suction} + atmosphere) at {altitude}",
        "definition; " + atmosphere.ATMOSPHERE_SOURCE,
        lambda suction, discharge, altitude: {
            "ratio": refrigerant_cycle.compression_ratio(suction, discharge, altitude)
        },
        spoken=("compression ratio",),
    ),
    Calculation(
        "pressure-envelope",
        "refrigerant",
        "pressures that are plausible for the conditions",
        (
            REFRIGERANT,
            word("mode", "mode", ("cooling", "heating")),
            quantity("indoor", "temperature", "indoor temperature", said_in="degF"),
            quantity("outdoor", "temperature", "outdoor temperature", said_in="degF"),
            ALTITUDE,
        ),
        (
            Output("suction_low", "pressure_gauge", "suction from"),
            Output("suction_high", "pressure_gauge", "suction to"),
            Output("discharge_low", "pressure_gauge", "discharge from"),
            Output("discharge_high", "pressure_gauge", "discharge to"),
        ),
        "p_sat 5 to 25 K below the evaporator's air, 4 to 22 K above the condenser's air",
        "{refrigerant}, {mode}, indoor {indoor}, outdoor {outdoor}",
        pressure_envelope.ENVELOPE_SOURCE,
        _envelope,
    ),
    Calculation(
        "standing-pressure",
        "refrigerant",
        "standing pressure judged against saturation",
        (
            REFRIGERANT,
            quantity("pressure", "pressure_gauge", "standing pressure", said_in="psi"),
            quantity("coldest", "temperature", "coldest part", said_in="degF"),
            quantity("warmest", "temperature", "warmest part", said_in="degF"),
            ALTITUDE,
            *GAUGE,
        ),
        (
            *judged_outputs("pressure_gauge"),
            Output("low", "pressure_gauge", "saturation, coldest"),
            Output("high", "pressure_gauge", "saturation, warmest"),
        ),
        "p_dew(coldest) ≤ p ≤ p_bubble(warmest) while liquid is left",
        "{low} ≤ {pressure} ± {uncertainty} ≤ {high}",
        "saturation tables (CoolProp); physics of a closed circuit at rest",
        _standing,
        spoken=("standing pressure",),
    ),
)
