"""What can be found out of the cable between the units and of several zones' wiring."""

from __future__ import annotations

from math import inf

from tests.field.machine import power
from tests.field.machine.controls import asked_mode
from tests.field.machine.wiring import Switching, cable_net, through
from tests.field.world.world import Found, World, action, looks, measures, ohms


@looks("signal cable route")
def route(world: World) -> str:
    return world.machine.zone.cable.route


@looks("cable splice")
def splice(world: World) -> str:
    own = world.machine.zone.cable.splice
    if own is None:
        return "whole"
    return "bad" if own.state != "firm" else "sound"


@looks("terminal colours")
def colours(world: World) -> str:
    crossed = world.machine.cables_to[world.machine.at] != world.machine.at
    if world.rng.random() < 0.1:
        return "unsure"
    return "same" if world.machine.zone.cable.order == (0, 1, 2) and not crossed else "swapped"


@action("tug the conductors between the units")
def tug(world: World) -> str:
    cable = world.machine.zone.cable
    return "moved" if cable.screw.state != "firm" or cable.feed_screw.state != "firm" else "firm"


@action("ring the signal pair out")
def polarity(world: World) -> str:
    cable = world.machine.zone.cable
    if cable.conductor_ohm[2] > 1e3 or (cable.splice is not None and through(cable.splice, world.bad) > 5e3):
        return "neither"
    return "straight" if cable.order[2] == 2 and cable.order[1] == 1 else "reversed"


@looks("signal meter outdoors")
def behaviour_outdoors(world: World) -> str:
    return world.behaviour().line.outdoor if world.live else "none"


@looks("signal meter indoors")
def behaviour_indoors(world: World) -> str:
    return world.behaviour().line.indoor if world.live else "none"


def _level(behaviour: str, low_high: tuple[float, float], live: bool) -> Found:
    if not live or behaviour == "none":
        return Found(0.1)
    return Found(span=low_high) if behaviour == "jumping" else Found(low_high[1])


@measures("voltage_dc", "signal outdoors", "live")
def signal_outdoors(world: World, _: frozenset[str]) -> Found:
    line = world.behaviour().line
    return _level(line.outdoor, line.outdoor_v, world.live)


@measures("voltage_dc", "signal indoors", "live")
def signal_indoors(world: World, _: frozenset[str]) -> Found:
    line = world.behaviour().line
    return _level(line.indoor, line.indoor_v, world.live)


@measures("voltage_dc", "signal source with the cable off", "live")
def source(world: World, _: frozenset[str]) -> Found:
    shown = world.behaviour()
    alive = world.live and power.outdoor_rails(world.machine, shown.electric.stage_v) and shown.outdoor_alive
    board = world.machine.outdoor.board
    level = world.machine.plate.signal_v * (1 - board.signal_weak)
    return Found(level if alive and board.signal == "works" else 0.0)


@measures("resistance", "signal cable loop", "off")
def loop(world: World, _: frozenset[str]) -> Found:
    return ohms(cable_net(world.machine, Switching(bad=world.bad), jumper=True).resistance("out-2", "out-3"))


@measures("resistance", "signal cable insulation", "off")
def insulation(world: World, _: frozenset[str]) -> Found:
    """In ohm: the lowest between the conductors and to earth."""
    cable = world.machine.zone.cable
    return Found(min(cable.insulation_mohm * 1e6, cable.short_23_ohm))


# ---- zones -----------------------------------------------------------------------------------------------


@looks("zone modes")
def zone_modes(world: World) -> str | None:
    machine = world.machine
    if len(machine.zones) == 1:
        return None
    if any(zone.settings.mode == "automatic" for zone in machine.zones):
        return "automatic"
    modes = {asked_mode(machine, world.weather, zone) for zone in range(len(machine.zones))} - {None}
    return "same" if len(modes) == 1 else "opposite"


@action("run all zones in one mode")
def one_mode(world: World) -> str | None:
    if len(world.machine.zones) == 1:
        return None
    shown = world.behaviour(mode=world.weather.wanted)
    works = shown.stop in ("never", "later") and shown.line.state == "works" and shown.output_kw > 0.2 * _share(world)
    return "all work" if works else "one waits"


def _share(world: World) -> float:
    return world.machine.zone.capacity_kw


@action("let only this zone call")
def one_zone(world: World) -> str | None:
    machine = world.machine
    if len(machine.zones) == 1:
        return None
    shown = world.behaviour(mode=world.weather.wanted, only=machine.at)
    if shown.stop not in ("never", "later") or shown.line.state == "none":
        return "none"
    if machine.at not in shown.served:
        return "other"
    return "own" if shown.output_kw > 0.12 * machine.zone.capacity_kw else "none"


@looks("zone pipe marks")
def pipe_marks(world: World) -> str | None:
    if len(world.machine.zones) == 1:
        return None
    straight = tuple(range(len(world.machine.zones)))
    return "right" if world.machine.pipes_to == straight else "wrong"


@action("ring the zone cables out")
def zone_cable(world: World) -> str | None:
    machine = world.machine
    if len(machine.zones) == 1:
        return None
    if machine.zone.cable.conductor_ohm[2] == inf:
        return "nowhere"
    return "own" if machine.cables_to.index(machine.at) == machine.at else "other"
