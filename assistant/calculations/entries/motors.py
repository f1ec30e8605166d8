"""Windings and fan motors in the catalogue."""

from __future__ import annotations

from assistant.calculations import fan_motor, winding_judging, windings
from assistant.calculations.entries.common import accuracy, meter
from assistant.calculations.entry import Calculation, Output, Value, given, quantity, word

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
_OPEN_PAIRS = tuple(
    quantity(p.name, p.quantity, p.about, open_line=True, said_in="ohm", spoken=p.spoken) for p in _PAIRS
)
_METAL = word("metal", "winding metal", ("copper", "aluminium"), "copper")


def _judge(**v: float) -> dict[str, Value]:
    to_ground = v["to_ground"]
    found = winding_judging.judge_windings(
        given(v["u_v"]),
        given(v["v_w"]),
        given(v["w_u"]),
        meter=accuracy(v),
        imbalance_limit_percent=v["limit"],
        lead_ohm=v["leads"],
        temperature_c=v["temperature"],
        expected_ohm=v["expected"],
        expected_at_c=v["expected_at"],
        tolerance_percent=v["tolerance"],
        to_ground_ohm=given(to_ground),
        ground_limit_ohm=v["ground_limit"],
        metal=v["metal"],  # type: ignore[arg-type]
    )
    return {
        "outcome": found.outcome,
        "places": ", ".join(found.places) or "none",
        "imbalance": found.imbalance_percent,
        "mean": found.mean_at_reference_ohm,
        "verdict": found.against_imbalance.verdict if found.against_imbalance else "fail",
        "uncertainty": found.against_imbalance.expanded if found.against_imbalance else None,
    }


def _fan(**v: float) -> dict[str, Value]:
    found = fan_motor.judge_fan_motor(
        v["supply"],
        v["control"],
        v["command"],
        str(v["turning"]) == "yes",
        v["pulses"],
        expected_supply_v=v["expected_supply"],
        expected_control_v=v["expected_control"],
        command_span_v=(v["command_low"], v["command_high"]),
        pulses_per_turn=int(v["pulses_per_turn"]),
        speed_span_rpm=(v["speed_low"], v["speed_high"]),
        meter=accuracy(v),
    )
    return {"outcome": found.outcome, "speed": found.rpm, "chance": 100 * dict(found.chances)[found.outcome]}


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
        _PAIRS,
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
            quantity("hot", "resistance", "resistance hot", said_in="ohm"),
            quantity("cold", "resistance", "resistance cold", said_in="ohm"),
            quantity("cold_at", "temperature", "temperature when cold", said_in="degF"),
            quantity("ambient", "temperature", "ambient temperature", said_in="degF"),
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
            quantity("limit", "percent", "imbalance limit", 5.0),
            quantity("leads", "resistance", "leads shorted", 0.0),
            quantity("temperature", "temperature", "winding temperature", 20.0, said_in="degF"),
            quantity("expected", "resistance", "expected between terminals", optional=True),
            quantity("expected_at", "temperature", "expected at", 20.0),
            quantity("tolerance", "percent", "tolerance of the expected value", 10.0),
            quantity(
                "to_ground", "resistance", "any terminal to ground", optional=True, open_line=True, said_in="Mohm"
            ),
            quantity("ground_limit", "resistance", "least resistance to ground", 1e6),
            _METAL,
            *meter(0.5, 0.005, "resistance"),
        ),
        (
            Output("outcome", "word", "windings"),
            Output("places", "word", "which"),
            Output("imbalance", "percent", "imbalance"),
            Output("mean", "resistance", "mean at the profile's temperature"),
            Output("verdict", "word", "verdict on the imbalance"),
            Output("uncertainty", "percent", "uncertainty of the imbalance (95 %)"),
        ),
        "imbalance = 100·max|R - mean|/mean, leads taken off, corrected by (k + t2)/(k + t1)",
        "{u_v}, {v_w}, {w_u} at {temperature}, limit {limit}",
        f"{windings.IMBALANCE_SOURCE}; {windings.INTERCEPT_SOURCE}; {winding_judging.THRESHOLD_SOURCE}",
        _judge,
    ),
    Calculation(
        "fan-speed",
        "fan motors",
        "fan speed from its feedback pulses",
        (
            quantity("pulses", "frequency", "feedback pulses", said_in="Hz"),
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
        "a five-wire DC fan motor judged",
        (
            quantity("supply", "voltage_dc", "supply", said_in="V"),
            quantity("control", "voltage_dc", "control supply", said_in="V"),
            quantity("command", "voltage_dc", "speed command", said_in="V"),
            word("turning", "the fan turns", ("yes", "no")),
            quantity("pulses", "frequency", "feedback pulses", optional=True, said_in="Hz"),
            quantity("expected_supply", "voltage_dc", "supply expected"),
            quantity("expected_control", "voltage_dc", "control supply expected"),
            quantity("command_low", "voltage_dc", "lowest command"),
            quantity("command_high", "voltage_dc", "highest command"),
            quantity("pulses_per_turn", "count", "pulses per turn"),
            quantity("speed_low", "speed", "lowest speed"),
            quantity("speed_high", "speed", "highest speed"),
            *meter(0.8, 0.1, "voltage_dc"),
        ),
        (
            Output("outcome", "word", "fan motor"),
            Output("speed", "speed", "speed"),
            Output("chance", "percent", "chance of that"),
        ),
        "first of supply, control, command, turning, feedback that fails; n = 60·f/pulses",
        "{supply} of {expected_supply}, {control} of {expected_control}, command {command}, turning {turning}",
        fan_motor.ORDER_SOURCE,
        _fan,
    ),
)
