"""The refrigerant charge in the catalogue: how much there is, may be and must be."""

from __future__ import annotations

from typing import Any

from assistant.calculations import charge, cylinder, flammable
from assistant.calculations.entries.common import (
    OUTCOME,
    REFRIGERANT,
    judged_outputs,
)
from assistant.calculations.entry import Calculation, Output, Value, quantity, word
from assistant.calculations.errors import Missing

_MASS = quantity("mass", "mass", "refrigerant", said_in="lb")

_MOUNTING = word("mounting", "mounting", tuple(flammable.MOUNTING_M))

_ROOM = (
    quantity("lfl", "density", "flammability limit", optional=True),
    quantity("height", "length", "height of the room", optional=True, said_in="ft"),
    quantity("concentration", "density", "concentration limit", optional=True),
)

_WEIGHED = quantity("mass", "mass", "weighed", said_in="lb", instrument="charging-scale")

_LINE_M = quantity("length", "length", "line length", said_in="ft", instrument="tape-measure")

_AREA = quantity("area", "area", "room area", said_in="ft2")


def _room(**v: Any) -> dict[str, Value]:
    found = flammable.room_check(
        v["refrigerant"], v["mass"], v["area"], v["mounting"], v["lfl"], v["height"], v["concentration"]
    )
    steps = found.steps_kg or (None, None, None)
    return {
        "fits": "yes" if found.fits else "no",
        "largest": found.largest_charge_kg,
        "smallest_area": found.smallest_area_m2,
        **dict(zip(("m1", "m2", "m3"), steps, strict=True)),
        "says": found.says,
        "limit": found.source,
    }


def _largest(**v: Any) -> dict[str, Value]:
    known = flammable.room_check(
        v["refrigerant"], 0.01, v["area"], v["mounting"], v["lfl"], v["height"], v["concentration"]
    )
    return {"largest": known.largest_charge_kg, "limit": known.source}


def _branches(**v: Any) -> dict[str, Value]:
    pairs = [(v[f"length_{n}"], v[f"added_{n}"]) for n in _BRANCHES]
    given = [(length, added) for length, added in pairs if length is not None and added is not None]
    if len(given) != sum(1 for length, _ in pairs if length is not None):
        raise Missing("Every length needs its grams a metre, added_1 for length_1 and so on.")
    total = charge.branch_charge_kg(v["nameplate"], given, v["covered"])
    return {"total": total, "in_lines": total - v["nameplate"]}


def _cylinder(**v: Any) -> dict[str, Value]:
    name, capacity = v["refrigerant"], v["water_capacity"]
    left = None
    if v["tare"] is not None and v["gross"] is not None:
        left = cylinder.room_left_kg(name, capacity, v["tare"], v["gross"])
    largest = cylinder.largest_fill_kg(name, capacity)
    return {
        "largest": largest,
        "left": left,
        "gross_at_most": None if v["tare"] is None else largest + v["tare"],
        "filled": 100 * cylinder.liquid_share(name, largest, capacity),
    }


_BRANCHES = ("1", "2", "3", "4", "5")


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
        "a charge against the room: flammability, or concentration",
        (REFRIGERANT, _MASS, _AREA, _MOUNTING, *_ROOM),
        (
            Output("fits", "word", "fits by the formula"),
            Output("largest", "mass", "largest charge"),
            Output("smallest_area", "area", "smallest room"),
            Output("m1", "mass", "m1"),
            Output("m2", "mass", "m2"),
            Output("m3", "mass", "m3"),
            Output("says", "word", "because"),
            Output("limit", "word", "limit", True),
        ),
        "flammable: min(2.5·LFL^1.25·h0·√A, 0.75·LFL·h0·A), at most m2; else concentration limit · A · height",
        "{mass} {refrigerant} in {area}, {mounting}",
        "{limit}",
        _room,
    ),
    Calculation(
        "room-largest-charge",
        "charge and leaks",
        "largest charge for a room",
        (REFRIGERANT, _AREA, _MOUNTING, *_ROOM),
        (Output("largest", "mass", "largest charge"), Output("limit", "word", "limit", True)),
        "flammable: min(2.5·LFL^1.25·h0·√A, 0.75·LFL·h0·A), m1 to m2; else concentration limit · A · height",
        "{refrigerant}, {area}, {mounting}",
        "{limit}",
        _largest,
    ),
    Calculation(
        "charge-judged",
        "charge and leaks",
        "a whole charge judged against nameplate and line",
        (
            _WEIGHED,
            _LINE_M,
            quantity("nameplate", "mass", "nameplate charge", said_in="lb"),
            quantity("free", "length", "length in the nameplate charge", said_in="ft"),
            quantity("added", "mass_per_length", "added for every metre beyond"),
            quantity("tolerance", "percent", "tolerance", charge.CHARGE_PERCENT),
        ),
        (
            Output("share", "percent", "share of what is due"),
            Output("due", "mass", "due"),
            OUTCOME,
            *judged_outputs("percent"),
        ),
        "100·weighed/(nameplate + max(0, L - L_free)·added)",
        "100·{mass}/{due}, line {length}",
        charge.CHARGE_SOURCE,
        lambda mass, length, nameplate, free, added, tolerance: charge.judge_charge(
            mass, length, nameplate, free, added, tolerance
        ),
        judges=True,
    ),
    Calculation(
        "charge-added",
        "charge and leaks",
        "what was added at installation judged against the line",
        (
            _WEIGHED._replace(about="added"),
            _LINE_M,
            quantity("free", "length", "length in the nameplate charge", said_in="ft"),
            quantity("added", "mass_per_length", "due for every metre beyond"),
            quantity("tolerance", "percent", "tolerance", charge.ADDED_PERCENT),
        ),
        (Output("off", "mass", "off what was due"), Output("due", "mass", "due"), OUTCOME, *judged_outputs("mass")),
        "weighed - max(0, L - L_free)·added, at most the tolerance or 50 g",
        "{mass} - {due}, line {length}",
        charge.CHARGE_SOURCE,
        lambda mass, length, free, added, tolerance: charge.judge_added(mass, length, free, added, tolerance),
        judges=True,
    ),
    Calculation(
        "charge-branches",
        "charge and leaks",
        "charge of a unit with several branches and pipe sizes",
        (
            quantity("nameplate", "mass", "nameplate charge", said_in="lb"),
            quantity("covered", "mass", "line charge in the nameplate", 0.0, said_in="lb"),
            *(
                parameter
                for n in _BRANCHES
                for parameter in (
                    quantity(f"length_{n}", "length", f"length {n}", optional=n != "1", said_in="ft"),
                    quantity(f"added_{n}", "mass_per_length", f"added for a metre of {n}", optional=n != "1"),
                )
            ),
        ),
        (Output("total", "mass", "charge"), Output("in_lines", "mass", "of it for the lines")),
        "nameplate + max(0, Σ L·added - covered)",
        "{nameplate} and the lines, {covered} covered",
        charge.CHARGE_SOURCE,
        _branches,
    ),
    Calculation(
        "recovery-cylinder",
        "charge and leaks",
        "what a recovery cylinder may hold",
        (
            REFRIGERANT,
            quantity("water_capacity", "mass", "water capacity (WC)", said_in="lb"),
            quantity("tare", "mass", "tare weight (TW)", optional=True, said_in="lb"),
            quantity("gross", "mass", "weight on the scale", optional=True, said_in="lb"),
        ),
        (
            Output("largest", "mass", "refrigerant at most"),
            Output("gross_at_most", "mass", "on the scale at most"),
            Output("left", "mass", "may still go in"),
            Output("filled", "percent", "filled with liquid at 55 °C"),
        ),
        "0.8·WC·specific gravity at 25 °C (+ TW - weight)",
        "{refrigerant}, WC {water_capacity}",
        cylinder.CYLINDER_SOURCE,
        _cylinder,
        spoken=("recovery cylinder",),
    ),
)
