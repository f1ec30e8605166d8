"""What the customer tells when asked, and what the complaint looks like from a chair."""

from __future__ import annotations

from tests.field.machine.controls import asked_mode
from tests.field.machine.units import Machine
from tests.field.world.world import World, action, customer, looks


@customer("history")
def history(world: World) -> str:
    return world.machine.house.history


@customer("in which mode it fails")
def mode(world: World) -> str:
    """The one of the season: nobody tries the other."""
    return world.weather.wanted


@customer("which zones fail")
def zones(world: World) -> str:
    if len(world.machine.zones) == 1:
        return "single"
    failing = _others_failing(world)
    return "one" if failing == 0 else "all" if failing == len(world.machine.zones) - 1 else "several"


def _others_failing(world: World) -> int:
    """How many other zones of the machine fail too; one that asks for another mode and gets it is well."""
    failing = 0
    for zone in range(len(world.machine.zones)):
        if zone != world.machine.at:
            mode = asked_mode(world.machine, world.weather, zone) or world.weather.wanted
            failing += bool(world.signs_of(zone, mode))
    return failing


@customer("does it run again after an hour's rest")
def rest(world: World) -> str:
    stop = world.behaviour().stop
    if stop == "later":
        return "again"
    if stop in ("at-once", "never-starts"):
        return "never"
    return "again" if world.machine.refrigerant.wet else "unknown"


@customer("when does it drop")
def moment(world: World) -> str:
    disturbed = world.machine.house.other_machine and world.machine.zone.cable.route != "apart"
    return "machine" if disturbed or world.machine.house.other_machine else "any time"


@customer("when does it come")
def when(world: World) -> str:
    if any(case.fault.id.startswith("normal-steam") for case in world.site.cases) or world.machine.house.worry:
        return "some minutes"
    if any(case.fault.sometimes for case in world.site.cases) or world.site.signs_bad != world.site.signs_now:
        return "now and then"
    return "extreme" if _size(world.machine) > 1.2 else "always"


def _size(machine: Machine) -> float:
    return machine.zone.room.load


@action("compare with the manual's normal signs")
def normal(world: World) -> str:
    return "yes" if world.machine.house.worry else "no"


@action("watch it for twenty minutes")
def watch(world: World) -> str:
    return "shows" if world.signs() else "not seen"


@action("look at load and hours")
def load_hours(world: World) -> str:
    shown = world.behaviour()
    healthy = world.machine.zone.room.load > 1.2 and shown.output_kw > 0.7 * world.machine.zone.capacity_kw
    return "yes" if healthy else "no"


@action("time its runs at low output")
def short_runs(world: World) -> str:
    """A room that takes less than the lowest output is at its setting within minutes."""
    return "short" if world.machine.zone.room.load < 0.2 else "long"


@looks("whether it cools in the cold")
def cools_in_cold(world: World) -> str:
    return "cold" if world.weather.wanted == "cooling" and world.weather.outdoor_c < 10 else "mild"


@action("see whether the complaint is gone")
def gone(world: World) -> str:
    """By what can be seen and by what the customer would notice in the days after."""
    return "yes" if not world.signs(bad=True) else "no"


@action("show the customer")
def agrees(world: World) -> str | None:
    return gone(world)


@action("ten minutes without an indication")
def clear(world: World) -> str:
    shown = world.behaviour()
    return "yes" if shown.display == "normal" and not shown.shows and shown.stop in ("never",) else "no"


@action("do all indoor units start the outdoor unit")
def communication(world: World) -> str:
    shown = world.behaviour()
    return "yes" if shown.line.state == "works" and shown.indoor_alive else "no"
