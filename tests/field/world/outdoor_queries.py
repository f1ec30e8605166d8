"""What can be found out at the outdoor unit by looking, listening and thermometers; and of the pipes between."""

from __future__ import annotations

from tests.field.world.world import Found, World, action, looks, measures, sounds


@looks("outdoor coil")
def coil(world: World) -> str:
    dirt = world.machine.outdoor.coil.dirt
    return "matted" if dirt > 0.7 else "dusty" if dirt > 0.2 else "clear"


@measures("length", "free behind the outdoor coil")
def behind(world: World, _: frozenset[str]) -> Found:
    return Found(world.machine.outdoor.coil.behind_m)


@measures("temperature", "behind the outdoor coil")
def intake(world: World, _: frozenset[str]) -> Found:
    """Its own air comes round when it has no space: warmer in cooling, colder in heating."""
    coil, air = world.machine.outdoor.coil, world.weather.outdoor_c
    shown = world.behaviour()
    if not (world.live and shown.runs):
        return Found(air)
    warmer = 9 * coil.recirculation + (4 if coil.behind_m < 0.12 else 0)
    return Found(air + (warmer if shown.circuit_mode == "cooling" else -0.5 * warmer))


@measures("temperature", "outdoor air in the shade")
def weather(world: World, _: frozenset[str]) -> Found:
    return Found(world.weather.outdoor_c)


@looks("outdoor unit")
def motion(world: World) -> str:
    shown = world.behaviour()
    if not world.live or shown.start.stop == "never-starts" or shown.point is None:
        return "neither"
    turns = shown.outdoor_rpm > 60
    if shown.start.draw in ("pulse", "weak", "zero") and shown.stop in ("at-once", "minute"):
        return "fan" if turns and shown.start.draw == "zero" else "stops soon"
    if shown.stop in ("at-once", "minute"):
        return "stops soon" if turns else "compressor"
    return "both" if turns else "compressor"


@sounds("when it stops")
def stop(world: World) -> str:
    return world.behaviour().stop if world.live else "never-starts"


@sounds("compressor")
def compressor(world: World) -> str:
    shown = world.behaviour()
    return shown.start.sound if world.live and shown.point is not None else "silent"


@action("clamp the compressor lead as it starts")
def start_current(world: World) -> str:
    shown = world.behaviour()
    return shown.start.draw if world.live and shown.point is not None else "zero"


# ---- frost -----------------------------------------------------------------------------------------------


@looks("snow or drips")
def snow(world: World) -> str:
    body = world.machine.outdoor.body
    return "snow" if body.snow else "drip" if body.drip else "neither"


@looks("ice on the outdoor unit")
def ice(world: World) -> str:
    return world.behaviour().ice.where


@action("pour water into the outdoor base pan")
def pan_holes(world: World) -> str:
    return "runs" if world.machine.outdoor.body.pan_holes == "free" else "stands"


@looks("outdoor coil sensor")
def coil_sensor(world: World) -> str:
    return "in" if world.machine.outdoor.sensors["coil"].seat == "seated" else "out"


@action("force a defrost")
def defrost(world: World) -> str:
    shown = world.behaviour(mode="heating")
    valve = world.machine.outdoor.reversing
    turns = valve.slide == "free" and world.machine.outdoor.board.reversing_drive == "works" and valve.coil_ohm < 1e5
    if not shown.runs or not turns:
        return "nothing"
    body = world.machine.outdoor.body
    if body.pan_holes == "blocked" or body.drip:
        return "water stands"
    return "ice left" if world.machine.outdoor.sensors["coil"].seat == "out" or shown.ice.where == "block" else "clear"


@measures("resistance", "base heater", "dead")
def base_heater(world: World, _: frozenset[str]) -> Found | None:
    own = world.machine.outdoor.body.base_heater_ohm
    if own is None:
        return None
    return Found(own) if own < 1e8 else Found(open_line=True)


# ---- noise -----------------------------------------------------------------------------------------------


@sounds("noise")
def noise(world: World) -> str:
    machine = world.machine
    if machine.outdoor.body.panel == "rattles" or machine.zone.cover_rattles:
        return "rattle"
    if 0.4 < machine.outdoor.fan.drag < 0.95 or 0.4 < machine.zone.fan.drag < 0.95:
        return "rattle"
    if machine.lines.touches_wall or machine.outdoor.body.feet == "hard":
        return "hum"
    if machine.lines.strainer > 0.9 or machine.refrigerant.charge < 0.6:
        return "hiss"
    return "tick" if machine.house.worry == "ticks" else "none"


@action("press the outdoor panels")
def press(world: World) -> str:
    sound = noise(world)
    if sound in ("none", "tick"):
        return "none"
    return "stops" if world.machine.outdoor.body.panel == "rattles" else "stays"


@action("lift the pipes off the wall")
def lift(world: World) -> str:
    if noise(world) in ("none", "tick"):
        return "none"
    return "stops" if world.machine.lines.touches_wall else "stays"


@action("lean on the outdoor unit")
def lean(world: World) -> str:
    if noise(world) in ("none", "tick"):
        return "none"
    return "changes" if world.machine.outdoor.body.feet == "hard" else "stays"


@looks("outdoor feet")
def feet(world: World) -> str:
    return world.machine.outdoor.body.feet


@action("wiggle plugs and wires")
def wiggle(world: World) -> str:
    """Finds anything that is loose or burnt among what a hand reaches."""
    machine = world.machine
    contacts = [
        machine.branch.screw,
        machine.outdoor.fan.plug,
        *(sensor.plug for sensor in machine.outdoor.sensors.values()),
        machine.zone.cable.screw,
    ]
    valve_plug = [] if machine.valve.fixed else [machine.valve.plug]
    loose = any(contact.state != "firm" for contact in (*contacts, *valve_plug))
    return "moved" if loose or machine.outdoor.compressor.terminals == "burnt" else "firm"


# ---- installation ----------------------------------------------------------------------------------------


@looks("pipes along their way")
def shape(world: World) -> str:
    return "kinked" if world.machine.lines.kink > 0.3 else "round"


@looks("service valve stems")
def stems(world: World) -> str:
    return "out" if world.machine.lines.stems_open > 0.9 else "not out"


@measures("length", "pipes one way")
def length(world: World, _: frozenset[str]) -> Found:
    return Found(world.machine.lines.length_m)


@measures("length", "height between the units")
def height(world: World, _: frozenset[str]) -> Found:
    return Found(world.machine.lines.height_m)


@measures("length", "rise of the thick pipe")
def rise(world: World, _: frozenset[str]) -> Found:
    return Found(world.machine.lines.rise_m)


@looks("charge label")
def label(world: World) -> str:
    lines, plate = world.machine.lines, world.machine.plate
    if lines.length_m <= plate.free_length_m:
        return "not needed"
    return lines.label if lines.label == "not-noted" else "added"


@looks("oil trap")
def trap(world: World) -> str:
    return world.machine.lines.trap


@action("put the torque wrench on the flare nuts")
def nuts(world: World) -> str:
    return world.machine.lines.nuts


@looks("flare face")
def flare(world: World) -> str:
    return world.machine.lines.flare


@looks("pipe insulation")
def insulation(world: World) -> str:
    return world.machine.lines.insulation
