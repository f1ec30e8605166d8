"""Refrigerant by mass: charge for the line length and branches, leak rate, CO2-equivalent. kg, m, days."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.found import Found, Limit, sided
from assistant.calculations.refrigerants import refrigerant
from assistant.calculations.uncertainty import Metered, judged, propagated

LEAK_SOURCE = "40 CFR 82.152 and 84.102: annualizing and rolling average method; comfort cooling trigger 10 %"
CHARGE_SOURCE = "charge and grams per metre from the unit profile (the maker's table)"
#: What a charge may be off: one weighed in, and what was added at installation.
CHARGE_PERCENT, ADDED_PERCENT = Limit(5.0), Limit(15.0)
#: What an addition may be off however small it is.
LEAST_OFF_KG = Limit(0.05)
#: 100-year warming of the pure parts, kg CO2e per kg: IPCC AR4, AR5, AR6. R1234yf AR4: 4 (IPCC via EU rules);
#: AR5 under 1 and AR6 0.501, R290 AR4 3 (EU rules), AR6 0.02: these of R1234yf AR5/AR6 and R290 from memory.
_GWP100: dict[str, dict[str, float]] = {
    "AR4": {"R32": 675, "R125": 3500, "R134a": 1430, "R22": 1810, "R1234yf": 4, "R290": 3},
    "AR5": {"R32": 677, "R125": 3170, "R134a": 1300, "R22": 1760, "R1234yf": 1, "R290": 3},
    "AR6": {"R32": 771, "R125": 3740, "R134a": 1530, "R22": 1960, "R1234yf": 0.501, "R290": 0.02},
}
GWP_SOURCE = "IPCC AR4 table 2.14, AR5 table 8.A.1, AR6 table 7.SM.7; blends by mass share"


def charge_kg(nameplate_kg: float, line_m: float, free_m: float, added_g_per_m: float) -> float:
    """Nameplate charge plus grams for every metre beyond the free length, kg.

    ``nameplate_kg`` 0.05 to 200, ``line_m`` and ``free_m`` 0 to 500 m, ``added_g_per_m`` 0 to 500.
    Source: CHARGE_SOURCE.
    """
    within("nameplate charge", nameplate_kg, 0.05, 200, "kg")
    return nameplate_kg + added_kg(line_m, free_m, added_g_per_m)


def added_kg(line_m: float, free_m: float, added_g_per_m: float) -> float:
    """What the line's length adds to the nameplate charge, kg: grams for every metre beyond the free length.

    ``line_m`` and ``free_m`` 0 to 500 m, ``added_g_per_m`` 0 to 500. Source: CHARGE_SOURCE.
    """
    within("line length", line_m, 0, 500, "m")
    within("free line length", free_m, 0, 500, "m")
    within("added charge", added_g_per_m, 0, 500, "g/m")
    return max(0.0, line_m - free_m) * added_g_per_m / 1000


def branch_charge_kg(nameplate_kg: float, branches: Sequence[tuple[float, float]], covered_kg: float = 0.0) -> float:
    """Charge of a unit with several branches, kg: nameplate plus metres times grams a metre of each liquid pipe.

    ``branches`` are (m, g/m) by pipe size as the maker's table has them, each 0 to 500; ``covered_kg`` (0 to 50) is
    what the nameplate charge already holds for the lines, which is never given back when the lines are short.
    Source: CHARGE_SOURCE. Raises Inconsistent without a branch.
    Takes ``nameplate_kg`` 0.05 to 200.
    """
    within("nameplate charge", nameplate_kg, 0.05, 200, "kg")
    within("line charge in the nameplate", covered_kg, 0, 50, "kg")
    if not branches:
        raise Inconsistent("At least one branch is needed.")
    lines = sum(added_kg(length_m, 0.0, grams) for length_m, grams in branches)
    return nameplate_kg + max(0.0, lines - covered_kg)


def judge_charge(
    mass: Metered,
    length: Metered,
    nameplate_kg: float,
    free_m: float,
    added_g_per_m: float,
    tolerance_percent: float = CHARGE_PERCENT,
) -> Found:
    """A whole charge (kg) against nameplate plus what the line's length (m) asks for: low, ok or high, in percent.

    ``tolerance_percent`` 0.1 to 50. Scale and tape propagate. Values: share (%), due (kg). Source: CHARGE_SOURCE.
    Takes ``mass`` 0 to 1000, ``length``, ``free_m`` and ``added_g_per_m`` 0 to 500, ``nameplate_kg`` 0.05 to 200.
    """
    within("charge tolerance", tolerance_percent, 0.1, 50, "%")
    within("refrigerant weighed", mass.value, 0, 1000, "kg")

    def share(weighed_kg: float, line_m: float) -> float:
        return 100 * weighed_kg / charge_kg(nameplate_kg, max(0.0, line_m), free_m, added_g_per_m)

    value = share(mass.value, length.value)
    within("line length", length.value, 0, 500, "m")
    width = propagated(share, (mass, length))
    against = judged(value, width, 100 - tolerance_percent, 100 + tolerance_percent)
    due = charge_kg(nameplate_kg, length.value, free_m, added_g_per_m)
    return Found(sided(against), ("ok",), values={"share": value, "due": due}, against=against)


def judge_added(
    mass: Metered, length: Metered, free_m: float, added_g_per_m: float, tolerance_percent: float = ADDED_PERCENT
) -> Found:
    """What was added at installation (kg) against what the line's length (m) asks for: low, ok or high.

    It may be off by ``tolerance_percent`` (0.1 to 50), and by ``LEAST_OFF_KG`` however little was due.
    Values: off, due (kg). Source: CHARGE_SOURCE.
    Takes ``mass`` 0 to 1000, ``length``, ``free_m`` and ``added_g_per_m`` 0 to 500.
    """
    within("charge tolerance", tolerance_percent, 0.1, 50, "%")
    within("refrigerant added", mass.value, 0, 1000, "kg")
    due = added_kg(length.value, free_m, added_g_per_m)

    def off(weighed_kg: float, line_m: float) -> float:
        return weighed_kg - added_kg(max(0.0, line_m), free_m, added_g_per_m)

    value, allowed = off(mass.value, length.value), max(float(LEAST_OFF_KG), due * tolerance_percent / 100)
    against = judged(value, propagated(off, (mass, length)), -allowed, allowed)
    return Found(sided(against), ("ok",), values={"off": value, "due": due}, against=against)


def annualized_leak_percent(added_kg: float, full_kg: float, days: float) -> float:
    """Yearly leak rate in % of the full charge: added/full · 365/min(days, 365) · 100. Source: LEAK_SOURCE.

    ``added_kg`` 0 to 1000, ``full_kg`` 0.05 to 1000, ``days`` 1 to 20 000 since refrigerant was last added.
    """
    within("refrigerant added", added_kg, 0, 1000, "kg")
    within("full charge", full_kg, 0.05, 1000, "kg")
    within("days since the last addition", days, 1, 20_000, "days")
    return 100 * added_kg / full_kg * 365 / min(days, 365)


def rolling_leak_percent(added_kg: Sequence[float], full_kg: float) -> float:
    """Leak rate over the last 365 days in %: the sum of what was added over the full charge. Source: LEAK_SOURCE.

    Raises Inconsistent for an empty list, OutOfRange for amounts outside 0 to 1000 kg.
    Takes ``full_kg`` 0.05 to 1000.
    """
    within("full charge", full_kg, 0.05, 1000, "kg")
    if not added_kg:
        raise Inconsistent("A leak rate needs at least one addition of refrigerant.")
    return 100 * sum(within("refrigerant added", amount, 0, 1000, "kg") for amount in added_kg) / full_kg


def gwp100(name: str, report: str = "AR4") -> float:
    """100-year global warming potential, kg CO2e per kg, by mass share of its parts. Source: GWP_SOURCE.

    ``report`` is AR4 (most rules count with it), AR5 or AR6. Raises UnknownName.
    """
    if report not in _GWP100:
        raise UnknownName("IPCC report", report, _GWP100)
    return sum(share * _GWP100[report][part] for part, share in refrigerant(name).parts)


def co2_equivalent_t(name: str, mass_kg: float, report: str = "AR4") -> float:
    """Tonnes of CO2 that warm as much as ``mass_kg`` (0 to 1000) of the refrigerant. Source: GWP_SOURCE."""
    return within("refrigerant mass", mass_kg, 0, 1000, "kg") * gwp100(name, report) / 1000
