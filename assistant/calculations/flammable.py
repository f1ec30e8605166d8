"""Charge limits of refrigerants by room: flammability, and for those that do not burn their concentration. kg, m², m.

Guidance that names its edition; it is never a permission. The maker's manual and the local code come first.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.refrigerants import refrigerant

ROOM_SOURCE = (
    "IEC 60335-2-40:2018, Annex GG: m_max = 2.5·LFL^1.25·h0·√A, in small rooms 0.75·LFL·h0·A (reprint); "
    "never a permission"
)
CAP_SOURCE = (
    "IEC 60335-2-40, Annex GG: m1, m2, m3 = 4, 26, 130 m³ · LFL; A2L m1 = 6 m³ · LFL (2018); 52 and 260 from memory; "
    "without ventilation no room takes more than m2"
)
CONCENTRATION_SOURCE = "charge over room volume within the concentration limit (ASHRAE 15 and 34, EN 378-1)"

#: Height in m at which the refrigerant leaves the unit.
MOUNTING_M = {"floor": 0.6, "window": 1.0, "wall": 1.8, "ceiling": 2.2}
#: Height of a room where none is given: low, so that the room counts as small. Common practice, no source.
CEILING_M = 2.2


def lfl_kg_m3(name: str, given: float | None = None) -> float:
    """Lower flammability limit in kg/m³: ``given`` (0.01 to 1) or the table's.

    Raises Inconsistent for a refrigerant that does not burn, or one whose sources disagree and none was given.
    """
    known = refrigerant(name)
    if not known.burns:
        raise Inconsistent(
            f"{known.name} does not burn: its limit by room is its concentration, so give the room's height as well."
        )
    if given is not None:
        return within("flammability limit", given, 0.01, 1, "kg/m³")
    if known.lfl_kg_m3 is None:
        raise Inconsistent(
            f"Published flammability limits of {known.name} disagree: give the one in the maker's manual."
        )
    return known.lfl_kg_m3


def charge_steps_kg(name: str, lfl: float | None = None) -> tuple[float, float, float]:
    """(m1, m2, m3) in kg: up to m1 no limit by room, over m2 only with ventilation, over m3 not by this method.

    Source: CAP_SOURCE.
    Takes ``lfl`` 0.01 to 1.
    """
    limit = lfl_kg_m3(name, lfl)
    lightly = refrigerant(name).burns == "2L"
    return (6 if lightly else 4) * limit, (52 if lightly else 26) * limit, (260 if lightly else 130) * limit


def _height(mounting: str) -> float:
    if mounting not in MOUNTING_M:
        raise UnknownName("mounting", mounting, MOUNTING_M)
    return MOUNTING_M[mounting]


def formula_kg(name: str, area_m2: float, mounting: str, lfl: float | None = None) -> float:
    """The smaller of 2.5·LFL^1.25·h0·√A and 0.75·LFL·h0·A in kg, ``area_m2`` 1 to 10 000. Source: ROOM_SOURCE.

    Takes ``lfl`` 0.01 to 1.
    """
    within("room area", area_m2, 1, 10_000, "m²")
    limit, height = lfl_kg_m3(name, lfl), _height(mounting)
    return min(float(2.5 * limit**1.25 * height * math.sqrt(area_m2)), 0.75 * limit * height * area_m2)


def largest_flammable_kg(name: str, area_m2: float, mounting: str, lfl: float | None = None) -> float:
    """Largest charge in kg without ventilation: by the formula, but m1 in any room and never more than m2.

    Source: ROOM_SOURCE, CAP_SOURCE.
    Takes ``area_m2`` 1 to 10000, ``lfl`` 0.01 to 1.
    """
    m1, m2, _ = charge_steps_kg(name, lfl)
    return min(m2, max(m1, formula_kg(name, area_m2, mounting, lfl)))


def smallest_flammable_m2(name: str, charge: float, mounting: str, lfl: float | None = None) -> float | None:
    """Smallest room in m² for ``charge`` kg (0.01 to 100): 0 up to m1, None above m2. Source: ROOM_SOURCE."""
    within("refrigerant charge", charge, 0.01, 100, "kg")
    limit, height = lfl_kg_m3(name, lfl), _height(mounting)
    m1, m2, _ = charge_steps_kg(name, lfl)
    if charge <= m1:
        return 0.0
    if charge > m2:
        return None
    return max(float((charge / (2.5 * limit**1.25 * height)) ** 2), charge / (0.75 * limit * height))


def concentration_limit_kg_m3(name: str, given: float | None = None) -> tuple[float, str]:
    """The most that may stand in a room's air, kg/m³, with its source: ``given`` (0.001 to 2) or the table's."""
    if given is not None:
        return within("concentration limit", given, 0.001, 2, "kg/m³"), "as given"
    known = refrigerant(name)
    if known.concentration_kg_m3 is None:
        raise Inconsistent(f"No concentration limit of {known.name} is known here: give the one in the local code.")
    return known.concentration_kg_m3, known.concentration_source


class RoomCheck(NamedTuple):
    """A room against a charge: ``fits``, the largest charge, the smallest area (None: no room), (m1, m2, m3) or None.

    ``says`` is the reason with its numbers, ``source`` where the limit is from.
    """

    fits: bool
    largest_charge_kg: float
    smallest_area_m2: float | None
    steps_kg: tuple[float, float, float] | None
    says: str
    source: str


def room_check(
    name: str,
    charge: float,
    area_m2: float,
    mounting: str,
    lfl: float | None = None,
    height_m: float | None = None,
    concentration: float | None = None,
) -> RoomCheck:
    """Does ``charge`` kg (0.01 to 100) fit a room of ``area_m2`` (1 to 10 000) and ``height_m`` (1.5 to 20)?

    Flammable: up to m1 it always does, above m2 never without ventilation, above m3 this method ends. Not flammable:
    the whole charge in the room's volume (``CEILING_M`` high where no height is given) stays under the concentration
    limit. Source: ROOM_SOURCE and CAP_SOURCE, or CONCENTRATION_SOURCE.
    """
    within("refrigerant charge", charge, 0.01, 100, "kg")
    within("room area", area_m2, 1, 10_000, "m²")
    height = CEILING_M if height_m is None else within("room height", height_m, 1.5, 20, "m")
    if not refrigerant(name).burns:
        return _by_concentration(name, charge, area_m2, height, concentration)
    steps = charge_steps_kg(name, lfl)
    largest, smallest = (
        largest_flammable_kg(name, area_m2, mounting, lfl),
        smallest_flammable_m2(name, charge, mounting, lfl),
    )
    fits = charge <= largest
    if charge <= steps[0]:
        says = f"at or under m1 ({steps[0]:.2f} kg): no limit by room size"
    elif charge > steps[2]:
        says = f"over m3 ({steps[2]:.1f} kg): not allowed by this method in any room"
    elif charge > steps[1]:
        says = f"over m2 ({steps[1]:.2f} kg): in no room without mechanical ventilation"
    else:
        says = f"room of {area_m2:.1f} m² holds {largest:.2f} kg; {charge:.2f} kg needs {smallest or 0:.1f} m²"
    return RoomCheck(fits, largest, smallest, steps, says, f"{ROOM_SOURCE}; {CAP_SOURCE}")


def _by_concentration(
    name: str, charge: float, area_m2: float, height: float, concentration: float | None
) -> RoomCheck:
    limit, source = concentration_limit_kg_m3(name, concentration)
    largest, smallest = limit * area_m2 * height, charge / (limit * height)
    says = (
        f"{area_m2 * height:.1f} m³ hold {largest:.2f} kg at {limit:.2f} kg/m³; {charge:.2f} kg needs {smallest:.1f} m²"
    )
    return RoomCheck(charge <= largest, largest, smallest, None, says, f"{CONCENTRATION_SOURCE}; {source}")
