"""Condensate: where it goes when it does not go down the drain, and what the float switch makes of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tests.field.machine.indoor_parts import IndoorUnit

Wet = Literal["nowhere", "front", "low-end", "pipes", "wall"]


@dataclass(frozen=True)
class Water:
    """``pan`` tells whether the pan empties; ``wet`` where water shows; ``float_open`` whether the switch stops all."""

    pan: Literal["empties", "slow", "stays"]
    wet: Wet
    float_open: bool


def pump_lifts(zone: IndoorUnit) -> bool:
    pump = zone.pump
    if pump is None:
        return True
    fed = max(pump.wire_ohm) < 100 and zone.board.pump_drive == "works"
    return pump.motor == "works" and fed and not pump.lift_blocked


def empties(zone: IndoorUnit) -> Literal["empties", "slow", "stays"]:
    """What a jug of water in the pan does."""
    drain = zone.drain
    if drain.plug > 0.75 or drain.frozen or drain.animal or drain.trap == "choked" or not pump_lifts(zone):
        return "stays"
    if drain.run in ("kinked", "drowned") or drain.tilt == "away":
        return "stays" if drain.run == "kinked" else "slow"
    if drain.run == "rises" and zone.pump is None:
        return "slow"
    return "slow" if drain.plug > 0.4 or drain.trap == "empty" else "empties"


def water(zone: IndoorUnit, makes_water: bool, gaps_sweat: bool, iced: bool) -> Water:
    """``makes_water``: the coil is below the dew point; ``iced``: its ice melts; ``gaps_sweat``: bare pipes drip."""
    pan = empties(zone)
    backs_up = makes_water and pan != "empties"
    pump = zone.pump
    float_open = False
    if pump is not None:
        float_open = backs_up or not pump.float_moves or pump.float_contact_ohm > 1e3
    wet: Wet = "nowhere"
    if backs_up and not (pump is not None and pump.float_moves):
        wet = "low-end" if zone.drain.tilt == "away" else "front"
    elif makes_water and zone.drain.pan == "cracked":
        wet = "low-end"
    elif iced:
        wet = "front"
    elif gaps_sweat:
        wet = "pipes"
    elif zone.drain.wall == "inwards":
        wet = "wall"
    return Water(pan, wet, float_open)
