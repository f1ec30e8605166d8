"""Units as a reading has them: how they are said, and their way to and from the canonical unit of each quantity.

Inside, every value is in ``meaning.CANONICAL_UNIT``. What a unit is worth and how it is written and said stands in
``assistant.quantities``; here is what meters do with units.
"""

from __future__ import annotations

import math
from typing import get_args

from assistant.language.meaning import CANONICAL_UNIT, Quantity
from assistant.quantities.spelling import UnitError, unit_of
from assistant.quantities.table import QUANTITIES
from assistant.quantities.unit import Unit

__all__ = ["UNITS", "Unit", "UnitError"]

#: By quantity, those that a technician may be asked for or may say.
UNITS: dict[Quantity, tuple[Unit, ...]] = {
    quantity: tuple(unit for unit in QUANTITIES[quantity].units if unit.phrases) for quantity in get_args(Quantity)
}

#: What an autoranging meter shows in place of the unit asked for: (larger, smaller) neighbours.
_RANGES: dict[str, tuple[str, ...]] = {
    "ohm": ("kohm",),
    "kohm": ("ohm", "Mohm"),
    "Mohm": ("kohm",),
    "mV": ("V",),
    "mA": ("A",),
    "uA": ("mA",),
    "nF": ("uF",),
}

#: The unit of the other system of measurement, which a technician may have set on the instrument.
_OTHER_SYSTEM: dict[str, tuple[str, ...]] = {
    "degC": ("degF",),
    "degF": ("degC",),
    "K": ("degF",),
    "psi": ("bar", "kPa"),
    "bar": ("psi", "kPa"),
    "kPa": ("psi", "bar"),
    "MPa": ("bar", "psi"),
    "kg": ("lb",),
    "g": ("oz",),
    "lb": ("kg",),
    "oz": ("g",),
    "m": ("ft",),
    "ft": ("m",),
    "cfm": ("m3/h",),
    "m3/h": ("cfm",),
    "micron": ("Pa",),
    "Pa": ("micron",),
}


def unit(symbol: str, quantity: Quantity) -> Unit:
    """The unit that this symbol, sign or name means under ``quantity``. Raises UnitError naming what would fit."""
    return unit_of(quantity, symbol or CANONICAL_UNIT[quantity])


def to_canonical(value: float, symbol: str, quantity: Quantity) -> float:
    """``value`` in ``symbol`` as a value in the canonical unit, rounded to 12 digits so that 4.2 mV is 0.0042 V.

    Inches of mercury under gauge pressure are a vacuum, whichever sign they are said with.
    """
    found = unit(symbol, quantity)
    return float(f"{(abs(value) if found.factor < 0 else value) * found.factor + found.offset:.12g}")


def from_canonical(value: float, symbol: str, quantity: Quantity) -> float:
    """The inverse of ``to_canonical``."""
    found = unit(symbol, quantity)
    return float(f"{(value - found.offset) / found.factor:.12g}")


def say(symbol: str, quantity: Quantity, value: float = 2) -> str:
    """The unit's name as spoken after ``value``: "volt" after 1, else "volts"; empty for a bare count."""
    found = unit(symbol, quantity)
    return found.one if abs(value) == 1 else found.many


def canonical(quantity: Quantity) -> str:
    """The symbol in which values of ``quantity`` are kept."""
    return CANONICAL_UNIT[quantity]


def neighbours(symbol: str, quantity: Quantity) -> tuple[str, ...]:
    """Units that a meter which changes its range by itself may show where ``symbol`` was asked for."""
    return tuple(near for near in _RANGES.get(unit(symbol, quantity).symbol, ()) if _belongs(near, quantity))


#: Units of one kind by size, in which one number can be said as well as in another, and below which number it is said
#: in them: "2 megohms" and not "2000 kilohms", but "3450 kilopascals", as gauges have it. Common practice, no source.
_BY_SIZE: tuple[tuple[tuple[str, ...], float], ...] = (
    (("ohm", "kohm", "Mohm"), 1000.0),
    (("Pa", "kPa", "MPa"), 10_000.0),
    (("g", "kg"), 10_000.0),
    (("uA", "mA", "A"), 1000.0),
    (("nF", "uF"), 1000.0),
)
#: A smaller number than this is said in the next smaller unit. Common practice, no source.
_LEAST_SAID = 0.1


def of_its_size(value: float, symbol: str, quantity: Quantity) -> str:
    """The unit in which the canonical ``value`` is easily said: ``symbol``, or where the number would have too many
    noughts in it the next of its kind that has not ("3 ohms", and not "0.000003 megohms")."""
    here = unit(symbol, quantity).symbol
    sizes, too_many = next(((kind, below) for kind, below in _BY_SIZE if here in kind), ((here,), math.inf))
    known = [each for each in sizes if _belongs(each, quantity)]
    at = known.index(here) if here in known else 0
    while known and value and at > 0 and abs(from_canonical(value, known[at], quantity)) < _LEAST_SAID:
        at -= 1
    while at + 1 < len(known) and abs(from_canonical(value, known[at], quantity)) >= too_many:
        at += 1
    return known[at] if here in known else symbol


def other_system(symbol: str, quantity: Quantity) -> tuple[str, ...]:
    """Units of the other system of measurement that an instrument may have been set to."""
    found = _OTHER_SYSTEM.get(unit(symbol, quantity).symbol, ())
    return tuple(other for other in found if _belongs(other, quantity))


def _belongs(symbol: str, quantity: Quantity) -> bool:
    return any(known.symbol == symbol for known in UNITS[quantity])
