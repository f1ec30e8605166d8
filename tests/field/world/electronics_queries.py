"""What can be found out of the outdoor electronics and the compressor's electrical side."""

from __future__ import annotations

from math import inf

from tests.field.machine import power
from tests.field.machine.starting import slugs
from tests.field.machine.wiring import through
from tests.field.world.world import Found, World, action, looks, measures, ohms, sounds

_COPPER_PER_K = 0.00393  # about 20 degC (IEC 60228)
_BRIDGE_V, _BOOST_V, _SILICON_V, _WIDE_GAP_V = 0.48, 0.36, 0.39, 1.72  # diode test, from memory
_BRIDGE_PLACES = ("one-plus", "two-plus", "minus-one", "minus-two")


def rails(world: World) -> bool:
    """Whether the outdoor board has its own supply."""
    shown = world.behaviour()
    return world.live and shown.breaker != "at-once" and power.outdoor_rails(world.machine, shown.electric.stage_v)


@measures("voltage_dc", "outdoor bus")
def bus(world: World, _: frozenset[str]) -> Found:
    return Found(round(world.bus_v(), 2))


@looks("whether the unit is told to run")
def told_to_run(world: World) -> str:
    """By what a person sees: the remote was pressed and the indoor unit took it."""
    return "told" if world.behaviour().indoor_alive else "not told"


@measures("voltage_dc", "outdoor bus at rest", "live")
def bus_at_rest(world: World, _: frozenset[str]) -> Found:
    if not rails(world) and world.machine.outdoor.power.standby_cut:
        return Found(0.0)
    shown = world.behaviour()
    return Found(power.idle_bus(world.machine, shown.electric.stage_v) if world.live else world.bus_v())


@measures("voltage_dc", "outdoor bus under load", "live")
def bus_loaded(world: World, _: frozenset[str]) -> Found | None:
    shown = world.behaviour()
    if shown.point is None or shown.start.draw == "zero":
        return bus_at_rest(world, frozenset())
    return Found(shown.electric.bus_low_v)


@measures("voltage_dc", "outdoor five volts", "live")
def five_volts(world: World, _: frozenset[str]) -> Found:
    return Found(world.machine.outdoor.board.rail_5_v if rails(world) else 0.0)


@looks("outdoor lamps")
def lamps(world: World) -> str | None:
    if not world.machine.outdoor.board.lamps:
        return None
    return "lit" if rails(world) and world.machine.outdoor.board.processor != "dead" else "dark"


@sounds("soft-start relay")
def relay_click(world: World) -> str:
    part = world.machine.outdoor.power
    shown = world.behaviour()
    called = shown.line.state != "none" or not part.standby_cut
    driven = shown.outdoor_alive and called and power.charges(world.machine)
    coil_works = part.relay == "works" or world.machine.outdoor.body.animal == "insects"
    return "clicks" if driven and coil_works else "silent"


@looks("bus capacitors")
def capacitors(world: World) -> str:
    return world.machine.outdoor.power.capacitor_top


@looks("outdoor board")
def board(world: World) -> str:
    own = world.machine.outdoor.board.look
    return "marks" if own == "clean" and world.machine.outdoor.body.animal == "insects" else own


@looks("outdoor board settings")
def settings(world: World) -> str:
    return "match" if world.machine.outdoor.board.settings == "right" else "differ"


@looks("power module place")
def module_place(world: World) -> str:
    return world.machine.outdoor.module.place


@looks("heat sink")
def heat_sink(world: World) -> str:
    return world.machine.outdoor.module.seat


@measures("resistance", "outdoor fuses", "dead")
def fuse(world: World, _: frozenset[str]) -> Found:
    return ohms(world.machine.outdoor.power.fuse_ohm)


@measures("resistance", "reactor", "dead")
def reactor(world: World, _: frozenset[str]) -> Found:
    return ohms(world.machine.outdoor.power.reactor_ohm)


@measures("resistance", "soft-start relay contacts", "dead")
def soft_start(world: World, _: frozenset[str]) -> Found:
    part = world.machine.outdoor.power
    return ohms(0.05 if part.relay == "welded" else part.soft_start_ohm)


@measures("capacitance", "outdoor bus", "dead")
def capacitance(world: World, _: frozenset[str]) -> Found:
    part = world.machine.outdoor.power
    return Found(part.bus_uf * part.capacitor_share)


@measures("voltage_dc", "bridge diodes", "dead")
def bridge(world: World, _: frozenset[str]) -> Found:
    """Each diode as the meter drives it; in a boosted stage the way to bus plus leads through the boost diode too."""
    part = world.machine.outdoor.power
    drops = {}
    for place, state in zip(_BRIDGE_PLACES, part.bridge, strict=True):
        whole = _BRIDGE_V + (_BOOST_V if part.boost != "none" and place.endswith("plus") else 0.0)
        drops[place] = {"sound": whole, "short": whole - _BRIDGE_V, "open": inf}[state]
    return Found(values=drops)


@measures("voltage_dc", "module diodes", "dead")
def module_diodes(world: World, conditions: frozenset[str]) -> Found:
    """Upper or lower three (condition "upper" or "lower"), motor leads off."""
    module = world.machine.outdoor.module
    sound = _SILICON_V if module.kind == "silicon" else _WIDE_GAP_V
    legs = module.legs[:3] if "upper" in conditions else module.legs[3:]
    drop = {"sound": sound, "short": 0.002, "open": inf}
    return Found(values={name: drop[state] for name, state in zip("uvw", legs, strict=True)})


@action("try the inverter without the motor")
def module_alone(world: World) -> str:
    module = world.machine.outdoor.module
    if not module.may_run_alone:
        return "not allowed"
    broken = "short" in module.legs or module.drivers == "dead"
    return "same" if broken else "other"


# ---- compressor, electrically ----------------------------------------------------------------------------


@looks("compressor terminals")
def compressor_terminals(world: World) -> str:
    return world.machine.outdoor.compressor.terminals


@looks("compressor lead letters")
def leads(world: World) -> str:
    return "agree" if world.machine.outdoor.compressor.leads == "right" else "differ"


def _pairs(world: World, extra_at_u: float) -> dict[str, float]:
    warm = 1 + _COPPER_PER_K * (world.weather.outdoor_c - 20)
    u, v, w = (ohm * warm for ohm in world.machine.outdoor.compressor.phase_ohm)
    u += extra_at_u
    return {"u-v": u + v, "v-w": v + w, "w-u": w + u}


@measures("resistance", "compressor leads", "dead")
def winding_at_leads(world: World, _: frozenset[str]) -> Found:
    return Found(values=_pairs(world, world.machine.outdoor.compressor.terminal_ohm))


@measures("resistance", "compressor pins", "dead")
def winding_at_pins(world: World, _: frozenset[str]) -> Found:
    return Found(values=_pairs(world, 0.0))


@looks("warmth of the compressor's shell")
def shell(world: World) -> str:
    """Warm for hours after it ran; one that hardly starts, or is full of liquid, stays cold."""
    shown = world.behaviour_before_lock()
    ran = shown.runs and shown.stop in ("never", "later")
    return "warm" if ran and not slugs(world.machine, world.weather) else "cold"


@measures("resistance", "compressor to earth", "dead")
def insulation(world: World, _: frozenset[str]) -> Found:
    """In ohm. Cold and full of liquid it reads low though it is sound."""
    own = world.machine.outdoor.compressor.insulation_mohm
    return Found(1e6 * (min(own, 3.0) if slugs(world.machine, world.weather) else own))


@measures("resistance", "disconnect's earth to the case", "dead")
def earth_wire(world: World, _: frozenset[str]) -> Found:
    """No fault of this world breaks it: fifteen meters of 2.5 square millimeters and two terminals."""
    return ohms(0.12)


@measures("resistance", "compressor overload", "dead")
def overload(world: World, _: frozenset[str]) -> Found | None:
    own = world.machine.outdoor.compressor.overload_ohm
    return None if own is None else ohms(own)


# ---- outdoor fan -----------------------------------------------------------------------------------------


@action("turn the outdoor blade by hand")
def outdoor_spin(world: World) -> str:
    drag = world.machine.outdoor.fan.drag
    return "stuck" if drag >= 0.95 else "stiff" if drag > 0.4 else "free"


@action("turn the outdoor blade against its shaft")
def blade_hold(world: World) -> str:
    return "slips" if world.machine.outdoor.fan.blade == "slips" else "tight"


@measures("resistance", "crankcase heater", "dead")
def crankcase(world: World, _: frozenset[str]) -> Found | None:
    own = world.machine.outdoor.compressor.crankcase_ohm
    return None if own is None else ohms(own)


@looks("outdoor fan plug")
def outdoor_plug(world: World) -> str:
    return world.machine.outdoor.fan.plug.state


@measures("resistance", "outdoor fan supply to ground", "dead")
def outdoor_fan_ohms(world: World, _: frozenset[str]) -> Found:
    return ohms(1e3 * world.machine.outdoor.fan.supply_kohm)


@measures("voltage_dc", "outdoor fan supply", "live")
def outdoor_fan_supply(world: World, _: frozenset[str]) -> Found:
    board = world.machine.outdoor.board
    fed = rails(world) and board.fan_supply == "works"
    return Found(world.bus_v() if fed else 0.0)


@measures("voltage_dc", "outdoor fan command", "live")
def outdoor_fan_command(world: World, _: frozenset[str]) -> Found:
    board, shown = world.machine.outdoor.board, world.behaviour()
    asked = shown.outdoor_alive and shown.start.stop != "never-starts" and board.fan_command == "works"
    return Found(world.machine.outdoor.fan.command_v if asked else 0.0)


@looks("outdoor fan pulses on a meter")
def outdoor_pulses(world: World) -> str:
    if not rails(world):
        return "none"
    turning = world.behaviour().outdoor_rpm > 60 and through(world.machine.outdoor.fan.plug, world.bad) < 1e3
    return "jumping" if turning and world.machine.outdoor.fan.pulses else "steady"


@looks("outdoor fan under command")
def outdoor_fan_turns(world: World) -> str:
    turns = world.behaviour().outdoor_rpm > 60 and through(world.machine.outdoor.fan.plug, world.bad) < 1e3
    return "turns" if turns else "still"
