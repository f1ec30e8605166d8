"""What can be found out of the condensate's way, and what smells."""

from __future__ import annotations

from math import inf

from tests.field.machine.water import empties, pump_lifts
from tests.field.world.world import Found, World, action, looks, measures, ohms, smells


@looks("where water starts")
def start(world: World) -> str:
    return world.behaviour().water.wet


@looks("end of the drain hose")
def hose_end(world: World) -> str:
    shown = world.behaviour(mode="cooling")
    makes = shown.circuit_mode == "cooling" and shown.point is not None and shown.point.evaporating_c < 14
    if not makes:
        return "dry"
    return {"empties": "freely", "slow": "slowly", "stays": "dry"}[shown.water.pan]


@looks("run of the drain hose")
def hose_run(world: World) -> str:
    return world.machine.zone.drain.run


@looks("wall opening")
def wall(world: World) -> str:
    return world.machine.zone.drain.wall


@action("hold a tissue at the wall opening")
def draught(world: World) -> str:
    return "moves" if world.machine.zone.drain.wall == "gap" else "still"


@looks("level of the indoor unit")
def tilt(world: World) -> str:
    return world.machine.zone.drain.tilt


@looks("drain pan")
def pan(world: World) -> str:
    return world.machine.zone.drain.pan


@looks("drain trap")
def trap(world: World) -> str | None:
    own = world.machine.zone.drain.trap
    return None if own == "none" else own


@action("lift the float and let go")
def float_moves(world: World) -> str | None:
    pump = world.machine.zone.pump
    return None if pump is None else "freely" if pump.float_moves else "sticks"


@action("pour water into a pan that drains by itself")
def pour_by_gravity(world: World) -> str:
    return "pump" if world.machine.zone.pump is not None else empties(world.machine.zone)


@action("pour water into a pan that is pumped")
def pour_to_pump(world: World) -> str:
    return empties(world.machine.zone) if world.machine.zone.pump is not None else "no pump"


@looks("condensate pump")
def pump_there(world: World) -> str | None:
    return None if world.machine.zone.pump is None else "there"


@action("draw on the drain hose")
def suck(world: World) -> str:
    drain = world.machine.zone.drain
    return "plug" if drain.plug > 0.4 or drain.animal or drain.frozen or drain.trap == "choked" else "free"


@action("let the pump lift water")
def pump(world: World) -> str | None:
    own = world.machine.zone.pump
    if own is None:
        return None
    if pump_lifts(world.machine.zone):
        return "lifts"
    fed = max(own.wire_ohm) < 100 and world.machine.zone.board.pump_drive == "works"
    if own.motor == "dead" or not fed:
        return "silent"
    return "hums"


@action("measure at the pump while it should lift")
def pump_supply(world: World) -> str | None:
    own = world.machine.zone.pump
    if own is None:
        return None
    if max(own.wire_ohm) >= 100 or world.machine.zone.board.pump_drive == "dead":
        return "no voltage"
    return "lifts" if pump_lifts(world.machine.zone) else "voltage, no lift"


@action("let the pump lift without its hose")
def free_lift(world: World) -> str | None:
    own = world.machine.zone.pump
    if own is None:
        return None
    return "freely" if own.motor == "works" and max(own.wire_ohm) < 100 else "still not"


@measures("resistance", "pump lead", "off")
def pump_lead(world: World, _: frozenset[str]) -> Found | None:
    own = world.machine.zone.pump
    return Found(values={"wire-1": own.wire_ohm[0], "wire-2": own.wire_ohm[1]}) if own else None


@measures("resistance", "float switch held down", "off")
def float_contact(world: World, _: frozenset[str]) -> Found | None:
    """Held down by hand the contact should be closed; only the contact itself can be open then."""
    own = world.machine.zone.pump
    if own is None:
        return None
    return ohms(own.float_contact_ohm if own.float_contact_ohm < 1e8 else inf)


@smells("indoor unit")
def smell(world: World) -> str:
    zone = world.machine.zone
    if zone.board.look == "heat" and world.live:
        return "burnt"
    if zone.drain.slime:
        return "musty"
    return "drains" if zone.drain.trap == "empty" else "nothing"


@looks("pan and coil")
def slime(world: World) -> str:
    return "slime" if world.machine.zone.drain.slime or world.machine.zone.drain.plug > 0.5 else "clean"
