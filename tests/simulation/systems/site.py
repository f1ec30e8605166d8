"""How it was installed, what the customer set, and what commissioning measures."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench
from tests.simulation.systems import drain as drains
from tests.simulation.systems import indoor

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class Site:
    """``scope``: "one" zone or the whole unit. ``absent``: nothing is wrong today. ``normal``: nothing ever was."""

    history: str = "by-itself"
    scope: str = "all"
    settings: str = "full"
    installer_settings: str = "match"
    load: float = 0.8
    absent: bool = False
    normal: str = ""
    oil_trap: str = "not-asked"
    riser_m: float = 2.5
    added_kg: float | None = None
    label: str = "not-needed"
    loose_plug: bool = False


# -- faults ------------------------------------------------------------------------------------------------------------


def _installed(unit: Unit, rng: Random, later: float = 0.1) -> None:
    unit.site.history = "by-itself" if rng.random() < later else rng.choices(["never", "after-work"], [0.8, 0.2])[0]


def charge_not_added(unit: Unit, rng: Random) -> None:
    _installed(unit, rng)
    data = unit.profile.refrigerant
    unit.weather.line_m = data.free_length_m + rng.uniform(6, 18)
    unit.circuit.charge = rng.uniform(0.55, 0.72)
    unit.site.added_kg = 0.0
    unit.site.label = "not-noted"


def line_too_long(unit: Unit, rng: Random) -> None:
    _installed(unit, rng)
    longest = unit.profile.refrigerant.longest_line_m or 25.0
    unit.weather.line_m = longest * rng.uniform(1.15, 1.6)
    unit.circuit.kink = rng.uniform(0.4, 0.55)
    unit.site.added_kg = None
    unit.site.label = "added"


def oil_trap_missing(unit: Unit, rng: Random) -> None:
    _installed(unit, rng)
    unit.site.oil_trap = "missing"
    unit.site.riser_m = rng.uniform(7, 15)
    unit.compressor.worn_k = rng.uniform(5, 18)
    unit.noise.oil = True


def settings_wrong(unit: Unit, rng: Random) -> None:
    _installed(unit, rng)
    unit.site.installer_settings = "differ"
    unit.site.load = 1.0
    unit.site.normal = ""


def service_valve(unit: Unit, rng: Random) -> None:
    _installed(unit, rng)
    unit.circuit.service_valve = rng.uniform(0.05, 0.35)


def line_kinked(unit: Unit, rng: Random) -> None:
    _installed(unit, rng, later=0.4)
    unit.circuit.kink = rng.uniform(0.08, 0.4)


def normal(unit: Unit, rng: Random) -> None:
    unit.site.absent = True
    unit.site.normal = rng.choice(["steam", "hiss", "tick", "cold-while-defrosting", "short-runs", "asked"])
    if unit.site.normal in ("steam", "cold-while-defrosting"):
        unit.weather.cooling = False
        unit.weather.outdoor_c = rng.uniform(-6, 4)


def user_settings(unit: Unit, rng: Random) -> None:
    unit.site.settings = "else"


def load_too_great(unit: Unit, rng: Random) -> None:
    unit.site.load = rng.uniform(1.3, 1.8)


def not_present(unit: Unit, rng: Random) -> None:
    unit.site.absent = True
    unit.site.loose_plug = rng.random() < 0.3


FAULTS = {
    "charge-not-added": charge_not_added,
    "pipes-too-long": line_too_long,
    "oil-trap-missing": oil_trap_missing,
    "settings-wrong": settings_wrong,
    "service-valve-closed": service_valve,
    "line-kinked": line_kinked,
    "normal-behaviour": normal,
    "user-settings": user_settings,
    "load-too-great": load_too_great,
    "fault-not-present": not_present,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def line_look(unit: Unit, bench: Bench) -> None:
    seen = unit.circuit.kink < 0.41 and unit.site.label != "added" and bench.rng.random() < 0.88
    bench.say("kinked" if seen else "round")


def bend_drop(unit: Unit, bench: Bench) -> None:
    state = unit.settled(False)
    before = state.condensing_c - state.subcooling_k if unit.circulates(False) else unit.weather.outdoor_c
    narrow = unit.circuit.kink if unit.site.label != "added" else 1.0
    fall = 0.3 + max(0.0, 0.6 - narrow) * 25 if unit.circulates(False) else 0.0
    bench.meter(before + bench.rng.gauss(0, 0.3), "before")
    bench.meter(before - fall + bench.rng.gauss(0, 0.3), "behind")


def valve_stems(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.circuit.service_valve > 0.6 else "no")


def line_length(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.weather.line_m, "length")
    bench.meter(unit.weather.height_m, "height")


def _due_kg(unit: Unit) -> float:
    data = unit.profile.refrigerant
    return max(0.0, unit.weather.line_m - data.free_length_m) * data.added_g_per_m / 1000


def charge_label(unit: Unit, bench: Bench) -> None:
    if unit.site.label == "not-noted":
        bench.say("not-noted")
    else:
        bench.say("not-needed" if _due_kg(unit) < 0.05 else "added")


def charge_added(unit: Unit, bench: Bench) -> None:
    added = _due_kg(unit) if unit.site.added_kg is None else unit.site.added_kg
    bench.meter(added, "mass")
    bench.meter(unit.weather.line_m, "length")


def oil_trap(unit: Unit, bench: Bench) -> None:
    bench.say(unit.site.oil_trap)


def riser(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.site.riser_m)


def settings(unit: Unit, bench: Bench) -> None:
    bench.say(unit.site.installer_settings)


def torque(unit: Unit, bench: Bench) -> None:
    place = unit.circuit.leak
    turned = place in ("indoor-joint", "outdoor-joint") and bench.rng.random() < 0.55
    bench.say(place.removesuffix("-joint") if turned else "hold")


def flare(unit: Unit, bench: Bench) -> None:
    bad = unit.circuit.leak in ("indoor-joint", "outdoor-joint") and bench.rng.random() < 0.8
    bench.say("poor" if bad else "even")


def remote_settings(unit: Unit, bench: Bench) -> None:
    bench.say(unit.site.settings)


def _does_what_is_asked(unit: Unit) -> bool:
    """Cooling or heating comes out well and nothing else is wrong for the customer."""
    return unit.complaint_persists() is False


def set_full(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.site.settings == "else" or _does_what_is_asked(unit) else "no")


def story(unit: Unit, bench: Bench) -> None:
    site = unit.site
    if site.load > 1.2:
        bench.say("extreme")
    elif site.normal in ("steam", "hiss", "tick", "cold-while-defrosting", "short-runs"):
        bench.say("some-minutes" if bench.rng.random() < 0.85 else "now-and-then")
    elif site.absent or unit.line.disturbed or unit.line.comes_and_goes or not unit.supply.terminal_tight:
        bench.say("now-and-then")
    else:
        bench.say("always" if bench.rng.random() < 0.9 else "now-and-then")


def normal_signs(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.site.normal and bench.rng.random() < 0.95 else "no")


def watch(unit: Unit, bench: Bench) -> None:
    if unit.line.disturbed or unit.line.comes_and_goes:
        bench.say("yes" if bench.rng.random() < 0.5 else "no")
    else:
        bench.say("no" if not unit.complaint_persists() and not unit.site.normal else "yes")


def wiggle(unit: Unit, bench: Bench) -> None:
    loose = (
        unit.site.loose_plug
        or unit.sensors.bad_plug == "outdoor"
        or unit.outdoor_fan.plug != "firm"
        or not unit.valve.plug
        or not unit.supply.terminal_tight
        or not unit.lesser.signal_screw
        or None in unit.switches.high_wires
        or None in unit.switches.low_wires
    )
    bench.say("yes" if loose and bench.rng.random() < 0.95 else "no")


def load_hours(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.site.load > 1.2 else "no")


def _split(unit: Unit, bench: Bench, cooling: bool) -> None:
    inlet = unit.weather.indoor_c
    flow = indoor.airflow(unit)
    share = unit.delivers(cooling)
    if unit.circulates(cooling) and unit.runs_as(cooling) != cooling:
        share = -unit.settled(not cooling).output
    full = 12.0 if cooling else 21.0
    change = full * share / max(flow, 0.25) ** 0.7 if flow > 0.05 else 0.0
    if unit.site.settings == "else":
        change *= 0.5
    bench.meter(inlet + bench.rng.gauss(0, 0.3), "inlet")
    bench.meter(inlet + (-change if cooling else change) + bench.rng.gauss(0, 0.5), "outlet")


def complaint_mode(unit: Unit, bench: Bench) -> None:
    """In the mode of the season; who tried both knows more."""
    bench.say("cooling" if unit.weather.cooling else "heating")


def split_cooling(unit: Unit, bench: Bench) -> None:
    _split(unit, bench, True)


def split_heating(unit: Unit, bench: Bench) -> None:
    _split(unit, bench, False)


def drain_test(unit: Unit, bench: Bench) -> None:
    """Without power: what a pump would lift is not poured."""
    if unit.has("condensate-pump"):
        bench.say("pump")
    else:
        drain_by_pump(unit, bench)


def drain_by_pump(unit: Unit, bench: Bench) -> None:
    leaves = drains.outflow_l_h(unit) > 12 and unit.drain.tilt != "away"
    bench.say("yes" if leaves else "no")


def leak_check(unit: Unit, bench: Bench) -> None:
    bench.say("no" if unit.circuit.leak in ("indoor-joint", "outdoor-joint", "valve") else "yes")


def nitrogen(unit: Unit, bench: Bench) -> None:
    air = bench.rng.uniform(10, 28)
    after = air + bench.rng.uniform(-2, 2)
    share = bench.rng.uniform(0.8, 0.96) if unit.circuit.leak else 1.0
    start = 3000.0
    end = ((start + 101.325) * (after + 273.15) / (air + 273.15)) * share - 101.325
    bench.meter(start, "start")
    bench.meter(air, "start-air")
    bench.meter(end, "end")
    bench.meter(after, "end-air")


def weighed_in(unit: Unit, bench: Bench) -> None:
    refrigerant = unit.profile.refrigerant
    free, extra = refrigerant.free_length_m or 7.5, refrigerant.added_g_per_m or 15.0
    due = (refrigerant.charge_kg or 1.0) + max(0.0, unit.weather.line_m - free) * extra / 1000
    bench.meter(due * bench.rng.uniform(0.99, 1.01), "mass")
    bench.meter(unit.weather.line_m, "length")


def vacuum(unit: Unit, bench: Bench) -> None:
    reached = bench.rng.uniform(15, 34)
    after = bench.rng.uniform(400, 3000) if unit.circuit.leak else bench.rng.uniform(35, 55)
    bench.meter(reached, "reached")
    bench.meter((reached + after) / 2, "middle")  # a leak lets in as much in each half
    bench.meter(after, "after")


def insulation(unit: Unit, bench: Bench) -> None:
    # The motor hangs behind the inverter, so its own leak is seen through the bridge.
    bench.meter(min(unit.compressor.earth_mohm, 300.0) * 1e6)


def ground_wire(unit: Unit, bench: Bench) -> None:
    bench.meter(bench.rng.uniform(0.05, 0.25))  # no fault of this simulator breaks it


def indication_clear(unit: Unit, bench: Bench) -> None:
    bench.say("no" if unit.shows_an_indication() else "yes")


def complaint_gone(unit: Unit, bench: Bench) -> None:
    bench.say("no" if unit.complaint_persists() else "yes")


def understood(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.site.normal or unit.site.settings == "else" or unit.site.load < 0.2 else "no")


ANSWERS = {
    "install-line-look": line_look,
    "install-bend-drop": bend_drop,
    "install-valve-stems": valve_stems,
    "install-line-length": line_length,
    "install-charge-label": charge_label,
    "install-charge-added": charge_added,
    "install-oil-trap": oil_trap,
    "install-riser-height": riser,
    "install-settings-look": settings,
    "install-flare-torque": torque,
    "install-flare-face": flare,
    "nothing-settings-look": remote_settings,
    "nothing-set-full": set_full,
    "nothing-story": story,
    "nothing-normal-signs": normal_signs,
    "nothing-watch-run": watch,
    "nothing-wiggle": wiggle,
    "nothing-load-hours": load_hours,
    "commission-split-cooling": split_cooling,
    "commission-split-heating": split_heating,
    "first-split-cooling": split_cooling,
    "first-split-heating": split_heating,
    "complaint-mode": complaint_mode,
    "commission-drain-test": drain_test,
    "commission-drain-pump": drain_by_pump,
    "commission-leak-check": leak_check,
    "commission-nitrogen-hold": nitrogen,
    "commission-vacuum-decay": vacuum,
    "commission-charge": weighed_in,
    "commission-charge-plate": lambda unit, bench: bench.say("yes"),
    "commission-insulation": insulation,
    "commission-ground-continuity": ground_wire,
    "commission-indication-clear": indication_clear,
    "commission-complaint-gone": complaint_gone,
    "commission-complaint-understood": understood,
}

# -- what the customer meets -------------------------------------------------------------------------------------------


def never_right(unit: Unit) -> float:
    wrong = unit.complaint_persists() or unit.site.installer_settings == "differ"
    return 0.7 if unit.site.history == "never" and wrong else 0.0


def weak(unit: Unit) -> float:
    if unit.site.installer_settings == "differ":
        return 0.5
    return 0.8 if unit.site.load > 1.2 else 0.6 if unit.site.settings == "else" else 0.0


def not_seen(unit: Unit) -> float:
    return 0.6 if unit.site.absent or unit.line.disturbed else 0.0


def early(unit: Unit) -> float:
    return 0.3 if unit.site.settings == "else" or unit.site.normal == "short-runs" else 0.0


SYMPTOMS = {
    "never-worked-right": never_right,
    "site:weak-output": weak,
    "complaint-not-seen": not_seen,
    "stops-before-setpoint": early,
    "steam-outdoor": lambda unit: 0.9 if unit.site.normal == "steam" else 0.0,
    "site:noise-hiss": lambda unit: 0.9 if unit.site.normal == "hiss" else 0.0,
    "site:noise-rattle": lambda unit: 0.4 if unit.site.normal == "tick" or unit.noise.oil else 0.0,
    "site:blows-cold-heating": lambda unit: 0.9 if unit.site.normal == "cold-while-defrosting" else 0.0,
    "site:high-bill": lambda unit: 0.5 if unit.site.load > 1.2 or unit.site.settings == "else" else 0.0,
    "site:room-temperature-off": lambda unit: 0.5 if unit.site.settings == "else" else 0.0,
}
