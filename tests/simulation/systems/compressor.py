"""The compressor's motor and body: windings, insulation, rotor, overload and terminals."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class Compressor:
    """Motor and body."""

    pairs: dict[str, float | None] = field(default_factory=lambda: {"u-v": 1.0, "v-w": 1.0, "w-u": 1.0})
    earth_mohm: float = 200.0
    trips_breaker: bool = False
    rotor_locked: bool = False
    worn_k: float = 0.0
    #: what its valves or its scroll still move, 1 is whole
    pumps: float = 1.0
    overload_ohm: float | None = 0.2
    terminals: str = "bright"
    terminals_open: bool = False
    #: what a burnt clip adds to both windings at terminal U
    clip_ohm: float = 0.0
    leads_swapped: bool = False

    def uneven(self) -> float:
        """Largest departure from the mean; inf with an open pair."""
        values = [value for value in self.at_leads().values() if value is not None]
        if len(values) < 3:
            return math.inf
        mean = sum(values) / 3
        return max(abs(value - mean) for value in values) / mean

    def at_leads(self) -> dict[str, float | None]:
        """The windings with the clips in the loop."""
        made = dict(self.pairs)
        for pair in ("u-v", "w-u"):
            value = made[pair]
            made[pair] = None if self.terminals_open or value is None else value + self.clip_ohm
        return made


# -- faults ------------------------------------------------------------------------------------------------------------


def windings_unequal(unit: Unit, rng: Random) -> None:
    pair = rng.choice(list(unit.compressor.pairs))
    value = unit.compressor.pairs[pair]
    unit.compressor.pairs[pair] = (value or 1.0) * rng.choice([rng.uniform(1.25, 1.8), rng.uniform(0.4, 0.75)])


def winding_open(unit: Unit, rng: Random) -> None:
    for pair in rng.choice([("u-v", "v-w"), ("v-w", "w-u"), ("u-v", "w-u")]):
        unit.compressor.pairs[pair] = None


def insulation(unit: Unit, rng: Random) -> None:
    """A leak: nothing flows until the inverter pushes."""
    unit.compressor.earth_mohm = rng.uniform(0.005, 0.04)


def earthed(unit: Unit, rng: Random) -> None:
    """A winding on the shell: the breaker feels it through the idle inverter's diodes."""
    unit.compressor.earth_mohm = rng.uniform(0.0, 0.001)
    unit.compressor.trips_breaker = True


def locked(unit: Unit, rng: Random) -> None:
    unit.compressor.rotor_locked = True


def overheats(unit: Unit, rng: Random) -> None:
    unit.compressor.worn_k = rng.uniform(25, 45)


def not_pumping(unit: Unit, rng: Random) -> None:
    unit.compressor.pumps = rng.uniform(0.05, 0.25)


def overload(unit: Unit, rng: Random) -> None:
    unit.compressor.overload_ohm = None


def terminals_burnt(unit: Unit, rng: Random) -> None:
    unit.compressor.terminals = "burnt"
    if rng.random() < 0.6:
        unit.compressor.terminals_open = True
    else:
        unit.compressor.clip_ohm = (unit.compressor.pairs["v-w"] or 1.0) * rng.uniform(0.1, 0.6)


def leads_swapped(unit: Unit, rng: Random) -> None:
    unit.compressor.leads_swapped = True
    unit.site.history = "after-work"


FAULTS = {
    "windings-unequal": windings_unequal,
    "winding-open": winding_open,
    "compressor-insulation": insulation,
    "compressor-earthed": earthed,
    "rotor-locked": locked,
    "compressor-overheats": overheats,
    "compressor-not-pumping": not_pumping,
    "top-overload-open": overload,
    "compressor-terminals-burnt": terminals_burnt,
    "compressor-leads-swapped": leads_swapped,
}


# -- checks ------------------------------------------------------------------------------------------------------------


def compressor_listen(unit: Unit, bench: Bench) -> None:
    state = unit.compressor_state(unit.weather.cooling)
    motor = unit.compressor
    if state == "refuses":
        bench.say("silent")
    elif motor.rotor_locked:
        bench.say("hum")
    elif unit.lesser.crankcase_ohm is None and bench.rng.random() < 0.75:
        bench.say("growl")
    elif motor.leads_swapped or 0.08 < motor.uneven() < math.inf:
        bench.say("growl" if bench.rng.random() < 0.75 else "hum")
    elif motor.uneven() == math.inf:
        bench.say("hum" if bench.rng.random() < 0.7 else "silent")
    elif state == "at-once":
        bench.say("silent" if bench.rng.random() < 0.8 else "hum")
    else:
        bench.say("smooth")


def rest(unit: Unit, bench: Bench) -> None:
    state = unit.compressor_state(unit.weather.cooling)
    if bench.rng.random() < 0.1:
        bench.say("unknown")
    else:
        bench.say("never" if state in ("refuses", "at-once") else "again")


def line_feel(unit: Unit, bench: Bench) -> None:
    cooling = unit.weather.cooling
    if not unit.circulates(cooling):
        bench.say("small" if unit.compressor.leads_swapped and bench.rng.random() < 0.4 else "none")
        return
    output = unit.settled(unit.runs_as(cooling)).output
    bench.say("clear" if output > 0.5 else "small" if output > 0.2 else "none")


def start_current(unit: Unit, bench: Bench) -> None:
    state = unit.compressor_state(unit.weather.cooling)
    motor = unit.compressor
    if state == "refuses":
        bench.say("zero")
    elif (
        motor.rotor_locked or motor.earth_mohm < 0.05 or (unit.power.module == "shorted" and bench.rng.random() < 0.35)
    ):
        bench.say("pulse")
    elif state in ("at-once", "minute"):
        bench.say("weak" if bench.rng.random() < 0.85 else "pulse")
    else:
        bench.say("smooth")


def top_temperature(unit: Unit, bench: Bench) -> None:
    cooling = unit.weather.cooling
    if not unit.circulates(cooling):
        for place in ("discharge", "top"):
            bench.meter(unit.weather.outdoor_c + 8, place)
        return
    discharge_c = min(unit.settled(unit.runs_as(cooling)).discharge_c, 118)
    bench.meter(discharge_c, "discharge")
    bench.meter(discharge_c + 3 + unit.compressor.worn_k, "top")


def terminals_look(unit: Unit, bench: Bench) -> None:
    bench.say(unit.compressor.terminals)


def leads_order(unit: Unit, bench: Bench) -> None:
    bench.say("no" if unit.compressor.leads_swapped else "yes")


def winding_resistance(unit: Unit, bench: Bench) -> None:
    """Measured at the board's end, so a burnt terminal is in the loop."""
    bench.places(unit.compressor.at_leads(), "resistances")
    bench.say("low-ohm", "meter")


def winding_at_pins(unit: Unit, bench: Bench) -> None:
    """With the clips off, the winding alone."""
    bench.places(dict(unit.compressor.pairs), "resistances")
    bench.say("low-ohm", "meter")


def to_earth(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.compressor.earth_mohm * 1e6, "resistance")
    bench.say("warm", "shell")


def overload_ohms(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.compressor.overload_ohm)


ANSWERS = {
    "compressor-listen": compressor_listen,
    "restart-after-rest": rest,
    "line-feel": line_feel,
    "start-current": start_current,
    "top-clamps-on": lambda unit, bench: bench.say("set"),
    "top-temperature": top_temperature,
    "compressor-terminals-look": terminals_look,
    "compressor-leads-order": leads_order,
    "winding-resistance": winding_resistance,
    "winding-at-pins": winding_at_pins,
    "compressor-to-earth": to_earth,
    "top-overload-ohms": overload_ohms,
}


# -- what the customer meets -------------------------------------------------------------------------------------------


def noisy(unit: Unit) -> float:
    motor = unit.compressor
    tried = unit.compressor_state(unit.weather.cooling) not in ("refuses",)
    return 0.5 if tried and (motor.rotor_locked or motor.leads_swapped or motor.uneven() > 0.08) else 0.0


def hot(unit: Unit) -> float:
    return 0.5 if unit.compressor.worn_k > 15 and unit.circulates(unit.weather.cooling) else 0.0


SYMPTOMS = {
    "compressor-noisy": noisy,
    "compressor-hot": hot,
}
