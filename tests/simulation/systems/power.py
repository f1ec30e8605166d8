"""The outdoor unit's power stage, board, fan, and the compressor's motor: what starts, and how it gives up."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
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


@dataclass
class OutdoorFan:
    """As the indoor one."""

    drag: float = 0.0
    plug: str = "firm"
    output: bool = True
    motor: str = "ok"
    supply_pin_ohm: float | None = 200e3


@dataclass
class Compressor:
    """Motor and body."""

    pairs: dict[str, float | None] = field(default_factory=lambda: {"u-v": 1.0, "v-w": 1.0, "w-u": 1.0})
    earth_mohm: float = 200.0
    trips_breaker: bool = False
    rotor_locked: bool = False
    worn_k: float = 0.0
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
    return bus_v(unit) > least and unit.power.rail_v > 4.6


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
    if supply.inverter_starved(unit):
        return "minute"
    if not power.heat_sink_tight or motor.worn_k > 15:
        return "later"
    return "runs"


def fan_runs(unit: Unit) -> bool:
    """The outdoor fan turns when told to."""
    fan = unit.outdoor_fan
    return fan.drag < 0.8 and fan.plug == "firm" and fan.output and fan.motor == "ok"


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


def fan_blocked(unit: Unit, rng: Random) -> None:
    unit.outdoor_fan.drag = 1.0


def fan_connector(unit: Unit, rng: Random) -> None:
    unit.outdoor_fan.plug = rng.choice(["loose", "burnt"])


def fan_motor(unit: Unit, rng: Random) -> None:
    unit.outdoor_fan.motor = "dead"
    if rng.random() < 0.25:
        unit.outdoor_fan.supply_pin_ohm = rng.uniform(500, 4000)


def fan_output(unit: Unit, rng: Random) -> None:
    unit.outdoor_fan.output = False


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
    "windings-unequal": windings_unequal,
    "winding-open": winding_open,
    "compressor-insulation": insulation,
    "compressor-earthed": earthed,
    "rotor-locked": locked,
    "compressor-overheats": overheats,
    "top-overload-open": overload,
    "compressor-terminals-burnt": terminals_burnt,
    "compressor-leads-swapped": leads_swapped,
    "outdoor-fan-blocked": fan_blocked,
    "outdoor-fan-connector": fan_connector,
    "outdoor-fan-motor": fan_motor,
    "outdoor-board-fan-output": fan_output,
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
    closes = unit.power.relay_closes and board_alive(unit)
    bench.say("yes" if closes else "no")


def bus_volts(unit: Unit, bench: Bench) -> None:
    bench.meter(bus_v(unit) * (1.0 if unit.power.capacity > 0.6 else 0.95))


def bus_sag(unit: Unit, bench: Bench) -> None:
    idle = bus_v(unit)
    share = 0.03
    if unit.tries_to_run():
        share += (1 - unit.power.capacity) * 0.6
        share += 0.0 if unit.power.relay_closes else 0.5
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
    bench.say("marked" if unit.power.marked else "clean")


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
    bench.places(drops)


def rectifier_phases(unit: Unit, bench: Bench) -> None:
    places = ("phase-1", "phase-2", "phase-3")
    upper: dict[str, float | None] = {place: _diode(bench) for place in places}
    lower: dict[str, float | None] = {place: _diode(bench) for place in places}
    if unit.power.rectifier_shorted:
        bench.rng.choice([upper, lower])[bench.rng.choice(places)] = 0.01
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


def compressor_listen(unit: Unit, bench: Bench) -> None:
    state = unit.compressor_state(unit.weather.cooling)
    motor = unit.compressor
    if state == "refuses":
        bench.say("silent")
    elif motor.rotor_locked:
        bench.say("hum")
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
    bench.places(unit.compressor.at_leads())


def winding_at_pins(unit: Unit, bench: Bench) -> None:
    """With the clips off, the winding alone."""
    bench.places(dict(unit.compressor.pairs))


def to_earth(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.compressor.earth_mohm * 1e6)


def overload_ohms(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.compressor.overload_ohm)


def fan_spin(unit: Unit, bench: Bench) -> None:
    bench.say(bench.graded(unit.outdoor_fan.drag, ("free", 0.2), ("stiff", 0.8), ("stuck", 2.0)))


def fan_plug(unit: Unit, bench: Bench) -> None:
    bench.say(unit.outdoor_fan.plug)


def fan_ohms(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.outdoor_fan.supply_pin_ohm)


def fan_volts(unit: Unit, bench: Bench) -> None:
    data, fan = unit.profile.outdoor_fan, unit.outdoor_fan
    high = bus_v(unit) if data is None else data.supply_v * min(1.0, bus_v(unit) / 250)
    command = data.control_span_v[1] if data else 5.5
    # A blocked or dead fan is told to stop after some seconds and told again: the meter sees the tries.
    told = (
        board_alive(unit) and unit.called() and fan.output and unit.compressor_state(unit.weather.cooling) != "refuses"
    )
    bench.meter(high * bench.rng.uniform(0.97, 1.0), "supply")
    bench.meter(command * bench.rng.uniform(0.7, 1.0) if told else bench.rng.uniform(0, 0.1), "control")
    bench.say("yes" if told and fan_runs(unit) else "no", "turning")


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
    "compressor-listen": compressor_listen,
    "restart-after-rest": rest,
    "line-feel": line_feel,
    "start-current": start_current,
    "top-temperature": top_temperature,
    "compressor-terminals-look": terminals_look,
    "compressor-leads-order": leads_order,
    "winding-resistance": winding_resistance,
    "winding-at-pins": winding_at_pins,
    "compressor-to-earth": to_earth,
    "top-overload-ohms": overload_ohms,
    "outdoor-fan-spin": fan_spin,
    "outdoor-fan-plug": fan_plug,
    "outdoor-fan-ohms": fan_ohms,
    "outdoor-fan-volts": fan_volts,
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


def noisy(unit: Unit) -> float:
    motor = unit.compressor
    tried = unit.compressor_state(unit.weather.cooling) not in ("refuses",)
    return 0.5 if tried and (motor.rotor_locked or motor.leads_swapped or motor.uneven() > 0.08) else 0.0


def hot(unit: Unit) -> float:
    return 0.5 if unit.compressor.worn_k > 15 and unit.circulates(unit.weather.cooling) else 0.0


def fan_reported(unit: Unit) -> float:
    wanted = unit.called() and board_alive(unit) and unit.compressor_state(unit.weather.cooling) != "refuses"
    return 0.9 if wanted and not fan_runs(unit) else 0.0


def fan_still(unit: Unit) -> float:
    return 0.5 if unit.asked_for() and not unit.outdoor_fan_turns() else 0.0


SYMPTOMS = {
    "inverter-trip": inverter_trip,
    "compressor-stops-soon": stops_soon,
    "compressor-never-starts": never_starts,
    "starts-and-stops": starts_and_stops,
    "compressor-noisy": noisy,
    "compressor-hot": hot,
    "outdoor-fan-indication": fan_reported,
    "outdoor-fan-still": fan_still,
}
