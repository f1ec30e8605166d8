"""Refrigerant pressures and temperatures in the catalogue."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from assistant.calculations import atmosphere, lines, pressure_envelope, refrigerant_cycle, saturation, standing
from assistant.calculations.entries.common import (
    ALTITUDE,
    GAUGE,
    OUTCOME,
    REFRIGERANT,
    THERMOMETER,
    judged_outputs,
    read_by,
)
from assistant.calculations.entry import Calculation, Output, Value, quantity, word
from assistant.calculations.errors import OutOfRange
from assistant.calculations.found import Found, source_of

_SUCTION = quantity(
    "suction", "pressure_gauge", "suction pressure", said_in="psi", spoken=("suction", "suction pressure")
)
_LIQUID = quantity("liquid", "pressure_gauge", "liquid pressure", said_in="psi", spoken=("liquid", "liquid pressure"))
_LINE = quantity("line", "temperature", "line temperature", said_in="degF", spoken=("line", "line temperature"))
_GAUGED = {
    name: read_by(parameter, "digital-gauge", "gauge")
    for name, parameter in (
        ("suction", _SUCTION),
        ("liquid", _LIQUID),
        ("pressure", quantity("pressure", "pressure_gauge", "pressure", said_in="psi")),
    )
}
_LINE_READ = read_by(_LINE, "contact-thermometer", "thermometer")
_LIMITS_K = (
    quantity("lowest", "temperature_difference", "lowest allowed", optional=True, said_in="degF"),
    quantity("highest", "temperature_difference", "highest allowed", optional=True, said_in="degF"),
)
_JUDGED_K = (
    Output("low", "temperature_difference", "lowest allowed"),
    Output("high", "temperature_difference", "highest allowed"),
    OUTCOME,
    *judged_outputs("temperature_difference"),
    Output("rule", "word", "rule", True),
)
_CYCLE_ERRORS = f"saturation tables (CoolProp); {atmosphere.ATMOSPHERE_SOURCE}, weather ±2 kPa; JCGM 100:2008 5.1.3"
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


def _judge_superheat(**v: Any) -> Found:
    return refrigerant_cycle.judge_superheat(
        v["refrigerant"], v["suction"], v["line"], v["target"], v["lowest"], v["highest"], v["altitude"]
    )


def _judge_subcooling(**v: Any) -> Found:
    return refrigerant_cycle.judge_subcooling(
        v["refrigerant"], v["liquid"], v["line"], v["target"], v["lowest"], v["highest"], v["altitude"]
    )


def _envelope(refrigerant: str, mode: str, indoor: float, outdoor: float, altitude: float) -> dict[str, Value]:
    found = pressure_envelope.pressure_envelope(refrigerant, mode, indoor, outdoor, altitude)
    return {
        "suction_low": found.suction_kpa[0],
        "suction_high": found.suction_kpa[1],
        "discharge_low": found.discharge_kpa[0],
        "discharge_high": found.discharge_kpa[1],
    }


def _standing(**v: Any) -> Found:
    return standing.judge_standing(
        v["refrigerant"], v["pressure"], v["coldest"], v["warmest"], v["tolerance"], v["altitude"]
    )


def _switch(**v: Any) -> Found:
    opens, closes = standing.switch_points_kpa(v["refrigerant"], v["side"], v["altitude"])
    opens, closes = (opens if v["opens"] is None else v["opens"]), (closes if v["closes"] is None else v["closes"])
    found = standing.judge_pressure_switch(v["pressure"], v["contact"], opens, closes, v["side"])
    rule = "; ".join(dict.fromkeys(filter(None, (source_of(opens), source_of(closes))))) or "points as given"
    return replace(found, values={"opens_at": opens, "closes_at": closes, "rule": rule})


def _loss(refrigerant: str, lift: float, friction: float, condensing: float) -> dict[str, Value]:
    return {"subcooling": lines.subcooling_needed_k(refrigerant, lift + friction, condensing)}


ENTRIES = (
    Calculation(
        "saturation-temperature",
        "refrigerant",
        "saturation temperature at a pressure",
        (REFRIGERANT, _GAUGED["pressure"], ALTITUDE),
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
        (_GAUGED["suction"], _LINE_READ, REFRIGERANT, ALTITUDE),
        (
            Output("superheat", "temperature_difference", "superheat"),
            Output("dew", "temperature", "dew temperature"),
            Output("table", "word", "table", True),
        ),
        "superheat = T_line - T_dew(p_suction)",
        "{line} - {dew} ({refrigerant} at {suction}, altitude {altitude})",
        refrigerant_cycle.SUPERHEAT_SOURCE + "; {table}",
        _superheat,
        spoken=("superheat", "super heat"),
    ),
    Calculation(
        "subcooling",
        "refrigerant",
        "subcooling",
        (_GAUGED["liquid"], _LINE_READ, REFRIGERANT, ALTITUDE),
        (
            Output("subcooling", "temperature_difference", "subcooling"),
            Output("bubble", "temperature", "bubble temperature"),
            Output("table", "word", "table", True),
        ),
        "subcooling = T_bubble(p_liquid) - T_line",
        "{bubble} - {line} ({refrigerant} at {liquid}, altitude {altitude})",
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
            _GAUGED["suction"],
            _LINE_READ,
            REFRIGERANT,
            quantity("target", "temperature_difference", "target", optional=True, said_in="degF"),
            *_LIMITS_K,
            ALTITUDE,
            *GAUGE,
            THERMOMETER,
        ),
        (Output("superheat", "temperature_difference", "superheat"), *_JUDGED_K),
        "superheat = T_line - T_dew(p_suction), uncertainty of gauge, thermometer, atmosphere and table",
        "{low} ≤ {superheat} ≤ {high}: {line}, {refrigerant} at {suction}, altitude {altitude}",
        f"{{rule}}; {_CYCLE_ERRORS}",
        _judge_superheat,
        judges=True,
    ),
    Calculation(
        "subcooling-judged",
        "refrigerant",
        "subcooling judged against the maker's target, or what is usual",
        (
            _GAUGED["liquid"],
            _LINE_READ,
            REFRIGERANT,
            quantity("target", "temperature_difference", "target", optional=True, said_in="degF"),
            *_LIMITS_K,
            ALTITUDE,
            *GAUGE,
            THERMOMETER,
        ),
        (Output("subcooling", "temperature_difference", "subcooling"), *_JUDGED_K),
        "subcooling = T_bubble(p_liquid) - T_line, uncertainty of gauge, thermometer, atmosphere and table",
        "{low} ≤ {subcooling} ≤ {high}: {line}, {refrigerant} at {liquid}, altitude {altitude}",
        f"{{rule}}; {_CYCLE_ERRORS}",
        _judge_subcooling,
        judges=True,
    ),
    Calculation(
        "saturation-judged",
        "refrigerant",
        "the saturation temperature of a pressure judged",
        (
            REFRIGERANT,
            _GAUGED["pressure"],
            quantity("lowest", "temperature", "lowest allowed", optional=True, said_in="degF"),
            quantity("highest", "temperature", "highest allowed", optional=True, said_in="degF"),
            word("point", "point", refrigerant_cycle.POINTS, "dew"),
            ALTITUDE,
            *GAUGE,
        ),
        (
            Output("saturation", "temperature", "saturation"),
            OUTCOME,
            *judged_outputs("temperature_difference"),
            Output("rule", "word", "rule", True),
        ),
        "T_sat(p_gauge + p_atmosphere)",
        "{lowest} ≤ {saturation} ≤ {highest}: {point} of {refrigerant} at {pressure}, altitude {altitude}",
        f"{{rule}}; {_CYCLE_ERRORS}",
        lambda refrigerant, pressure, lowest, highest, point, altitude, **_: refrigerant_cycle.judge_saturation(
            refrigerant, pressure, lowest, highest, point, altitude
        ),
        judges=True,
    ),
    Calculation(
        "compression-ratio",
        "refrigerant",
        "compression ratio",
        (
            _GAUGED["suction"],
            quantity("discharge", "pressure_gauge", "discharge pressure", said_in="psi", instrument="digital-gauge"),
            ALTITUDE,
        ),
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
            _GAUGED["pressure"]._replace(about="standing pressure"),
            read_by(
                quantity("coldest", "temperature", "coldest part", said_in="degF"), "contact-thermometer", "thermometer"
            ),
            read_by(
                quantity("warmest", "temperature", "warmest part", optional=True, said_in="degF"),
                "contact-thermometer",
                "thermometer",
            ),
            quantity(
                "tolerance",
                "temperature_difference",
                "what the circuit differs from the thermometer",
                standing.TOLERANCE_K,
            ),
            ALTITUDE,
            *GAUGE,
            THERMOMETER,
        ),
        (
            Output("verdict", "word", "verdict"),
            OUTCOME,
            Output("excess", "temperature_difference", "saturation beyond the temperatures"),
            Output("low", "pressure_gauge", "saturation, coldest"),
            Output("high", "pressure_gauge", "saturation, warmest"),
            *judged_outputs("temperature_difference")[1:],
        ),
        "T_dew(p) ≥ coldest - tolerance while liquid is left; T_bubble(p) ≤ warmest + tolerance",
        "{low} ≤ {pressure} ≤ {high}: {refrigerant} from {coldest} to {warmest}, altitude {altitude}",
        f"{standing.STANDING_SOURCE}; {_CYCLE_ERRORS}",
        _standing,
        spoken=("standing pressure",),
        judges=True,
    ),
    Calculation(
        "pressure-switch",
        "refrigerant",
        "a pressure switch judged by its contact",
        (
            REFRIGERANT,
            _GAUGED["pressure"],
            word("contact", "contact", standing.CONTACTS),
            word("side", "side", standing.SWITCH_SIDES, "high"),
            quantity("opens", "pressure_gauge", "opens", optional=True, said_in="psi"),
            quantity("closes", "pressure_gauge", "closes", optional=True, said_in="psi"),
            ALTITUDE,
            *GAUGE,
        ),
        (
            Output("outcome", "word", "switch"),
            Output("opens_at", "pressure_gauge", "opens at"),
            Output("closes_at", "pressure_gauge", "closes at"),
            *judged_outputs("pressure_gauge"),
            Output("rule", "word", "rule", True),
        ),
        "the contact against the pressure; between its two points either is right",
        "{contact} at {pressure}, opens {opens_at}, closes {closes_at}",
        "{rule}",
        _switch,
        judges=True,
    ),
    Calculation(
        "liquid-lift",
        "lines",
        "pressure that rising liquid loses",
        (
            REFRIGERANT,
            quantity("height", "length", "rise of the liquid line", said_in="ft", instrument="tape-measure"),
            quantity("temperature", "temperature", "temperature of the liquid", 40.0, said_in="degF"),
        ),
        (Output("loss", "pressure_gauge", "loss"),),
        "ρ·g·h",
        "{height} of {refrigerant} at {temperature}",
        lines.LIFT_SOURCE + "; density by CoolProp",
        lambda refrigerant, height, temperature: {"loss": lines.lift_kpa(refrigerant, height, temperature)},
        spoken=("liquid lift",),
    ),
    Calculation(
        "line-drop",
        "lines",
        "friction drop of a refrigerant line",
        (
            REFRIGERANT,
            quantity("flow", "mass_flow", "mass flow", said_in="lb/h"),
            word("tube", "tube outside, inch", tuple(lines.TUBES_MM)),
            quantity("length", "length", "length with fittings", said_in="ft"),
            quantity("temperature", "temperature", "saturation temperature", said_in="degF"),
            word("phase", "phase", saturation.PHASES, "liquid"),
        ),
        (Output("drop", "pressure_gauge", "drop"),),
        "f·L/d·ρ·v²/2",
        "{flow} of {refrigerant} {phase} at {temperature} through {length} of {tube}",
        f"{lines.FRICTION_SOURCE}; {lines.TUBE_SOURCE}",
        lambda refrigerant, flow, tube, length, temperature, phase: {
            "drop": lines.friction_kpa(refrigerant, flow, lines.inside_mm(tube), length, temperature, phase)
        },
    ),
    Calculation(
        "subcooling-needed",
        "lines",
        "subcooling that keeps liquid from boiling on its way",
        (
            REFRIGERANT,
            quantity("lift", "pressure_gauge", "loss by lift", 0.0, said_in="psi"),
            quantity("friction", "pressure_gauge", "loss by friction", 0.0, said_in="psi"),
            quantity("condensing", "temperature", "condensing temperature", said_in="degF"),
        ),
        (Output("subcooling", "temperature_difference", "subcooling needed"),),
        "T_condensing - T_bubble(p_condensing - loss)",
        "{lift} and {friction} at {condensing}",
        "saturation tables (CoolProp)",
        _loss,
    ),
    Calculation(
        "line-holds",
        "lines",
        "liquid in a metre of line",
        (
            REFRIGERANT,
            word("tube", "tube outside, inch", tuple(lines.TUBES_MM)),
            quantity("temperature", "temperature", "temperature of the liquid", 40.0, said_in="degF"),
        ),
        (Output("holds", "mass_per_length", "holds"),),
        "ρ·π·d²/4",
        "{refrigerant} in {tube} at {temperature}",
        f"{lines.HOLDS_SOURCE}; {lines.TUBE_SOURCE}",
        lambda refrigerant, tube, temperature: {
            "holds": lines.holds_g_per_m(refrigerant, lines.inside_mm(tube), temperature)
        },
    ),
    Calculation(
        "line-length",
        "lines",
        "length and height of the lines against what the unit allows",
        (
            quantity("length", "length", "length", optional=True, said_in="ft", instrument="tape-measure"),
            quantity("height", "length", "height", optional=True, said_in="ft", instrument="tape-measure"),
            quantity("longest", "length", "longest allowed", optional=True, said_in="ft"),
            quantity("greatest", "length", "greatest height allowed", optional=True, said_in="ft"),
        ),
        (Output("outcome", "word", "lines"), *judged_outputs("length")),
        "length ≤ longest, height ≤ greatest",
        "{length} of {longest}, {height} of {greatest}",
        "the unit's own limits (unit profile)",
        lambda length, height, longest, greatest: lines.judge_line(length, height, longest, greatest),
        judges=True,
    ),
)
