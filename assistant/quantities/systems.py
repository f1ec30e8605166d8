"""The two systems of measurement of the trade, and which of them a unit belongs to.

A number said without its unit is worth what the technician's instruments are set to: 45 outdoors is a hot day in one
system and a cold one in the other.
"""

from __future__ import annotations

from typing import Literal

#: "us": US customary units; "si": the SI and what is used with it; "": not known, or the unit is common to both.
System = Literal["", "us", "si"]

_US = frozenset({"degF", "psi", "inHg", "inH2O", "lb", "oz", "ft", "in", "ft2", "cfm"})
_SI = frozenset(
    {
        "degC",
        "K",
        "kPa",
        "bar",
        "MPa",
        "mbar",
        "hPa",
        "Pa",
        "kg",
        "g",
        "m",
        "cm",
        "mm",
        "m2",
        "m3/h",
        "m3/min",
        "m3/s",
        "L/s",
        "L/min",
    }
)
#: Vacuum gauges show microns or pascals on both sides of the ocean.
_COMMON = frozenset({"vacuum"})


def system_of(symbol: str, quantity: str) -> System:
    """The system that ``symbol`` belongs to; "" where it tells nothing of the technician's other instruments."""
    if quantity in _COMMON:
        return ""
    return "us" if symbol in _US else "si" if symbol in _SI else ""
