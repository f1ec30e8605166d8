"""Units of the quantities that a visit meets: read from text, turned into the unit kept inside, and shown.

What units there are, what they are worth and how they are written stands in ``assistant.quantities``. A temperature
and a difference of temperatures are two quantities, and so are gauge and absolute pressure, so "18 F" means what its
place asks for.
"""

from __future__ import annotations

import math
import re

from assistant.calculations.errors import BadUnit, UnknownName, within
from assistant.quantities import numbers
from assistant.quantities.spelling import DoubtfulUnit, UnitError, called, unit_of
from assistant.quantities.table import QUANTITIES as TABLE
from assistant.quantities.table import sign
from assistant.quantities.unit import Kind, Unit

#: Every quantity, with the symbol of the unit kept inside.
QUANTITIES: dict[str, str] = {name: kind.inside.symbol for name, kind in TABLE.items()}


def units_of(quantity: str) -> tuple[str, ...]:
    """Every unit that ``quantity`` may be given in, the one kept inside first. Raises UnknownName."""
    return tuple(unit.symbol for unit in _kind(quantity).units)


def _kind(quantity: str) -> Kind:
    if quantity not in TABLE:
        raise UnknownName("quantity", quantity, TABLE)
    return TABLE[quantity]


def unit(quantity: str, written: str) -> Unit:
    """The unit that ``written`` means. Raises UnknownName, BadUnit."""
    _kind(quantity)
    try:
        return unit_of(quantity, written)
    except UnitError as error:
        raise BadUnit(str(error)) from error


def is_inside(quantity: str, written: str) -> bool:
    """Whether ``written`` is the unit in which values of ``quantity`` are kept."""
    try:
        return unit(quantity, written) is _kind(quantity).inside
    except BadUnit:
        return False


def to_inside(quantity: str, value: float, written: str) -> float:
    """``value`` in ``written`` as the unit kept inside. Raises UnknownName, BadUnit, OutOfRange (beyond ±1e30).

    Inches of mercury under gauge pressure are a vacuum, whichever sign they are written with.
    """
    found = unit(quantity, written)
    within(quantity.replace("_", " "), value, -1e30, 1e30, written)
    return (abs(value) if found.factor < 0 else value) * found.factor + found.offset


def from_inside(quantity: str, value: float, written: str) -> float:
    """The inverse of ``to_inside``."""
    found = unit(quantity, written)
    return (within(quantity.replace("_", " "), value, -1e30, 1e30, QUANTITIES[quantity]) - found.offset) / found.factor


def convert(quantity: str, value: float, from_unit: str, to_unit: str) -> float:
    """``value`` from one unit of ``quantity`` into another."""
    return from_inside(quantity, to_inside(quantity, value, from_unit), to_unit)


def parse(quantity: str, text: str) -> float:
    """A number with a unit ("4.2 kohm", "77F", "123 PSIG", "4,2K") as the unit kept inside.

    Raises BadUnit when there is no number, the unit does not fit or may be two, or when it is missing where
    technicians use several; the text names what may be written.
    """
    return read(quantity, text)[0]


#: "2 lb 10 oz", "1 kg 200 g", "6 ft 2 in": a number and its unit, twice.
_TWO_PARTS = re.compile(r"\s*([\d.]+)\s*([a-z]+)\.?,?\s*(?:and\s+)?([\d.]+)\s*([a-z]+)\.?\s*", re.IGNORECASE)
#: What people write in two units.
_WRITTEN_IN_TWO = ("mass", "length", "duration")


def _of_two_parts(quantity: str, text: str) -> tuple[float, str] | None:
    """A value in a unit and the next smaller one, less than one of the larger; None where it is not written so."""
    found = _TWO_PARTS.fullmatch(text)
    if quantity not in _WRITTEN_IN_TWO or found is None:
        return None
    whole, rest = (parse(quantity, found[at] + found[at + 1]) for at in (1, 3))
    if not 0 <= rest < parse(quantity, f"1{found[2]}"):
        raise BadUnit(f"{text.strip()}: the second part is more than one {found[2]}; write it in one unit.")
    return whole + rest, unit(quantity, found[2]).symbol


def read(quantity: str, text: str) -> tuple[float, str]:
    """As ``parse``, with the unit's symbol in which the value was given: the larger one of "2 lb 10 oz"."""
    kind = _kind(quantity)
    two = _of_two_parts(quantity, text)
    if two is not None:
        return two
    try:
        number, written = numbers.split(text)
    except numbers.NumberError as error:
        symbol = kind.choices[0] if kind.choices else kind.bare
        example = f"12.5{symbol if symbol != '1' else ''}"
        raise BadUnit(f"{str(error)[:-1]}; give {called(quantity)} like {example}.") from error
    if not written:
        written = kind.bare or (kind.inside.symbol if number == 0 and _same_zero(kind) else "")
    if not written:
        ways = [f"{text.strip()}{symbol}" for symbol in kind.choices]
        raise BadUnit(f"{text.strip()} has no unit; write {' or '.join(ways)}.")
    try:
        symbol = unit_of(quantity, written).symbol
    except DoubtfulUnit as error:
        ways = [f"{number:g}{way.replace(' ', '')}" for way in error.either]
        raise BadUnit(f"{text.strip()} may mean {' or '.join(ways)}; write which.") from error
    except UnitError as error:
        raise BadUnit(str(error)) from error
    return to_inside(quantity, number, symbol), symbol


def _same_zero(kind: Kind) -> bool:
    return all(each.offset == 0 for each in kind.units)


#: What a pressure's customary unit is called by its reference.
_PSI = {"pressure_gauge": "psig", "pressure_absolute": "psia"}


def shown(quantity: str, value: float) -> str:
    """``value`` (in the unit kept inside) for people: "4.2 kΩ", "10.0 °C (50.0 °F)". Raises UnknownName."""
    kind = _kind(quantity)
    for symbol in kind.prefixed:
        size = kind.unit(symbol).factor
        if abs(value) >= size or (symbol == kind.prefixed[-1] and value):
            return f"{figure(value / size)} {sign(symbol)}"
    first = f"{figure(value, kind.decimals)} {kind.inside.sign}".strip()
    if not kind.beside or (quantity == "power" and abs(value) < 100):
        return first
    other = from_inside(quantity, value, kind.beside)
    return f"{first} ({figure(other, kind.decimals)} {_PSI.get(quantity) or kind.unit(kind.beside).sign})"


def figure(value: float, most_decimals: int = 8) -> str:
    """A number with four significant figures, no needless exponent, and at most ``most_decimals`` (but two figures)."""
    if value == 0:
        return "0"
    if not 1e-4 <= abs(value) < 1e7:
        return f"{value:.3e}"
    size = math.floor(math.log10(abs(value)))
    digits = max(0, min(3 - size, max(most_decimals, 1 - size)))
    text = f"{value:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
