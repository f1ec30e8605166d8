"""Superheat and subcooling in the catalogue."""

from __future__ import annotations

from typing import Any

from assistant.calculations import refrigerant_cycle, saturation
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
from assistant.calculations.found import Found

_LINE = quantity("line", "temperature", "line temperature", said_in="degF", spoken=("line", "line temperature"))

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


ENTRIES = (
    Calculation(
        "superheat",
        "refrigerant",
        "superheat",
        (GAUGED["suction"], _LINE_READ, REFRIGERANT, ALTITUDE),
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
        (GAUGED["liquid"], _LINE_READ, REFRIGERANT, ALTITUDE),
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
            GAUGED["suction"],
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
        f"{{rule}}; {CYCLE_ERRORS}",
        _judge_superheat,
        judges=True,
    ),
    Calculation(
        "subcooling-judged",
        "refrigerant",
        "subcooling judged against the maker's target, or what is usual",
        (
            GAUGED["liquid"],
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
        f"{{rule}}; {CYCLE_ERRORS}",
        _judge_subcooling,
        judges=True,
    ),
    Calculation(
        "saturation-judged",
        "refrigerant",
        "the saturation temperature of a pressure judged",
        (
            REFRIGERANT,
            GAUGED["pressure"],
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
        f"{{rule}}; {CYCLE_ERRORS}",
        lambda refrigerant, pressure, lowest, highest, point, altitude, **_: refrigerant_cycle.judge_saturation(
            refrigerant, pressure, lowest, highest, point, altitude
        ),
        judges=True,
    ),
)
