"""The expansion valve: needle, coil and plug."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from typing import TYPE_CHECKING

from tests.simulation import cycle
from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class ExpansionValve:
    """``stuck`` is the opening at which the needle stands (share of what is needed), None when it moves."""

    stuck: float | None = None
    plug: bool = True
    fed: bool = True  # the board gives its pulses
    seated: bool = True
    phases_ohm: list[float | None] = field(default_factory=lambda: [46.0, 46.0, 46.0, 46.0])
    rested_at: float = 0.4

    @property
    def driven(self) -> bool:
        """The board can turn the magnet over the body."""
        return self.fed and self.plug and self.seated and all(ohms is not None for ohms in self.phases_ohm)

    def opening(self) -> float | None:
        """None: wherever the control wants it."""
        if self.stuck is not None:
            return self.stuck
        return None if self.driven else self.rested_at


# -- faults ------------------------------------------------------------------------------------------------------------


def _moving_part(unit: Unit, rng: Random) -> None:
    unit.valve.rested_at = rng.choice([rng.uniform(0.1, 0.5), rng.uniform(0.1, 0.5), rng.uniform(1.5, 2.2)])


def coil_open(unit: Unit, rng: Random) -> None:
    _moving_part(unit, rng)
    unit.valve.phases_ohm[rng.randrange(4)] = None


def connector_loose(unit: Unit, rng: Random) -> None:
    _moving_part(unit, rng)
    unit.valve.plug = False


def coil_unseated(unit: Unit, rng: Random) -> None:
    _moving_part(unit, rng)
    unit.valve.seated = False


def stuck_closed(unit: Unit, rng: Random) -> None:
    unit.valve.stuck = rng.uniform(0.05, 0.4)


def stuck_open(unit: Unit, rng: Random) -> None:
    unit.valve.stuck = rng.uniform(1.6, 2.4)


FAULTS = {
    "eev-coil-open": coil_open,
    "eev-connector-loose": connector_loose,
    "eev-coil-unseated": coil_unseated,
    "eev-stuck-closed": stuck_closed,
    "eev-stuck-open": stuck_open,
}


# -- checks ------------------------------------------------------------------------------------------------------------


def power_up(unit: Unit, bench: Bench) -> None:
    valve = unit.valve
    if not unit.outdoor_board_alive() or not valve.plug or not valve.fed:
        bench.say("silent")
    elif any(ohms is None for ohms in valve.phases_ohm):
        bench.say("buzzes")
    elif not valve.seated:
        bench.say("buzzes" if bench.rng.random() < 0.6 else "ticks")
    else:
        # The magnet over a stuck needle still steps, or stutters against it.
        bench.say("buzzes" if valve.stuck is not None and bench.rng.random() < 0.4 else "ticks")


def idle_zone(unit: Unit, bench: Bench) -> None:
    opening = unit.valve.opening()
    # With crossed wires the board opens the valve of a zone that is off; with crossed pipes it does not.
    passes = unit.circulates(True) and (unit.zones.wires_crossed or (opening is not None and opening > 0.15))
    bench.say("cold" if passes else "warm")


def coil_seat(unit: Unit, bench: Bench) -> None:
    bench.say("locked" if unit.valve.seated else "lifted")


def plug_look(unit: Unit, bench: Bench) -> None:
    bench.say("good" if unit.valve.plug else "bad")


def coil_ohms(unit: Unit, bench: Bench) -> None:
    bench.places({f"phase-{place + 1}": ohms for place, ohms in enumerate(unit.valve.phases_ohm)})


def magnet_turn(unit: Unit, bench: Bench) -> None:
    """A magnet in the hand moves a sound needle, whatever is wrong with the coil."""
    if not unit.circulates(True):
        bench.say("stays-high")
        return
    if unit.valve.stuck is not None:
        bench.say("stays-low" if unit.valve.stuck < 1 else "stays-high")
        return
    # Even behind a blockage closing the needle lowers the pressure; only almost no feed at all hides it.
    bench.say("follows" if cycle.feed(unit.inputs(True), cycle.WIDEST) > 0.15 else "stays-low")


ANSWERS = {
    "eev-power-up-listen": power_up,
    "eev-idle-zone": idle_zone,
    "eev-coil-seat": coil_seat,
    "eev-plug-look": plug_look,
    "eev-coil-ohms": coil_ohms,
    "eev-magnet-set": lambda unit, bench: bench.say("set"),
    "eev-magnet-turn": magnet_turn,
}


# -- what the customer meets -------------------------------------------------------------------------------------------


def one_zone(unit: Unit) -> float:
    """In a unit with several zones the valve serves one of them."""
    opening = unit.valve.opening()
    return 0.8 if unit.several_zones and opening is not None and opening < 0.6 else 0.0


def idle_active(unit: Unit) -> float:
    opening = unit.valve.opening()
    return 0.7 if unit.several_zones and opening is not None and opening > 1 else 0.0


SYMPTOMS = {
    "one-zone-weak": one_zone,
    "idle-zone-active": idle_active,
}
