"""The signal line between outdoor and indoor unit, and the zones on it."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class SignalLine:
    """Loop resistance None is a cut. ``disturbed``: messages are lost now and then."""

    order: str = "same"
    rings: str = "straight"
    reversed: bool = False
    loop_ohm: float | None = 0.6
    insulation_mohm: float | None = None
    joint: str = "sound"
    bad_joint_ohm: float = 0.0
    indoor_talks: bool = True
    outdoor_talks: bool = True
    route: str = "apart"
    disturbed: bool = False
    comes_and_goes: bool = False


@dataclass
class Zones:
    """What the other zones ask and where their pipes and wires go."""

    modes: str = "same"
    wires_crossed: bool = False
    pipes_crossed: bool = False


def wired(unit: Unit) -> bool:
    """The pair joins the two boards rightly and whole."""
    line = unit.line
    whole = line.loop_ohm is not None and line.loop_ohm + line.bad_joint_ohm < 200
    sound = line.insulation_mohm is None or line.insulation_mohm > 0.02
    return line.order != "swapped" and not line.reversed and whole and sound


def _indoor_speaks(unit: Unit) -> bool:
    """The indoor board's processor lives."""
    return unit.rail_5v() > 4.5 and unit.lesser.processor == "works"


def talks(unit: Unit) -> bool:
    """Messages pass, at least while somebody looks."""
    line = unit.line
    return wired(unit) and line.indoor_talks and line.outdoor_talks


# -- faults ------------------------------------------------------------------------------------------------------------


def terminals_swapped(unit: Unit, rng: Random) -> None:
    unit.line.order = "swapped"
    unit.line.rings = rng.choice(["reversed", "neither"])
    unit.site.history = rng.choices(["never", "after-work"], [0.4, 0.6])[0]


def polarity_reversed(unit: Unit, rng: Random) -> None:
    """The pair is crossed on its way, at a joint: every colour is on its number at both ends."""
    unit.line.reversed = True
    unit.line.rings = "reversed"
    unit.site.history = rng.choices(["never", "after-work"], [0.4, 0.6])[0]


def splice_bad(unit: Unit, rng: Random) -> None:
    unit.line.joint = "bad"
    unit.line.bad_joint_ohm = rng.uniform(300, 5000)


def splice_intermittent(unit: Unit, rng: Random) -> None:
    unit.line.joint = "bad"
    unit.line.comes_and_goes = True
    unit.line.bad_joint_ohm = rng.uniform(8, 150)


def cable_damaged(unit: Unit, rng: Random) -> None:
    unit.line.loop_ohm = None
    unit.line.rings = "neither"
    if rng.random() < 0.3:  # crushed as well as cut
        unit.line.insulation_mohm = rng.uniform(0.0, 0.01)


def indoor_silent(unit: Unit, rng: Random) -> None:
    unit.line.indoor_talks = False


def outdoor_silent(unit: Unit, rng: Random) -> None:
    unit.line.outdoor_talks = False


def noise(unit: Unit, rng: Random) -> None:
    unit.line.route = rng.choice(["beside", "unearthed"])
    unit.line.disturbed = True


def opposite(unit: Unit, rng: Random) -> None:
    unit.zones.modes = "opposite"


def automatic(unit: Unit, rng: Random) -> None:
    unit.zones.modes = "automatic"


def wiring_crossed(unit: Unit, rng: Random) -> None:
    unit.zones.wires_crossed = True
    unit.site.history = rng.choices(["never", "after-work"], [0.6, 0.4])[0]


def pipes_crossed(unit: Unit, rng: Random) -> None:
    unit.zones.pipes_crossed = True
    unit.site.history = rng.choices(["never", "after-work"], [0.8, 0.2])[0]


FAULTS = {
    "terminals-swapped": terminals_swapped,
    "signal-polarity-reversed": polarity_reversed,
    "splice-bad": splice_bad,
    "splice-intermittent": splice_intermittent,
    "cable-damaged": cable_damaged,
    "indoor-board-signal": indoor_silent,
    "outdoor-board-signal": outdoor_silent,
    "electrical-noise": noise,
    "opposite-modes": opposite,
    "auto-mode-blocked": automatic,
    "zone-wiring-crossed": wiring_crossed,
    "zone-pipes-crossed": pipes_crossed,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def history(unit: Unit, bench: Bench) -> None:
    bench.say(unit.site.history)


def zones_failing(unit: Unit, bench: Bench) -> None:
    if not unit.several_zones:
        bench.say("single")
    elif unit.zones.wires_crossed or unit.zones.pipes_crossed:
        bench.say("several" if bench.rng.random() < 0.8 else "one")
    else:
        bench.say("one" if unit.site.scope == "one" else "all")


def noise_moment(unit: Unit, bench: Bench) -> None:
    bench.say("machine" if unit.line.disturbed and bench.rng.random() < 0.85 else "any-time")


def route(unit: Unit, bench: Bench) -> None:
    bench.say(unit.line.route)


def splice_look(unit: Unit, bench: Bench) -> None:
    bench.say("bad" if unit.line.joint == "bad" else bench.rng.choice(["whole", "whole", "sound"]))


def terminal_order(unit: Unit, bench: Bench) -> None:
    bench.say("unsure" if bench.rng.random() < 0.04 else unit.line.order)


def polarity(unit: Unit, bench: Bench) -> None:
    bench.say("neither" if unit.line.bad_joint_ohm > 2000 else unit.line.rings)


def _levels(unit: Unit) -> tuple[float, float]:
    data = unit.profile.signal
    return (data.low_v, data.high_v) if data else (10.0, 30.0)


def _line_volts(unit: Unit, bench: Bench, fed: bool, heard: bool) -> None:
    """``fed``: the outdoor board's voltage is here; ``heard``: the other board's pulses are here too."""
    low, high = _levels(unit)
    if not fed:
        bench.say("none", "behaviour")
        bench.meter(bench.rng.uniform(0, 0.8), "voltage")
    elif heard:
        bench.say("jumping", "behaviour")
        bench.jumping(low * bench.rng.uniform(0.9, 1.2), high * bench.rng.uniform(0.85, 1.0), "voltage")
    else:
        bench.say("steady", "behaviour")
        bench.meter(high * bench.rng.uniform(0.9, 1.0), "voltage")


def volts_outdoors(unit: Unit, bench: Bench) -> None:
    """The outdoor board feeds the line; the indoor one answers by pulling it down."""
    fed = unit.outdoor_board_alive() and unit.line.outdoor_talks
    if fed and (unit.line.reversed or unit.line.insulation_mohm is not None or unit.line.order == "swapped"):
        # The pair is clamped by the reversed input, by the fault in the cable, or by mains parts on it.
        clamped = bench.rng.random() < 0.5
        _line_volts(unit, bench, fed=not clamped, heard=False)
        return
    _line_volts(unit, bench, fed, talks(unit) and _indoor_speaks(unit))


def volts_indoors(unit: Unit, bench: Bench) -> None:
    line = unit.line
    arrives = unit.outdoor_board_alive() and line.outdoor_talks and wired(unit)
    _line_volts(unit, bench, arrives, line.indoor_talks and _indoor_speaks(unit))


def cable_loop(unit: Unit, bench: Bench) -> None:
    line = unit.line
    bench.meter(None if line.loop_ohm is None else line.loop_ohm + line.bad_joint_ohm)


def cable_insulation(unit: Unit, bench: Bench) -> None:
    mohm = unit.line.insulation_mohm
    bench.meter(None if mohm is None else mohm * 1e6)


def source(unit: Unit, bench: Bench) -> None:
    _, high = _levels(unit)
    fed = unit.outdoor_board_alive() and unit.line.outdoor_talks
    bench.meter(high * bench.rng.uniform(0.9, 1.0) if fed else bench.rng.uniform(0, 1.0))


def modes_read(unit: Unit, bench: Bench) -> None:
    bench.say(unit.zones.modes)


def modes_same(unit: Unit, bench: Bench) -> None:
    """Set alike, zones that only disagreed all work; a zone with a fault of its own still waits."""
    works = unit.makes_output() and unit.blows() and unit.own_output() > 0.3
    bench.say("all-work" if works else "still-waits")


def one_at_a_time(unit: Unit, bench: Bench) -> None:
    if unit.zones.wires_crossed or unit.zones.pipes_crossed:
        bench.say("other" if unit.makes_output() else "none")
    else:
        bench.say("own" if unit.blows() and unit.own_output() > 0.3 else "none")


def all_zones(unit: Unit, bench: Bench) -> None:
    if unit.zones.wires_crossed or unit.zones.pipes_crossed:
        bench.say("wrong-one")
    else:
        bench.say("each" if unit.blows() and unit.own_output() > 0.3 else "one-idle")


def pipe_marks(unit: Unit, bench: Bench) -> None:
    bench.say("no" if unit.zones.pipes_crossed else "yes")


def cable_ring(unit: Unit, bench: Bench) -> None:
    if unit.zones.wires_crossed:
        bench.say("other")
    else:
        bench.say("nowhere" if unit.line.loop_ohm is None else "own")


def commission(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if talks(unit) and unit.makes_output() else "no")


ANSWERS = {
    "work-done-lately": history,
    "zones-failing": zones_failing,
    "noise-moment": noise_moment,
    "signal-route": route,
    "splice-look": splice_look,
    "terminal-order": terminal_order,
    "signal-polarity": polarity,
    "signal-volts": volts_outdoors,
    "signal-volts-indoor": volts_indoors,
    "signal-cable-loop": cable_loop,
    "signal-cable-insulation": cable_insulation,
    "signal-source": source,
    "zone-modes-read": modes_read,
    "zone-modes-same": modes_same,
    "zone-one-at-a-time": one_at_a_time,
    "zone-pipe-marks": pipe_marks,
    "zone-cable-ring": cable_ring,
    "commission-all-zones": all_zones,
    "commission-communication": commission,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def silent(unit: Unit) -> float:
    alive = _indoor_speaks(unit)
    lost = not talks(unit) or not unit.outdoor_board_alive()
    return 0.95 if alive and lost else 0.0


def drops(unit: Unit) -> float:
    line = unit.line
    return 0.9 if line.disturbed or line.comes_and_goes else 0.0


def wrong_zone(unit: Unit) -> float:
    return 0.9 if unit.zones.wires_crossed or unit.zones.pipes_crossed else 0.0


def one_dead(unit: Unit) -> float:
    lost = unit.several_zones and unit.site.scope == "one"
    return 0.6 if lost and (not unit.blows() or not talks(unit) or unit.zones.modes != "same") else 0.0


def waits(unit: Unit) -> float:
    return 0.8 if unit.several_zones and unit.zones.modes != "same" else 0.0


SYMPTOMS = {
    "no-communication": silent,
    "communication-drops": drops,
    "wrong-zone-answers": wrong_zone,
    "one-zone-dead": one_dead,
    "zone-conflict-indication": waits,
    "zones-opposite": waits,
}
