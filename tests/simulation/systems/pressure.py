"""The pressure switches with their wires, and the pressures that they watch."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench
from tests.simulation.systems.circuit import gas_pressure_kpa, standing_kpa

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class Switches:
    """Contacts at rest pressure and the wires to the board."""

    high_contact: bool = True
    high_wires: tuple[float | None, float | None] = (0.2, 0.2)
    low_contact: bool = True
    low_wires: tuple[float | None, float | None] = (0.2, 0.2)

    def high_closed(self) -> bool:
        """The board sees the high pressure circuit closed."""
        return self.high_contact and None not in self.high_wires

    def low_closed(self) -> bool:
        """The board sees the low pressure circuit closed."""
        return self.low_contact and None not in self.low_wires


# -- faults ------------------------------------------------------------------------------------------------------------


def high_switch(unit: Unit, rng: Random) -> None:
    unit.switches.high_contact = False


def high_wire(unit: Unit, rng: Random) -> None:
    unit.switches.high_wires = (None, 0.2) if rng.random() < 0.5 else (0.2, None)


def low_switch(unit: Unit, rng: Random) -> None:
    unit.switches.low_contact = False


def low_wire(unit: Unit, rng: Random) -> None:
    unit.switches.low_wires = (None, 0.2) if rng.random() < 0.5 else (0.2, None)


FAULTS = {
    "high-pressure-switch-open": high_switch,
    "high-pressure-circuit-open": high_wire,
    "low-pressure-switch-open": low_switch,
    "low-pressure-circuit-open": low_wire,
}


# -- checks ------------------------------------------------------------------------------------------------------------


def trip_mode(unit: Unit, bench: Bench) -> None:
    """From memory and customer: the modes in which it stops by its pressures, or always."""
    if not (unit.switches.high_closed() and unit.switches.low_closed()):
        bench.say("both")
        return
    if unit.rare.transducer_kpa:
        bench.say(bench.rng.choice(["both", "both", "cooling", "heating"]))
        return
    stops = {mode: unit.would_stop(mode) in ("high-pressure", "low-pressure") for mode in (True, False)}
    bench.say("both" if all(stops.values()) else "cooling" if stops[True] else "heating" if stops[False] else "never")


def coil_rise(unit: Unit, bench: Bench) -> None:
    air = unit.weather.outdoor_c
    if not unit.circulates(True):
        coil = air + 0.5
    else:
        state = unit.settled(True)
        coil = state.condensing_c - 0.3 * state.subcooling_k if unit.runs_as(True) else state.boiling_c
    bench.meter(coil + bench.rng.gauss(0, 0.8), "coil")
    bench.meter(air + bench.rng.gauss(0, 0.5), "air")


def condensing_heating(unit: Unit, bench: Bench) -> None:
    bench.meter(gas_pressure_kpa(unit, False), "pressure")


def high_circuit(unit: Unit, bench: Bench) -> None:
    bench.meter(0.6 if unit.switches.high_closed() else None)


def low_circuit(unit: Unit, bench: Bench) -> None:
    bench.meter(0.6 if unit.switches.low_closed() and not _emptied(unit) else None)


def _emptied(unit: Unit) -> bool:
    """The charge is so low that even at rest the low pressure switch is open."""
    switch = unit.profile.low_pressure_switch
    return switch is not None and standing_kpa(unit) < switch.opens_kpa


def high_switch_check(unit: Unit, bench: Bench) -> None:
    bench.meter(standing_kpa(unit), "pressure")
    bench.say("closed" if unit.switches.high_contact else "open", "contact")


def low_switch_check(unit: Unit, bench: Bench) -> None:
    bench.meter(standing_kpa(unit), "pressure")
    bench.say("closed" if unit.switches.low_contact and not _emptied(unit) else "open", "contact")


def high_wires(unit: Unit, bench: Bench) -> None:
    bench.places(dict(zip(("wire-1", "wire-2"), unit.switches.high_wires, strict=True)))


def low_wires(unit: Unit, bench: Bench) -> None:
    bench.places(dict(zip(("wire-1", "wire-2"), unit.switches.low_wires, strict=True)))


ANSWERS = {
    "pressure-trip-mode": trip_mode,
    "pressure-outdoor-coil-rise": coil_rise,
    "pressure-condensing-heating": condensing_heating,
    "pressure-high-circuit": high_circuit,
    "pressure-low-circuit": low_circuit,
    "pressure-high-switch": high_switch_check,
    "pressure-low-switch": low_switch_check,
    "pressure-high-wires": high_wires,
    "pressure-low-wires": low_wires,
}


# -- what the customer meets -------------------------------------------------------------------------------------------


SYMPTOMS = {
    "pressure-indication": lambda unit: 0.5 if unit.stopped_by() in ("high-pressure", "low-pressure") else 0.0,
    "high-pressure-indication": lambda unit: 0.8 if unit.stopped_by() == "high-pressure" else 0.0,
    "low-pressure-indication": lambda unit: 0.8 if unit.stopped_by() == "low-pressure" else 0.0,
}
