"""Windings and fan motors in the catalogue."""

from __future__ import annotations

from typing import Any

from assistant.calculations import fan_motor, insulation, winding_judging, windings
from assistant.calculations.entries.common import judged_outputs, meter, read_by
from assistant.calculations.entry import Calculation, Output, Parameter, Value, quantity, word
from assistant.calculations.found import Found
from assistant.calculations.sampling import SAMPLING_SOURCE

_PAIRS = tuple(
    quantity(
        n,
        "resistance",
        f"{n[0].upper()} to {n[2].upper()}",
        said_in="ohm",
        spoken=(f"{n[0]} to {n[2]}", f"{n[0]} {n[2]}"),
    )
    for n in ("u_v", "v_w", "w_u")
)
_OPEN_PAIRS = tuple(p._replace(open_line=True, instrument="low-ohm-meter", accuracy="meter") for p in _PAIRS)
_METAL = word("metal", "winding metal", ("copper", "aluminium"), "copper")


def _volts(name: str, about: str) -> Parameter:
    return quantity(
        name,
        "voltage_dc",
        about,
        optional=True,
        said_in="V",
        instrument="multimeter-dc",
        accuracy="meter",
    )


def _judge(**v: Any) -> Found:
    return winding_judging.judge_windings(
        v["u_v"],
        v["v_w"],
        v["w_u"],
        imbalance_limit_percent=v["limit"],
        lead_ohm=v["leads"],
        temperature_c=v["temperature"],
        expected_ohm=v["expected"],
        expected_at_c=v["expected_at"],
        tolerance_percent=v["tolerance"],
        to_ground=v["to_ground"],
        ground_limit_ohm=v["ground_limit"],
        metal=v["metal"],
    )


def _fan(**v: Any) -> Found:
    return fan_motor.judge_fan_motor(
        v["supply"],
        v["turning"] == "yes",
        control=v["control"],
        command=v["command"],
        pulses=v["pulses"],
        expected_supply_v=v["expected_supply"],
        line_v=v["line"],
        expected_control_v=v["expected_control"],
        command_low_v=v["command_low"],
        command_high_v=v["command_high"],
        pulses_per_turn=None if v["pulses_per_turn"] is None else int(v["pulses_per_turn"]),
        speed_low_rpm=v["speed_low"],
        speed_high_rpm=v["speed_high"],
    )


def _laws(speed: float, density: float) -> dict[str, Value]:
    flow, pressure, power = fan_motor.fan_laws(speed, density)
    return {"airflow": flow, "pressure": pressure, "power": power}


ENTRIES = (
    Calculation(
        "winding-phases",
        "windings",
        "phase resistances from the three terminal pairs",
        (*_PAIRS, word("connection", "connection", ("star", "delta"), "star")),
        (
            Output("first", "resistance", "phase U, or U to V in delta"),
            Output("second", "resistance", "phase V, or V to W in delta"),
            Output("third", "resistance", "phase W, or W to U in delta"),
        ),
        "star: R_U = (R_UV + R_WU - R_VW)/2; delta by the star-delta transformation",
        "{u_v}, {v_w}, {w_u} in {connection}",
        "Kirchhoff's laws; A. E. Kennelly, Electrical World (1899)",
        lambda u_v, v_w, w_u, connection: dict(
            zip(("first", "second", "third"), windings.phases_ohm(u_v, v_w, w_u, connection), strict=True)
        ),
    ),
    Calculation(
        "winding-imbalance",
        "windings",
        "imbalance of three windings",
        tuple(p._replace(instrument="low-ohm-meter") for p in _PAIRS),
        (Output("imbalance", "percent", "imbalance"),),
        "100·max|R - mean|/mean",
        "{u_v}, {v_w}, {w_u}",
        windings.IMBALANCE_SOURCE,
        lambda u_v, v_w, w_u: {"imbalance": windings.imbalance_percent(u_v, v_w, w_u)},
        spoken=("winding imbalance", "imbalance"),
    ),
    Calculation(
        "winding-at-temperature",
        "windings",
        "winding resistance corrected to another temperature",
        (
            quantity("resistance", "resistance", "resistance", said_in="ohm"),
            quantity("measured_at", "temperature", "measured at", said_in="degF"),
            quantity("wanted_at", "temperature", "wanted at", 20.0, said_in="degF"),
            _METAL,
        ),
        (Output("resistance_there", "resistance", "resistance"),),
        "R2 = R1·(k + t2)/(k + t1)",
        "{resistance} at {measured_at}, to {wanted_at}, {metal}",
        windings.INTERCEPT_SOURCE,
        lambda resistance, measured_at, wanted_at, metal: {
            "resistance_there": windings.at_temperature_ohm(resistance, measured_at, wanted_at, metal)
        },
    ),
    Calculation(
        "winding-rise",
        "windings",
        "temperature rise of a winding by its resistance",
        (
            quantity("hot", "resistance", "resistance hot", said_in="ohm", instrument="low-ohm-meter"),
            quantity("cold", "resistance", "resistance cold", said_in="ohm", instrument="low-ohm-meter"),
            quantity(
                "cold_at", "temperature", "temperature when cold", said_in="degF", instrument="contact-thermometer"
            ),
            quantity("ambient", "temperature", "ambient temperature", said_in="degF", instrument="contact-thermometer"),
            _METAL,
        ),
        (Output("rise", "temperature_difference", "rise"), Output("temperature", "temperature", "winding temperature")),
        "Δt = (R2/R1)·(k + t1) - k - ta",
        "({hot}/{cold})·(k + {cold_at}) - k - {ambient}, {metal}",
        windings.INTERCEPT_SOURCE,
        lambda hot, cold, cold_at, ambient, metal: {
            "rise": windings.temperature_rise_k(hot, cold, cold_at, ambient, metal),
            "temperature": windings.temperature_from_resistance_c(hot, cold, cold_at, metal),
        },
    ),
    Calculation(
        "winding-leads",
        "windings",
        "winding alone, the meter's leads taken off",
        (
            quantity("reading", "resistance", "reading", said_in="ohm"),
            quantity("leads", "resistance", "leads shorted", said_in="ohm"),
        ),
        (Output("winding", "resistance", "winding"),),
        "winding = reading - leads",
        "{reading} - {leads}",
        "series resistance (definition); common practice below 1 ohm",
        lambda reading, leads: {"winding": windings.without_leads_ohm(reading, leads)},
    ),
    Calculation(
        "windings",
        "windings",
        "three windings judged against each other, the profile and ground",
        (
            *_OPEN_PAIRS,
            quantity("limit", "percent", "imbalance limit", winding_judging.IMBALANCE_PERCENT),
            quantity("leads", "resistance", "leads shorted", 0.0),
            quantity("temperature", "temperature", "winding temperature", 20.0, said_in="degF"),
            quantity("expected", "resistance", "expected between terminals", optional=True),
            quantity("expected_at", "temperature", "expected at", 20.0)._replace(belongs_to="expected"),
            quantity("tolerance", "percent", "tolerance of the expected value", winding_judging.VALUE_PERCENT)._replace(
                belongs_to="expected"
            ),
            read_by(
                quantity(
                    "to_ground", "resistance", "any terminal to ground", optional=True, open_line=True, said_in="Mohm"
                ),
                "insulation-tester",
            ),
            quantity("ground_limit", "resistance", "least resistance to ground", insulation.LEAST_OHM)._replace(
                belongs_to="to_ground"
            ),
            _METAL,
            *meter("low-ohm-meter", "resistance"),
        ),
        (
            Output("outcome", "word", "windings"),
            Output("places", "word", "which"),
            Output("imbalance", "percent", "imbalance"),
            Output("mean", "resistance", "mean at the profile's temperature"),
            *judged_outputs("percent"),
        ),
        "imbalance = 100·max|R - mean|/mean, leads taken off, corrected by (k + t2)/(k + t1)",
        "{u_v}, {v_w}, {w_u} at {temperature}, limit {limit}",
        f"{windings.IMBALANCE_SOURCE}; {windings.INTERCEPT_SOURCE}; {winding_judging.THRESHOLD_SOURCE}; "
        f"{SAMPLING_SOURCE}",
        _judge,
        judges=True,
    ),
    Calculation(
        "fan-speed",
        "fan motors",
        "fan speed from its feedback pulses",
        (
            quantity("pulses", "frequency", "feedback pulses", said_in="Hz", instrument="multimeter-hertz"),
            quantity("pulses_per_turn", "count", "pulses per turn"),
        ),
        (Output("speed", "speed", "speed"),),
        "n = 60·f/pulses",
        "60·{pulses}/{pulses_per_turn}",
        "definition; pulses per turn from the unit profile",
        lambda pulses, pulses_per_turn: {"speed": fan_motor.speed_rpm(pulses, pulses_per_turn)},
        spoken=("fan speed",),
    ),
    Calculation(
        "fan-pulses",
        "fan motors",
        "feedback pulses at a fan speed",
        (quantity("speed", "speed", "speed"), quantity("pulses_per_turn", "count", "pulses per turn")),
        (Output("pulses", "frequency", "feedback pulses"),),
        "f = n·pulses/60",
        "{speed}·{pulses_per_turn}/60",
        "definition; pulses per turn from the unit profile",
        lambda speed, pulses_per_turn: {"pulses": fan_motor.feedback_hz(speed, pulses_per_turn)},
    ),
    Calculation(
        "fan-laws",
        "fan motors",
        "airflow, pressure and power at another speed",
        (quantity("speed", "count", "speed ratio"), quantity("density", "count", "density ratio", 1.0)),
        (
            Output("airflow", "count", "airflow ratio"),
            Output("pressure", "count", "pressure ratio"),
            Output("power", "count", "power ratio"),
        ),
        "Q ∝ n, Δp ∝ n²·ρ, P ∝ n³·ρ",
        "n = {speed}, ρ = {density}",
        "fan laws (textbook; AMCA 201, title from memory)",
        _laws,
    ),
    Calculation(
        "fan-motor",
        "fan motors",
        "a DC fan motor judged by its wires",
        (
            _volts("supply", "supply"),
            word("turning", "the fan turns", ("yes", "no")),
            _volts("control", "control supply"),
            _volts("command", "speed command"),
            read_by(
                quantity("pulses", "frequency", "feedback pulses", optional=True, said_in="Hz"), "multimeter-hertz"
            ),
            quantity("expected_supply", "voltage_dc", "supply expected", optional=True),
            quantity("line", "voltage_ac", "line voltage", optional=True),
            quantity("expected_control", "voltage_dc", "control supply expected", optional=True),
            quantity("command_low", "voltage_dc", "lowest command", fan_motor.COMMAND_LOW_V)._replace(
                belongs_to="command"
            ),
            quantity("command_high", "voltage_dc", "highest command", optional=True),
            quantity("pulses_per_turn", "count", "pulses per turn", optional=True),
            quantity("speed_low", "speed", "lowest speed", optional=True),
            quantity("speed_high", "speed", "highest speed", optional=True),
            *meter("multimeter-dc", "voltage_dc"),
        ),
        (
            Output("outcome", "word", "fan motor"),
            Output("speed", "speed", "speed"),
            Output("chance", "percent", "chance of that"),
            Output("verdict", "word", "verdict"),
        ),
        "first of supply, control, command, turning, feedback that fails; n = 60·f/pulses",
        "{supply}, turning {turning}",
        f"{fan_motor.ORDER_SOURCE}; {fan_motor.SUPPLY_SOURCE}",
        _fan,
        judges=True,
    ),
)
