"""Air over the two coils: how much passes, how well the coil exchanges, and what ice makes of it.

Airflow falls with dirt as the square root of what the fan's pressure leaves, roughly 1 - 0.8 dirt (rough figures, no
source); a coil's exchange falls with the airflow to the power 0.6 (forced convection, any text on heat transfer).
"""

from __future__ import annotations

from dataclasses import dataclass

from tests.field.machine.indoor_parts import IndoorUnit
from tests.field.machine.parts import FanMotor, OutdoorUnit

SENSIBLE_SHARE = 0.75
AIR_CP = 1.006


@dataclass(frozen=True)
class Air:
    """Share of the rated airflow, and share of the rated exchange (NTU times C stays with the coil)."""

    flow: float
    exchange: float


def fan_share(motor: FanMotor, driven: bool, full: bool = True) -> float:
    """Speed as a share of the top speed that the motor reaches."""
    if not driven or motor.electronics != "works":
        return 0.0
    if motor.drag >= 0.95:
        return 0.0
    speed = 1 - 0.75 * motor.drag
    if motor.kind == "ac":
        if motor.capacitor_share < 0.15:
            return 0.0
        speed *= min(1.0, 0.35 + 0.65 * motor.capacitor_share)
    return speed * (1.0 if full else 0.7)


def indoor_air(zone: IndoorUnit, speed: float) -> Air:
    """Airflow of an indoor unit at a fan speed."""
    clear = (1 - 0.85 * zone.filter_dirt**2) * (1 - 0.75 * zone.wheel_dirt**1.5) * (1 - 0.6 * zone.coil.dirt**2)
    space = 0.6 if zone.room.space == "blocked" else 1.0
    blade = 0.25 if zone.fan.blade == "slips" else 1.0
    flow = max(0.02, speed * clear * space * blade / (1 + zone.duct_static))
    return Air(flow, flow**0.6 * (1 - 0.35 * zone.coil.dirt))


def outdoor_air(outdoor: OutdoorUnit, speed: float, ice: float = 0.0) -> Air:
    """Airflow of the outdoor unit; ``ice`` is the share of the face that is closed."""
    clear = (1 - 0.85 * outdoor.coil.dirt**2) * (1 - 0.9 * ice)
    space = min(1.0, 0.45 + 1.8 * outdoor.coil.behind_m)
    nest = 0.55 if outdoor.body.animal == "nest" else 1.0
    snow = 0.5 if outdoor.body.snow else 1.0
    blade = 0.2 if outdoor.fan.blade == "slips" else 1.0
    flow = max(0.03, speed * clear * space * nest * snow * blade)
    return Air(flow, flow**0.6 * (1 - 0.35 * outdoor.coil.dirt))
