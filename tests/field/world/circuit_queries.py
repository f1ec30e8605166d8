"""What can be found out of the refrigerant circuit with gauges, thermometers, scale, nose and hands."""

from __future__ import annotations

from tests.field.machine.cycle import Point
from tests.field.machine.protection import standing_kpa, switch_ohm
from tests.field.machine.refrigerant import ATMOSPHERE_KPA
from tests.field.machine.weather import Mode
from tests.field.world.world import Found, World, action, looks, measures, ohms

#: The hot-gas guard stops the compressor before a thermometer shows more.
_STOPS_C = 114.0


def running(world: World, mode: Mode | None = None) -> Point | None:
    """The steady state that a technician can watch, or None when it does not run long enough."""
    shown = world.behaviour(mode=mode)
    return shown.point if world.live and shown.runs else None


def mode_of(conditions: frozenset[str]) -> Mode | None:
    return "cooling" if "cooling" in conditions else "heating" if "heating" in conditions else None


def port_kpa(world: World, mode: Mode | None) -> float:
    """Gauge pressure at the gas port: the low side in cooling, the high side in heating, at rest what stands."""
    point = running(world, mode)
    if point is None:
        return standing_kpa(world.machine, world.weather)
    cools = world.behaviour(mode=mode).circuit_mode == "cooling"
    if cools:
        return point.low_kpa - ATMOSPHERE_KPA
    return min(point.high_kpa - ATMOSPHERE_KPA, world.machine.outdoor.high_switch.opens_kpa)  # there it trips


@measures("pressure_gauge", "gas port", "live")
def gas_port(world: World, conditions: frozenset[str]) -> Found:
    return Found(port_kpa(world, mode_of(conditions)))


@measures("pressure_gauge", "gas port at rest")
def at_rest(world: World, _: frozenset[str]) -> Found:
    return Found(standing_kpa(world.machine, world.weather))


@measures("temperature", "thick pipe", "live")
def thick(world: World, conditions: frozenset[str]) -> Found:
    point = running(world, mode_of(conditions))
    if point is None:
        return Found(world.weather.outdoor_c)
    cools = world.behaviour(mode=mode_of(conditions)).circuit_mode == "cooling"
    return Found(point.entering_c if cools else min(point.discharge_c, _STOPS_C) - 4)


@measures("temperature", "thin pipe", "live")
def thin(world: World, conditions: frozenset[str]) -> Found:
    """The valve is outdoors: in cooling the thin pipe is behind it, in heating before it."""
    point = running(world, mode_of(conditions))
    if point is None:
        return Found(world.weather.outdoor_c)
    cools = world.behaviour(mode=mode_of(conditions)).circuit_mode == "cooling"
    return Found(point.evaporating_c + 1 if cools else point.liquid_c)


@measures("temperature", "cooler coil at rest")
def cooler_coil(world: World, _: frozenset[str]) -> Found:
    return Found(min(world.weather.outdoor_c, world.weather.indoor_c))


@measures("temperature", "outdoor coil bend", "live")
def coil_bend(world: World, conditions: frozenset[str]) -> Found:
    point = running(world, mode_of(conditions) or "cooling")
    return Found(point.condensing_c - 2 if point else world.weather.outdoor_c)


@measures("temperature", "discharge pipe", "live")
def discharge(world: World, _: frozenset[str]) -> Found:
    point = running(world)
    return Found(min(point.discharge_c, _STOPS_C) - 3 if point else world.weather.outdoor_c + 2)


@measures("temperature", "compressor top", "live")
def top(world: World, _: frozenset[str]) -> Found:
    """A compressor that pumps little is cooled little: its top is hotter than the gas it gives."""
    point = running(world)
    if point is None:
        return Found(world.weather.outdoor_c + (35 if world.behaviour().start.draw == "pulse" else 4))
    return Found(min(point.discharge_c, _STOPS_C) - 8 + 30 * max(0.0, 0.6 - world.machine.outdoor.compressor.pump))


@measures("temperature", "before the strainer", "live")
def before_strainer(world: World, conditions: frozenset[str]) -> Found:
    point = running(world, mode_of(conditions))
    return Found(point.liquid_c if point else world.weather.outdoor_c)


@measures("temperature", "behind the strainer", "live")
def behind_strainer(world: World, conditions: frozenset[str]) -> Found:
    point = running(world, mode_of(conditions))
    lines = world.machine.lines
    if point is None:
        return Found(world.weather.outdoor_c)
    own = lines.strainer > 0.5 or world.machine.refrigerant.wet
    return Found(point.behind_restriction_c if own else point.liquid_c - 0.3)


@measures("temperature", "before the bend", "live")
def before_bend(world: World, _: frozenset[str]) -> Found:
    point = running(world)
    return Found(point.liquid_c if point else world.weather.indoor_c)


@measures("temperature", "behind the bend", "live")
def behind_bend(world: World, _: frozenset[str]) -> Found:
    point = running(world)
    if point is None:
        return Found(world.weather.indoor_c)
    return Found(point.behind_restriction_c if world.machine.lines.kink > 0.5 else point.liquid_c - 0.2)


@action("feel the pipes")
def feel(world: World) -> str:
    """How far thick and thin pipe, and both from the air, lie apart: the work that the compressor does."""
    point = running(world)
    if point is None:
        return "none"
    lift = point.condensing_c - point.evaporating_c
    return "clear" if lift > 24 else "small" if lift > 12 else "none"


@looks("pipes at the outdoor valves")
def pipes(world: World) -> str:
    point = running(world, "cooling")
    if point is None or point.evaporating_c > 18:
        return "warm"
    if point.evaporating_c < -1:
        return "thin frost" if point.superheat_k > 5 else "thick frost"
    return "normal"


# ---- pressure switches -----------------------------------------------------------------------------------


def _switch_reading(world: World, side: str) -> Found | None:
    if side == "low" and world.machine.outdoor.low_switch is None:
        return None
    return ohms(switch_ohm(world.machine, world.weather, side))  # type: ignore[arg-type]


@measures("resistance", "high-pressure switch plug", "off")
def high_plug(world: World, _: frozenset[str]) -> Found | None:
    return _switch_reading(world, "high")


@measures("resistance", "low-pressure switch plug", "off")
def low_plug(world: World, _: frozenset[str]) -> Found | None:
    return _switch_reading(world, "low")


def _contact(world: World, side: str) -> str | None:
    outdoor = world.machine.outdoor
    switch = outdoor.high_switch if side == "high" else outdoor.low_switch
    if switch is None:
        return None
    rest = standing_kpa(world.machine, world.weather)
    by_pressure = rest > switch.opens_kpa if side == "high" else rest < switch.opens_kpa
    return "open" if switch.contact == "open" or by_pressure else "closed"


@looks("high-pressure switch contact")
def high_contact(world: World) -> str | None:
    return _contact(world, "high")


@looks("low-pressure switch contact")
def low_contact(world: World) -> str | None:
    return _contact(world, "low")


@measures("resistance", "high-pressure switch wires", "off")
def high_wires(world: World, _: frozenset[str]) -> Found:
    one, two = world.machine.outdoor.high_switch.wire_ohm
    return Found(values={"wire-1": one, "wire-2": two})


@measures("resistance", "low-pressure switch wires", "off")
def low_wires(world: World, _: frozenset[str]) -> Found | None:
    switch = world.machine.outdoor.low_switch
    return Found(values={"wire-1": switch.wire_ohm[0], "wire-2": switch.wire_ohm[1]}) if switch else None


@action("try which mode trips on pressure")
def trip_mode(world: World) -> str:
    trips = []
    modes: tuple[Mode, ...] = ("cooling", "heating")
    for mode in modes:
        shown = world.behaviour(mode=mode)
        if shown.start.reason in ("high-pressure", "low-pressure") or shown.shows in ("high-pressure", "low-pressure"):
            trips.append(mode)
    return "both" if len(trips) == 2 else trips[0] if trips else "never"
