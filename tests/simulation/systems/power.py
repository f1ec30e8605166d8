"""The outdoor unit's power stage and board: what starts, and how it gives up."""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench
from tests.simulation.systems import supply

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class Power:
    """From the terminals to the module."""

    fuse_ohm: float | None = 0.1
    rectifier_shorted: bool = False
    trips_breaker: bool = True
    reactor_ohm: float | None = 0.3
    relay_closes: bool = True
    charging_ohm: float | None = 22.0
    capacity: float = 1.0
    bulged: bool = False
    rail_v: float = 5.05
    marked: bool = False
    module: str = "sound"  # sound, shorted, weak (its diodes are good)
    module_arm: str = "u"
    heat_sink_tight: bool = True


def bus_v(unit: Unit) -> float:
    """Volts on the idle bus."""
    power = unit.power
    if power.rectifier_shorted or power.reactor_ohm is None or power.fuse_ohm is None:
        return 1.0
    if not power.relay_closes and power.charging_ohm is None:
        return 3.0
    return max(0.0, math.sqrt(2) * supply.terminals_v(unit) - 2.5)


def board_alive(unit: Unit) -> bool:
    """The outdoor board's processor runs."""
    least = supply.BOARD_SHARE * math.sqrt(2) * unit.profile.supply.nominal_v
    return (
        bus_v(unit) > least and unit.power.rail_v > 4.6 and not (unit.lesser.outdoor_hung or unit.lesser.outdoor_dead)
    )


def start(unit: Unit) -> str:
    """How a start ends as far as the motor and its drive go: runs, later, minute, at-once or never."""
    power, motor = unit.power, unit.compressor
    if not board_alive(unit) or motor.overload_ohm is None or supply.too_high(unit):
        return "never"
    if power.module in ("shorted", "weak") or motor.uneven() == math.inf or motor.earth_mohm < 0.05:
        return "at-once"
    if motor.rotor_locked:
        return "at-once"
    if motor.uneven() > 0.08 or motor.leads_swapped or not power.relay_closes or power.capacity < 0.55:
        return "minute"
    if unit.rare.boost_dead or unit.rare.diode_open:
        return "minute"
    if supply.inverter_starved(unit) or unit.lesser.frequency_share != 1:
        return "minute"
    if not power.heat_sink_tight or motor.worn_k > 15:
        return "later"
    return "runs"


# -- faults ------------------------------------------------------------------------------------------------------------


def module_separate(unit: Unit, rng: Random) -> None:
    unit.own_module = True
    module(unit, rng)


def module_on_board(unit: Unit, rng: Random) -> None:
    unit.own_module = False
    module(unit, rng)


def module(unit: Unit, rng: Random) -> None:
    unit.power.module = "shorted" if rng.random() < 0.75 else "weak"
    unit.power.module_arm = rng.choice("uvw")
    unit.power.marked = rng.random() < 0.3


def rectifier(unit: Unit, rng: Random) -> None:
    unit.power.rectifier_shorted = True
    unit.power.trips_breaker = rng.random() < 0.75
    unit.power.marked = rng.random() < 0.3


def reactor(unit: Unit, rng: Random) -> None:
    unit.power.reactor_ohm = None


def capacitor(unit: Unit, rng: Random) -> None:
    unit.power.capacity = rng.uniform(0.2, 0.5)
    unit.power.bulged = rng.random() < 0.7


def relay(unit: Unit, rng: Random) -> None:
    unit.power.relay_closes = False


def charging_resistor(unit: Unit, rng: Random) -> None:
    """Burnt open: the bus stays empty, and without it the board never closes the relay."""
    unit.power.relay_closes = False
    unit.power.charging_ohm = None


def board(unit: Unit, rng: Random) -> None:
    unit.power.rail_v = rng.uniform(0.0, 3.9)
    unit.power.marked = rng.random() < 0.4


def fuse(unit: Unit, rng: Random) -> None:
    unit.power.fuse_ohm = None


def heat_sink(unit: Unit, rng: Random) -> None:
    unit.power.heat_sink_tight = False


FAULTS = {
    "power-module-separate": module_separate,
    "power-module-on-board": module_on_board,
    "rectifier-shorted": rectifier,
    "reactor-open": reactor,
    "bus-capacitor-weak": capacitor,
    "soft-start-relay-stuck": relay,
    "soft-start-resistor-open": charging_resistor,
    "outdoor-board-dead": board,
    "outdoor-fuse-blown": fuse,
    "heat-sink-loose": heat_sink,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def unit_look(unit: Unit, bench: Bench) -> None:
    fan = unit.outdoor_fan_turns()
    state = unit.compressor_state(unit.weather.cooling)
    soon = {"minute": 0.95, "at-once": 0.5, "trips": 0.15}.get(state, 0.0)
    if bench.rng.random() < soon:
        bench.say("stop")
        return
    turns = state in ("runs", "trips")
    bench.say("both" if turns and fan else "fan" if fan else "compressor" if turns else "neither")


def trip_timing(unit: Unit, bench: Bench) -> None:
    state = unit.compressor_state(unit.weather.cooling)
    named = {"refuses": "never-starts", "at-once": "at-once", "minute": "minute", "trips": "later", "runs": "runs"}
    bench.say(named[state])


def lamps(unit: Unit, bench: Bench) -> None:
    bench.say("lit" if board_alive(unit) else "dark")


def click(unit: Unit, bench: Bench) -> None:
    closes = (unit.power.relay_closes or unit.rare.contact_only) and board_alive(unit)
    bench.say("yes" if closes else "no")


def bus_volts(unit: Unit, bench: Bench) -> None:
    bench.meter(bus_v(unit) * (1.0 if unit.power.capacity > 0.6 else 0.95), "voltage")
    bench.say("yes", "calling")


def bus_sag(unit: Unit, bench: Bench) -> None:
    idle = bus_v(unit)
    share = 0.03
    if unit.tries_to_run():
        share += (1 - unit.power.capacity) * 0.6
        share += 0.0 if unit.power.relay_closes else 0.5
        share += 0.25 if unit.rare.diode_open else 0.0
        share += unit.supply.wire_drop + unit.supply.source_drop + unit.supply.terminal_drop
        share += 0.25 if unit.power.module == "shorted" else 0.0
    bench.meter(idle, "idle")
    bench.meter(idle * (1 - min(share, 0.9)), "loaded")


def low_volts(unit: Unit, bench: Bench) -> None:
    least = supply.BOARD_SHARE * math.sqrt(2) * unit.profile.supply.nominal_v
    bench.meter(unit.power.rail_v if bus_v(unit) > least else 0.05)


def capacitor_look(unit: Unit, bench: Bench) -> None:
    bench.say("bulged" if unit.power.bulged else "flat")


def board_look(unit: Unit, bench: Bench) -> None:
    bench.say("heat" if unit.power.marked else "clean")


def module_place(unit: Unit, bench: Bench) -> None:
    bench.say("own" if unit.own_module else "main")


def fuse_ohms(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.power.fuse_ohm)


def reactor_ohms(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.power.reactor_ohm)


def relay_ohms(unit: Unit, bench: Bench) -> None:
    """Dead, the relay is open and its charging resistor lies across the contacts."""
    bench.meter(unit.power.charging_ohm)


def capacitance(unit: Unit, bench: Bench) -> None:
    nominal = unit.profile.bus.capacitance_uf if unit.profile.bus else 1000.0
    bench.meter(nominal * unit.power.capacity * bench.rng.uniform(0.95, 1.03))


def heat_sink_look(unit: Unit, bench: Bench) -> None:
    bench.say("tight" if unit.power.heat_sink_tight else "loose")


def _diode(bench: Bench) -> float:
    return 0.46 + bench.rng.gauss(0, 0.006)


def rectifier_diodes(unit: Unit, bench: Bench) -> None:
    drops: dict[str, float | None] = {
        place: _diode(bench) for place in ("one-plus", "two-plus", "minus-one", "minus-two")
    }
    if unit.power.rectifier_shorted:
        drops[bench.rng.choice(sorted(drops))] = 0.01
    elif unit.rare.diode_open:
        drops[bench.rng.choice(sorted(drops))] = None
    bench.places(drops)


def rectifier_phases(unit: Unit, bench: Bench) -> None:
    places = ("phase-1", "phase-2", "phase-3")
    upper: dict[str, float | None] = {place: _diode(bench) for place in places}
    lower: dict[str, float | None] = {place: _diode(bench) for place in places}
    if unit.power.rectifier_shorted:
        bench.rng.choice([upper, lower])[bench.rng.choice(places)] = 0.01
    elif unit.rare.diode_open:
        bench.rng.choice([upper, lower])[bench.rng.choice(places)] = None
    bench.places(upper, "upper")
    bench.places(lower, "lower")


def module_diodes(unit: Unit, bench: Bench) -> None:
    upper: dict[str, float | None] = {place: _diode(bench) for place in "uvw"}
    lower: dict[str, float | None] = {place: _diode(bench) for place in "uvw"}
    if unit.power.module == "shorted":
        bench.rng.choice([upper, lower])[unit.power.module_arm] = bench.rng.choice([0.005, 0.02, 0.25])
    bench.places(upper, "upper")
    bench.places(lower, "lower")


def module_alone(unit: Unit, bench: Bench) -> None:
    if bench.rng.random() < 0.15:
        bench.say("not-allowed")
    else:
        bench.say("same" if unit.power.module != "sound" else "other")


ANSWERS = {
    "outdoor-unit-look": unit_look,
    "trip-timing": trip_timing,
    "outdoor-lamp-look": lamps,
    "soft-start-click": click,
    "bus-volts": bus_volts,
    "bus-sag": bus_sag,
    "outdoor-low-volts": low_volts,
    "bus-capacitor-look": capacitor_look,
    "outdoor-board-look": board_look,
    "module-place": module_place,
    "outdoor-fuse-ohms": fuse_ohms,
    "reactor-ohms": reactor_ohms,
    "soft-start-ohms": relay_ohms,
    "bus-capacitance": capacitance,
    "heat-sink-look": heat_sink_look,
    "rectifier-diodes": rectifier_diodes,
    "rectifier-diodes-phases": rectifier_phases,
    "module-diodes": module_diodes,
    "module-alone": module_alone,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def inverter_trip(unit: Unit) -> float:
    if not unit.called() or not board_alive(unit):
        return 0.0
    begun = start(unit)
    if begun == "at-once":
        return 0.9
    if begun == "minute":
        return 0.6
    return 0.6 if not unit.power.heat_sink_tight else 0.2 if begun == "later" else 0.0


def stops_soon(unit: Unit) -> float:
    return 0.7 if unit.compressor_state(unit.weather.cooling) == "minute" else 0.0


def never_starts(unit: Unit) -> float:
    state = unit.compressor_state(unit.weather.cooling)
    return 0.7 if unit.called() and state in ("refuses", "at-once") else 0.0


def starts_and_stops(unit: Unit) -> float:
    state = unit.compressor_state(unit.weather.cooling)
    return 0.6 if state == "trips" else 0.3 if state == "minute" else 0.0


SYMPTOMS = {
    "inverter-trip": inverter_trip,
    "compressor-stops-soon": stops_soon,
    "compressor-never-starts": never_starts,
    "starts-and-stops": starts_and_stops,
}
