"""Supply and conductors in the catalogue."""

from __future__ import annotations

from assistant.calculations import conductors, supply, supply_pattern
from assistant.calculations.entries.common import accuracy, judged_outputs, judged_values, meter
from assistant.calculations.entry import Calculation, Output, Value, quantity, word

_SYSTEM = word("system", "supply system", tuple(supply.NOMINAL_V))
_LINES = tuple(
    quantity(n, "voltage_ac", f"{n[:2].upper()} to {n[3:].upper()}", said_in="V", spoken=(f"{n[:2]} to {n[3:]}",))
    for n in ("l1_l2", "l2_l3", "l3_l1")
)
_PHASES = quantity("phases", "count", "phases", 1.0)
_METAL = word("metal", "conductor metal", ("copper", "aluminium"), "copper")


def _band(**v: float) -> dict[str, Value]:
    found = supply.judge_supply(v["voltage"], v["system"], accuracy(v), v["standard"])  # type: ignore[arg-type]
    against = judged_values(found.against, "V", "voltage")
    return {"low": found.low_v, "high": found.high_v, "standard_used": found.source, **against}


def _unbalance(**v: float) -> dict[str, Value]:
    found = supply.judge_unbalance(v["l1_l2"], v["l2_l3"], v["l3_l1"], accuracy(v), v["limit"])
    return {"unbalance": found.percent, "derating": found.derating} | judged_values(found.against, "%", "unbalance")


def _pattern(system: str, **readings: float | None) -> dict[str, Value]:
    places = {name.replace("_", "-"): volts for name, volts in readings.items() if volts is not None}
    found = supply_pattern.supply_pattern(system, places)  # type: ignore[arg-type]
    return {"pattern": found.pattern, "legs": ", ".join(found.legs) or "none", "reason": found.reason}


def _frequency(**v: float) -> dict[str, Value]:
    found = supply.judge_frequency(v["frequency"], v["nominal"], accuracy(v), str(v["standard"]))
    return judged_values(found, "Hz", "frequency")


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


def _conductor_drop(**v: float) -> dict[str, Value]:
    per_m = conductors.resistance_ohm_per_m(v["area"], v["temperature"], v["metal"], stranded=True)  # type: ignore[arg-type]
    return {"drop": conductors.drop_v(v["current"], v["length"], per_m, int(v["phases"])), "per_metre": per_m}


ENTRIES = (
    Calculation(
        "supply-band",
        "supply",
        "a supply voltage judged by a standard",
        (
            quantity("voltage", "voltage_ac", "voltage", said_in="V"),
            _SYSTEM,
            word("standard", "standard", tuple(supply.BAND_SOURCE), optional=True),
            *meter(0.8, 0.3, "voltage_ac"),
        ),
        (
            *judged_outputs("voltage_ac")[:1],
            Output("low", "voltage_ac", "lowest allowed"),
            Output("high", "voltage_ac", "highest allowed"),
            Output("standard_used", "word", "standard", True),
            *judged_outputs("voltage_ac")[1:],
        ),
        "low ≤ V ≤ high, each by at least the uncertainty",
        "{low} ≤ {voltage} ± {uncertainty} ≤ {high}",
        "{standard_used}; JCGM 106:2012 and ILAC-G8:09/2019",
        _band,
        spoken=("supply band", "supply voltage"),
    ),
    Calculation(
        "supply-unbalance",
        "supply",
        "voltage unbalance of three phases",
        (*_LINES, quantity("limit", "percent", "limit", 2.0), *meter(0.8, 0.3, "voltage_ac")),
        (
            Output("unbalance", "percent", "unbalance"),
            Output("derating", "count", "derating factor"),
            *judged_outputs("percent"),
        ),
        "100·max|V - mean|/mean",
        "{l1_l2}, {l2_l3}, {l3_l1}, limit {limit}",
        f"{supply.UNBALANCE_SOURCE}; {supply.DERATING_SOURCE}",
        _unbalance,
        spoken=("unbalance", "voltage unbalance"),
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
            quantity("frequency", "frequency", "frequency", said_in="Hz"),
            quantity("nominal", "frequency", "nominal frequency", 60.0),
            word("standard", "standard", tuple(supply.FREQUENCY_SOURCE), "motor-5-percent"),
            *meter(0.1, 0.0, "frequency"),
        ),
        judged_outputs("frequency"),
        "nominal ± the standard's percentage",
        "{frequency} against {nominal}, {standard}",
        "; ".join(supply.FREQUENCY_SOURCE.values()),
        _frequency,
    ),
    Calculation(
        "supply-drop",
        "supply",
        "voltage drop under load, and which conductor explains it",
        (
            quantity("no_load", "voltage_ac", "voltage without load", said_in="V"),
            quantity("loaded", "voltage_ac", "voltage under load", said_in="V"),
            quantity("current", "current", "current", said_in="A"),
            quantity("area", "cross_section", "conductor area"),
            quantity("length", "length", "length one way", optional=True, said_in="ft"),
            quantity("temperature", "temperature", "conductor temperature", 40.0),
            _METAL,
            _PHASES,
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
        "conductor-size",
        "supply",
        "diameter and area of an AWG size",
        (quantity("gauge", "count", "AWG"),),
        (Output("area", "cross_section", "area"), Output("diameter", "length", "diameter")),
        "d = 0.127 mm·92^((36 - n)/39)",
        "n = {gauge}",
        conductors.GAUGE_SOURCE,
        lambda gauge: {
            "area": conductors.awg_area_mm2(gauge),
            "diameter": conductors.awg_diameter_mm(gauge) / 1000,
        },
    ),
    Calculation(
        "conductor-resistance",
        "supply",
        "resistance of a conductor",
        (
            quantity("area", "cross_section", "area"),
            quantity("temperature", "temperature", "temperature", 75.0),
            _METAL,
            word("make", "make", ("solid", "stranded"), "solid"),
        ),
        (Output("resistance", "resistance_per_length", "resistance"),),
        "ρ20·(k + t)/(k + 20)/A",
        "{area} {make} {metal} at {temperature}",
        conductors.RESISTIVITY_SOURCE,
        lambda area, temperature, metal, make: {
            "resistance": conductors.resistance_ohm_per_m(area, temperature, metal, make == "stranded")
        },
    ),
    Calculation(
        "conductor-drop",
        "supply",
        "voltage drop of a run",
        (
            quantity("current", "current", "current", said_in="A"),
            quantity("length", "length", "length one way", said_in="ft"),
            quantity("area", "cross_section", "area"),
            quantity("temperature", "temperature", "temperature", 75.0),
            _METAL,
            _PHASES,
        ),
        (Output("drop", "voltage_ac", "drop"), Output("per_metre", "resistance_per_length", "resistance")),
        "2·I·L·R' single-phase, √3·I·L·R' three-phase",
        "{current} over {length} of {area} stranded {metal} at {temperature}",
        f"{conductors.DROP_SOURCE}; {conductors.RESISTIVITY_SOURCE}",
        _conductor_drop,
    ),
    Calculation(
        "conductor-for-drop",
        "supply",
        "thinnest AWG size that keeps a drop",
        (
            quantity("current", "current", "current", said_in="A"),
            quantity("length", "length", "length one way", said_in="ft"),
            quantity("largest", "voltage_ac", "largest drop"),
            _PHASES,
        ),
        (Output("gauge", "count", "AWG"),),
        "first of 14, 12, 10, 8, 6, 4 AWG within the drop; ampacity and code come first",
        "{current} over {length} within {largest}",
        f"{conductors.DROP_SOURCE}; {conductors.GAUGE_SOURCE}",
        lambda current, length, largest, phases: {
            "gauge": float(conductors.smallest_awg(current, length, largest, int(phases)))
        },
    ),
)
