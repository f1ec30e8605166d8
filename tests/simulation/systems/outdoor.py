"""The outdoor unit's air, ice and noise, the reversing valve, and the pressure switches."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench
from tests.simulation.systems.circuit import gas_pressure_kpa, standing_kpa

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class OutdoorAir:
    """Flow shares and ice."""

    coil: float = 1.0
    recirculation_k: float = 0.0
    behind_m: float = 0.4
    snow: str = "neither"
    pan_drains: bool = True
    heater_ohm: float | None = 120.0
    sensor_seated: bool = True


@dataclass
class ReversingValve:
    """``slide`` free, or stuck in a position; the coil feeds heating unless ``fed_in_cooling``."""

    slide: str = "free"  # free, cooling, heating
    coil_ohm: float | None = 1450.0
    powered: bool = True
    fed_in_cooling: bool = False
    leak: float = 0.0


@dataclass
class Switches:
    """Contacts at rest pressure and the wires to the board."""

    high_contact: bool = True
    high_wires: tuple[float | None, float | None] = (0.2, 0.2)
    low_contact: bool = True
    low_wires: tuple[float | None, float | None] = (0.2, 0.2)

    def high_closed(self) -> bool:
        """The board sees the high pressure circuit closed."""
        return self.high_contact and None not in self.high_wires

    def low_closed(self) -> bool:
        """The board sees the low pressure circuit closed."""
        return self.low_contact and None not in self.low_wires


@dataclass
class Noise:
    """Things that shake."""

    panel: bool = False
    line: bool = False
    mount: bool = False
    oil: bool = False


def ice(unit: Unit) -> str:
    """What stands on the outdoor coil in heating weather."""
    air = unit.outdoor
    if unit.weather.cooling or unit.weather.outdoor_c > 6:
        return "none"
    if not unit.circulates(False):
        return "none"
    if not air.pan_drains or (unit.has("base-heater") and air.heater_ohm is None):
        return "bottom"
    if not air.sensor_seated or air.snow != "neither" or not unit.outdoor_fan_turns():
        return "block"
    if not unit.reversing_shifts():
        return "block" if unit.makes_output() else "none"
    if unit.circuit.charge < 0.8:
        return "rows"
    return "frost"


def ice_covers(unit: Unit) -> bool:
    """Ice stands in the way of the outdoor air."""
    air = unit.outdoor
    cold = not unit.weather.cooling and unit.weather.outdoor_c <= 6
    return cold and (not air.sensor_seated or air.snow != "neither" or not air.pan_drains or air.heater_ohm is None)


def shifts(unit: Unit) -> bool:
    """The slide moves when the coil is fed."""
    valve = unit.reversing
    return valve.slide == "free" and valve.powered and valve.coil_ohm is not None


def runs_cooling(unit: Unit, called_cooling: bool) -> bool:
    """Whether the circuit cools, when cooling (or heating) is called for."""
    valve = unit.reversing
    if valve.slide != "free":
        return valve.slide == "cooling"
    if shifts(unit):
        return called_cooling
    return not valve.fed_in_cooling  # unfed, the slide rests on the other side


# -- faults ------------------------------------------------------------------------------------------------------------


def coil_dirty(unit: Unit, rng: Random) -> None:
    unit.outdoor.coil = rng.uniform(0.2, 0.5)


def clearance_short(unit: Unit, rng: Random) -> None:
    unit.outdoor.recirculation_k = rng.uniform(4, 14)
    unit.outdoor.behind_m = rng.uniform(0.02, 0.09) if rng.random() < 0.6 else rng.uniform(0.12, 0.3)


def _winter(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = False
    unit.weather.indoor_c = rng.uniform(17, 21)
    unit.weather.outdoor_c = rng.uniform(-10, 2)


def sensor_displaced(unit: Unit, rng: Random) -> None:
    _winter(unit, rng)
    unit.outdoor.sensor_seated = False


def pan_frozen(unit: Unit, rng: Random) -> None:
    _winter(unit, rng)
    unit.outdoor.pan_drains = False


def heater_open(unit: Unit, rng: Random) -> None:
    _winter(unit, rng)
    unit.outdoor.heater_ohm = None


def snow(unit: Unit, rng: Random) -> None:
    _winter(unit, rng)
    unit.outdoor.snow = rng.choice(["snow", "drip"])


def reversing_coil(unit: Unit, rng: Random) -> None:
    unit.reversing.coil_ohm = None
    unit.weather.cooling = unit.reversing.fed_in_cooling


def reversing_unpowered(unit: Unit, rng: Random) -> None:
    unit.reversing.powered = False
    unit.weather.cooling = unit.reversing.fed_in_cooling


def reversing_stuck(unit: Unit, rng: Random) -> None:
    unit.reversing.slide = rng.choice(["cooling", "heating"])
    unit.weather.cooling = unit.reversing.slide == "heating"


def reversing_leaks(unit: Unit, rng: Random) -> None:
    unit.reversing.leak = rng.uniform(0.12, 0.4)


def high_switch(unit: Unit, rng: Random) -> None:
    unit.switches.high_contact = False


def high_wire(unit: Unit, rng: Random) -> None:
    unit.switches.high_wires = (None, 0.2) if rng.random() < 0.5 else (0.2, None)


def low_switch(unit: Unit, rng: Random) -> None:
    unit.switches.low_contact = False


def low_wire(unit: Unit, rng: Random) -> None:
    unit.switches.low_wires = (None, 0.2) if rng.random() < 0.5 else (0.2, None)


def panel(unit: Unit, rng: Random) -> None:
    unit.noise.panel = True


def line(unit: Unit, rng: Random) -> None:
    unit.noise.line = True


def mount(unit: Unit, rng: Random) -> None:
    unit.noise.mount = True


FAULTS = {
    "outdoor-coil-dirty": coil_dirty,
    "outdoor-clearance-short": clearance_short,
    "defrost-sensor-displaced": sensor_displaced,
    "base-pan-drain-frozen": pan_frozen,
    "base-heater-open": heater_open,
    "snow-drift-outdoor": snow,
    "reversing-coil-open": reversing_coil,
    "reversing-valve-unpowered": reversing_unpowered,
    "reversing-valve-stuck": reversing_stuck,
    "reversing-valve-leaking": reversing_leaks,
    "high-pressure-switch-open": high_switch,
    "high-pressure-circuit-open": high_wire,
    "low-pressure-switch-open": low_switch,
    "low-pressure-circuit-open": low_wire,
    "panel-loose": panel,
    "line-touching": line,
    "mount-vibrating": mount,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def coil_look(unit: Unit, bench: Bench) -> None:
    bench.say(bench.graded(unit.outdoor.coil, ("matted", 0.55), ("dusty", 0.85), ("clear", 2.0)))


def space(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.outdoor.behind_m, "behind")


def intake(unit: Unit, bench: Bench) -> None:
    side = 1 if unit.weather.cooling else -1
    moved = unit.outdoor.recirculation_k if unit.outdoor_fan_turns() and unit.makes_output() else 0.0
    bench.meter(unit.weather.outdoor_c + side * moved + bench.rng.gauss(0, 0.5), "intake")
    bench.meter(unit.weather.outdoor_c + bench.rng.gauss(0, 0.5), "weather")


def weather_look(unit: Unit, bench: Bench) -> None:
    bench.say(unit.outdoor.snow)


def ice_where(unit: Unit, bench: Bench) -> None:
    bench.say(ice(unit))


def pan_holes(unit: Unit, bench: Bench) -> None:
    bench.say("runs" if unit.outdoor.pan_drains else "stands")


def sensor_seat(unit: Unit, bench: Bench) -> None:
    bench.say("in" if unit.outdoor.sensor_seated else "out")


def heater_ohms(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.outdoor.heater_ohm)


def forced_defrost(unit: Unit, bench: Bench) -> None:
    if not unit.circulates(True) or not shifts(unit):
        bench.say("nothing")
        return
    left = ice(unit)
    bench.say(
        "water-stands" if left == "bottom" else "ice-left" if left == "block" and bench.rng.random() < 0.6 else "clear"
    )


def both_modes(unit: Unit, bench: Bench) -> None:
    cools = unit.delivers(True) > 0.3
    heats = unit.delivers(False) > 0.3
    bench.say("both" if cools and heats else "cooling-only" if cools else "heating-only" if heats else "neither")


def listen(unit: Unit, bench: Bench) -> None:
    moved = shifts(unit) and unit.circulates(unit.weather.cooling)
    bench.say("yes" if moved else "no")


def voltage_shift(unit: Unit, bench: Bench) -> None:
    if not unit.reversing.powered or not unit.outdoor_board_alive():
        bench.say("no-voltage")
    else:
        moved = shifts(unit) and unit.circulates(unit.weather.cooling)
        bench.say("shifts" if moved else "no-shift")


def coil_pull(unit: Unit, bench: Bench) -> None:
    valve = unit.reversing
    fed = valve.powered and valve.coil_ohm is not None and unit.outdoor_board_alive() and unit.called()
    bench.say("yes" if fed else "no")


def reversing_ohms(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.reversing.coil_ohm)


def pipe_temps(unit: Unit, bench: Bench) -> None:
    _valve_pipes(unit, bench, unit.weather.cooling)


def pipe_temps_other(unit: Unit, bench: Bench) -> None:
    """The same two pipes once the mode was changed."""
    _valve_pipes(unit, bench, not unit.weather.cooling)


def _valve_pipes(unit: Unit, bench: Bench, cooling: bool) -> None:
    if not unit.circulates(cooling):
        still = unit.weather.outdoor_c
        bench.meter(still + bench.rng.gauss(0, 0.5), "entering")
        bench.meter(still + bench.rng.gauss(0, 0.5), "leaving")
        return
    state = unit.settled(unit.runs_as(cooling))
    entering = state.boiling_c + state.superheat_k
    bench.meter(entering + bench.rng.gauss(0, 0.4), "entering")
    bench.meter(entering + state.valve_rise_k + bench.rng.gauss(0, 0.4), "leaving")


def trip_mode(unit: Unit, bench: Bench) -> None:
    """From memory and customer: the modes in which it stops by its pressures, or always."""
    if not (unit.switches.high_closed() and unit.switches.low_closed()):
        bench.say("both")
        return
    stops = {mode: unit.would_stop(mode) in ("high-pressure", "low-pressure") for mode in (True, False)}
    bench.say("both" if all(stops.values()) else "cooling" if stops[True] else "heating" if stops[False] else "never")


def coil_rise(unit: Unit, bench: Bench) -> None:
    air = unit.weather.outdoor_c
    if not unit.circulates(True):
        coil = air + 0.5
    else:
        state = unit.settled(True)
        coil = state.condensing_c - 0.3 * state.subcooling_k if unit.runs_as(True) else state.boiling_c
    bench.meter(coil + bench.rng.gauss(0, 0.8), "coil")
    bench.meter(air + bench.rng.gauss(0, 0.5), "air")


def condensing_heating(unit: Unit, bench: Bench) -> None:
    bench.meter(gas_pressure_kpa(unit, False), "pressure")


def high_circuit(unit: Unit, bench: Bench) -> None:
    bench.meter(0.6 if unit.switches.high_closed() else None)


def low_circuit(unit: Unit, bench: Bench) -> None:
    bench.meter(0.6 if unit.switches.low_closed() and not _emptied(unit) else None)


def _emptied(unit: Unit) -> bool:
    """The charge is so low that even at rest the low pressure switch is open."""
    switch = unit.profile.low_pressure_switch
    return switch is not None and standing_kpa(unit) < switch.opens_kpa


def high_switch_check(unit: Unit, bench: Bench) -> None:
    bench.meter(standing_kpa(unit), "pressure")
    bench.say("closed" if unit.switches.high_contact else "open", "contact")


def low_switch_check(unit: Unit, bench: Bench) -> None:
    bench.meter(standing_kpa(unit), "pressure")
    bench.say("closed" if unit.switches.low_contact and not _emptied(unit) else "open", "contact")


def high_wires(unit: Unit, bench: Bench) -> None:
    bench.places(dict(zip(("wire-1", "wire-2"), unit.switches.high_wires, strict=True)))


def low_wires(unit: Unit, bench: Bench) -> None:
    bench.places(dict(zip(("wire-1", "wire-2"), unit.switches.low_wires, strict=True)))


def noise_kind(unit: Unit, bench: Bench) -> None:
    noise = unit.noise
    if noise.panel:
        bench.say("rattle" if bench.rng.random() < 0.9 else "hum")
    elif noise.line or noise.mount:
        bench.say("hum" if bench.rng.random() < (0.85 if noise.line else 0.7) else "rattle")
    elif unit.air.wheel < 0.5 and bench.rng.random() < 0.3:
        bench.say("rattle")
    elif unit.circuit.strainer * unit.circuit.kink * unit.circuit.service_valve < 0.4 and bench.rng.random() < 0.5:
        bench.say("hiss")
    else:
        bench.say("tick" if bench.rng.random() < 0.15 else "none")


def _noisy(unit: Unit) -> bool:
    return unit.noise.panel or unit.noise.line or unit.noise.mount


def press_panels(unit: Unit, bench: Bench) -> None:
    bench.say("stops" if unit.noise.panel else "stays" if _noisy(unit) else "none")


def move_line(unit: Unit, bench: Bench) -> None:
    bench.say("stops" if unit.noise.line else "stays" if _noisy(unit) else "none")


def lean(unit: Unit, bench: Bench) -> None:
    bench.say("changes" if unit.noise.mount and bench.rng.random() < 0.9 else "stays" if _noisy(unit) else "none")


def mount_look(unit: Unit, bench: Bench) -> None:
    bench.say("no" if unit.noise.mount else "yes")


ANSWERS = {
    "airflow-outdoor-coil-look": coil_look,
    "airflow-outdoor-space": space,
    "airflow-outdoor-intake-air": intake,
    "defrost-weather-look": weather_look,
    "defrost-ice-where": ice_where,
    "defrost-pan-holes": pan_holes,
    "defrost-sensor-seat": sensor_seat,
    "defrost-heater-ohms": heater_ohms,
    "defrost-forced": forced_defrost,
    "reversing-both-modes": both_modes,
    "reversing-listen": listen,
    "reversing-voltage-shift": voltage_shift,
    "reversing-coil-pull": coil_pull,
    "reversing-coil-ohms": reversing_ohms,
    "reversing-pipe-temps": pipe_temps,
    "reversing-pipe-temps-other": pipe_temps_other,
    "pressure-trip-mode": trip_mode,
    "pressure-outdoor-coil-rise": coil_rise,
    "pressure-condensing-heating": condensing_heating,
    "pressure-high-circuit": high_circuit,
    "pressure-low-circuit": low_circuit,
    "pressure-high-switch": high_switch_check,
    "pressure-low-switch": low_switch_check,
    "pressure-high-wires": high_wires,
    "pressure-low-wires": low_wires,
    "noise-kind": noise_kind,
    "noise-press-panels": press_panels,
    "noise-move-line": move_line,
    "noise-lean-unit": lean,
    "noise-mount-look": mount_look,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def heats_in_cooling(unit: Unit) -> float:
    wrong = unit.runs_as(unit.weather.cooling) != unit.weather.cooling
    return 0.6 if wrong and unit.weather.cooling and unit.makes_output() else 0.0


def dear(unit: Unit) -> float:
    """It runs longer for less, or climbs higher for the same."""
    if not unit.makes_output():
        return 0.0
    climb = unit.settled(unit.runs_as(unit.weather.cooling)).climb_k
    return 0.3 if climb > 8 else 0.15 if 0.3 < unit.output_now() < 0.8 else 0.0


SYMPTOMS = {
    "ice-outdoor": lambda unit: 0.9 if ice(unit) in ("block", "bottom") else 0.1 if ice(unit) == "rows" else 0.0,
    "heats-in-cooling": heats_in_cooling,
    "pressure-indication": lambda unit: 0.5 if unit.stopped_by() in ("high-pressure", "low-pressure") else 0.0,
    "high-pressure-indication": lambda unit: 0.8 if unit.stopped_by() == "high-pressure" else 0.0,
    "low-pressure-indication": lambda unit: 0.8 if unit.stopped_by() == "low-pressure" else 0.0,
    "noise-rattle": lambda unit: 1.0 if _noisy(unit) else 0.0,
    "high-bill": dear,
}
