"""What a meter shows while a place is proved dead, and the state of the circuit as a gauge tells it."""

from __future__ import annotations

from math import exp

from tests.field.world.supply_queries import idle_between
from tests.field.world.world import Found, World, looks, measures

#: Seconds in which an indoor board's small capacitor falls to a third: while its supply draws, and while that is dead.
_DRAWN_S, _UNDRAWN_S = 8.0, 90.0


def _since_off(world: World) -> float | None:
    return None if world.off_at_s is None else world.now_s - world.off_at_s


def _mains(world: World, side: str) -> Found:
    """The highest alternating volts between the conductors, and of one to earth."""
    one, two = f"{side}-1", f"{side}-2"
    earth = max(idle_between(world, point, "earth") for point in (one, two))
    return Found(values={"line": idle_between(world, one, two), "earth": earth})


@measures("voltage_ac", "outdoor mains")
def outdoor_mains(world: World, _: frozenset[str]) -> Found:
    return _mains(world, "unit")


@measures("voltage_ac", "indoor mains")
def indoor_mains(world: World, _: frozenset[str]) -> Found:
    return _mains(world, "indoor")


@measures("voltage_ac", "mains behind the lock")
def behind_the_lock(world: World, _: frozenset[str]) -> Found:
    """At the disconnect's load side, where the supply is worked on."""
    return _mains(world, "unit")


@measures("voltage_ac", "line mains")
def line_mains(world: World, _: frozenset[str]) -> Found:
    return _mains(world, "out")


@measures("voltage_dc", "line direct volts")
def line_stored(world: World, _: frozenset[str]) -> Found:
    since = _since_off(world)
    if since is None:
        return Found(world.behaviour().line.outdoor_v[1])
    return Found(world.machine.plate.signal_v * exp(-since / 3.0))


@measures("voltage_dc", "indoor bus")
def indoor_bus(world: World, _: frozenset[str]) -> Found:
    """The indoor board's own capacitor, charged from the mains that reach it."""
    full = 1.414 * world.behaviour_before_lock().electric.indoor_v
    since = _since_off(world)
    if since is None:
        return Found(full)
    draws = world.machine.zone.board.rails == "works"
    return Found(full * exp(-since / (_DRAWN_S if draws else _UNDRAWN_S)))


@measures("voltage_dc", "two bus capacitors in series")
def series(world: World, _: frozenset[str]) -> Found:
    half = world.bus_v() / 2
    return Found(values={"first": half, "second": half})


@looks("what the circuit holds by the gauge")
def circuit_holds(world: World) -> str:
    return "refrigerant" if world.machine.refrigerant.charge > 0.03 else "empty"
