"""What can be found out of leaks and of what is in the circuit: oil, detector, soap, nitrogen, vacuum, scale."""

from __future__ import annotations

from tests.field.world.world import Found, World, action, looks, measures

_OIL = {"indoor-joint": "indoor joint", "indoor-flare-poor": "indoor joint", "outdoor-joint": "outdoor joint",
        "service-valve": "valve"}  # fmt: skip


@looks("oil at joints")
def oil(world: World) -> str:
    gas = world.machine.refrigerant
    if gas.leak == "indoor-coil" and gas.charge < 0.4:
        return "coil"  # it gathers on the lowest fins with time
    return _OIL.get(gas.leak, "nowhere") if gas.oil_mark else "nowhere"


def _gas_left(world: World) -> bool:
    return world.machine.refrigerant.charge > 0.1


@action("sweep with the detector")
def sweep(world: World) -> str:
    leak = world.machine.refrigerant.leak
    if not leak or not _gas_left(world) or world.rng.random() < 0.15:
        return "nowhere"
    return {**_OIL, "indoor-coil": "coil", "line": "wall", "outdoor-inside": "nowhere"}[leak]


@action("soap the joints")
def soap(world: World) -> str:
    return _OIL.get(world.machine.refrigerant.leak, "nowhere") if _gas_left(world) else "nowhere"


@action("hold the detector at the pan")
def sniff_coil(world: World) -> str:
    return "sounds" if world.machine.refrigerant.leak == "indoor-coil" and _gas_left(world) else "silent"


@action("lead the detector through the outdoor unit")
def sniff_outdoor(world: World) -> str:
    return "sounds" if world.machine.refrigerant.leak == "outdoor-inside" and _gas_left(world) else "silent"


@action("pressurise the sections")
def sections(world: World) -> str:
    return {"line": "pipes", "indoor-coil": "coil"}.get(world.machine.refrigerant.leak, "none")


@action("test for leaks after the work")
def tight(world: World) -> str:
    return "no" if world.machine.refrigerant.leak in _OIL else "yes"


@action("hold nitrogen")
def nitrogen(world: World) -> str:
    return "falls" if world.machine.refrigerant.leak else "holds"


@measures("pressure_gauge", "nitrogen at the start")
def nitrogen_start(world: World, _: frozenset[str]) -> Found:
    return Found(3000.0)


@measures("pressure_gauge", "nitrogen at the end")
def nitrogen_end(world: World, _: frozenset[str]) -> Found:
    return Found(3000.0 if nitrogen(world) == "holds" else 2870.0)


@measures("vacuum", "reached")
def vacuum(world: World, _: frozenset[str]) -> Found:
    return Found(140.0 if world.machine.refrigerant.wet else 45.0)


@measures("vacuum", "ten minutes later")
def vacuum_later(world: World, _: frozenset[str]) -> Found:
    gas = world.machine.refrigerant
    return Found(6000.0 if gas.leak else 900.0 if gas.wet else 70.0)


@measures("vacuum", "twenty minutes later")
def vacuum_at_last(world: World, _: frozenset[str]) -> Found:
    """A leak goes on rising; moisture levels off at its vapour pressure."""
    gas = world.machine.refrigerant
    return Found(12000.0 if gas.leak else 1050.0 if gas.wet else 78.0)


def held_kg(world: World, charge: float) -> float:
    """What a charge of this share weighs on this installation."""
    plate = world.machine.plate
    more = max(0.0, world.machine.lines.length_m - plate.free_length_m) * plate.added_g_per_m / 1000
    return charge * (plate.charge_kg + more)


@measures("mass", "recovered", "live")
def recovered(world: World, _: frozenset[str]) -> Found:
    return Found(held_kg(world, world.machine.refrigerant.charge))


@measures("mass", "weighed in")
def weighed_in(world: World, _: frozenset[str]) -> Found:
    return Found(held_kg(world, 1.0))


@measures("mass", "added at installation")
def added(world: World, _: frozenset[str]) -> Found:
    lines = world.machine.lines
    return Found(lines.added_kg if lines.label != "not-noted" else 0.0)
