"""Condensate: how much water is made, and where it goes."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit

#: What a sound hose carries off by gravity, litres an hour.
HOSE_L_H = 30.0
#: Half a litre in two minutes.
POUR_L_H = 15.0


@dataclass
class Drain:
    """The way out of the pan. Shares: 1 is as built."""

    hose: float = 1.0
    hose_falls: bool = True
    hose_fault: str = "rises"
    slope_share: float = 1.0
    trap: str = "full"
    float_sticks: bool = False
    float_ohm: float | None = 0.3
    pump: str = "ok"  # ok, hums, silent
    pump_fed: bool = True
    lead_broken: bool = False
    tilt: str = "level"
    wall_sealed: bool = True
    wall_look: str = "gap"
    insulated: bool = True
    slime: bool = False


def outflow_l_h(unit: Unit) -> float:
    """What leaves the pan when it is full, litres an hour."""
    drain = unit.drain
    share = drain.hose * drain.slope_share
    if unit.has("drain-trap"):
        share *= {"full": 1.0, "empty": 0.25, "choked": 0.03}[drain.trap]
    if unit.has("condensate-pump") and not (drain.pump == "ok" and drain.pump_fed and unit.lesser.lift_hose):
        return 0.0
    return HOSE_L_H * share


def water_made_l_h(unit: Unit) -> float:
    """Water from the coil while it cools; none when the float stops it or it does not cool."""
    if not unit.weather.cooling or not unit.makes_output() or stopped_by_float(unit):
        return 0.0
    return unit.weather.moisture_l_h


def stopped_by_float(unit: Unit) -> bool:
    """The float's contact is open: held up, broken, or raised by water that does not leave."""
    if not unit.has("float-switch") or not unit.weather.cooling:
        return False
    drain = unit.drain
    return drain.float_sticks or drain.float_ohm is None or outflow_l_h(unit) < unit.weather.moisture_l_h


def runs_over(unit: Unit) -> bool:
    """Water comes over the edge of the pan."""
    if not unit.weather.cooling or (stopped_by_float(unit) and unit.drain.tilt != "away"):
        return False
    return outflow_l_h(unit) < unit.weather.moisture_l_h or unit.drain.tilt == "away"


# -- faults ------------------------------------------------------------------------------------------------------------


def hose_blocked(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.drain.hose = rng.uniform(0.0, 0.02)
    unit.drain.slime = rng.random() < 0.5


def trap_faulty(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.drain.trap = rng.choice(["empty", "choked", "choked"])


def slope_wrong(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.drain.hose_falls = False
    # A pump lifts over a rise; only a kink or a drowned end holds it back.
    ways = ["kinked", "drowned"] if unit.has("condensate-pump") else ["rises", "rises", "kinked", "drowned"]
    unit.drain.hose_fault = rng.choice(ways)
    unit.drain.slope_share = rng.uniform(0.0, 0.03)


def float_stuck(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.drain.float_sticks = True


def float_open(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.drain.float_ohm = None


def pump_failed(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.drain.pump = rng.choice(["hums", "silent"])


def pump_unpowered(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.drain.pump_fed = False
    unit.drain.lead_broken = rng.random() < 0.75


def wall_unsealed(unit: Unit, rng: Random) -> None:
    unit.drain.wall_sealed = False
    unit.drain.wall_look = rng.choice(["gap", "inwards"])


def not_level(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.drain.tilt = "away"


def insulation_missing(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.drain.insulated = False


def biofilm(unit: Unit, rng: Random) -> None:
    unit.drain.slime = True


FAULTS = {
    "drain-hose-blocked": hose_blocked,
    "drain-trap-faulty": trap_faulty,
    "drain-slope-wrong": slope_wrong,
    "drain-float-stuck": float_stuck,
    "drain-float-open": float_open,
    "drain-pump-failed": pump_failed,
    "drain-pump-unpowered": pump_unpowered,
    "wall-opening-unsealed": wall_unsealed,
    "indoor-unit-not-level": not_level,
    "line-insulation-missing": insulation_missing,
    "biofilm-smell": biofilm,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def water_start(unit: Unit, bench: Bench) -> None:
    drain = unit.drain
    if not unit.lesser.pan_whole and unit.weather.cooling:
        bench.say(bench.rng.choice(["front", "low-end"]) if bench.rng.random() < 0.8 else "nowhere")
    elif drain.tilt == "away" and unit.weather.cooling:
        bench.say("low-end" if bench.rng.random() < 0.9 else "front")
    elif runs_over(unit):
        bench.say("front" if bench.rng.random() < 0.85 else "low-end")
    elif not drain.insulated and unit.weather.cooling and unit.makes_output():
        bench.say("pipes")
    elif not drain.wall_sealed and unit.weather.wet:
        bench.say("wall")
    else:
        bench.say("nowhere")


def hose_end(unit: Unit, bench: Bench) -> None:
    made, away = water_made_l_h(unit), outflow_l_h(unit)
    reaching = min(made, away) * (0.3 if unit.drain.tilt == "away" or not unit.lesser.pan_whole else 1.0)
    bench.say("dry" if reaching < 0.15 else "slowly" if reaching < 0.5 else "freely")


def hose_run(unit: Unit, bench: Bench) -> None:
    bench.say("falls" if unit.drain.hose_falls else unit.drain.hose_fault)


def wall_look(unit: Unit, bench: Bench) -> None:
    bench.say("sealed" if unit.drain.wall_sealed else unit.drain.wall_look)


def insulation_look(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.drain.insulated else "no")


def level(unit: Unit, bench: Bench) -> None:
    bench.say(unit.drain.tilt)


def trap_look(unit: Unit, bench: Bench) -> None:
    bench.say(unit.drain.trap)


def float_move(unit: Unit, bench: Bench) -> None:
    bench.say("sticks" if unit.drain.float_sticks else "freely")


def pour(unit: Unit, bench: Bench) -> None:
    """Without power, so a pump does not lift."""
    if unit.has("condensate-pump"):
        bench.say("pump")
        return
    away = outflow_l_h(unit) * (0.4 if unit.drain.tilt == "away" else 1.0)
    bench.say("empties" if away >= 0.6 * POUR_L_H else "slow" if away >= 0.2 * POUR_L_H else "stays")


def pump_runs(unit: Unit, bench: Bench) -> None:
    drain = unit.drain
    if not drain.pump_fed or drain.pump == "silent":
        bench.say("silent")
    else:
        bench.say(
            "lifts" if drain.pump == "ok" and unit.lesser.lift_hose and drain.hose * drain.slope_share > 0.1 else "hums"
        )


def pump_supply(unit: Unit, bench: Bench) -> None:
    drain = unit.drain
    if not drain.pump_fed:
        bench.say("no-supply")
    else:
        free = unit.lesser.lift_hose and drain.hose * drain.slope_share > 0.1
        bench.say("works" if drain.pump == "ok" and free else "dead-pump")


def hose_suction(unit: Unit, bench: Bench) -> None:
    drain = unit.drain
    slimy_trap = unit.has("drain-trap") and drain.trap == "choked" and bench.rng.random() < 0.4
    standing = not drain.hose_falls and bench.rng.random() < 0.15  # water in the dip comes first
    bench.say("plug" if drain.hose < 0.2 or slimy_trap or standing else "free")


def free_lift(unit: Unit, bench: Bench) -> None:
    """The hose is off, so only the pump itself counts."""
    bench.say("freely" if unit.drain.pump == "ok" and unit.drain.pump_fed else "still-not")


def pump_lead(unit: Unit, bench: Bench) -> None:
    """Of pumps without supply three in four have a broken lead or fuse; the rest a dead output."""
    broken = not unit.drain.pump_fed and unit.drain.lead_broken
    bench.places({"wire-1": None if broken else 0.3, "wire-2": 0.3})


def wall_draught(unit: Unit, bench: Bench) -> None:
    bench.say("moves" if not unit.drain.wall_sealed and bench.rng.random() < 0.85 else "still")


def float_continuity(unit: Unit, bench: Bench) -> None:
    # Unplugged at its plug and held hanging down, a sticking float is freed by the hand that pulls it down.
    bench.meter(unit.drain.float_ohm)


def trap_quiet(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.drain.trap == "full" else "no")


def pan_look(unit: Unit, bench: Bench) -> None:
    bench.say("slime" if unit.drain.slime else "clean")


def smell(unit: Unit, bench: Bench) -> None:
    if unit.drain.slime:
        bench.say("musty")
    else:
        bench.say("drains" if unit.has("drain-trap") and unit.drain.trap == "empty" else "nothing")


ANSWERS = {
    "drain-water-start": water_start,
    "drain-hose-end": hose_end,
    "drain-hose-run": hose_run,
    "drain-wall-opening-look": wall_look,
    "drain-insulation-look": insulation_look,
    "drain-unit-level": level,
    "drain-trap-look": trap_look,
    "drain-float-move": float_move,
    "drain-pan-pour": pour,
    "drain-pump-runs": pump_runs,
    "drain-pump-supply": pump_supply,
    "drain-float-continuity": float_continuity,
    "drain-hose-suction": hose_suction,
    "drain-pump-hose-off": lambda unit, bench: bench.say("set"),
    "drain-pump-free-lift": free_lift,
    "drain-pump-lead": pump_lead,
    "drain-wall-draught": wall_draught,
    "drain-trap-proof": trap_quiet,
    "smell-pan-look": pan_look,
    "smell-kind": smell,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def wet_wall(unit: Unit) -> float:
    sweating = not unit.drain.insulated and unit.weather.cooling
    through_wall = not unit.drain.wall_sealed and unit.weather.wet
    return 1.0 if runs_over(unit) or sweating or through_wall else 0.0


SYMPTOMS = {
    "water-down-wall": wet_wall,
    "water-indication": lambda unit: 1.0 if stopped_by_float(unit) else 0.0,
    "draught-at-wall": lambda unit: 0.4 if not unit.drain.wall_sealed else 0.0,
    "smell-musty": lambda unit: 0.9 if unit.drain.slime else 0.0,
    "smell-drain": lambda unit: 0.5 if unit.has("drain-trap") and unit.drain.trap == "empty" else 0.0,
}
