"""Temperature sensors: what each reads, where it sits, and what the control does with it."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from typing import TYPE_CHECKING

from assistant.calculations.thermistors import curve_from
from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit

NAMES = ("room", "pipe", "outdoor", "discharge", "suction", "coil")
INDOOR = ("room", "pipe")


@dataclass
class Sensor:
    """``error_k`` is how far its own curve is off; ``state`` sound, open or shorted."""

    error_k: float = 0.0
    state: str = "sound"
    seated: bool = True


@dataclass
class Sensors:
    """All sensors of the unit."""

    by_name: dict[str, Sensor] = field(default_factory=lambda: {name: Sensor() for name in NAMES})
    room_place: str = "free"
    bad_plug: str = ""  # indoor or outdoor
    plug_lost: bool = False
    refuses: bool = False

    def off(self) -> list[str]:
        """Sensors of which the control believes something wrong by more than three kelvin, or nothing at all."""
        return [name for name, it in self.by_name.items() if it.state != "sound" or abs(it.error_k) > 3]


def ohms(unit: Unit, name: str, temperature_c: float, rng: Random) -> float | None:
    """What a meter sees across the sensor at a temperature; None for a break."""
    sensor = unit.sensors.by_name[name]
    if sensor.state == "open":
        return None
    if sensor.state == "shorted":
        return rng.uniform(0.5, 20)
    data = unit.profile.sensors.get(name)
    curve = curve_from(data.r25_ohm, data.beta_k, data.table) if data else curve_from(10_000, 3950)
    return curve.resistance_ohm(min(max(temperature_c + sensor.error_k, -19), 69)) * rng.uniform(0.99, 1.01)


def indicated(unit: Unit) -> bool:
    """The control sees a value that cannot be."""
    return any(it.state != "sound" for it in unit.sensors.by_name.values()) or unit.sensors.plug_lost


# -- faults ------------------------------------------------------------------------------------------------------------


def _drift(name: str) -> object:
    def apply(unit: Unit, rng: Random) -> None:
        unit.sensors.by_name[name].error_k = rng.choice([-1, 1]) * rng.uniform(4.5, 14)

    return apply


def _broken(name: str) -> object:
    def apply(unit: Unit, rng: Random) -> None:
        unit.sensors.by_name[name].state = rng.choice(["open", "open", "shorted"])
        unit.sensors.refuses = rng.random() < 0.7

    return apply


def _displaced(name: str) -> object:
    def apply(unit: Unit, rng: Random) -> None:
        unit.sensors.by_name[name].seated = False

    return apply


def misled(unit: Unit, rng: Random) -> None:
    unit.sensors.room_place = rng.choice(["sun", "draught", "covered"])


def plug_loose(unit: Unit, rng: Random) -> None:
    unit.sensors.bad_plug = rng.choice(["indoor", "outdoor"])
    unit.sensors.plug_lost = rng.random() < 0.75
    unit.sensors.refuses = unit.sensors.plug_lost


FAULTS = {
    **{f"{name}-sensor-drifted": _drift(name) for name in NAMES},
    **{f"{name}-sensor-broken": _broken(name) for name in NAMES},
    "pipe-sensor-displaced": _displaced("pipe"),
    "discharge-sensor-displaced": _displaced("discharge"),
    "room-sensor-misled": misled,
    "sensor-plug-loose": plug_loose,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def surroundings(unit: Unit, bench: Bench) -> None:
    place = unit.sensors.room_place
    if place == "free" and unit.air.obstacle:
        place = "covered" if bench.rng.random() < 0.6 else "free"
    if place == "free" and not unit.drain.wall_sealed and bench.rng.random() < 0.5:
        place = "draught"
    bench.say(place)


def shown_values(unit: Unit, bench: Bench) -> None:
    if bench.rng.random() < 0.2:
        bench.say("cannot")
        return
    off = [name for name in unit.sensors.off() if name != "coil"]  # nobody is asked for that one
    if unit.sensors.plug_lost:
        off = [bench.rng.choice(["room", "pipe"] if unit.sensors.bad_plug == "indoor" else ["outdoor", "discharge"])]
    bench.say(off[0] if off else "none")


def pipe_place(unit: Unit, bench: Bench) -> None:
    bench.say("seated" if unit.sensors.by_name["pipe"].seated else "out")


def discharge_place(unit: Unit, bench: Bench) -> None:
    bench.say("seated" if unit.sensors.by_name["discharge"].seated else "off")


def plugs_indoor(unit: Unit, bench: Bench) -> None:
    bench.say("bad" if unit.sensors.bad_plug == "indoor" else "firm")


def plugs_outdoor(unit: Unit, bench: Bench) -> None:
    bench.say("bad" if unit.sensors.bad_plug == "outdoor" else "firm")


def sweep_indoor(unit: Unit, bench: Bench) -> None:
    bench.places({name: ohms(unit, name, unit.weather.indoor_c, bench.rng) for name in INDOOR})


def sweep_outdoor(unit: Unit, bench: Bench) -> None:
    found = [
        name for name in ("outdoor", "coil", "discharge", "suction") if unit.sensors.by_name[name].state != "sound"
    ]
    bench.say(found[0] if found else "none")


def _resistance(name: str) -> object:
    def answer(unit: Unit, bench: Bench) -> None:
        at = unit.weather.indoor_c if name in INDOOR else unit.weather.outdoor_c
        if name == "discharge":
            at += 12
        at += bench.rng.uniform(-1, 1)
        bench.meter(at, "temperature")
        # What is under the probe and under the sensor differs a little.
        bench.meter(ohms(unit, name, at + bench.rng.gauss(0, 0.25), bench.rng), "resistance")

    return answer


def run_after(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.compressor_state(unit.weather.cooling) == "runs" and not indicated(unit) else "no")


ANSWERS = {
    "room-sensor-surroundings": surroundings,
    "sensor-shown-values": shown_values,
    "pipe-sensor-place": pipe_place,
    "discharge-sensor-place": discharge_place,
    "sensor-plugs-indoor": plugs_indoor,
    "sensor-plugs-outdoor": plugs_outdoor,
    "indoor-sensors-sweep": sweep_indoor,
    "outdoor-sensors-sweep": sweep_outdoor,
    **{f"{name}-sensor-resistance": _resistance(name) for name in NAMES},
    "sensor-run-after": run_after,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def room_off(unit: Unit) -> float:
    lying = abs(unit.sensors.by_name["room"].error_k) > 3
    return 0.9 if lying or unit.sensors.room_place != "free" else 0.5 if unit.site.load > 1.2 else 0.0


def cycles(unit: Unit) -> float:
    """A wrong pipe, discharge or suction value makes the control stop and start."""
    sensors = unit.sensors.by_name
    wrong = [name for name in ("pipe", "discharge", "suction") if abs(sensors[name].error_k) > 3]
    return 0.7 if wrong or not sensors["pipe"].seated or unit.sensors.room_place != "free" else 0.0


def stops_early(unit: Unit) -> float:
    lying = abs(unit.sensors.by_name["room"].error_k) > 3 or unit.sensors.room_place != "free"
    return 0.4 if lying or unit.air.obstacle else 0.0


def weak(unit: Unit) -> float:
    sensors = unit.sensors.by_name
    wrong = [name for name in NAMES if abs(sensors[name].error_k) > 3]
    return 0.4 if wrong or not sensors["discharge"].seated or not sensors["pipe"].seated else 0.0


def ice(unit: Unit) -> float:
    return 0.3 if not unit.sensors.by_name["pipe"].seated and unit.weather.cooling else 0.0


SYMPTOMS = {
    "sensor-indication": lambda unit: 0.95 if indicated(unit) and unit.rail_5v() > 4.5 else 0.0,
    "room-temperature-off": room_off,
    "sensors:starts-and-stops": cycles,
    "sensors:stops-before-setpoint": stops_early,
    "sensors:weak-output": weak,
    "sensors:ice-indoor": ice,
}
