"""What happens as the compressor is to start: which part lets it run, and which stops it and when."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tests.field.machine import power
from tests.field.machine.units import Machine
from tests.field.machine.weather import Weather

Sound = Literal["smooth", "hum", "growl", "silent"]
Draw = Literal["pulse", "smooth", "weak", "zero"]
Stop = Literal["never", "at-once", "minute", "later", "never-starts"]


@dataclass(frozen=True)
class Start:
    """How the start goes. ``reason``: what the control takes it for ("" while it runs)."""

    sound: Sound
    draw: Draw
    stop: Stop
    reason: str = ""
    reverse: bool = False


RUNS = Start("smooth", "smooth", "never")


def never(reason: str) -> Start:
    return Start("silent", "zero", "never-starts", reason)


def motor_start(machine: Machine, bad: bool) -> Start:
    """Inverter and compressor, supply and bus being right."""
    module, compressor = machine.outdoor.module, machine.outdoor.compressor
    phases = compressor.phase_ohm
    if "short" in module.legs:
        return Start("silent", "weak", "at-once", "inverter")
    if module.drivers == "dead" or "open" in module.legs:
        return Start("silent", "weak" if "open" in module.legs else "zero", "at-once", "inverter")
    if compressor.insulation_mohm < 0.003:
        return Start("silent", "weak", "at-once", "inverter")
    if max(phases) > 1e3 or compressor.terminal_ohm > 1e3 or (bad and compressor.terminals == "burnt"):
        return Start("silent", "weak", "at-once", "inverter")
    if min(phases) < 0.75 * max(phases):
        return Start("hum", "pulse", "at-once", "inverter")
    if compressor.rotor == "stuck":
        return Start("hum", "pulse", "at-once", "inverter")
    if compressor.rotor == "tight":
        return Start("growl", "pulse", "minute", "inverter")
    if compressor.leads == "swapped":
        return Start("growl", "smooth", "minute", "inverter", reverse=True)
    if module.seat == "loose":
        return Start("smooth", "smooth", "later", "inverter")
    if compressor.terminals == "burnt":
        return Start("smooth", "smooth", "minute", "inverter")
    return RUNS


def supply_start(machine: Machine, stage_v: float, loaded_v: float, bus_low_v: float) -> Start:
    """What the control makes of its supply and its bus: at rest, and as the load comes on."""
    nominal = machine.plate.nominal_v
    if not 0.85 * nominal < stage_v < 1.12 * nominal:
        return never("supply")
    if machine.supply.waveform == "rough":
        return Start("smooth", "smooth", "minute", "supply")
    if loaded_v < 0.82 * nominal:
        return Start("smooth", "smooth", "minute", "supply")
    if power.idle_bus(machine, stage_v) <= 0:
        return never("supply")
    if machine.outdoor.power.boost == "dead":  # the bus never comes to its set value
        return Start("smooth", "weak", "minute", "supply")
    if not power.holds_up(machine, bus_low_v):
        hard = bus_low_v < 0.5 * power.rated_bus(machine)
        return Start("smooth", "weak", "at-once" if hard else "minute", "supply")
    return RUNS


def slugs(machine: Machine, weather: Weather) -> bool:
    """Whether liquid has gathered in a cold compressor whose heater is dead (only where there is a heater)."""
    heater = machine.outdoor.compressor.crankcase_ohm
    return heater is not None and heater > 1e5 and weather.outdoor_c < 12
