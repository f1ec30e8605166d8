"""The supply up to the outdoor terminals: legs, neutral, terminals, wire and breaker."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench
from tests.simulation.systems import lesser

if TYPE_CHECKING:
    from tests.simulation.unit import Unit

#: A board's own supply works down to this share of the nominal voltage; the inverter gives up below the second.
BOARD_SHARE, INVERTER_SHARE = 0.55, 0.86


@dataclass
class Supply:
    """``level`` is the idle voltage as a share of nominal; the drops are shares of it at full load."""

    level: float = 1.0
    source_drop: float = 0.008
    wire_drop: float = 0.008
    terminal_drop: float = 0.001
    leg: bool = True
    neutral: bool = True
    terminal_tight: bool = True
    terminal_brown: bool = False
    wire_size: str = "enough"
    breaker: str = "sound"  # sound, worn
    breaker_trips_share: float = 0.7


def terminals_v(unit: Unit, loaded: bool = False) -> float:
    """Volts between the outdoor unit's two supply terminals (of three phases: the lowest pair)."""
    state, nominal = unit.supply, unit.profile.supply.nominal_v
    if breaker_open(unit):
        return 0.0
    if not state.leg:
        return nominal * (0.12 if unit.profile.supply.system != "three-phase-400" else 0.55)
    if not state.neutral and unit.has("two-wire-supply"):
        return nominal * 0.25
    drop = state.source_drop + state.wire_drop + state.terminal_drop if loaded else 0.0
    return nominal * state.level * (1 - drop)


def breaker_open(unit: Unit) -> bool:
    """The breaker is found off or tripped, or trips as soon as it is closed."""
    return unit.lesser.switched_off or breaker_trips(unit)


def breaker_trips(unit: Unit) -> bool:
    """The breaker is found tripped, or trips as soon as it is closed."""
    return (
        lesser.trips(unit)
        or (unit.power.rectifier_shorted and unit.power.trips_breaker)
        or (unit.compressor.earth_mohm < 0.05 and unit.compressor.trips_breaker)
    )


def inverter_starved(unit: Unit) -> bool:
    """Under load the voltage falls below what the inverter allows."""
    return terminals_v(unit, loaded=True) < INVERTER_SHARE * unit.profile.supply.nominal_v


def too_high(unit: Unit) -> bool:
    """The control refuses the voltage as too high."""
    return unit.supply.level > 1.11


# -- faults ------------------------------------------------------------------------------------------------------------


def supply_low(unit: Unit, rng: Random) -> None:
    unit.supply.level = rng.uniform(0.74, 0.86)
    unit.supply.source_drop = rng.uniform(0.02, 0.09)


def supply_high(unit: Unit, rng: Random) -> None:
    unit.supply.level = rng.uniform(1.125, 1.2)


def phase_lost(unit: Unit, rng: Random) -> None:
    unit.supply.leg = False


def neutral_missing(unit: Unit, rng: Random) -> None:
    unit.supply.neutral = False


def terminal_loose(unit: Unit, rng: Random) -> None:
    unit.supply.terminal_tight = False
    unit.supply.terminal_drop = rng.uniform(0.03, 0.25)
    unit.supply.terminal_brown = rng.random() < 0.7


def wire_too_thin(unit: Unit, rng: Random) -> None:
    unit.supply.wire_size = "thinner" if rng.random() < 0.93 else "unreadable"
    unit.supply.wire_drop = rng.uniform(0.065, 0.2)


def breaker_worn(unit: Unit, rng: Random) -> None:
    unit.supply.breaker = "worn"
    unit.supply.breaker_trips_share = rng.uniform(0.5, 0.9)


FAULTS = {
    "supply-low": supply_low,
    "supply-high": supply_high,
    "phase-lost": phase_lost,
    "neutral-missing": neutral_missing,
    "neutral-missing-phases": neutral_missing,
    "terminal-loose": terminal_loose,
    "wire-too-thin": wire_too_thin,
    "breaker-worn": breaker_worn,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def breaker_look(unit: Unit, bench: Bench) -> None:
    if unit.lesser.switched_off:
        bench.say("off")
    elif breaker_open(unit):
        bench.say("had-tripped")
    else:
        bench.say("had-tripped" if unit.supply.breaker == "worn" and bench.rng.random() < 0.6 else "on")


def unit_off(unit: Unit, bench: Bench) -> None:
    """With the unit's own disconnect open only the wire and the breaker are left."""
    before_it = unit.lesser.cable_shorted or unit.lesser.leaks == "disconnect"
    worn = unit.supply.breaker == "worn" and bench.rng.random() < 0.08
    bench.say("trips" if before_it or worn else "holds")


def lights(unit: Unit, bench: Bench) -> None:
    shared = unit.supply.source_drop
    locked = unit.compressor.rotor_locked and unit.outdoor_board_alive() and unit.called()
    runs = unit.makes_output()
    bench.say("yes" if (shared > 0.03 and runs) or locked or (not unit.supply.neutral and runs) else "no")


def volts(unit: Unit, bench: Bench) -> None:
    bench.meter(terminals_v(unit))


def volts_phases(unit: Unit, bench: Bench) -> None:
    state, nominal = unit.supply, unit.profile.supply.nominal_v * unit.supply.level
    if breaker_open(unit):
        bench.places({"l1-l2": 0.0, "l2-l3": 0.0, "l3-l1": 0.0})
        return
    # A lost leg floats on the load: its two pairs together are never less than the whole one.
    low = 1.0 if state.leg else bench.rng.uniform(0.505, 0.58)
    uneven = [bench.rng.uniform(0.993, 1.007) for _ in range(3)]
    bench.places({"l1-l2": nominal * uneven[0], "l2-l3": nominal * low * uneven[1], "l3-l1": nominal * low * uneven[2]})


def legs_earth(unit: Unit, bench: Bench) -> None:
    ratio = {"split-phase-240": 2.0}.get(unit.profile.supply.system, 3**0.5)
    leg = 0.0 if breaker_open(unit) else unit.profile.supply.nominal_v * unit.supply.level / ratio
    bench.places({"leg-1": leg, "leg-2": leg if unit.supply.leg else leg * bench.rng.uniform(0.0, 0.3)})


def neutral(unit: Unit, bench: Bench) -> None:
    three = unit.profile.supply.system == "three-phase-400"
    leg = 0.0 if breaker_open(unit) else unit.profile.supply.nominal_v * unit.supply.level / (3**0.5 if three else 1.0)
    to_neutral = leg if unit.supply.neutral else leg * bench.rng.uniform(0.1, 0.7)
    bench.places({"line-neutral": to_neutral, "line-earth": leg * bench.rng.uniform(0.99, 1.0)})


def drop(unit: Unit, bench: Bench) -> None:
    bench.meter(terminals_v(unit), "idle")
    bench.meter(terminals_v(unit, loaded=unit.tries_to_run()), "loaded")


def drop_panel(unit: Unit, bench: Bench) -> None:
    at_panel = unit.profile.supply.nominal_v * unit.supply.level
    share = unit.supply.source_drop if unit.tries_to_run() else 0.0
    bench.meter(at_panel, "idle")
    bench.meter(at_panel * (1 - share), "loaded")


def running_current(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.current_a(), "current")


def breaker_current(unit: Unit, bench: Bench) -> None:
    rating = unit.profile.supply.breaker_a or 16.0
    bench.meter(rating, "rating")
    bench.say("ground-fault" if unit.lesser.leaks else "plain", "kind")
    if breaker_open(unit):
        bench.meter(0.2 if unit.lesser.leaks else rating * bench.rng.uniform(2, 6), "current")
        bench.say("yes", "tripped")
    elif unit.supply.breaker == "worn" and unit.makes_output():
        bench.meter(rating * unit.supply.breaker_trips_share, "current")
        bench.say("yes", "tripped")
    elif unit.compressor.earth_mohm < 0.05 and unit.tries_to_run():
        bench.meter(rating * bench.rng.uniform(1.1, 3), "current")
        bench.say("yes", "tripped")
    else:
        bench.meter(unit.current_a(), "current")
        bench.say("no", "tripped")


def terminal_look(unit: Unit, bench: Bench) -> None:
    bench.say("brown" if unit.supply.terminal_brown else "clean")


def terminal_tug(unit: Unit, bench: Bench) -> None:
    bench.say("firm" if unit.supply.terminal_tight else "moved")


def wire_size(unit: Unit, bench: Bench) -> None:
    bench.say(
        "unreadable" if unit.supply.wire_size == "enough" and bench.rng.random() < 0.06 else unit.supply.wire_size
    )


ANSWERS = {
    "breaker-look": breaker_look,
    "breaker-unit-off": unit_off,
    "lights-look": lights,
    "supply-volts": volts,
    "supply-volts-phases": volts_phases,
    "supply-legs-earth": legs_earth,
    "supply-neutral": neutral,
    "supply-drop": drop,
    "supply-drop-panel": drop_panel,
    "running-current": running_current,
    "breaker-trip-current": breaker_current,
    "supply-terminal-look": terminal_look,
    "supply-terminal-tug": terminal_tug,
    "supply-wire-size": wire_size,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def reported(unit: Unit) -> float:
    """The outdoor board lives and measures its supply."""
    if not unit.outdoor_board_alive():
        return 0.0
    return 0.85 if too_high(unit) or inverter_starved(unit) or not unit.supply.leg else 0.0


def trips_later(unit: Unit) -> float:
    if unit.supply.breaker == "worn" and unit.makes_output():
        return 1.0
    return 0.5 if unit.compressor.earth_mohm < 0.05 and not breaker_open(unit) and unit.tries_to_run() else 0.0


def dim(unit: Unit) -> float:
    return 0.4 if unit.supply.source_drop > 0.04 and unit.makes_output() else 0.0


SYMPTOMS = {
    "supply-indication": reported,
    "breaker-trips-at-once": lambda unit: 1.0 if breaker_trips(unit) else 0.0,
    "breaker-trips-later": trips_later,
    "lights-dim": dim,
}
