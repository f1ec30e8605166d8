"""How the indoor unit behaves by itself: rails, display, remote, fan."""

from __future__ import annotations

from typing import Literal

from tests.field.machine.air import fan_share, indoor_air
from tests.field.machine.sensors import read_c
from tests.field.machine.units import Machine
from tests.field.machine.weather import Weather
from tests.field.machine.wiring import Switching, through

Fan = Literal["strong", "weak", "stops", "still"]
Display = Literal["normal", "dark", "frozen", "nonsense"]


def pulled_down(machine: Machine) -> bool:
    """A crooked network adapter shorts pins and pulls the five volts down."""
    return machine.zone.panel.adapter == "crooked"


def rail_5_v(machine: Machine, alive: bool) -> float:
    """The indoor five-volt rail; a fan motor with shorted electronics drags the supply down."""
    board = machine.zone.board
    if not alive:
        return 0.0
    if machine.zone.fan.kind == "dc" and machine.zone.fan.electronics == "short" and machine.zone.fan.plug.ohm < 1e3:
        return 1.4
    return board.rail_5_v * (0.55 if pulled_down(machine) else 1.0)


def display_of(machine: Machine, now: Switching, rails: bool) -> Display:
    panel, board = machine.zone.panel, machine.zone.board
    plug = through(panel.display_plug, now.bad)
    if not rails or panel.display == "dead" or plug > 1e3 or board.display_v < 1 or board.processor == "dead":
        return "dark"
    if board.processor == "nonsense" or board.display_v < 4.3 or plug > 20 or rail_5_v(machine, rails) < 2:
        return "nonsense"
    return "frozen" if board.processor == "locked" or pulled_down(machine) else "normal"


def obeys(machine: Machine, indoor_alive: bool) -> bool:
    panel = machine.zone.panel
    return indoor_alive and panel.receiver == "works" and panel.remote == "works" and not panel.wired_schedule


def indoor_fan(machine: Machine, weather: Weather, now: Switching, alive: bool) -> tuple[Fan, float]:
    """How the indoor fan goes when it is called at full speed, and its speed."""
    zone = machine.zone
    motor, board = zone.fan, zone.board
    plug = through(motor.plug, now.bad)
    driven = alive and plug < 1e3 and board.fan_supply == "works" and board.fan_command == "works"
    if motor.kind == "dc":
        driven = driven and board.rail_15_v > 12
    share = fan_share(motor, driven)
    if share <= 0:
        return "still", 0.0
    rpm = share * motor.top_rpm
    if not motor.pulses and motor.kind == "dc":
        return "stops", rpm
    flow = indoor_air(zone, share).flow
    pipe = zone.sensors["pipe"]
    warm = read_c(pipe, 40.0, now.bad)
    if weather.wanted == "heating" and (pipe.seat == "out" or (warm is not None and warm < 28)):
        return "weak", 0.35 * rpm  # the cold-air guard keeps it slow while the "coil" reads cold
    return ("strong" if flow > 0.68 else "weak"), rpm
