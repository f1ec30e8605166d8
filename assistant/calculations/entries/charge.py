"""Charge, leaks, climate, flammability and tightness in the catalogue."""

from __future__ import annotations

from assistant.calculations import charge, flammable, tightness
from assistant.calculations.entries.common import (
    ALTITUDE,
    GAUGE,
    REFRIGERANT,
    THERMOMETER,
    accuracy,
    judged_outputs,
    judged_values,
    meter,
)
from assistant.calculations.entry import Calculation, Output, Value, quantity, word

_MASS = quantity("mass", "mass", "refrigerant", said_in="lb")
_MOUNTING = word("mounting", "mounting", tuple(flammable.MOUNTING_M))
_LFL = quantity("lfl", "density", "flammability limit", optional=True)
_AREA = quantity("area", "area", "room area", said_in="ft2")


def _room(**v: float) -> dict[str, Value]:
    found = flammable.room_check(str(v["refrigerant"]), v["mass"], v["area"], str(v["mounting"]), v["lfl"])
    return {
        "fits": "yes" if found.fits else "no",
        "largest": found.largest_charge_kg,
        "smallest_area": found.smallest_area_m2,
        "m1": found.steps_kg[0],
        "m2": found.steps_kg[1],
        "m3": found.steps_kg[2],
        "says": found.says,
    }


def _nitrogen(**v: float) -> dict[str, Value]:
    found = tightness.judge_nitrogen(
        v["start"],
        v["start_temperature"],
        v["now"],
        v["now_temperature"],
        gauge=accuracy(v, "gauge"),
        thermometer_k=v["thermometer"],
        allowed_kpa=v["allowed"],
        altitude_m=v["altitude"],
    )
    judged = judged_values(found.against, "kPa", "pressure difference")
    return {"lost": found.lost_kpa, "expected": found.expected_kpa, **judged}


def _vacuum(**v: float) -> dict[str, Value]:
    found = tightness.judge_vacuum_decay(
        v["start"], v["middle"], v["end"], v["duration"], gauge=accuracy(v), limit_pa=v["limit"]
    )
    return {"outcome": found.verdict, "rise": found.rise_pa, **judged_values(found.against, "Pa", "vacuum")}


ENTRIES = (
    Calculation(
        "charge",
        "charge and leaks",
        "charge for the line length",
        (
            quantity("nameplate", "mass", "nameplate charge", said_in="lb"),
            quantity("length", "length", "line length", said_in="ft"),
            quantity("free", "length", "length in the nameplate charge", said_in="ft"),
            quantity("added", "mass_per_length", "added for every metre beyond"),
        ),
        (Output("total", "mass", "charge"),),
        "nameplate + max(0, L - L_free)·added",
        "{nameplate} + ({length} - {free})·{added}",
        charge.CHARGE_SOURCE,
        lambda nameplate, length, free, added: {"total": charge.charge_kg(nameplate, length, free, added)},
        spoken=("charge",),
    ),
    Calculation(
        "leak-rate",
        "charge and leaks",
        "yearly leak rate",
        (
            quantity("added", "mass", "added", said_in="lb"),
            quantity("full", "mass", "full charge", said_in="lb"),
            quantity("days", "count", "days since the last addition"),
        ),
        (Output("rate", "percent", "leak rate a year"),),
        "100·added/full·365/min(days, 365)",
        "100·{added}/{full}·365/min({days}, 365)",
        charge.LEAK_SOURCE,
        lambda added, full, days: {"rate": charge.annualized_leak_percent(added, full, days)},
        spoken=("leak rate",),
    ),
    Calculation(
        "leak-rate-rolling",
        "charge and leaks",
        "leak rate over the last year",
        (
            quantity("added", "mass", "added in 365 days", said_in="lb"),
            quantity("full", "mass", "full charge", said_in="lb"),
        ),
        (Output("rate", "percent", "leak rate"),),
        "100·Σ added in 365 days/full",
        "100·{added}/{full}",
        charge.LEAK_SOURCE,
        lambda added, full: {"rate": charge.rolling_leak_percent((added,), full)},
    ),
    Calculation(
        "warming-potential",
        "charge and leaks",
        "global warming potential of a refrigerant",
        (REFRIGERANT, word("report", "IPCC report", ("AR4", "AR5", "AR6"), "AR4")),
        (Output("gwp", "count", "kg CO2e per kg"),),
        "Σ mass share·GWP100",
        "{refrigerant}, {report}",
        charge.GWP_SOURCE,
        lambda refrigerant, report: {"gwp": charge.gwp100(refrigerant, report)},
    ),
    Calculation(
        "co2-equivalent",
        "charge and leaks",
        "CO2-equivalent of a charge",
        (REFRIGERANT, _MASS, word("report", "IPCC report", ("AR4", "AR5", "AR6"), "AR4")),
        (Output("tonnes", "count", "tonnes CO2e"),),
        "mass·GWP100/1000",
        "{mass} {refrigerant}, {report}",
        charge.GWP_SOURCE,
        lambda refrigerant, mass, report: {"tonnes": charge.co2_equivalent_t(refrigerant, mass, report)},
    ),
    Calculation(
        "room",
        "charge and leaks",
        "a flammable charge against the room",
        (REFRIGERANT, _MASS, _AREA, _MOUNTING, _LFL),
        (
            Output("fits", "word", "fits by the formula"),
            Output("largest", "mass", "largest charge"),
            Output("smallest_area", "area", "smallest room"),
            Output("m1", "mass", "m1"),
            Output("m2", "mass", "m2"),
            Output("m3", "mass", "m3"),
            Output("says", "word", "because"),
        ),
        "m_max = 2.5·LFL^1.25·h0·√A",
        "{mass} {refrigerant} in {area}, {mounting}",
        f"{flammable.ROOM_SOURCE}; {flammable.CAP_SOURCE}",
        _room,
    ),
    Calculation(
        "room-largest-charge",
        "charge and leaks",
        "largest flammable charge for a room",
        (REFRIGERANT, _AREA, _MOUNTING, _LFL),
        (Output("largest", "mass", "largest charge"),),
        "2.5·LFL^1.25·h0·√A",
        "{refrigerant}, {area}, {mounting}",
        flammable.ROOM_SOURCE,
        lambda refrigerant, area, mounting, lfl: {
            "largest": flammable.largest_charge_kg(refrigerant, area, mounting, lfl)
        },
    ),
    Calculation(
        "nitrogen-pressure",
        "tightness",
        "nitrogen pressure at another temperature",
        (
            quantity("start", "pressure_gauge", "pressure at the start", said_in="psi"),
            quantity("start_temperature", "temperature", "temperature at the start", said_in="degF"),
            quantity("now_temperature", "temperature", "temperature now", said_in="degF"),
            ALTITUDE,
        ),
        (
            Output("expected", "pressure_gauge", "expected now"),
            Output("ideal", "pressure_gauge", "by the ideal law P1·T2/T1"),
        ),
        "p = ρ·R·T·(1 + B·ρ + C·ρ²) at one density ρ",
        "{start} from {start_temperature} to {now_temperature}",
        tightness.NITROGEN_SOURCE,
        lambda start, start_temperature, now_temperature, altitude: {
            "expected": tightness.nitrogen_expected_kpa(start, start_temperature, now_temperature, altitude),
            "ideal": tightness.ideal_expected_kpa(start, start_temperature, now_temperature, altitude),
        },
    ),
    Calculation(
        "nitrogen-test",
        "tightness",
        "nitrogen standing test judged",
        (
            quantity("start", "pressure_gauge", "pressure at the start", said_in="psi"),
            quantity("start_temperature", "temperature", "temperature at the start", said_in="degF"),
            quantity("now", "pressure_gauge", "pressure now", said_in="psi"),
            quantity("now_temperature", "temperature", "temperature now", said_in="degF"),
            quantity("allowed", "pressure_gauge", "loss allowed", 7.0),
            ALTITUDE,
            *GAUGE,
            THERMOMETER,
        ),
        (
            Output("lost", "pressure_gauge", "lost beyond temperature"),
            Output("expected", "pressure_gauge", "expected now"),
            *judged_outputs("pressure_gauge"),
        ),
        "p(ρ, T2) - P2 at the density of P1, T1",
        "{expected} - {now}, allowed {allowed}",
        tightness.NITROGEN_SOURCE + "; JCGM 100:2008 5.1.3",
        _nitrogen,
        spoken=("nitrogen test",),
    ),
    Calculation(
        "vacuum-test",
        "tightness",
        "vacuum decay judged",
        (
            quantity("start", "vacuum", "vacuum when valved off", said_in="micron"),
            quantity("middle", "vacuum", "vacuum at half time", said_in="micron"),
            quantity("end", "vacuum", "vacuum at the end", said_in="micron"),
            quantity("duration", "duration", "test time", said_in="min"),
            quantity("limit", "vacuum", "limit", 500 * tightness.MICRON_PA),
            *meter(10.0, 1.5, "vacuum"),
        ),
        (
            Output("outcome", "word", "vacuum"),
            Output("rise", "vacuum", "rise"),
            *judged_outputs("vacuum"),
        ),
        "last reading against the limit; leak when the rise goes on, moisture when it levels off",
        "{start}, {middle}, {end} over {duration}, limit {limit}",
        tightness.VACUUM_SOURCE,
        _vacuum,
        spoken=("vacuum test",),
    ),
    Calculation(
        "vacuum-leak-flow",
        "tightness",
        "leak rate from a pressure rise",
        (
            quantity("rise", "vacuum", "rise", said_in="micron"),
            quantity("volume", "volume", "volume of the circuit"),
            quantity("duration", "duration", "test time", said_in="min"),
        ),
        (Output("flow", "leak_flow", "leak"),),
        "V·Δp/t",
        "{volume}·{rise}/{duration}",
        "pressure-rise method, EN 1779 (title from memory)",
        lambda rise, volume, duration: {"flow": tightness.leak_rate_pa_m3_s(rise, volume, duration)},
    ),
)
