"""What can be found out of the supply: at the panel, the disconnect and the outdoor terminals."""

from __future__ import annotations

from tests.field.machine import power
from tests.field.machine.wiring import Switching
from tests.field.world.world import Found, World, action, looks, measures

_SOUND_OHM = 200e6
_DIM = 0.035  # share by which a lamp's voltage must dip to be seen (flicker curves, from memory)


@looks("breaker")
def breaker(world: World) -> str:
    if world.machine.breaker.position == "off":
        return "off"
    tripped = world.behaviour(bad=True).breaker
    return {"none": "on", "at-once": "trips again", "start": "had tripped", "later": "had tripped"}[tripped]


@action("press the breaker in with the disconnect off")
def breaker_without_unit(world: World) -> str:
    return "trips" if power.trips_without_unit(world.machine) else "holds"


@action("lock out")
def lock_out(world: World) -> str:
    world.switch_off()
    return "done"


@action("switch on")
def switch_on(world: World) -> str:
    return world.switch_on()


@looks("lights as it starts")
def lights(world: World) -> str:
    shown = world.behaviour()
    if shown.point is None:
        return "steady"
    sag = 1 - shown.electric.between("panel-1", "panel-2") / max(idle_between(world, "panel-1", "panel-2"), 1.0)
    return "dim" if sag > _DIM else "steady"


@looks("supply terminals")
def terminals(world: World) -> str:
    return "brown" if world.machine.branch.brown else "clean"


@action("tug the supply wires")
def tug(world: World) -> str:
    return "moved" if world.machine.branch.screw.state != "firm" else "firm"


@looks("supply wire size")
def wire_size(world: World) -> str:
    return "unreadable" if world.rng.random() < 0.15 else world.machine.branch.size


def idle_between(world: World, a: str, b: str) -> float:
    """Volts with the unit at rest; nothing behind a breaker that is off or a disconnect that is."""
    if world.behaviour().breaker == "at-once" and not a.startswith("panel"):
        return 0.0
    now = Switching(disconnect_on=world.disconnect_on, bad=world.bad)
    return power.electric(world.machine, now).between(a, b)


def _loaded(world: World, a: str, b: str) -> float:
    """The lowest volts while it runs or tries to; at rest when it does neither."""
    shown = world.behaviour()
    if shown.point is None or shown.start.draw == "zero":
        return idle_between(world, a, b)
    return shown.electric.between(a, b)


@measures("voltage_ac", "outdoor line to line", "live")
def at_terminals(world: World, _: frozenset[str]) -> Found:
    return Found(idle_between(world, "unit-1", "unit-2"))


@measures("voltage_ac", "outdoor legs to earth", "live")
def legs(world: World, _: frozenset[str]) -> Found:
    one, two = idle_between(world, "unit-1", "earth"), idle_between(world, "unit-2", "earth")
    return Found(values={"leg-1": one, "leg-2": two})


@measures("voltage_ac", "outdoor line to neutral and earth", "live")
def neutral(world: World, _: frozenset[str]) -> Found | None:
    if not power.neutral_used(world.machine):
        return None
    across, earth = idle_between(world, "unit-1", "unit-2"), idle_between(world, "unit-1", "earth")
    return Found(values={"line-neutral": across, "line-earth": earth})


@measures("voltage_ac", "outdoor terminals under load", "live")
def loaded(world: World, _: frozenset[str]) -> Found:
    return Found(_loaded(world, "unit-1", "unit-2"))


@measures("current", "breaker rating")
def rating(world: World, _: frozenset[str]) -> Found:
    """As printed on it."""
    return Found(world.machine.breaker.rating_a)


@looks("breaker's kind")
def kind(world: World) -> str:
    return "plain" if world.machine.breaker.earth_fault_ma is None else "test button"


@measures("frequency", "outdoor terminals", "live")
def frequency(world: World, _: frozenset[str]) -> Found:
    return Found(world.machine.supply.frequency_hz if world.live else 0.0)


@measures("resistance", "supply cable insulation", "off")
def cable_insulation(world: World, _: frozenset[str]) -> Found:
    """The lowest between the wires and to earth, the unit cut off: a film of water by the current that it lets pass."""
    branch = world.machine.branch
    if branch.short:
        return Found(0.6)
    return Found(120.0 / (branch.leak_ma / 1e3) if branch.leak_ma > 0 else _SOUND_OHM)


@looks("disconnect box")
def disconnect_box(world: World) -> str:
    return "wet" if world.machine.branch.leak_ma > 5 else "dry"


@measures("resistance", "outdoor terminals to earth", "off")
def unit_to_earth(world: World, _: frozenset[str]) -> Found:
    """What the filter's grown leakage and a grounded winding let pass; a sound filter's capacitors block a meter."""
    power_stage = world.machine.outdoor.power
    leaks = 120.0 / (power_stage.earth_leak_ma / 1e3) if power_stage.earth_leak_ma > 5 else _SOUND_OHM
    return Found(min(leaks, 1e6 * world.machine.outdoor.compressor.insulation_mohm))


@measures("voltage_ac", "panel", "live")
def panel(world: World, _: frozenset[str]) -> Found:
    return Found(idle_between(world, "panel-1", "panel-2"))


@measures("voltage_ac", "panel under load", "live")
def panel_loaded(world: World, _: frozenset[str]) -> Found:
    return Found(_loaded(world, "panel-1", "panel-2"))


@measures("current", "supply", "live")
def current(world: World, _: frozenset[str]) -> Found:
    shown = world.behaviour()
    if not world.live or shown.electric.unit_v < 20:
        return Found(0.0)
    standing = 0.15 if shown.indoor_alive else 0.05
    runs = shown.point is not None and shown.stop in ("never", "later")
    return Found(shown.electric.current_a + standing if runs else standing)


@measures("current", "supply until it trips", "live")
def trip_current(world: World, _: frozenset[str]) -> Found:
    shown = world.behaviour(bad=True)
    if shown.breaker == "at-once":
        return Found(40.0)  # the clamp holds part of the short's surge
    return Found(max(shown.electric.current_a, 0.1) if shown.point is not None else 0.1)


@action("run until the breaker trips")
def trips(world: World) -> str:
    return "tripped" if world.behaviour(bad=True).breaker != "none" else "held"
