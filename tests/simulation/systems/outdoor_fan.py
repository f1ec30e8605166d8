"""The outdoor fan: blade, plug, motor and the board's output."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench
from tests.simulation.systems.power import board_alive, bus_v

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class OutdoorFan:
    """As the indoor one."""

    drag: float = 0.0
    plug: str = "firm"
    output: bool = True
    motor: str = "ok"
    supply_pin_ohm: float | None = 200e3


def fan_runs(unit: Unit) -> bool:
    """The outdoor fan turns when told to."""
    fan = unit.outdoor_fan
    return fan.drag < 0.8 and fan.plug == "firm" and fan.output and fan.motor == "ok"


# -- faults ------------------------------------------------------------------------------------------------------------


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
    "outdoor-fan-blocked": fan_blocked,
    "outdoor-fan-connector": fan_connector,
    "outdoor-fan-motor": fan_motor,
    "outdoor-board-fan-output": fan_output,
}


# -- checks ------------------------------------------------------------------------------------------------------------


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
    "outdoor-fan-spin": fan_spin,
    "outdoor-fan-plug": fan_plug,
    "outdoor-fan-ohms": fan_ohms,
    "outdoor-fan-volts": fan_volts,
}


# -- what the customer meets -------------------------------------------------------------------------------------------


def fan_reported(unit: Unit) -> float:
    wanted = unit.called() and board_alive(unit) and unit.compressor_state(unit.weather.cooling) != "refuses"
    return 0.9 if wanted and not fan_runs(unit) else 0.0


def fan_still(unit: Unit) -> float:
    return 0.5 if unit.asked_for() and not unit.outdoor_fan_turns() else 0.0


SYMPTOMS = {
    "outdoor-fan-indication": fan_reported,
    "outdoor-fan-still": fan_still,
}
