"""Faults of the compressor and of what is bolted to it."""

from __future__ import annotations

from math import inf

from tests.field.faults.fault import SOLO, TRIO, Fault

FAULTS: tuple[Fault, ...] = (
    Fault(
        "winding-open",
        "a compressor winding is open",
        "Star of three: the two readings through the open phase are infinite, the third is right.",
        ({"outdoor.compressor.phase_ohm": (inf, 0.6, 0.6)}, {"outdoor.compressor.phase_ohm": (0.6, 0.6, inf)}),
        ("replace-compressor",),
        dear=True,
    ),
    Fault(
        "winding-turns-shorted",
        "turns of a compressor winding are shorted",
        "One phase has lost resistance; it draws hard and does not turn.",
        ({"outdoor.compressor.phase_ohm": (0.6, 0.25, 0.6)}, {"outdoor.compressor.phase_ohm": (0.12, 0.6, 0.6)}),
        ("replace-compressor",),
        dear=True,
    ),
    Fault(
        "winding-to-earth",
        "a compressor winding leaks to the shell",
        "Current to earth as the inverter drives: it trips the drive, or an earth-fault breaker.",
        ({"outdoor.compressor.insulation_mohm": 0.0025}, {"outdoor.compressor.insulation_mohm": 0.0001}),
        ("replace-compressor",),
        dear=True,
    ),
    Fault(
        "rotor-stuck",
        "the compressor's rotor is stuck",
        "Windings and insulation are sound; each try is a hard pulse and a hum.",
        ({"outdoor.compressor.rotor": "stuck"},),
        ("replace-compressor",),
        dear=True,
    ),
    Fault(
        "rotor-tight",
        "the compressor turns hard",
        "Worn bearings: it growls, draws hard and gives up within a minute.",
        ({"outdoor.compressor.rotor": "tight"},),
        ("replace-compressor",),
        dear=True,
    ),
    Fault(
        "pump-less",
        "the compressor runs and pumps little",
        "Leaking valves or vanes: pressures close together, pipes nearly alike, the top warm.",
        (
            {"outdoor.compressor.pump": 0.45},
            {"outdoor.compressor.pump": 0.25},
            {"outdoor.compressor.pump": 0.1},
        ),
        ("replace-compressor",),
        dear=True,
    ),
    Fault(
        "terminal-burnt",
        "a compressor terminal is burnt",
        "The clip has lost its grip: high resistance at the leads, sound windings at the pins.",
        (
            {"outdoor.compressor.terminals": "burnt", "outdoor.compressor.terminal_ohm": 2.5},
            {"outdoor.compressor.terminals": "burnt", "outdoor.compressor.terminal_ohm": inf},
        ),
        ("mend-compressor-terminals",),
    ),
    Fault(
        "leads-swapped",
        "two compressor leads were swapped",
        "The rotor turns backwards: noise, current and no pumping.",
        ({"outdoor.compressor.leads": "swapped"},),
        ("swap-compressor-leads",),
        history="after-work",
    ),
    Fault(
        "overload-open",
        "the overload on the compressor's top is open",
        "The protective contact is open with the compressor cold.",
        ({"outdoor.compressor.overload_ohm": inf},),
        ("replace-overload",),
        units=SOLO | TRIO,
    ),
    Fault(
        "crankcase-heater-dead",
        "the crankcase heater is dead",
        "Liquid gathers in the cold compressor: it starts rough and its insulation reads low until it is warm.",
        ({"outdoor.compressor.crankcase_ohm": inf},),
        ("replace-crankcase-heater",),
        units=TRIO,
        season="cool",
    ),
)
