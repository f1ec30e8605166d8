"""Breakers and conductors in the catalogue."""

from __future__ import annotations

from assistant.calculations import circuit, conductors, supplied
from assistant.calculations.entries.common import METAL, PHASES, judged_outputs, meter, read_by
from assistant.calculations.entry import Calculation, Output, Value, quantity, word


def _circuit(**v: float) -> dict[str, Value]:
    found = circuit.circuit(v["largest"], [v[name] for name in ("second", "third", "fourth") if v[name]])
    return {"ampacity": found.least_ampacity_a, "breaker": found.largest_device_a, "calculated": found.calculated_a}


def _conductor_drop(**v: float) -> dict[str, Value]:
    per_m = conductors.resistance_ohm_per_m(v["area"], v["temperature"], v["metal"], stranded=True)  # type: ignore[arg-type]
    return {"drop": conductors.drop_v(v["current"], v["length"], per_m, int(v["phases"])), "per_metre": per_m}


ENTRIES = (
    Calculation(
        "circuit-ampacity",
        "supply",
        "least ampacity and largest breaker from the rated currents",
        (
            quantity("largest", "current", "largest motor or compressor", said_in="A"),
            quantity("second", "current", "second load", 0.0, said_in="A"),
            quantity("third", "current", "third load", 0.0, said_in="A"),
            quantity("fourth", "current", "fourth load", 0.0, said_in="A"),
        ),
        (
            Output("ampacity", "current", "least ampacity (MCA)"),
            Output("breaker", "current", "largest breaker or fuse (MOCP)"),
            Output("calculated", "current", "before rounding down"),
        ),
        "MCA = 1.25·largest + others; MOCP = 2.25·largest + others, down to a standard size",
        "{largest} + {second} + {third} + {fourth}",
        circuit.CIRCUIT_SOURCE,
        _circuit,
        spoken=("circuit ampacity",),
    ),
    Calculation(
        "breaker-size",
        "supply",
        "a breaker against the nameplate",
        (
            quantity("breaker", "current", "breaker", said_in="A"),
            quantity("ampacity", "current", "least ampacity (MCA)", said_in="A"),
            quantity("largest", "current", "largest breaker or fuse (MOCP)", said_in="A"),
        ),
        (Output("fits", "word", "breaker"),),
        "MCA ≤ breaker ≤ MOCP",
        "{ampacity} ≤ {breaker} ≤ {largest}",
        circuit.BREAKER_SOURCE,
        lambda breaker, ampacity, largest: {"fits": circuit.breaker_fits(breaker, ampacity, largest)},
        spoken=("breaker size",),
    ),
    Calculation(
        "breaker",
        "supply",
        "a breaker judged by the current at which it trips",
        (
            read_by(quantity("current", "current", "highest current", optional=True, said_in="A"), "clamp-ac", "meter"),
            word("tripped", "it tripped", supplied.YES_NO),
            quantity("rating", "current", "rating printed on it", said_in="A"),
            word("kind", "kind of breaker", supplied.BREAKER_KINDS, "plain"),
            *meter("clamp-ac", "current"),
        ),
        (Output("outcome", "word", "breaker"), *judged_outputs("current")),
        "tripped, and I ≤ rating?",
        "{current}, tripped {tripped}, rated {rating}, {kind}",
        "a plain breaker that trips under its rating is worn: common practice, no source",
        lambda current, tripped, rating, kind, **_: supplied.judge_breaker(current, tripped, rating, kind),
        judges=True,
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
            METAL,
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
            METAL,
            PHASES,
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
            PHASES,
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
