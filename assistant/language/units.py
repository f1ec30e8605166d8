"""Units by symbol: how they are said, and their way to and from the canonical unit of each quantity.

Inside, every value is in ``meaning.CANONICAL_UNIT``. Factors are exact or from NIST SP 811 (2008), appendix B,
as told beside each. A symbol may mean different things for different quantities: degF is a point on a scale as
a temperature and a step of 5/9 K as a difference; inHg under gauge pressure is vacuum, so it counts downwards.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.errors import LaddersideError
from assistant.language.meaning import CANONICAL_UNIT, Quantity


class UnitError(LaddersideError):
    """A unit that does not belong to the quantity."""


@dataclass(frozen=True)
class Unit:
    """canonical = value * factor + offset; ``one`` and ``many`` are the spoken names."""

    symbol: str
    factor: float
    one: str
    many: str
    offset: float = 0.0


_PSI_KPA = 6.894757293168361  # NIST SP 811: 1 psi = 6.894 757 E+03 Pa, from the exact pound, g_n and inch
_FT_M = 0.3048  # exact
_LB_KG = 0.45359237  # exact
_F = 5 / 9  # exact

_RESISTANCE = (
    Unit("ohm", 1, "ohm", "ohms"),
    Unit("kohm", 1e3, "kilohm", "kilohms"),
    Unit("Mohm", 1e6, "megohm", "megohms"),
    Unit("mohm", 1e-3, "milliohm", "milliohms"),
    Unit("Gohm", 1e9, "gigohm", "gigohms"),
)
_VOLTAGE = (
    Unit("V", 1, "volt", "volts"),
    Unit("mV", 1e-3, "millivolt", "millivolts"),
    Unit("kV", 1e3, "kilovolt", "kilovolts"),
)
_PERCENT = (Unit("%", 1, "percent", "percent"),)

UNITS: dict[Quantity, tuple[Unit, ...]] = {
    "resistance": _RESISTANCE,
    "voltage_ac": _VOLTAGE,
    "voltage_dc": _VOLTAGE,
    "current": (
        Unit("A", 1, "amp", "amps"),
        Unit("mA", 1e-3, "milliamp", "milliamps"),
        Unit("uA", 1e-6, "microamp", "microamps"),
    ),
    "power": (
        Unit("W", 1, "watt", "watts"),
        Unit("kW", 1e3, "kilowatt", "kilowatts"),
        Unit("BTU/h", 0.29307107, "btu per hour", "btu per hour"),  # NIST SP 811: Btu(IT)/h = 2.930 711 E-01 W
    ),
    "frequency": (Unit("Hz", 1, "hertz", "hertz"), Unit("kHz", 1e3, "kilohertz", "kilohertz")),
    "capacitance": (
        Unit("uF", 1, "microfarad", "microfarads"),
        Unit("nF", 1e-3, "nanofarad", "nanofarads"),
        Unit("pF", 1e-6, "picofarad", "picofarads"),
    ),
    "temperature": (
        Unit("degC", 1, "degree celsius", "degrees celsius"),
        Unit("degF", _F, "degree fahrenheit", "degrees fahrenheit", -32 * _F),
    ),
    "temperature_difference": (
        Unit("K", 1, "kelvin", "kelvin"),
        Unit("degC", 1, "degree celsius", "degrees celsius"),
        Unit("degF", _F, "degree fahrenheit", "degrees fahrenheit"),
    ),
    "pressure_gauge": (
        Unit("kPa", 1, "kilopascal", "kilopascals"),
        Unit("psi", _PSI_KPA, "psi", "psi"),
        Unit("bar", 100, "bar", "bar"),
        Unit("MPa", 1e3, "megapascal", "megapascals"),
        Unit("mbar", 0.1, "millibar", "millibars"),
        Unit("Pa", 1e-3, "pascal", "pascals"),
        Unit("inHg", -3.38639, "inches of mercury", "inches of mercury"),  # NIST SP 811: 3.386 39 E+03 Pa at 0 degC
        Unit("inH2O", 0.249089, "inches of water", "inches of water"),  # NIST SP 811: 2.490 889 E+02 Pa, conventional
    ),
    "vacuum": (
        Unit("Pa", 1, "pascal", "pascals"),
        Unit("micron", 0.1333224, "micron", "microns"),  # NIST SP 811: micrometre of mercury = 1.333 224 E-01 Pa
        Unit("hPa", 100, "hectopascal", "hectopascals"),
        Unit("kPa", 1e3, "kilopascal", "kilopascals"),
        Unit("mbar", 100, "millibar", "millibars"),
        Unit("Torr", 133.3224, "torr", "torr"),  # NIST SP 811: 1.333 224 E+02 Pa
    ),
    "humidity": _PERCENT,
    "mass": (
        Unit("kg", 1, "kilogram", "kilograms"),
        Unit("g", 1e-3, "gram", "grams"),
        Unit("lb", _LB_KG, "pound", "pounds"),
        Unit("oz", _LB_KG / 16, "ounce", "ounces"),
    ),
    "length": (
        Unit("m", 1, "meter", "meters"),
        Unit("cm", 1e-2, "centimeter", "centimeters"),
        Unit("mm", 1e-3, "millimeter", "millimeters"),
        Unit("ft", _FT_M, "foot", "feet"),
        Unit("in", _FT_M / 12, "inch", "inches"),
    ),
    "duration": (
        Unit("s", 1, "second", "seconds"),
        Unit("min", 60, "minute", "minutes"),
        Unit("h", 3600, "hour", "hours"),
        Unit("ms", 1e-3, "millisecond", "milliseconds"),
    ),
    "speed": (Unit("rpm", 1, "rpm", "rpm"),),
    "airflow": (
        Unit("m3/h", 1, "cubic meter per hour", "cubic meters per hour"),
        Unit("m3/min", 60, "cubic meter per minute", "cubic meters per minute"),
        Unit("cfm", _FT_M**3 * 60, "cfm", "cfm"),
        Unit("L/s", 3.6, "liter per second", "liters per second"),
        Unit("L/min", 0.06, "liter per minute", "liters per minute"),
    ),
    "percent": _PERCENT,
    "count": (Unit("1", 1, "", ""),),
}

#: Other ways in which knowledge and records write a symbol.
_SPELLINGS = {
    "Ω": "ohm",
    "kΩ": "kohm",
    "MΩ": "Mohm",
    "µF": "uF",
    "μF": "uF",
    "°C": "degC",
    "°F": "degF",
    "C": "degC",
    "F": "degF",
    "psig": "psi",
    "microns": "micron",
    "in.Hg": "inHg",
    "in.H2O": "inH2O",
    "Btu/h": "BTU/h",
    "m³/h": "m3/h",
    "": "1",
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
    """The unit with this symbol, or this spoken name, under ``quantity``. Raises UnitError naming what would fit."""
    wanted = _SPELLINGS.get(symbol, symbol)
    for found in UNITS[quantity]:
        if wanted in (found.symbol, found.one, found.many):
            return found
    fits = ", ".join(known.symbol for known in UNITS[quantity])
    raise UnitError(f'"{symbol}" is no unit of {quantity.replace("_", " ")}; write one of {fits}.')


def to_canonical(value: float, symbol: str, quantity: Quantity) -> float:
    """``value`` in ``symbol`` as a value in the canonical unit, rounded to 12 digits so that 4.2 mV is 0.0042 V."""
    found = unit(symbol, quantity)
    return float(f"{value * found.factor + found.offset:.12g}")


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


def other_system(symbol: str, quantity: Quantity) -> tuple[str, ...]:
    """Units of the other system of measurement that an instrument may have been set to."""
    found = _OTHER_SYSTEM.get(unit(symbol, quantity).symbol, ())
    return tuple(other for other in found if _belongs(other, quantity))


def _belongs(symbol: str, quantity: Quantity) -> bool:
    return any(known.symbol == symbol for known in UNITS[quantity])
