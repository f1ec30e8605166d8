"""Indoor air path and indoor fan with its board: what air moves, and which voltages are there."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class IndoorAir:
    """Flow shares: 1 lets all air through."""

    filter: float = 1.0
    coil: float = 1.0
    wheel: float = 1.0
    obstacle: bool = False
    recirculation_k: float = 0.0

    @property
    def resistance_share(self) -> float:
        """Share of the clean airflow that filter, coil and wheel leave."""
        return self.filter * self.coil * self.wheel


@dataclass
class IndoorFan:
    """The motor, its plug and the board's output."""

    drag: float = 0.0  # 0 free, 1 jammed
    plug_contact: bool = True
    plug_look: str = "firm"
    output: bool = True  # the board gives the command
    supply_output: bool = True  # the board gives the high supply
    motor: str = "ok"  # ok, dead, no-feedback, weak
    supply_pin_ohm: float | None = 180e3  # None: beyond the meter


def turning(unit: Unit) -> str:
    """strong, weak, stops or still, as one sees it with the fan on high."""
    fan = unit.fan
    if not unit.indoor_alive() or not unit.obeys_controls():
        return "still"
    if not fan.plug_contact or not (fan.output and fan.supply_output) or fan.motor == "dead" or fan.drag > 0.8:
        return "still"
    if unit.lesser.capacitor_share < 0.15:
        return "still"
    if fan.motor == "no-feedback" or fan.drag > 0.3:
        return "stops"
    return "weak" if airflow(unit) < 0.55 else "strong"


def _by_capacitor(unit: Unit) -> float:
    """Share of its speed that a motor reaches with what its run capacitor has left; under a sixth it does not start."""
    share = unit.lesser.capacitor_share
    return 1.0 if share > 0.9 else 0.0 if share < 0.15 else 0.35 + 0.4 * share


def airflow(unit: Unit) -> float:
    """Indoor airflow as a share of the clean unit's; 0 when the fan stands."""
    fan = unit.fan
    drive = (0.55 if fan.motor == "weak" else 1.0) * unit.lesser.wheel_grip * _by_capacitor(unit)
    if fan.drag > 0.8 or fan.motor == "dead" or not (fan.plug_contact and fan.output and fan.supply_output):
        return 0.0
    if fan.motor == "no-feedback":
        drive *= 0.5
    return drive * (1 - 0.4 * fan.drag) * unit.air.resistance_share * unit.rare.ducts


# -- faults ------------------------------------------------------------------------------------------------------------


def filter_dirty(unit: Unit, rng: Random) -> None:
    unit.air.filter = rng.uniform(0.15, 0.45)


def indoor_coil_dirty(unit: Unit, rng: Random) -> None:
    unit.air.coil = rng.uniform(0.2, 0.5)


def blower_wheel_dirty(unit: Unit, rng: Random) -> None:
    unit.air.wheel = rng.uniform(0.25, 0.5)


def blower_wheel_jammed(unit: Unit, rng: Random) -> None:
    unit.fan.drag = 1.0 if rng.random() < 0.7 else rng.uniform(0.4, 0.8)


def indoor_fan_connector(unit: Unit, rng: Random) -> None:
    unit.fan.plug_contact = False
    unit.fan.plug_look = rng.choice(["loose", "loose", "burnt"])


def indoor_fan_motor(unit: Unit, rng: Random) -> None:
    unit.fan.motor = rng.choices(["dead", "no-feedback", "weak"], [0.7, 0.2, 0.1])[0]
    if unit.fan.motor == "dead" and rng.random() < 0.2:
        unit.fan.supply_pin_ohm = rng.uniform(500, 4000)


def indoor_board_fan_output(unit: Unit, rng: Random) -> None:
    if rng.random() < 0.6:
        unit.fan.output = False
    else:
        unit.fan.supply_output = False


def indoor_air_blocked(unit: Unit, rng: Random) -> None:
    unit.air.obstacle = True
    unit.air.recirculation_k = rng.uniform(3.5, 9.0)


FAULTS = {
    "filter-dirty": filter_dirty,
    "indoor-coil-dirty": indoor_coil_dirty,
    "blower-wheel-dirty": blower_wheel_dirty,
    "blower-wheel-jammed": blower_wheel_jammed,
    "indoor-fan-connector": indoor_fan_connector,
    "indoor-fan-motor": indoor_fan_motor,
    "indoor-board-fan-output": indoor_board_fan_output,
    "indoor-air-blocked": indoor_air_blocked,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def fan_speed(unit: Unit, bench: Bench) -> None:
    """What drives and what drags set the speed; dirt hardly does."""
    fan = unit.fan
    drive = {"dead": 0.0, "no-feedback": 0.5, "weak": 0.55}.get(fan.motor, 1.0)
    if fan.drag > 0.8 or not (fan.plug_contact and fan.output and fan.supply_output):
        drive = 0.0
    top = unit.profile.indoor_fan.speed_rpm[1] if unit.profile.indoor_fan else 1200.0
    bench.meter(
        top
        * drive
        * unit.lesser.wheel_grip
        * _by_capacitor(unit)
        * (1 - 0.4 * fan.drag)
        * bench.rng.uniform(0.96, 1.03)
    )


def fan_look(unit: Unit, bench: Bench) -> None:
    bench.say(turning(unit))


def paper(unit: Unit, bench: Bench) -> None:
    if turning(unit) == "still":
        bench.say("falls")
    elif airflow(unit) < 0.55:
        bench.say("patchy" if unit.air.wheel < 0.6 and bench.rng.random() < 0.4 else "falls")
    else:
        bench.say("holds")


def filter_look(unit: Unit, bench: Bench) -> None:
    bench.say(bench.graded(unit.air.filter, ("blocked", 0.5), ("dusty", 0.85), ("clear", 2.0)))


def coil_look(unit: Unit, bench: Bench) -> None:
    bench.say(bench.graded(unit.air.coil, ("matted", 0.55), ("light-dust", 0.9), ("bright", 2.0)))


def wheel_look(unit: Unit, bench: Bench) -> None:
    bench.say(bench.graded(unit.air.wheel, ("caked", 0.6), ("clean", 2.0)))


def wheel_turn(unit: Unit, bench: Bench) -> None:
    bench.say(bench.graded(unit.fan.drag, ("free", 0.2), ("scrapes", 0.8), ("sticks", 2.0)))


def fan_plug(unit: Unit, bench: Bench) -> None:
    bench.say(unit.fan.plug_look)


def fan_ohms(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.fan.supply_pin_ohm)


def fan_volts(unit: Unit, bench: Bench) -> None:
    data = unit.profile.indoor_fan
    high, command = (data.supply_v, data.control_span_v[1]) if data else (320.0, 5.5)
    fed = unit.indoor_alive() and unit.fan.supply_output
    told = unit.obeys_controls() and unit.rail_5v() > 4.5 and unit.fan.output
    # A motor that draws its supply down pulls the pin low while it is plugged.
    loaded = unit.fan.supply_pin_ohm is not None and unit.fan.supply_pin_ohm < 5000 and unit.fan.plug_contact
    bench.meter(high * (0.1 if loaded else bench.rng.uniform(0.96, 1.04)) if fed else bench.rng.uniform(0, 4), "supply")
    bench.meter(command * bench.rng.uniform(0.85, 1.0) if told else bench.rng.uniform(0, 0.1), "control")
    bench.say("yes" if turning(unit) in ("strong", "weak", "stops") else "no", "turning")


def fan_pulses(unit: Unit, bench: Bench) -> None:
    turns = turning(unit) in ("strong", "weak", "stops")
    if turns and unit.fan.motor != "no-feedback":
        bench.say("jumping", "behaviour")
        bench.jumping(bench.rng.uniform(0.5, 2.0), bench.rng.uniform(3.0, 4.8), "voltage")
    elif unit.rail_5v() > 4.5 and unit.fan.motor == "no-feedback":
        level = bench.rng.choice([0.02, 4.9])
        bench.say("steady" if level > 1 else "none", "behaviour")
        bench.meter(level, "voltage")
    else:
        pulled_up = unit.rail_5v() > 4.5 and unit.fan.plug_contact and unit.fan.motor != "dead"
        bench.say("steady" if pulled_up else "none", "behaviour")
        bench.meter(4.9 if pulled_up else 0.03, "voltage")


def room_look(unit: Unit, bench: Bench) -> None:
    bench.say("blocked" if unit.air.obstacle else "free")


def intake_air(unit: Unit, bench: Bench) -> None:
    moved = unit.air.recirculation_k if airflow(unit) > 0.1 and unit.makes_output() else 0.0
    side = -1 if unit.weather.cooling else 1
    bench.meter(unit.weather.indoor_c + side * moved + bench.rng.gauss(0, 0.4), "intake")
    bench.meter(unit.weather.indoor_c + bench.rng.gauss(0, 0.4), "room")


ANSWERS = {
    "indoor-fan-speed": fan_speed,
    "indoor-fan-look": fan_look,
    "indoor-paper-test": paper,
    "filter-look": filter_look,
    "indoor-coil-look": coil_look,
    "blower-wheel-look": wheel_look,
    "blower-wheel-turn": wheel_turn,
    "indoor-fan-plug": fan_plug,
    "indoor-fan-ohms": fan_ohms,
    "indoor-fan-volts": fan_volts,
    "indoor-fan-pulses": fan_pulses,
    "airflow-indoor-room-look": room_look,
    "airflow-indoor-intake-air": intake_air,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def weak(unit: Unit) -> float:
    return 1.0 if turning(unit) == "weak" else 0.5 if unit.air.obstacle else 0.0


def still(unit: Unit) -> float:
    return 1.0 if turning(unit) == "still" and unit.indoor_alive() else 0.0


def fan_reported(unit: Unit) -> float:
    """The board misses the pulses of a fan it has told to turn."""
    if not unit.indoor_alive() or not unit.obeys_controls():
        return 0.0
    return 1.0 if turning(unit) in ("still", "stops") else 0.0


SYMPTOMS = {"indoor-fan-weak": weak, "indoor-fan-still": still, "indoor-fan-indication": fan_reported}
