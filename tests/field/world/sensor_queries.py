"""What can be found out of the temperature sensors."""

from __future__ import annotations

from math import inf

from tests.field.machine.parts import Sensor
from tests.field.machine.sensing import beliefs, room_at_sensor
from tests.field.machine.sensors import ohms as sensor_ohms
from tests.field.world.world import Found, World, looks, measures, ohms

_LIE_K = 3.0
_INDOOR, _OUTDOOR = ("room", "pipe"), ("outdoor", "discharge", "suction", "coil")


def sensor(world: World, name: str) -> Sensor:
    unit = world.machine.zone if name in _INDOOR else world.machine.outdoor
    return unit.sensors[name]


@looks("place of the room sensor")
def place(world: World) -> str:
    return world.machine.zone.room.sensor_place


@looks("sensor values on the display against a thermometer")
def liar(world: World) -> str:
    """The first sensor whose shown value is off what a thermometer beside its proper place tells."""
    if not world.machine.plate.shows_sensors or not world.behaviour().outdoor_alive:
        return "cannot"
    shown = world.behaviour()
    point = shown.point if shown.runs else None
    seen = shown.beliefs if shown.runs else beliefs(world.machine, world.weather, None, world.bad)
    air, room = world.weather.outdoor_c, world.weather.indoor_c
    cools = shown.circuit_mode == "cooling"
    true = {
        "room": room,
        "pipe": room if point is None else point.evaporating_c + 1 if cools else point.condensing_c - 2,
        "outdoor": air,
        "discharge": air if point is None else point.discharge_c,
        "suction": air if point is None else point.suction_c,
    }
    read = {
        "room": seen.room_c,
        "pipe": seen.pipe_c,
        "outdoor": seen.outdoor_c,
        "discharge": seen.discharge_c,
        "suction": seen.suction_c,
    }
    for name, value in true.items():
        if name in seen.broken or abs(read[name] - value) > _LIE_K:
            return name
    return "none"


def _seat(world: World, name: str) -> str:
    return sensor(world, name).seat


@looks("pipe sensor in its pocket")
def pipe_seat(world: World) -> str:
    return _seat(world, "pipe")


@looks("discharge sensor on its pipe")
def discharge_seat(world: World) -> str:
    return _seat(world, "discharge")


def _plugs(world: World, names: tuple[str, ...]) -> str:
    return "bad" if any(sensor(world, name).plug.state != "firm" for name in names) else "firm"


@looks("indoor sensor plugs")
def indoor_plugs(world: World) -> str:
    return _plugs(world, _INDOOR)


@looks("outdoor sensor plugs")
def outdoor_plugs(world: World) -> str:
    return _plugs(world, _OUTDOOR)


def at_rest_c(world: World, name: str) -> float:
    """A sensor's own temperature with the unit off."""
    if name == "room":
        return room_at_sensor(world.machine, world.weather)
    return world.weather.indoor_c if name == "pipe" else world.weather.outdoor_c


def _ohms_at_rest(world: World, name: str) -> float:
    return sensor_ohms(sensor(world, name), at_rest_c(world, name))


@measures("resistance", "indoor sensors", "off")
def indoor(world: World, _: frozenset[str]) -> Found:
    return Found(values={name: _ohms_at_rest(world, name) for name in _INDOOR})


@looks("which outdoor sensor is open or shorted")
def outdoor(world: World) -> str:
    for name in _OUTDOOR:
        if not 100 < _ohms_at_rest(world, name) < inf:
            return name
    return "none"


def _register(name: str, needs: str) -> None:
    @measures("temperature", f"{name} sensor")
    def temperature(world: World, _: frozenset[str]) -> Found:
        return Found(at_rest_c(world, name))

    @measures("resistance", f"{name} sensor", needs)
    def resistance(world: World, _: frozenset[str]) -> Found:
        return ohms(_ohms_at_rest(world, name))


for _name in _INDOOR:
    _register(_name, "off")
for _name in _OUTDOOR:
    _register(_name, "off")
