"""Charge, leaks, narrow places, other gases, and the expansion valve."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation import cycle
from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class Circuit:
    """``charge`` in shares of the right one; ``leak`` is the place, "" without."""

    charge: float = 1.0
    leak: str = ""
    oil_seen: bool = False
    bubbles_seen: bool = True
    strainer: float = 1.0
    kink: float = 1.0
    service_valve: float = 1.0
    other_gas_kpa: float = 0.0


# -- faults ------------------------------------------------------------------------------------------------------------


def _leak(place: str, oil: float, bubbles: float) -> object:
    def apply(unit: Unit, rng: Random) -> None:
        unit.circuit.leak = place
        unit.circuit.charge = rng.uniform(0.3, 0.72)
        unit.circuit.oil_seen = rng.random() < oil
        unit.circuit.bubbles_seen = rng.random() < bubbles

    return apply


def overcharged(unit: Unit, rng: Random) -> None:
    unit.circuit.charge = rng.uniform(1.2, 1.5)


def restricted(unit: Unit, rng: Random) -> None:
    unit.circuit.strainer = rng.uniform(0.08, 0.4)


def other_gas(unit: Unit, rng: Random) -> None:
    unit.circuit.other_gas_kpa = rng.uniform(250, 1000)


FAULTS = {
    "leak-indoor-joint": _leak("indoor-joint", 0.75, 0.95),
    "leak-outdoor-joint": _leak("outdoor-joint", 0.75, 0.95),
    "leak-service-valve": _leak("valve", 0.7, 0.95),
    "leak-indoor-coil": _leak("coil", 0.4, 0.0),
    "leak-line-in-wall": _leak("wall", 0.0, 0.0),
    "leak-outdoor-inside": _leak("outdoor-inside", 0.0, 0.0),
    "refrigerant-overcharged": overcharged,
    "liquid-line-restricted": restricted,
    "non-condensables": other_gas,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def pipes_feel(unit: Unit, bench: Bench) -> None:
    state = unit.settled(True)
    if not unit.circulates(True) or not unit.runs_as(True) or state.output < 0.15:
        bench.say("warm")
    elif state.boiling_c < -2 and state.superheat_k > 9:
        bench.say("thin-frost")
    elif state.boiling_c < -2 or (state.boiling_c < 1 and state.superheat_k < 2):
        bench.say("thick-frost")
    else:
        bench.say("normal")


def oil_look(unit: Unit, bench: Bench) -> None:
    circuit = unit.circuit
    bench.say(circuit.leak if circuit.oil_seen and circuit.leak != "wall" else "nowhere")


def detector(unit: Unit, bench: Bench) -> None:
    circuit = unit.circuit
    if circuit.leak == "outdoor-inside":  # gas from inside comes out by the joints' side
        bench.say(bench.rng.choice(["nowhere", "nowhere", "nowhere", "outdoor-joint"]))
        return
    heard = {"": 0.0, "wall": 0.55, "coil": 0.85}.get(circuit.leak, 0.92)
    bench.say(circuit.leak if bench.rng.random() < heard else "nowhere")


def soap(unit: Unit, bench: Bench) -> None:
    circuit = unit.circuit
    reachable = circuit.leak in ("indoor-joint", "outdoor-joint", "valve")
    bench.say(circuit.leak if reachable and circuit.bubbles_seen else "nowhere")


def coil_sniff(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.circuit.leak == "coil" and bench.rng.random() < 0.95 else "no")


def sections(unit: Unit, bench: Bench) -> None:
    bench.say({"coil": "coil", "wall": "pipes"}.get(unit.circuit.leak, "none"))


def gas_pressure_kpa(unit: Unit, cooling: bool) -> float:
    """Gauge pressure at the thick pipe's port: suction when cooling, discharge when heating, rest when it stands."""
    name = unit.profile.refrigerant.name
    if not unit.circulates(cooling):
        return standing_kpa(unit)
    state = unit.settled(cooling)
    if unit.runs_as(cooling) != cooling:
        state = unit.settled(not cooling)
        cooling = not cooling
    if cooling:
        return unit.rare.fluid * cycle.dew_gauge_kpa(name, state.boiling_c)
    return unit.rare.fluid * (state.high_kpa - 101.325)


def standing_kpa(unit: Unit) -> float:
    """Pressure at rest: saturation at the coolest place while there is liquid, and any other gas on top."""
    coolest = min(unit.weather.indoor_c, unit.weather.outdoor_c)
    name = unit.profile.refrigerant.name
    share = 1.0 if unit.circuit.charge > 0.15 else unit.circuit.charge / 0.15
    dew, bubble = cycle.dew_gauge_kpa(name, coolest), cycle.bubble_gauge_kpa(name, coolest)
    return unit.rare.fluid * share * (dew + bubble) / 2 + unit.circuit.other_gas_kpa * 0.6


def gas_pressure(unit: Unit, bench: Bench) -> None:
    bench.meter(gas_pressure_kpa(unit, True))


def superheat(unit: Unit, bench: Bench) -> None:
    bench.meter(gas_pressure_kpa(unit, True), "pressure")
    if not unit.circulates(True) or not unit.runs_as(True):
        bench.meter(unit.weather.indoor_c + bench.rng.gauss(0, 1), "line")
    else:
        state = unit.settled(True)
        bench.meter(state.boiling_c + state.superheat_k + bench.rng.gauss(0, 0.6), "line")


def subcooling(unit: Unit, bench: Bench) -> None:
    bench.meter(gas_pressure_kpa(unit, False), "pressure")
    if not unit.circulates(False) or unit.runs_as(False):
        bench.meter(unit.weather.indoor_c + bench.rng.gauss(0, 1), "line")
    else:
        state = unit.settled(False)
        bench.meter(state.condensing_c - state.subcooling_k + bench.rng.gauss(0, 0.6), "line")


def standing(unit: Unit, bench: Bench) -> None:
    bench.meter(standing_kpa(unit), "pressure")
    coolest = min(unit.weather.indoor_c, unit.weather.outdoor_c)
    bench.meter(coolest + bench.rng.gauss(0, 0.5), "temperature")


def strainer(unit: Unit, bench: Bench) -> None:
    running = unit.circulates(True)
    state = unit.settled(True)
    before = state.condensing_c - state.subcooling_k if running else unit.weather.outdoor_c
    bench.meter(before + bench.rng.gauss(0, 0.3), "before")
    bench.meter(before - (state.strainer_drop_k if running else 0) + bench.rng.gauss(0, 0.3), "behind")


def weigh(unit: Unit, bench: Bench) -> None:
    data = unit.profile.refrigerant
    due = data.charge_kg + max(0.0, unit.weather.line_m - data.free_length_m) * data.added_g_per_m / 1000
    bench.meter(due * unit.circuit.charge * bench.rng.uniform(0.97, 1.0), "mass")
    bench.meter(unit.weather.line_m, "length")


ANSWERS = {
    "circuit-pipes-feel": pipes_feel,
    "leak-oil-look": oil_look,
    "leak-detector-sweep": detector,
    "leak-soap-joints": soap,
    "leak-coil-sniff": coil_sniff,
    "leak-sections": sections,
    "circuit-gas-pressure": gas_pressure,
    "circuit-superheat": superheat,
    "circuit-subcooling": subcooling,
    "circuit-standing-pressure": standing,
    "strainer-clamps-on": lambda unit, bench: bench.say("set"),
    "circuit-strainer-drop": strainer,
    "circuit-recover-weigh": weigh,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def poor(unit: Unit) -> float:
    """A sixth of the output missing is noticed by some, a third by everybody; without any it blows warm instead."""
    output = unit.output_now()
    return min(1.0, (0.82 - output) / 0.2) if 0.2 < output < 0.82 else 0.0


def blows_warm(unit: Unit) -> float:
    return 1.0 if unit.weather.cooling and unit.blows() and unit.output_now() < 0.25 else 0.0


def blows_cold(unit: Unit) -> float:
    return 1.0 if not unit.weather.cooling and unit.blows() and unit.output_now() < 0.25 else 0.0


def iced_indoor(unit: Unit) -> float:
    frozen = unit.weather.cooling and unit.makes_output() and unit.settled(True).boiling_c < -3
    return 0.5 if frozen else 0.0


def oil(unit: Unit) -> float:
    return 0.25 if unit.circuit.oil_seen else 0.0


def hiss(unit: Unit) -> float:
    narrow = unit.circuit.strainer * unit.circuit.kink * unit.circuit.service_valve
    return 0.3 if unit.makes_output() and (narrow < 0.4 or unit.reversing.leak > 0.1) else 0.0


SYMPTOMS = {
    "blows-warm-cooling": blows_warm,
    "blows-cold-heating": blows_cold,
    "weak-output": poor,
    "ice-indoor": iced_indoor,
    "ice-on-line": lambda unit: 0.6 * iced_indoor(unit),
    "oil-at-joint": oil,
    "noise-hiss": hiss,
    "hot-discharge-indication": lambda unit: 0.8 if unit.stopped_by() == "hot-discharge" else 0.0,
}
