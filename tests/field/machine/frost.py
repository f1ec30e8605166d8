"""Ice on the outdoor coil in heating, and the defrost that takes it off: by the coil sensor, through the valve."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tests.field.machine.parts import OutdoorUnit
from tests.field.machine.sensors import read_c
from tests.field.machine.units import Machine
from tests.field.machine.weather import Weather

Where = Literal["none", "frost", "block", "bottom", "rows"]


@dataclass(frozen=True)
class Ice:
    """Where the ice sits and the share of the coil's face that it closes."""

    where: Where
    share: float


def coil_error_k(outdoor: OutdoorUnit) -> float:
    """How much too warm the coil sensor reads at freezing; out of its tube it feels the air instead."""
    sensor = outdoor.sensors["coil"]
    read = read_c(sensor, 0.0, bad=False)
    drift = 0.0 if read is None else read
    return drift + (6.0 if sensor.seat == "out" else 0.0)


def turns_round(outdoor: OutdoorUnit) -> bool:
    """Whether the unit can change to cooling for a defrost."""
    return outdoor.reversing.slide == "free" or outdoor.reversing.slide == "cooling"


def defrosts(machine: Machine) -> bool:
    return turns_round(machine.outdoor) and coil_error_k(machine.outdoor) < 4.0


def defrosts_too_often(machine: Machine) -> bool:
    return turns_round(machine.outdoor) and coil_error_k(machine.outdoor) < -5.0


def ice(machine: Machine, weather: Weather) -> Ice:
    """The ice after hours of heating in this weather."""
    body = machine.outdoor.body
    if weather.wanted != "heating" or not weather.frost:
        return Ice("none", 0.0)
    if not defrosts(machine):
        return Ice("block", 0.8)
    heater_dead = (body.base_heater_ohm or 0.0) > 1e5 or machine.outdoor.board.heater_drive == "dead"
    if body.pan_holes == "blocked" or body.drip or (heater_dead and weather.outdoor_c < -1):
        return Ice("bottom", 0.35)
    if machine.refrigerant.charge < 0.72:
        return Ice("rows", 0.3)
    if body.snow or machine.outdoor.coil.dirt > 0.7:
        return Ice("block", 0.6)
    return Ice("frost", 0.12)
