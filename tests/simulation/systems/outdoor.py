"""The outdoor unit's air, and the ice that grows in it."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench

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


def defrosts(unit: Unit) -> bool:
    """The coil's sensor feels the ice: it sits in its tube, is whole and does not read far too warm."""
    coil = unit.sensors.by_name["coil"]
    return unit.outdoor.sensor_seated and coil.state == "sound" and coil.error_k < 4


def ice(unit: Unit) -> str:
    """What stands on the outdoor coil in heating weather."""
    air = unit.outdoor
    if unit.weather.cooling or unit.weather.outdoor_c > 6:
        return "none"
    if not unit.circulates(False):
        return "none"
    if not air.pan_drains or (unit.has("base-heater") and air.heater_ohm is None):
        return "bottom"
    if not defrosts(unit) or air.snow != "neither" or not unit.outdoor_fan_turns():
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
    return cold and (not defrosts(unit) or air.snow != "neither" or not air.pan_drains or air.heater_ohm is None)


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


FAULTS = {
    "outdoor-coil-dirty": coil_dirty,
    "outdoor-clearance-short": clearance_short,
    "defrost-sensor-displaced": sensor_displaced,
    "base-pan-drain-frozen": pan_frozen,
    "base-heater-open": heater_open,
    "snow-drift-outdoor": snow,
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
    if not unit.circulates(True) or not unit.reversing_shifts():
        bench.say("nothing")
        return
    left = ice(unit)
    bench.say(
        "water-stands" if left == "bottom" else "ice-left" if left == "block" and bench.rng.random() < 0.6 else "clear"
    )


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
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def dear(unit: Unit) -> float:
    """It runs longer for less, or climbs higher for the same."""
    if not unit.makes_output():
        return 0.0
    climb = unit.settled(unit.runs_as(unit.weather.cooling)).climb_k
    return 0.3 if climb > 8 else 0.15 if 0.3 < unit.output_now() < 0.8 else 0.0


def needless_defrosts(unit: Unit) -> float:
    """A coil sensor that reads far too cold calls for a defrost again and again."""
    return (
        0.5
        if unit.sensors.by_name["coil"].error_k < -5 and unit.circulates(False) and not unit.weather.cooling
        else 0.0
    )


SYMPTOMS = {
    "outdoor:steam-outdoor": needless_defrosts,
    "ice-outdoor": lambda unit: 0.9 if ice(unit) in ("block", "bottom") else 0.1 if ice(unit) == "rows" else 0.0,
    "high-bill": dear,
}
