"""What the law asks for by charge and place: leak checks and their dates, records, recovery.

European Union: Regulation (EU) 2024/573 (applies since 11 March 2024), read in its reprints and summaries.

- Article 5(1): equipment with 5 tonnes CO2 equivalent of Annex I gases or more, or 1 kg or more of the gases of Annex
  II, section 1, is checked for leaks. Hermetically sealed and so labelled: from 10 tonnes, or 2 kg; in a home, sealed
  and labelled: from 3 kg.
- The intervals of Article 5 (as in Regulation (EU) 517/2014, Article 4(3)): 12 months from 5 t, 6 from 50 t, 3 from
  500 t, each twice as long with a leak detection system (the last from memory).
- Article 4: a leak is repaired without delay, and the repair is checked not before 24 hours of operation and within a
  month.
- Article 7: records of equipment that must be checked, kept five years (the years from memory).

United States: 40 CFR part 84, subpart C (since 1 January 2026): § 84.106 is for appliances with a full charge of 15 lb
or more of a refrigerant that holds an HFC or has a GWP above 53; residential and light commercial air conditioning and
heat pumps are outside of it. Comfort cooling: 10 percent a year, repair within 30 days. 40 CFR 82.154(a): no knowing
release. 40 CFR 82.156: records of 5 to 50 lb appliances that are disposed of, kept three years (from memory).

What is not in this list is said to be looked up; no figure here replaces the text of the law.
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date
from typing import Literal

from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.job.refrigerant import co2_tonnes, gwp
from assistant.quantities.mechanical import POUND_KG

Place = Literal["eu", "us", "other"]

#: Regulation (EU) 2024/573, Article 5: tonnes of CO2 equivalent from which, and months between checks.
_EU_STEPS: tuple[tuple[float, int], ...] = ((500.0, 3), (50.0, 6), (5.0, 12))
_EU_SEALED_T, _EU_SEALED_HOME_KG = 10.0, 3.0
#: 40 CFR 84.106(a).
_US_FULL_CHARGE_KG, _US_GWP = 15 * POUND_KG, 53.0
#: HFCs: what of a mixture the two laws are about. R22 is under other ones.
_HFC = frozenset({"R32", "R125", "R134a"})


@dataclass(frozen=True)
class Duty:
    """One duty: ``id`` of its message, the ``article`` it comes from, and when it is ``due`` if it has a date."""

    id: str
    article: str
    due: date | None = None
    months: int = 0


def duties(
    place: Place, refrigerant: str, charge_kg: float, on: date, *, sealed: bool = False, home: bool = False,
    leak_mended: bool = False,
) -> tuple[Duty, ...]:  # fmt: skip
    """The duties of a unit with ``charge_kg`` (kg, the whole charge) at ``place``, checked or charged ``on``.

    ``sealed``: hermetically sealed and labelled so; ``home``: residential building; ``leak_mended``: a leak was mended
    in this visit. Raises KeyError for an unknown refrigerant.
    """
    if place == "eu":
        return _eu(refrigerant, charge_kg, on, sealed, home, leak_mended)
    if place == "us":
        return _us(refrigerant, charge_kg, leak_mended)
    return (Duty("duty-local", ""),)


def _eu(refrigerant: str, charge_kg: float, on: date, sealed: bool, home: bool, leak_mended: bool) -> tuple[Duty, ...]:
    if not _holds_hfc(refrigerant):
        return (Duty("duty-eu-other-gas", "Regulation (EU) 2024/573, Article 2"),)
    tonnes = co2_tonnes(refrigerant, charge_kg)
    months = next((months for from_t, months in _EU_STEPS if tonnes >= from_t), 0)
    free = sealed and (tonnes < _EU_SEALED_T or (home and charge_kg < _EU_SEALED_HOME_KG))
    found: list[Duty] = []
    if months and not free:
        found.append(Duty("duty-eu-check", "Regulation (EU) 2024/573, Article 5", after_months(on, months), months))
        found.append(Duty("duty-eu-record", "Regulation (EU) 2024/573, Article 7"))
    else:
        found.append(Duty("duty-eu-none", "Regulation (EU) 2024/573, Article 5(1)"))
    if leak_mended:
        found.append(Duty("duty-eu-repair", "Regulation (EU) 2024/573, Article 4", after_months(on, 1), 1))
    return tuple(found)


def _us(refrigerant: str, charge_kg: float, leak_mended: bool) -> tuple[Duty, ...]:
    found = [Duty("duty-us-release", "40 CFR 82.154(a)")]
    if charge_kg >= _US_FULL_CHARGE_KG and (_holds_hfc(refrigerant) or gwp(refrigerant) > _US_GWP):
        found.append(Duty("duty-us-leak-rate", "40 CFR 84.106"))
    else:
        found.append(Duty("duty-us-none", "40 CFR 84.106(a)"))
    return tuple(found)


def _holds_hfc(refrigerant: str) -> bool:
    return any(part in _HFC for part, _ in REFRIGERANTS[refrigerant].parts)


def leak_rate_percent(added_kg: float, full_charge_kg: float, days: float) -> float:
    """Leak rate a year by the annualizing method of 40 CFR 84.102: what was added, over 365 days at most.

    ``days`` since the last charge; one that never had one before counts 365. Raises ValueError for no charge.
    """
    if full_charge_kg <= 0:
        raise ValueError("the full charge must be more than nothing")
    return 100 * added_kg / full_charge_kg * 365 / max(1.0, min(days, 365.0))


def after_months(day: date, months: int) -> date:
    """The same day so many months later, or the last of that month."""
    years, month = divmod(day.month - 1 + months, 12)
    year = day.year + years
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))
