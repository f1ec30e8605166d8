"""What can be found out of the expansion valve and the reversing valve."""

from __future__ import annotations

from tests.field.machine.controls import behave, calling
from tests.field.machine.duty import valve_range
from tests.field.machine.weather import Mode
from tests.field.machine.wiring import Switching
from tests.field.world.circuit_queries import mode_of, running
from tests.field.world.world import Found, World, action, looks, measures, ohms, sounds

_MODES: tuple[Mode, ...] = ("cooling", "heating")


@sounds("expansion valve at power-up")
def valve_sound(world: World) -> str | None:
    valve = world.machine.valve
    if valve.fixed:
        return None
    if not world.behaviour().outdoor_alive or valve.plug.ohm > 1e3 or world.machine.outdoor.board.valve_drive == "dead":
        return "silent"
    if any(ohm > 1e5 for ohm in valve.phase_ohm) or valve.stuck_at is not None or valve.sticky:
        return "buzzes"
    return "ticks"


@looks("pipes of zones that are off")
def idle_pipes(world: World) -> str | None:
    valves = world.machine.outdoor.valves
    if len(valves) == 1:
        return None
    opened = [port for port, valve in enumerate(valves) if (valve.stuck_at or 0.0) > 0.5 and port != world.machine.at]
    runs = running(world, "cooling") is not None
    return "cold" if opened and runs else "warm"


@looks("expansion valve coil")
def valve_coil(world: World) -> str | None:
    return None if world.machine.valve.fixed else world.machine.valve.coil


@action("press the valve coil down and restart")
def press_coil(world: World) -> str | None:
    """Tried on a copy: the coil is held down by hand for the test only."""
    if world.machine.valve.fixed:
        return None
    held = world.machine.copy()
    held.valve.coil = "locked"
    weather = world.told("cooling")
    call = calling(held, weather)
    shown = behave(held, weather, call, Switching(bad=world.bad))
    cold = shown.point is not None and shown.runs and -1 < shown.point.evaporating_c < 16
    return "cold" if cold else "not cold"


@looks("expansion valve plug")
def valve_plug(world: World) -> str | None:
    if world.machine.valve.fixed:
        return None
    return "good" if world.machine.valve.plug.state == "firm" else "bad"


@measures("resistance", "expansion valve coil", "dead")
def valve_ohms(world: World, _: frozenset[str]) -> Found | None:
    if world.machine.valve.fixed:
        return None
    phases = world.machine.valve.phase_ohm
    return Found(values={f"phase-{at + 1}": ohm for at, ohm in enumerate(phases)})


@action("turn the needle with a magnet")
def magnet(world: World) -> str | None:
    valve = world.machine.valve
    if valve.fixed:
        return None
    _, most = valve_range(valve, driven=True)
    if valve.stuck_at is None:
        return "follows"
    return "stays high" if most > 0.8 else "stays low"


# ---- reversing valve -----------------------------------------------------------------------------------


@action("try both modes")
def both_modes(world: World) -> str:
    works: list[str] = []
    for mode in _MODES:
        shown = world.behaviour(mode=mode)
        point = running(world, mode)
        moves = point is not None and abs(shown.output_kw) > 0.15 * world.machine.zone.capacity_kw
        if moves and shown.circuit_mode == mode:
            works.append(mode)
    if len(works) == 2:
        return "both"
    if works:
        return works[0]
    cold = running(world, "cooling")
    return "neither" if cold is None or world.machine.outdoor.reversing.slide == "half" else _stuck_in(world)


def _stuck_in(world: World) -> str:
    return world.behaviour(mode="cooling").circuit_mode


@sounds("reversing valve shifting")
def thump(world: World) -> str:
    valve, drive = world.machine.outdoor.reversing, world.machine.outdoor.board.reversing_drive
    shifts = valve.slide == "free" and drive == "works" and valve.coil_ohm + valve.wire_ohm < 2e4
    return "thump" if shifts and world.behaviour(mode="heating").start.stop != "never-starts" else "silent"


@action("measure the reversing coil's voltage as it should shift")
def coil_volts(world: World) -> str | None:
    valve, drive = world.machine.outdoor.reversing, world.machine.outdoor.board.reversing_drive
    if not world.behaviour().outdoor_alive:
        return None
    if drive == "dead" or valve.wire_ohm > 1e5:
        return "no voltage"
    return "shifts" if valve.slide == "free" and valve.coil_ohm < 2e4 else "no shift"


@action("hold steel to the reversing coil")
def coil_pull(world: World) -> str:
    valve, drive = world.machine.outdoor.reversing, world.machine.outdoor.board.reversing_drive
    fed = drive == "works" and valve.coil_ohm + valve.wire_ohm < 2e4
    return "pulls" if fed and world.behaviour(mode="heating").outdoor_alive else "no pull"


@looks("reversing coil's warmth after heating")
def coil_warmth(world: World) -> str:
    valve, drive = world.machine.outdoor.reversing, world.machine.outdoor.board.reversing_drive
    fed = drive == "works" and valve.coil_ohm + valve.wire_ohm < 2e4
    return "warm" if fed and world.weather.wanted == "heating" else "cold"


@measures("resistance", "reversing coil", "dead")
def coil_ohms(world: World, _: frozenset[str]) -> Found:
    return ohms(world.machine.outdoor.reversing.coil_ohm)


def _mode(world: World, conditions: frozenset[str]) -> Mode | None:
    """ "other mode" is the one that is not wanted in this weather."""
    if "other mode" in conditions:
        return "heating" if world.weather.wanted == "cooling" else "cooling"
    return mode_of(conditions)


@measures("temperature", "cold pipe entering the reversing valve", "live")
def entering(world: World, conditions: frozenset[str]) -> Found:
    point = running(world, _mode(world, conditions))
    return Found(point.entering_c if point else world.weather.outdoor_c)


@measures("temperature", "suction pipe leaving the reversing valve", "live")
def leaving(world: World, conditions: frozenset[str]) -> Found:
    point = running(world, _mode(world, conditions))
    return Found(point.suction_c + 0.5 if point else world.weather.outdoor_c)
