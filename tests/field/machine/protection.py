"""What guards the compressor: pressure switches, transducer, discharge and pipe temperatures, the fan's pulses.

A limit that is met first slows the compressor; only what that does not help stops it.
"""

from __future__ import annotations

from typing import Literal

from tests.field.machine.air import Air
from tests.field.machine.cycle import Point
from tests.field.machine.duty import Ask, run_point
from tests.field.machine.refrigerant import ATMOSPHERE_KPA, ZERO_C_K, fluid
from tests.field.machine.sensing import Beliefs, beliefs
from tests.field.machine.starting import RUNS, Start
from tests.field.machine.units import Machine
from tests.field.machine.weather import Weather

_HOT_DISCHARGE_C = 112.0
_HOTTEST_CONDENSING_C = 63.0
_LOWEST_LOW_KPA = 90.0  # gauge


def switch_ohm(machine: Machine, weather: Weather, side: Literal["high", "low"]) -> float:
    """A pressure switch with its wires at rest, as the board sees it."""
    switch = machine.outdoor.high_switch if side == "high" else machine.outdoor.low_switch
    if switch is None:
        return 0.0
    rest = standing_kpa(machine, weather)
    open_by_pressure = rest > switch.opens_kpa if side == "high" else rest < switch.opens_kpa
    contact = float("inf") if switch.contact == "open" or open_by_pressure else 0.1
    return contact + sum(switch.wire_ohm)


def standing_kpa(machine: Machine, weather: Weather) -> float:
    """Gauge pressure at rest: saturation at the cooler coil while liquid is left, then falling with the charge."""
    gas = machine.refrigerant
    cooler = min(weather.outdoor_c, weather.indoor_c)
    left = min(1.0, gas.charge / 0.12)
    air = gas.air_kpa * (cooler + ZERO_C_K) / (20 + ZERO_C_K)
    return fluid(gas.fluid).pressure(cooler) * left + air - ATMOSPHERE_KPA * min(1.0, left + 0.2)


def protected(
    machine: Machine, weather: Weather, ask: Ask, air_in: Air, air_out: Air, outdoor_rpm: float, seen: Beliefs
) -> tuple[Point, Start]:
    """The steady state, slowed where a limit asks for it, and what stops it if that does not help."""
    point = run_point(machine, weather, ask, air_in, air_out)
    reason = _limit(machine, point, seen, weather)
    hard = reason == "high-pressure" and point.high_kpa - ATMOSPHERE_KPA > 1.15 * machine.outdoor.high_switch.opens_kpa
    if reason:
        slow = Ask(ask.mode, ask.speed * 0.55, ask.ports, ask.bypass, ask.reverse, ask.superheat_bias_k)
        slowed = run_point(machine, weather, slow, air_in, air_out)
        reason = _limit(machine, slowed, seen, weather)
        point = point if reason else slowed
    motor = machine.outdoor.fan
    if outdoor_rpm < 60 or not motor.pulses:
        return point, Start("smooth", "smooth", "minute", "outdoor-fan")
    if not reason:
        return point, RUNS
    return point, Start("smooth", "smooth", "minute" if hard else "later", reason)


def _limit(machine: Machine, point: Point, seen: Beliefs, weather: Weather) -> str:
    """The protection that this state meets, as the control sees it; "" when none."""
    read_high = point.high_kpa - ATMOSPHERE_KPA + machine.outdoor.transducer_offset_kpa
    hottest = fluid(machine.plate.fluid).pressure(_HOTTEST_CONDENSING_C) - ATMOSPHERE_KPA
    if read_high > min(hottest, machine.outdoor.high_switch.opens_kpa):
        return "high-pressure"
    discharge = machine.outdoor.sensors["discharge"]
    read = beliefs(machine, weather, point, bad=False)
    if read.discharge_c > _HOT_DISCHARGE_C or (point.discharge_c > 130 and discharge.seat == "out"):
        return "hot-discharge"
    has_low = machine.outdoor.low_switch is not None
    if has_low and point.low_kpa - ATMOSPHERE_KPA < _LOWEST_LOW_KPA:
        return "low-pressure"
    if read.pipe_c > 62 and weather.wanted == "heating":
        return "high-pressure"
    if read.pipe_c < -3 and weather.wanted == "cooling":
        return "freeze"
    return ""
