"""What the boards believe of temperatures, and what wrong beliefs do."""

from __future__ import annotations

from dataclasses import dataclass

from tests.field.machine.cycle import Point
from tests.field.machine.sensors import read_c
from tests.field.machine.units import Machine
from tests.field.machine.weather import Weather


@dataclass(frozen=True)
class Beliefs:
    """Board temperatures in degC. ``broken``: names of sensors that read open or shorted."""

    broken: tuple[str, ...]
    room_c: float
    pipe_c: float
    outdoor_c: float
    coil_c: float
    suction_c: float
    discharge_c: float
    #: the same where the sensors sit and are sound
    suction_error_k: float
    room_error_k: float


def room_at_sensor(machine: Machine, weather: Weather) -> float:
    """The air that the room sensor feels."""
    shift = {"free": 0.0, "sun": 5.0, "draught": -4.0, "covered": -3.0 if weather.wanted == "cooling" else 4.0}
    return weather.indoor_c + shift[machine.zone.room.sensor_place]


def true_c(machine: Machine, weather: Weather, name: str, point: Point | None) -> float:
    """The temperature at a sensor's element, wherever it sits."""
    heats = weather.wanted == "heating"
    at_rest = {
        "room": room_at_sensor(machine, weather),
        "pipe": weather.indoor_c,
        "outdoor": weather.outdoor_c,
        "coil": weather.outdoor_c,
        "suction": weather.outdoor_c,
        "discharge": weather.outdoor_c,
    }
    if point is None or name in ("room", "outdoor"):
        return at_rest[name]
    runs = {
        "pipe": point.condensing_c - 2 if heats else point.evaporating_c + 1,
        "coil": point.evaporating_c + 0.5 if heats else point.condensing_c - 3,
        "suction": point.suction_c,
        "discharge": point.discharge_c,
    }[name]
    sensor = (machine.zone if name in machine.zone.sensors else machine.outdoor).sensors[name]
    if sensor.seat == "seated":
        return runs
    return at_rest[name] + 0.15 * (runs - at_rest[name])


def beliefs(machine: Machine, weather: Weather, point: Point | None, bad: bool) -> Beliefs:
    """All sensors as the boards read them; a broken one is replaced by what it should read."""
    read: dict[str, float] = {}
    broken = []
    for unit in (machine.zone, machine.outdoor):
        for name, sensor in unit.sensors.items():
            true = true_c(machine, weather, name, point)
            value = read_c(sensor, true, bad)
            if value is None:
                broken.append(name)
            read[name] = true if value is None else value
    suction = point.suction_c if point else weather.outdoor_c
    return Beliefs(
        broken=tuple(broken),
        room_c=read["room"],
        pipe_c=read["pipe"],
        outdoor_c=read["outdoor"],
        coil_c=read["coil"],
        suction_c=read["suction"],
        discharge_c=read["discharge"],
        suction_error_k=read["suction"] - suction,
        room_error_k=read["room"] - weather.indoor_c,
    )
