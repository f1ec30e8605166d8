"""Drawing a site: a unit of some family, weather, one or two faults, and the small imperfections of every site."""

from __future__ import annotations

import random
from dataclasses import dataclass

from tests.field.faults import FAULTS, Fault
from tests.field.faults.fault import Level
from tests.field.machine.units import BUILD, Machine, put
from tests.field.machine.weather import Mode, Weather
from tests.field.world.repairs import has
from tests.field.world.signs import Signs, signs

_TWO_FAULTS = 0.12
_TRIES = 60


@dataclass(frozen=True)
class Case:
    """One fault of a site at one of its levels."""

    fault: Fault
    level: int


@dataclass
class Site:
    """A drawn site. ``sound`` is the same installation without its faults."""

    unit: str
    machine: Machine
    sound: Machine
    weather: Weather
    cases: tuple[Case, ...]
    seed: int
    signs_bad: Signs
    signs_now: Signs


class NoSuchSite(ValueError):
    """A fault that shows in none of the weathers and units tried."""


def draw(seed: int, fault: Fault | None = None, unit: str | None = None, level: int | None = None) -> Site:
    """A site with a complaint; ``fault``, ``unit`` and ``level`` may be set. Raises NoSuchSite."""
    rng = random.Random(seed)
    for _ in range(_TRIES):
        one = fault or rng.choice([each for each in FAULTS if not each.hidden])
        name = unit or rng.choice(sorted(one.units))
        if name not in one.units:
            continue
        at = level if level is not None else rng.randrange(len(one.levels))
        site = _site(rng, seed, name, [Case(one, at)])
        if site.signs_bad and fault is None and rng.random() < _TWO_FAULTS:
            site = _with_second(rng, site) or site
        if site.signs_bad:
            return site
    raise NoSuchSite(f"No site with a complaint was found for seed {seed} and fault {fault.id if fault else 'any'}.")


def weather_for(rng: random.Random, faults: list[Fault]) -> Weather:
    """Weather in which these faults can show."""
    seasons = {fault.season for fault in faults} - {"any"} or {rng.choice(["cooling", "heating"])}
    season = next(iter(seasons))
    ranges: dict[str, tuple[float, float, Mode]] = {
        "cooling": (26, 37, "cooling"),
        "heating": (-8, 10, "heating"),
        "frost": (-6, 5, "heating"),
        "cool": (-10, 8, "heating"),
        "cold": (-14, -3, "heating"),
        "cold-cooling": (-12, 2, "cooling"),
    }
    low, high, wanted = ranges[season]
    outdoor = rng.uniform(low, high)
    indoor = rng.uniform(25, 29) if wanted == "cooling" else rng.uniform(15, 19)
    if season == "cold-cooling":
        indoor = rng.uniform(23, 26)
    return Weather(round(outdoor, 1), round(indoor, 1), round(rng.uniform(0.4, 0.85), 2), wanted)


def apply(machine: Machine, level: Level, weather: Weather) -> None:
    """Set a fault's values; "opposite" stands for what is against the wanted mode."""
    for path, value in level.items():
        if value == "opposite":
            against = "heating" if weather.wanted == "cooling" else "cooling"
            value = against if path.endswith("mode") else (31.0 if weather.wanted == "cooling" else 12.0)
        put(machine, path, value)


def _site(rng: random.Random, seed: int, unit: str, cases: list[Case]) -> Site:
    weather = weather_for(rng, [case.fault for case in cases])
    sound = BUILD[unit]()
    _imperfect(rng, sound, weather)
    for case in cases:
        apply(sound, case.fault.circumstances, weather)
    if cases:
        sound.house.history = cases[0].fault.history
    if rng.random() < 0.12:
        sound.house.history = "by-itself"
    best: Site | None = None
    fit = [zone for zone in range(len(sound.zones)) if all(zone in case.fault.zones for case in cases)]
    zones = rng.sample(fit or [0], len(fit or [0]))
    for zone in zones:
        sound.at = zone
        machine = sound.copy()
        for case in cases:
            apply(machine, case.fault.levels[case.level], weather)
        shown = signs(machine, sound, weather, bad=True)
        now = signs(machine, sound, weather, bad=False)
        best = Site(unit, machine, sound.copy(), weather, tuple(cases), seed, shown, now)
        if shown:
            return best
    assert best is not None
    return best


def _with_second(rng: random.Random, site: Site) -> Site | None:
    """The same site with another fault beside the first, of other parts and the same season."""
    first = site.cases[0].fault
    others = [
        fault
        for fault in FAULTS
        if fault.id != first.id
        and site.unit in fault.units
        and fault.season in ("any", first.season)
        and not fault.paths & first.paths
        and all(has(site.machine, path) for path in fault.paths)
    ]
    second = rng.choice(others)
    both = _site(rng, site.seed, site.unit, [site.cases[0], Case(second, rng.randrange(len(second.levels)))])
    return both if both.signs_bad else None


def _imperfect(rng: random.Random, machine: Machine, weather: Weather) -> None:
    """What no site is without: some dirt, pipes of another length, a supply a little off, aged insulation."""
    for zone in machine.zones:
        zone.filter_dirt = rng.uniform(0.0, 0.35)
        zone.coil.dirt = rng.uniform(0.0, 0.2)
        zone.wheel_dirt = rng.uniform(0.0, 0.25)
        zone.settings.mode = weather.wanted
        zone.settings.setpoint_c = 22.0 if weather.wanted == "cooling" else 21.0
        zone.room.load = rng.uniform(0.4, 0.62)
        zone.cable.conductor_ohm = (rng.uniform(0.1, 0.3),) * 3
        zone.cable.insulation_mohm = rng.uniform(80, 900)
    machine.outdoor.coil.dirt = rng.uniform(0.0, 0.3)
    machine.outdoor.coil.behind_m = rng.uniform(0.25, 1.0)
    machine.outdoor.compressor.insulation_mohm = rng.choice([20.0, 60.0, 200.0, 800.0])
    machine.outdoor.power.capacitor_share = rng.uniform(0.82, 1.0)
    machine.refrigerant.charge = rng.uniform(0.97, 1.03)
    one, two = machine.supply.leg_v
    scale = rng.uniform(0.96, 1.03)
    machine.supply.leg_v = (round(one * scale, 1), round(two * scale, 1))
    if len(machine.zones) == 1:
        machine.lines.length_m = round(rng.uniform(3, 7), 1)
        machine.lines.height_m = round(rng.uniform(0.5, 3), 1)
        machine.lines.rise_m = min(machine.lines.height_m, 2.5)
