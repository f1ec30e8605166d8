"""Faults of the supply, from the utility to the outdoor terminals."""

from __future__ import annotations

from math import inf

from tests.field.faults.fault import ALL, BASIC, NEUTRAL, SOLO, TRIO, TWO_LEGS, Fault

FAULTS: tuple[Fault, ...] = (
    Fault(
        "leg-lost",
        "one leg of the supply is dead",
        "The load hangs between a live leg and nothing: both read the same against earth, nearly none across.",
        ({"supply.lost_leg": 1}, {"supply.lost_leg": 2}),
        ("restore-leg",),
        units=TWO_LEGS,
    ),
    Fault(
        "supply-screw-loose",
        "a supply screw at the outdoor unit is loose",
        "A contact of ohms drops volts in proportion to the current and browns: right at rest, sagging under load.",
        (
            {"branch.screw.ohm": 14.0, "branch.screw.state": "loose", "branch.brown": True},
            {"branch.screw.ohm": 22.0, "branch.screw.state": "burnt", "branch.brown": True},
            {"branch.screw.ohm": 3.0, "branch.screw.state": "loose", "branch.screw.flaky": 0.5, "branch.brown": True},
        ),
        ("tighten-supply-terminals",),
    ),
    Fault(
        "pull-out-fuse-open",
        "a fuse in the pull-out disconnect is open",
        "One conductor ends at the disconnect: live against earth on one side only.",
        ({"branch.pull_out_ohm": (inf, 0.002)}, {"branch.pull_out_ohm": (0.002, inf)}),
        ("replace-pull-out-fuse", "restore-leg"),
    ),
    Fault(
        "wire-too-thin",
        "the supply wire is too thin for its length",
        "The wire's resistance drops volts under load; the panel stays at full voltage.",
        ({"branch.wire_ohm": 1.6, "branch.size": "thin"}, {"branch.wire_ohm": 2.6, "branch.size": "thin"}),
        ("rewire-supply",),
        units=TRIO | frozenset({"basic-115"}),
        history="never",
    ),
    Fault(
        "breaker-tired",
        "the breaker trips below its rating",
        "Its bimetal has aged: it trips at a current that the unit may draw.",
        ({"breaker.strength": 0.15}, {"breaker.strength": 0.1}),
        ("replace-breaker",),
    ),
    Fault(
        "breaker-off",
        "the breaker was switched off",
        "Nothing is fed.",
        ({"breaker.position": "off"},),
        ("switch-breaker-on",),
    ),
    Fault(
        "wet-disconnect",
        "water in the disconnect leaks current to earth",
        "A film of water passes tens of milliamperes: an earth-fault breaker trips with the unit off.",
        ({"branch.leak_ma": 28.0}, {"branch.leak_ma": 70.0}),
        ("dry-disconnect",),
        units=TRIO,
    ),
    Fault(
        "filter-leaks",
        "the board's noise filter leaks to earth",
        "Its capacitors to earth have grown leaky: the earth-fault breaker trips with the unit on, holds with it off.",
        ({"outdoor.power.earth_leak_ma": 26.0}, {"outdoor.power.earth_leak_ma": 60.0}),
        ("replace-outdoor-board",),
        units=TRIO,
        dear=True,
    ),
    Fault(
        "whip-chewed",
        "an animal chewed the whip and shorted it",
        "A dead short before the unit trips the breaker as it is switched on.",
        ({"branch.short": True},),
        ("rewire-supply",),
    ),
    Fault(
        "generator",
        "the house runs on a generator with a rough wave",
        "Frequency and wave shape wander: the inverter cannot follow and stops, more so under load.",
        (
            {"supply.waveform": "rough", "supply.frequency_hz": 63.5},
            {"supply.waveform": "rough", "supply.frequency_hz": 56.0},
        ),
        ("better-generator",),
    ),
    Fault(
        "voltage-out-of-range",
        "the utility's voltage is out of range",
        "The whole supply is low or high, at the panel as at the unit, with or without load.",
        ({"supply.leg_v": (99.0, 99.0)}, {"supply.leg_v": (139.0, 139.0)}),
        ("call-utility",),
        units=frozenset({"solo-240", "trio"}),
    ),
    Fault(
        "service-weak",
        "the service to the house sags under load",
        "A long service line drops volts at the panel itself when the unit loads it; the lights dim.",
        ({"supply.service_ohm": 2.2}, {"supply.service_ohm": 3.4}),
        ("call-utility",),
        units=SOLO | TRIO,
    ),
    Fault(
        "neutral-open",
        "the neutral is open",
        "The second conductor floats: line against earth is right, line against neutral is not.",
        ({"branch.neutral_ohm": inf},),
        ("mend-neutral",),
        units=NEUTRAL,
    ),
    Fault(
        "breaker-shared",
        "the breaker is shared with another load",
        "What is left of its rating does not carry the unit in full run.",
        ({"breaker.strength": 0.14},),
        ("own-circuit",),
        units=ALL - BASIC,
        sometimes=True,
        circumstances={"house.other_machine": True},
    ),
)
