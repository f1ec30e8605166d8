"""The supply's volts in the catalogue."""

from __future__ import annotations

from typing import Any

from assistant.calculations import conductors, supply, supply_judging, supply_pattern, values
from assistant.calculations.entries.common import METAL, OUTCOME, PHASES, judged_outputs, meter, read_by
from assistant.calculations.entry import Calculation, Output, Value, quantity, word
from assistant.calculations.found import Found
from assistant.calculations.sampling import SAMPLING_SOURCE
from assistant.calculations.uncertainty import CONFORMITY

_SYSTEM = word("system", "supply system", tuple(supply.NOMINAL_V))

_LINES = tuple(
    quantity(n, "voltage_ac", f"{n[:2].upper()} to {n[3:].upper()}", said_in="V", spoken=(f"{n[:2]} to {n[3:]}",))
    for n in ("l1_l2", "l2_l3", "l3_l1")
)

_METERED_LINES = tuple(read_by(line, "multimeter-ac", "meter") for line in _LINES)

_BAND = (
    _SYSTEM,
    word("standard", "standard", tuple(supply.BAND_SOURCE), optional=True),
    word("nameplate", "volts on the nameplate", tuple(supply.NAMEPLATES), optional=True),
)


def _band(**v: Any) -> Found:
    return supply_judging.judge_supply({"": v["voltage"]}, v["system"], v["standard"], v["nameplate"])


def _three(**v: Any) -> Found:
    voltages = {name.replace("_", "-"): v[name] for name in ("l1_l2", "l2_l3", "l3_l1")}
    return supply_judging.judge_supply(
        voltages, v["system"], v["standard"], v["nameplate"], unbalance_limit_percent=v["limit"]
    )


def _pattern(system: str, **readings: float | None) -> dict[str, Value]:
    places = {name.replace("_", "-"): volts for name, volts in readings.items() if volts is not None}
    found = supply_pattern.supply_pattern(system, places)  # type: ignore[arg-type]
    return {"pattern": found.pattern, "legs": ", ".join(found.legs) or "none", "reason": found.reason}


def _drop(**v: float) -> dict[str, Value]:
    found = conductors.explain_drop(
        v["no_load"],
        v["loaded"],
        v["current"],
        v["area"],
        v["length"],
        temperature_c=v["temperature"],
        metal=v["metal"],  # type: ignore[arg-type]
        phases=int(v["phases"]),
    )
    return {
        "drop": found.drop_v,
        "percent": found.percent,
        "source": found.source_ohm,
        "explains": found.length_m,
        "expected": found.expected_v,
        "extra": found.extra_ohm,
        "heat": found.extra_w,
    }


ENTRIES = (
    Calculation(
        "supply-band",
        "supply",
        "a supply voltage judged by a standard or the nameplate",
        (
            read_by(quantity("voltage", "voltage_ac", "voltage", said_in="V"), "multimeter-ac", "meter"),
            *_BAND,
            *meter("multimeter-ac", "voltage_ac"),
        ),
        (
            Output("verdict", "word", "verdict"),
            OUTCOME,
            Output("low", "voltage_ac", "lowest allowed"),
            Output("high", "voltage_ac", "highest allowed"),
            Output("band_source", "word", "standard", True),
            *judged_outputs("voltage_ac")[1:],
        ),
        "low ≤ V ≤ high, each by at least the uncertainty",
        "{low} ≤ {voltage} ≤ {high}",
        f"{{band_source}}; {supply_judging.LOST_SOURCE}; {CONFORMITY}",
        _band,
        spoken=("supply band", "supply voltage"),
        judges=True,
    ),
    Calculation(
        "supply-three-phase",
        "supply",
        "three phases judged: band, unbalance, a lost leg",
        (
            *_METERED_LINES,
            *_BAND,
            quantity("limit", "percent", "unbalance limit", supply.UNBALANCE_PERCENT),
            *meter("multimeter-ac", "voltage_ac"),
        ),
        (
            Output("outcome", "word", "supply"),
            Output("places", "word", "which"),
            Output("unbalance", "percent", "unbalance"),
            Output("derating", "count", "derating factor"),
            Output("low", "voltage_ac", "lowest allowed"),
            Output("high", "voltage_ac", "highest allowed"),
            Output("band_source", "word", "standard", True),
            Output("verdict", "word", "verdict"),
            Output("chance", "percent", "chance of that"),
        ),
        "low ≤ each V ≤ high; 100·max|V - mean|/mean ≤ limit",
        "{l1_l2}, {l2_l3}, {l3_l1} in {low} to {high}",
        f"{{band_source}}; {supply.UNBALANCE_SOURCE}; {supply_judging.LOST_SOURCE}; {SAMPLING_SOURCE}",
        _three,
        judges=True,
    ),
    Calculation(
        "supply-unbalance",
        "supply",
        "voltage unbalance of three phases",
        (
            *_METERED_LINES,
            quantity("limit", "percent", "limit", supply.UNBALANCE_PERCENT),
            *meter("multimeter-ac", "voltage_ac"),
        ),
        (
            Output("unbalance", "percent", "unbalance"),
            Output("derating", "count", "derating factor"),
            OUTCOME,
            *judged_outputs("percent"),
        ),
        "100·max|V - mean|/mean",
        "{l1_l2}, {l2_l3}, {l3_l1}, limit {limit}",
        f"{supply.UNBALANCE_SOURCE}; {supply.DERATING_SOURCE}; {SAMPLING_SOURCE}",
        lambda l1_l2, l2_l3, l3_l1, limit, **_: supply_judging.judge_unbalance((l1_l2, l2_l3, l3_l1), limit),
        spoken=("unbalance", "voltage unbalance"),
        judges=True,
    ),
    Calculation(
        "supply-derating",
        "supply",
        "derating of a motor by voltage unbalance",
        (quantity("unbalance", "percent", "unbalance"),),
        (Output("derating", "count", "derating factor"),),
        "NEMA MG-1 curve",
        "{unbalance}",
        supply.DERATING_SOURCE,
        lambda unbalance: {"derating": supply.derating_factor(unbalance)},
    ),
    Calculation(
        "supply-pattern",
        "supply",
        "missing leg, neutral or ground from all the readings",
        (
            _SYSTEM,
            *(
                quantity(p.replace("-", "_"), "voltage_ac", p.replace("-", " to ").upper(), optional=True, said_in="V")
                for p in supply_pattern.PLACES
            ),
        ),
        (
            Output("pattern", "word", "pattern"),
            Output("legs", "word", "legs"),
            Output("reason", "word", "reason", True),
        ),
        "legs, neutral and ground must fit together (ratio 2 split-phase, √3 wye)",
        "{reason}",
        supply_pattern.RULES_SOURCE,
        _pattern,
    ),
    Calculation(
        "supply-frequency",
        "supply",
        "supply frequency judged",
        (
            read_by(quantity("frequency", "frequency", "frequency", said_in="Hz"), "multimeter-hertz", "meter"),
            quantity("nominal", "frequency", "nominal frequency", 60.0),
            word("standard", "standard", tuple(supply.FREQUENCY_SOURCE), "motor-5-percent"),
            *meter("multimeter-hertz", "frequency"),
        ),
        (Output("verdict", "word", "verdict"), OUTCOME, *judged_outputs("frequency")[1:]),
        "nominal ± the standard's percentage",
        "{frequency} against {nominal}, {standard}",
        "; ".join(supply.FREQUENCY_SOURCE.values()),
        lambda frequency, nominal, standard, **_: supply_judging.judge_frequency(frequency, nominal, standard),
        judges=True,
    ),
    Calculation(
        "supply-drop-judged",
        "supply",
        "voltage drop under load judged",
        (
            read_by(quantity("idle", "voltage_ac", "voltage without load", said_in="V"), "multimeter-ac", "meter"),
            read_by(quantity("loaded", "voltage_ac", "voltage under load", said_in="V"), "multimeter-ac", "meter"),
            quantity("largest", "percent", "largest drop", conductors.DROP_PERCENT),
            *meter("multimeter-ac", "voltage_ac"),
        ),
        (Output("drop", "percent", "drop"), OUTCOME, *judged_outputs("percent")),
        "100·(idle - loaded)/idle",
        "100·({idle} - {loaded})/{idle}, limit {largest}",
        "one meter reads both, so that what its readings share cancels (GUM F.1.2.3)",
        lambda idle, loaded, largest, **_: values.judge_drop(idle, loaded, largest),
        judges=True,
    ),
    Calculation(
        "supply-drop",
        "supply",
        "voltage drop under load, and which conductor explains it",
        (
            read_by(quantity("no_load", "voltage_ac", "voltage without load", said_in="V"), "multimeter-ac"),
            read_by(quantity("loaded", "voltage_ac", "voltage under load", said_in="V"), "multimeter-ac"),
            read_by(quantity("current", "current", "current", said_in="A"), "clamp-ac"),
            quantity("area", "cross_section", "conductor area"),
            quantity("length", "length", "length one way", optional=True, said_in="ft"),
            quantity("temperature", "temperature", "conductor temperature", 40.0),
            METAL,
            PHASES,
        ),
        (
            Output("drop", "voltage_ac", "drop"),
            Output("percent", "percent", "drop"),
            Output("source", "resistance", "resistance of the whole path"),
            Output("explains", "length", "length that would explain it"),
            Output("expected", "voltage_ac", "drop of the run as installed"),
            Output("extra", "resistance", "resistance beyond the conductor"),
            Output("heat", "power", "heat in it"),
        ),
        "ΔV/(2·I·R') single-phase, ΔV/(√3·I·R') three-phase",
        "{no_load} - {loaded} at {current}, {area} {metal}",
        f"{conductors.DROP_SOURCE}; {conductors.RESISTIVITY_SOURCE}",
        _drop,
    ),
    Calculation(
        "nameplate-band",
        "supply",
        "volts that a unit stands by its nameplate",
        (word("nameplate", "volts on the nameplate", tuple(supply.NAMEPLATES)),),
        (Output("low", "voltage_ac", "lowest"), Output("high", "voltage_ac", "highest")),
        "0.9·lowest to 1.1·highest rated voltage",
        "{nameplate}",
        supply.NAMEPLATE_SOURCE,
        lambda nameplate: dict(zip(("low", "high"), supply.nameplate_band_v(nameplate), strict=True)),
    ),
)
