"""What the lines of refrigerant cost and hold, in the catalogue."""

from __future__ import annotations

from assistant.calculations import lines, saturation
from assistant.calculations.entries.common import (
    REFRIGERANT,
    judged_outputs,
)
from assistant.calculations.entry import Calculation, Output, Value, quantity, word


def _loss(refrigerant: str, lift: float, friction: float, condensing: float) -> dict[str, Value]:
    return {"subcooling": lines.subcooling_needed_k(refrigerant, lift + friction, condensing)}


ENTRIES = (
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
