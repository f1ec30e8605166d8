"""Faults that one meets once a year: a contact beside its click, boost stage, open diode, shared breaker, ducts,
another refrigerant, a transducer that lies."""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench
from tests.simulation.systems import power

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class Rare:
    """``ducts``: share of the air that they let through. ``fluid``: pressure of what is inside, as a share of the
    plate's refrigerant's. ``transducer_kpa``: what it adds."""

    contact_only: bool = False
    boost_dead: bool = False
    diode_open: bool = False
    breaker_shared: bool = False
    ducted: bool = False
    ducts: float = 1.0
    fluid: float = 1.0
    transducer_kpa: float = 0.0


# -- faults ------------------------------------------------------------------------------------------------------------


def contact(unit: Unit, rng: Random) -> None:
    """The coil pulls and clicks, the contact stays open: insects, or burnt."""
    unit.power.relay_closes = False
    unit.rare.contact_only = True
    unit.power.marked = rng.random() < 0.4


def boost(unit: Unit, rng: Random) -> None:
    unit.rare.boost_dead = True


def diode(unit: Unit, rng: Random) -> None:
    """Charged half as often, the capacitors wear."""
    unit.rare.diode_open = True
    unit.power.capacity = rng.choice([1.0, 1.0, rng.uniform(0.3, 0.9)])
    unit.power.bulged = rng.random() < 0.25


def shared(unit: Unit, rng: Random) -> None:
    """The other load takes its part of what the breaker carries."""
    unit.rare.breaker_shared = True
    unit.supply.breaker = "worn"
    unit.supply.breaker_trips_share = rng.uniform(0.5, 0.9)


def ducts(unit: Unit, rng: Random) -> None:
    unit.rare.ducted = True
    unit.rare.ducts = rng.uniform(0.3, 0.52)
    unit.site.history = rng.choices(["never", "by-itself"], [0.8, 0.2])[0]


def other_fluid(unit: Unit, rng: Random) -> None:
    unit.rare.fluid = rng.choice([rng.uniform(0.4, 0.65), rng.uniform(1.3, 1.6)])
    unit.compressor.pumps = rng.uniform(0.5, 0.65)
    unit.site.history = "after-work" if rng.random() < 0.9 else "never"


def transducer(unit: Unit, rng: Random) -> None:
    unit.rare.transducer_kpa = rng.choice([rng.uniform(400, 1500), -rng.uniform(300, 700)])


FAULTS = {
    "soft-start-contact-open": contact,
    "boost-stage-dead": boost,
    "rectifier-diode-open": diode,
    "breaker-shared": shared,
    "ducts-choke": ducts,
    "refrigerant-wrong": other_fluid,
    "pressure-transducer-wrong": transducer,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def boost_running(unit: Unit, bench: Bench) -> None:
    """The stage raises the bus as soon as the compressor draws."""
    bus = unit.profile.bus
    raised = unit.tries_to_run() and unit.power.relay_closes and not unit.rare.boost_dead
    peak = power.bus_v(unit)
    full = bus.boosted_v if bus and bus.boosted_v else math.inf
    bench.meter(min(full, 1.4 * peak) if raised else peak)


def other_loads(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.rare.breaker_shared else "no")


def duct_static(unit: Unit, bench: Bench) -> None:
    bench.say("above" if unit.rare.ducts < 0.6 else "under" if unit.rare.ducted else "none")


def pressure_shown(unit: Unit, bench: Bench) -> None:
    from tests.simulation.systems.circuit import gas_pressure_kpa

    true = gas_pressure_kpa(unit, unit.weather.cooling)
    bench.meter(true + unit.rare.transducer_kpa, "shown")
    bench.meter(true, "gauge")


def weather(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.weather.outdoor_c + bench.rng.gauss(0, 0.4))


ANSWERS = {
    "visit-outdoor-air": weather,
    "boost-running": boost_running,
    "breaker-other-loads": other_loads,
    "duct-static": duct_static,
    "pressure-shown-compare": pressure_shown,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def reported(unit: Unit) -> float:
    """The board lives, and misses the volts that its stage should give as the compressor starts."""
    stage = unit.rare.boost_dead or unit.rare.contact_only or unit.rare.diode_open
    return 0.6 if stage and unit.outdoor_board_alive() and unit.called() else 0.0


def lies(sign: float) -> float:
    return 0.8 if sign > 0 else 0.0


SYMPTOMS = {
    "rare:supply-indication": reported,
    "rare:high-pressure-indication": lambda unit: lies(unit.rare.transducer_kpa) if unit.called() else 0.0,
    "rare:low-pressure-indication": lambda unit: lies(-unit.rare.transducer_kpa) if unit.called() else 0.0,
}
