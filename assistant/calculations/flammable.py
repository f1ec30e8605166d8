"""Charge limits of flammable refrigerants by room. kg, m², m.

Guidance that names its edition; it is never a permission. The maker's manual and the local code come first.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.refrigerants import refrigerant

ROOM_SOURCE = "IEC 60335-2-40:2018, Annex GG: m_max = 2.5·LFL^1.25·h0·√A (reprint); never a permission"
CAP_SOURCE = (
    "IEC 60335-2-40, Annex GG: m1, m2, m3 = 4, 26, 130 m³ · LFL; A2L m1 = 6 m³ · LFL (2018); 52 and 260 from memory"
)

#: Height in m at which the refrigerant leaves the unit.
MOUNTING_M = {"floor": 0.6, "window": 1.0, "wall": 1.8, "ceiling": 2.2}


def lfl_kg_m3(name: str, given: float | None = None) -> float:
    """Lower flammability limit in kg/m³: ``given`` (0.01 to 1) or the table's.

    Raises Inconsistent for a refrigerant that does not burn, or one whose sources disagree and none was given.
    """
    known = refrigerant(name)
    if not known.burns:
        raise Inconsistent(f"{known.name} is not flammable, so it has no charge limit by room.")
    if given is not None:
        return within("flammability limit", given, 0.01, 1, "kg/m³")
    if known.lfl_kg_m3 is None:
        raise Inconsistent(
            f"Published flammability limits of {known.name} disagree: give the one in the maker's manual."
        )
    return known.lfl_kg_m3


def charge_steps_kg(name: str, lfl: float | None = None) -> tuple[float, float, float]:
    """(m1, m2, m3) in kg: up to m1 no room limit, above m3 not by this method. Source: CAP_SOURCE."""
    limit = lfl_kg_m3(name, lfl)
    lightly = refrigerant(name).burns == "2L"
    return (6 if lightly else 4) * limit, (52 if lightly else 26) * limit, (260 if lightly else 130) * limit


def _height(mounting: str) -> float:
    if mounting not in MOUNTING_M:
        raise UnknownName("mounting", mounting, MOUNTING_M)
    return MOUNTING_M[mounting]


def largest_charge_kg(name: str, area_m2: float, mounting: str, lfl: float | None = None) -> float:
    """Largest charge in kg for a room of ``area_m2`` (1 to 10 000) without ventilation. Source: ROOM_SOURCE."""
    within("room area", area_m2, 1, 10_000, "m²")
    return float(2.5 * lfl_kg_m3(name, lfl) ** 1.25 * _height(mounting) * math.sqrt(area_m2))


def smallest_area_m2(name: str, charge: float, mounting: str, lfl: float | None = None) -> float:
    """Smallest room in m² for ``charge`` kg (0.01 to 100): the inverse. Source: ROOM_SOURCE."""
    within("refrigerant charge", charge, 0.01, 100, "kg")
    return float((charge / (2.5 * lfl_kg_m3(name, lfl) ** 1.25 * _height(mounting))) ** 2)


class RoomCheck(NamedTuple):
    """A room against a charge: ``fits`` by the formula, the largest charge, the smallest area, and (m1, m2, m3)."""

    fits: bool
    largest_charge_kg: float
    smallest_area_m2: float
    steps_kg: tuple[float, float, float]
    says: str


def room_check(name: str, charge: float, area_m2: float, mounting: str, lfl: float | None = None) -> RoomCheck:
    """Does ``charge`` kg fit a room of ``area_m2``? Up to m1 it always does, above m3 this method ends.

    Source: ROOM_SOURCE and CAP_SOURCE. Raises as the functions it is made of.
    """
    steps = charge_steps_kg(name, lfl)
    largest, smallest = largest_charge_kg(name, area_m2, mounting, lfl), smallest_area_m2(name, charge, mounting, lfl)
    if charge <= steps[0]:
        fits, says = True, f"at or under m1 ({steps[0]:.2f} kg): no limit by room size"
    elif charge > steps[2]:
        fits, says = False, f"over m3 ({steps[2]:.1f} kg): not allowed by this method in any room"
    else:
        fits = charge <= largest
        says = f"room of {area_m2:.1f} m² holds {largest:.2f} kg; {charge:.2f} kg needs {smallest:.1f} m²"
    return RoomCheck(fits, largest, smallest, steps, says)
