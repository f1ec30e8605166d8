"""The reversing valve: which way the circuit runs, and what its coil and pipes show."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class ReversingValve:
    """``slide`` free, or stuck in a position; the coil feeds heating unless ``fed_in_cooling``."""

    slide: str = "free"  # free, cooling, heating
    coil_ohm: float | None = 1450.0
    powered: bool = True
    fed_in_cooling: bool = False
    leak: float = 0.0


def shifts(unit: Unit) -> bool:
    """The slide moves when the coil is fed."""
    valve = unit.reversing
    return valve.slide == "free" and valve.powered and valve.coil_ohm is not None


def runs_cooling(unit: Unit, called_cooling: bool) -> bool:
    """Whether the circuit cools, when cooling (or heating) is called for."""
    valve = unit.reversing
    if valve.slide != "free":
        return valve.slide == "cooling"
    if shifts(unit):
        return called_cooling
    return not valve.fed_in_cooling  # unfed, the slide rests on the other side


# -- faults ------------------------------------------------------------------------------------------------------------


def reversing_coil(unit: Unit, rng: Random) -> None:
    unit.reversing.coil_ohm = None
    unit.weather.cooling = unit.reversing.fed_in_cooling


def reversing_unpowered(unit: Unit, rng: Random) -> None:
    unit.reversing.powered = False
    unit.weather.cooling = unit.reversing.fed_in_cooling


def reversing_stuck(unit: Unit, rng: Random) -> None:
    unit.reversing.slide = rng.choice(["cooling", "heating"])
    unit.weather.cooling = unit.reversing.slide == "heating"


def reversing_leaks(unit: Unit, rng: Random) -> None:
    unit.reversing.leak = rng.uniform(0.12, 0.4)


FAULTS = {
    "reversing-coil-open": reversing_coil,
    "reversing-valve-unpowered": reversing_unpowered,
    "reversing-valve-stuck": reversing_stuck,
    "reversing-valve-leaking": reversing_leaks,
}


# -- checks ------------------------------------------------------------------------------------------------------------


def both_modes(unit: Unit, bench: Bench) -> None:
    cools = unit.delivers(True) > 0.3
    heats = unit.delivers(False) > 0.3
    bench.say("both" if cools and heats else "cooling-only" if cools else "heating-only" if heats else "neither")


def listen(unit: Unit, bench: Bench) -> None:
    moved = shifts(unit) and unit.circulates(unit.weather.cooling)
    bench.say("yes" if moved else "no")


def voltage_shift(unit: Unit, bench: Bench) -> None:
    if not unit.reversing.powered or not unit.outdoor_board_alive():
        bench.say("no-voltage")
    else:
        moved = shifts(unit) and unit.circulates(unit.weather.cooling)
        bench.say("shifts" if moved else "no-shift")


def coil_warm(unit: Unit, bench: Bench) -> None:
    valve = unit.reversing
    fed = valve.powered and valve.coil_ohm is not None and unit.outdoor_board_alive() and unit.called()
    bench.say("yes" if fed else "no")


def reversing_ohms(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.reversing.coil_ohm)


def pipe_temps(unit: Unit, bench: Bench) -> None:
    _valve_pipes(unit, bench, unit.weather.cooling)


def pipe_temps_other(unit: Unit, bench: Bench) -> None:
    """The same two pipes once the mode was changed."""
    _valve_pipes(unit, bench, not unit.weather.cooling)


def _valve_pipes(unit: Unit, bench: Bench, cooling: bool) -> None:
    if not unit.circulates(cooling):
        still = unit.weather.outdoor_c
        bench.meter(still + bench.rng.gauss(0, 0.5), "entering")
        bench.meter(still + bench.rng.gauss(0, 0.5), "leaving")
        return
    state = unit.settled(unit.runs_as(cooling))
    entering = state.boiling_c + state.superheat_k
    bench.meter(entering + bench.rng.gauss(0, 0.4), "entering")
    bench.meter(entering + state.valve_rise_k + bench.rng.gauss(0, 0.4), "leaving")


ANSWERS = {
    "reversing-both-modes": both_modes,
    "reversing-listen": listen,
    "reversing-voltage-shift": voltage_shift,
    "reversing-coil-warm": coil_warm,
    "reversing-coil-ohms": reversing_ohms,
    "reversing-clamps-on": lambda unit, bench: bench.say("set"),
    "reversing-pipe-temps": pipe_temps,
    "reversing-pipe-temps-other": pipe_temps_other,
}


# -- what the customer meets -------------------------------------------------------------------------------------------


def heats_in_cooling(unit: Unit) -> float:
    wrong = unit.runs_as(unit.weather.cooling) != unit.weather.cooling
    return 0.6 if wrong and unit.weather.cooling and unit.makes_output() else 0.0


SYMPTOMS = {
    "heats-in-cooling": heats_in_cooling,
}
