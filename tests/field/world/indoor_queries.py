"""What can be found out at the indoor unit: display, remote, board, fan, air."""

from __future__ import annotations

from math import inf

from tests.field.machine.air import indoor_air
from tests.field.machine.indoor_side import rail_5_v
from tests.field.machine.power import indoor_rails
from tests.field.machine.wiring import through
from tests.field.world.world import Found, World, action, looks, measures, ohms


def powered(world: World) -> bool:
    """Whether the indoor board makes its own rails."""
    shown = world.behaviour()
    return world.live and shown.breaker != "at-once" and indoor_rails(world.machine, shown.electric.indoor_v)


@looks("display")
def display(world: World) -> str:
    return world.behaviour().display


@looks("what the display tells")
def told(world: World) -> str:
    return world.behaviour().shows


@looks("remote's flash in a camera")
def remote_flash(world: World) -> str:
    return "no flash" if world.machine.zone.panel.remote == "battery" else "flashes"


@action("press the remote")
def press_remote(world: World) -> str:
    return "answers" if world.behaviour().obeys else "nothing"


@action("press the button on the unit")
def press_button(world: World) -> str:
    return "starts" if world.behaviour().indoor_alive else "nothing"


@action("take power away for some minutes")
def power_rest(world: World) -> str:
    """Clears a processor that hangs; nothing else."""
    before = world.signs()
    world.repair("power-rest")
    world.done.pop()
    return "gone" if before and not world.signs() else "same"


@looks("display plug")
def display_plug(world: World) -> str:
    return "home" if world.machine.zone.panel.display_plug.state == "firm" else "loose"


@looks("network adapter")
def adapter(world: World) -> str:
    return world.machine.zone.panel.adapter


@looks("indoor board")
def board(world: World) -> str:
    return world.machine.zone.board.look


@measures("resistance", "indoor fuse", "off")
def fuse(world: World, _: frozenset[str]) -> Found:
    return ohms(world.machine.zone.board.fuse_ohm)


@measures("voltage_ac", "indoor supply terminals", "live")
def supply(world: World, _: frozenset[str]) -> Found:
    shown = world.behaviour()
    dead = not world.live or shown.breaker == "at-once"
    return Found(0.0 if dead else shown.electric.between("indoor-1", "indoor-2"))


@measures("voltage_dc", "indoor five volts", "live")
def five_volts(world: World, conditions: frozenset[str]) -> Found:
    board = world.machine.zone.board
    if "fan unplugged" in conditions:
        return Found(board.rail_5_v * (0.55 if world.machine.zone.panel.adapter == "crooked" else 1.0) * powered(world))
    return Found(rail_5_v(world.machine, powered(world)))


@measures("voltage_dc", "display plug", "live")
def display_volts(world: World, _: frozenset[str]) -> Found:
    panel = world.machine.zone.panel
    plug = through(panel.display_plug, world.bad)
    rail = min(world.machine.zone.board.display_v, rail_5_v(world.machine, powered(world)))
    return Found(rail * 300 / (300 + plug) if plug < 1e6 else 0.0)


# ---- fan -------------------------------------------------------------------------------------------------


@looks("indoor fan")
def fan(world: World) -> str:
    return world.behaviour().indoor_fan


@measures("speed", "indoor wheel", "live")
def fan_speed(world: World, _: frozenset[str]) -> Found:
    slips = world.machine.zone.fan.blade == "slips"
    return Found(world.behaviour().indoor_rpm * (0.25 if slips else 1.0))


@action("hold paper at the indoor coil")
def paper(world: World) -> str:
    zone = world.machine.zone
    shown = world.behaviour()
    flow = indoor_air(zone, max(shown.indoor_rpm / zone.fan.top_rpm, 0.01)).flow
    if flow > 0.66:
        return "holds"
    return "patchy" if zone.coil.dirt > 0.6 and flow > 0.3 else "falls"


@looks("filter")
def filter_(world: World) -> str:
    dirt = world.machine.zone.filter_dirt
    return "blocked" if dirt > 0.75 else "dusty" if dirt > 0.25 else "clear"


@looks("indoor coil fins")
def fins(world: World) -> str:
    dirt = world.machine.zone.coil.dirt
    return "matted" if dirt > 0.7 else "light dust" if dirt > 0.15 else "bright"


@looks("blower wheel")
def wheel(world: World) -> str:
    return "caked" if world.machine.zone.wheel_dirt > 0.6 else "clean"


@action("turn the indoor wheel by hand")
def wheel_turn(world: World) -> str:
    drag = world.machine.zone.fan.drag
    return "sticks" if drag >= 0.95 else "scrapes" if drag > 0.4 else "free"


@action("turn the indoor wheel against its shaft")
def wheel_hold(world: World) -> str:
    return "slips" if world.machine.zone.fan.blade == "slips" else "tight"


@looks("kind of the indoor fan")
def fan_kind(world: World) -> str:
    return world.machine.zone.fan.kind


@looks("run capacitor against its print")
def run_capacitor(world: World) -> str | None:
    fan = world.machine.zone.fan
    return None if fan.kind == "dc" else "enough" if fan.capacitor_share >= 0.9 else "less"


@measures("resistance", "indoor fan winding", "off")
def fan_winding(world: World, _: frozenset[str]) -> Found | None:
    fan = world.machine.zone.fan
    return None if fan.kind == "dc" else ohms(inf if fan.electronics == "open" else fan.winding_ohm)


@measures("voltage_ac", "indoor fan plug", "live")
def fan_volts_ac(world: World, _: frozenset[str]) -> Found | None:
    """The board switches the mains to an AC motor."""
    if _dc(world):
        return None
    board, shown = world.machine.zone.board, world.behaviour()
    fed = shown.indoor_alive and board.fan_supply == "works" and board.fan_command == "works"
    return Found(shown.electric.indoor_v if fed else 0.0)


@measures("voltage_dc", "indoor fan fifteen volts", "live")
def fan_fifteen(world: World, _: frozenset[str]) -> Found | None:
    if not _dc(world):
        return None
    drags = world.machine.zone.fan.electronics == "short" and world.machine.zone.fan.plug.ohm < 1e3
    return Found((2.0 if drags else world.machine.zone.board.rail_15_v) * powered(world))


@looks("vane on swing")
def vane(world: World) -> str:
    return "swings" if world.behaviour().indoor_alive and world.machine.zone.panel.vane != "stuck" else "still"


@action("set the remote anew")
def reset_remote(world: World) -> str | None:
    """Tried on the spot: whether the unit answers with the remote unlocked and its own (it is not left so)."""
    panel = world.machine.zone.panel
    kept, panel.remote = panel.remote, "battery" if panel.remote == "battery" else "works"
    world.changed()
    answer = press_remote(world)
    panel.remote = kept
    world.changed()
    return answer


@looks("receiver's output as a key is pressed")
def receiver(world: World) -> str:
    panel = world.machine.zone.panel
    hears = powered(world) and panel.receiver == "works" and panel.remote != "battery"
    return "jumps" if hears and through(panel.display_plug, world.bad) < 1e3 else "still"


@looks("indoor fan plug")
def fan_plug(world: World) -> str:
    return world.machine.zone.fan.plug.state


def _dc(world: World) -> bool:
    return world.machine.zone.fan.kind == "dc"


@measures("resistance", "indoor fan supply to ground", "off")
def fan_ohms(world: World, _: frozenset[str]) -> Found | None:
    return ohms(1e3 * world.machine.zone.fan.supply_kohm) if _dc(world) else None


@measures("voltage_dc", "indoor fan supply", "live")
def fan_supply(world: World, _: frozenset[str]) -> Found | None:
    if not _dc(world):
        return None
    shown = world.behaviour()
    fed = powered(world) and world.machine.zone.board.fan_supply == "works"
    return Found(1.414 * shown.electric.indoor_v if fed else 0.0)


@measures("voltage_dc", "indoor fan command", "live")
def fan_command(world: World, _: frozenset[str]) -> Found | None:
    if not _dc(world):
        return None
    shown, board = world.behaviour(), world.machine.zone.board
    works = shown.indoor_alive and board.fan_command == "works"
    return Found(world.machine.zone.fan.command_v if works else 0.0)


@looks("indoor fan under command")
def fan_turns(world: World) -> str:
    return "turns" if world.behaviour().indoor_fan in ("strong", "weak", "stops") else "still"


@looks("indoor fan pulses on a meter")
def pulses(world: World) -> str | None:
    if not _dc(world):
        return None
    zone = world.machine.zone
    if not powered(world):
        return "none"
    turning = world.behaviour().indoor_fan in ("strong", "weak", "stops")
    return "jumping" if turning and zone.fan.pulses else "steady"


@measures("voltage_dc", "indoor fan pulses", "live")
def pulse_volts(world: World, _: frozenset[str]) -> Found | None:
    shown = pulses(world)
    if shown is None:
        return None
    high = min(world.machine.zone.board.rail_5_v, 5.0)
    return Found(span=(0.4, high)) if shown == "jumping" else Found(high if shown == "steady" else 0.0)


# ---- air -------------------------------------------------------------------------------------------------


@looks("space before the indoor unit")
def space(world: World) -> str:
    return world.machine.zone.room.space


@measures("temperature", "indoor intake")
def intake(world: World, _: frozenset[str]) -> Found:
    """Where the air is thrown back the unit takes in part of its own."""
    room = world.weather.indoor_c
    if world.machine.zone.room.space == "blocked" and world.live:
        return Found(room + 0.35 * (world.behaviour().supply_air_c - room))
    return Found(room)


@measures("temperature", "room")
def room(world: World, _: frozenset[str]) -> Found:
    return Found(world.weather.indoor_c)


@measures("temperature", "supply air", "live")
def supply_air(world: World, conditions: frozenset[str]) -> Found:
    """Out of the indoor unit, told to full "cooling" or "heating" and settled."""
    mode = "cooling" if "cooling" in conditions else "heating" if "heating" in conditions else None
    return Found(world.behaviour(mode=mode).supply_air_c)  # type: ignore[arg-type]


# ---- settings, smell -------------------------------------------------------------------------------------


@looks("settings")
def settings(world: World) -> str:
    own = world.machine.zone.settings
    wrong = own.timer or own.quiet or own.mode != world.weather.wanted or world.machine.zone.panel.wired_schedule
    return "else" if wrong else "full"


@action("set it to full cooling or heating")
def set_full(world: World) -> str:
    """Tried on the spot: whether the complaint is gone with the settings right (they are not left so)."""
    machine = world.machine
    kept = machine.zone.settings, machine.zone.panel.wired_schedule
    machine.zone.settings, machine.zone.panel.wired_schedule = world.sound.zone.settings, False
    world.changed()
    gone = not world.signs()
    machine.zone.settings, machine.zone.panel.wired_schedule = kept
    world.changed()
    return "yes" if gone else "no"
