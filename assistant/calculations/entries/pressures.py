"""Refrigerant pressures in the catalogue: saturation, the air's weight, and what the circuit may show."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from assistant.calculations import atmosphere, pressure_envelope, refrigerant_cycle, saturation, standing
from assistant.calculations.entries.common import (
    ALTITUDE,
    CYCLE_ERRORS,
    GAUGE,
    GAUGED,
    OUTCOME,
    REFRIGERANT,
    THERMOMETER,
    judged_outputs,
    read_by,
)
from assistant.calculations.entry import Calculation, Output, Value, quantity, word
from assistant.calculations.errors import OutOfRange
from assistant.calculations.found import Found, source_of

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


ENTRIES = (
    Calculation(
        "saturation-temperature",
        "refrigerant",
        "saturation temperature at a pressure",
        (REFRIGERANT, GAUGED["pressure"], ALTITUDE),
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
        "compression-ratio",
        "refrigerant",
        "compression ratio",
        (
            GAUGED["suction"],
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
            GAUGED["pressure"]._replace(about="standing pressure"),
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
        f"{standing.STANDING_SOURCE}; {CYCLE_ERRORS}",
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
            GAUGED["pressure"],
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
)
