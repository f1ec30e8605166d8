"""Units of the quantities that a visit meets: read from text, turned into the unit kept inside, and shown.

The unit kept inside is the one that the spoken vocabulary uses too: kPa, °C, µF, m³/h and else plain SI. A temperature
and a difference of temperatures are two quantities, and so are gauge and absolute pressure, so "18 F" means what its
place asks for. Factors: NIST SP 811 (2008), appendix B.
"""

from __future__ import annotations

import math
import re

from assistant.calculations.errors import BadUnit, UnknownName, within

PSI_KPA = 6.894757293168
INHG_KPA = 3.386389
INH2O_KPA = 0.2490889
MMHG_PA = 133.322387415
BTU_J = 1055.05585262
TON_W = 12_000 * BTU_J / 3600
FOOT_M = 0.3048
POUND_KG = 0.45359237
CFM_M3_H = FOOT_M**3 * 60

#: quantity: (unit kept inside, {spelling: (factor, offset)}); inside = value·factor + offset.
_TABLE: dict[str, tuple[str, dict[str, tuple[float, float]]]] = {
    "resistance": ("ohm", {"ohm": (1, 0), "mohm": (1e-3, 0), "kohm": (1e3, 0), "Mohm": (1e6, 0), "Gohm": (1e9, 0)}),
    "voltage_ac": ("V", {"V": (1, 0), "mV": (1e-3, 0), "kV": (1e3, 0)}),
    "voltage_dc": ("V", {"V": (1, 0), "mV": (1e-3, 0), "kV": (1e3, 0)}),
    "current": ("A", {"A": (1, 0), "mA": (1e-3, 0), "uA": (1e-6, 0)}),
    "power": (
        "W",
        {"W": (1, 0), "kW": (1e3, 0), "Btu/h": (BTU_J / 3600, 0), "ton": (TON_W, 0), "hp": (745.6998716, 0)},
    ),
    "apparent_power": ("VA", {"VA": (1, 0), "kVA": (1e3, 0)}),
    "reactive_power": ("var", {"var": (1, 0), "kvar": (1e3, 0)}),
    "energy": ("J", {"J": (1, 0), "kJ": (1e3, 0), "Btu": (BTU_J, 0), "kWh": (3.6e6, 0)}),
    "frequency": ("Hz", {"Hz": (1, 0), "kHz": (1e3, 0)}),
    "capacitance": ("uF", {"uF": (1, 0), "nF": (1e-3, 0), "pF": (1e-6, 0), "mF": (1e3, 0), "F": (1e6, 0)}),
    "temperature": ("degC", {"degC": (1, 0), "degF": (1 / 1.8, -32 / 1.8), "K": (1, -273.15)}),
    "temperature_difference": ("K", {"K": (1, 0), "degC": (1, 0), "degF": (1 / 1.8, 0)}),
    "pressure_gauge": (
        "kPa",
        {
            "kPa": (1, 0),
            "Pa": (1e-3, 0),
            "MPa": (1e3, 0),
            "bar": (100, 0),
            "psi": (PSI_KPA, 0),
            "kgf/cm2": (98.0665, 0),
            "inH2O": (INH2O_KPA, 0),
        },
    ),
    "pressure_absolute": (
        "kPa",
        {
            "kPa": (1, 0),
            "Pa": (1e-3, 0),
            "MPa": (1e3, 0),
            "bar": (100, 0),
            "psi": (PSI_KPA, 0),
            "inHg": (INHG_KPA, 0),
            "mmHg": (MMHG_PA / 1000, 0),
        },
    ),
    "vacuum": (
        "Pa",
        {"Pa": (1, 0), "micron": (MMHG_PA / 1000, 0), "mmHg": (MMHG_PA, 0), "mbar": (100, 0), "kPa": (1000, 0)},
    ),
    "humidity": ("%", {"%": (1, 0)}),
    "percent": ("%", {"%": (1, 0)}),
    "humidity_ratio": ("kg/kg", {"kg/kg": (1, 0), "g/kg": (1e-3, 0), "gr/lb": (1 / 7000, 0)}),
    "enthalpy": ("kJ/kg", {"kJ/kg": (1, 0), "Btu/lb": (2.326, 0)}),
    "mass": ("kg", {"kg": (1, 0), "g": (1e-3, 0), "lb": (POUND_KG, 0), "oz": (POUND_KG / 16, 0), "t": (1e3, 0)}),
    "mass_flow": ("kg/h", {"kg/h": (1, 0), "lb/h": (POUND_KG, 0)}),
    "mass_per_length": ("g/m", {"g/m": (1, 0), "oz/ft": (POUND_KG / 16 * 1000 / FOOT_M, 0)}),
    "length": (
        "m",
        {"m": (1, 0), "mm": (1e-3, 0), "cm": (1e-2, 0), "km": (1e3, 0), "ft": (FOOT_M, 0), "in": (0.0254, 0)},
    ),
    "area": ("m2", {"m2": (1, 0), "ft2": (FOOT_M**2, 0)}),
    "cross_section": ("mm2", {"mm2": (1, 0), "cmil": (math.pi / 4 * 0.0254**2, 0)}),
    "resistance_per_length": ("ohm/m", {"ohm/m": (1, 0), "ohm/km": (1e-3, 0), "ohm/kft": (1 / 304.8, 0)}),
    "density": ("kg/m3", {"kg/m3": (1, 0), "lb/ft3": (POUND_KG / FOOT_M**3, 0)}),
    "specific_volume": ("m3/kg", {"m3/kg": (1, 0), "ft3/lb": (FOOT_M**3 / POUND_KG, 0)}),
    "volume": ("m3", {"m3": (1, 0), "l": (1e-3, 0), "ft3": (FOOT_M**3, 0)}),
    "duration": ("s", {"s": (1, 0), "min": (60, 0), "h": (3600, 0), "ms": (1e-3, 0), "day": (86_400, 0)}),
    "speed": ("rpm", {"rpm": (1, 0), "rps": (60, 0)}),
    "airflow": ("m3/h", {"m3/h": (1, 0), "m3/s": (3600, 0), "l/s": (3.6, 0), "m3/min": (60, 0), "cfm": (CFM_M3_H, 0)}),
    "leak_flow": ("Pa.m3/s", {"Pa.m3/s": (1, 0), "mbar.l/s": (0.1, 0)}),
    "coefficient_per_kelvin": ("1/K", {"1/K": (1, 0)}),
    "kelvin": ("K", {"K": (1, 0)}),
    "count": ("1", {"1": (1, 0)}),
}

#: Other ways to write a unit, tried when the spelling itself is not in the quantity's table.
_ALIASES: dict[str, str] = {
    "Ω": "ohm",
    "ohms": "ohm",
    "kΩ": "kohm",
    "k": "kohm",
    "K": "kohm",
    "kilohm": "kohm",
    "kohms": "kohm",
    "MΩ": "Mohm",
    "M": "Mohm",
    "megohm": "Mohm",
    "Mohms": "Mohm",
    "GΩ": "Gohm",
    "mΩ": "mohm",
    "v": "V",
    "volt": "V",
    "volts": "V",
    "amp": "A",
    "amps": "A",
    "a": "A",
    "w": "W",
    "kw": "kW",
    "btu/h": "Btu/h",
    "btuh": "Btu/h",
    "BTU/h": "Btu/h",
    "tons": "ton",
    "hz": "Hz",
    "µF": "uF",
    "μF": "uF",
    "mfd": "uF",
    "C": "degC",
    "°C": "degC",
    "c": "degC",
    "F": "degF",
    "°F": "degF",
    "f": "degF",
    "kpa": "kPa",
    "kPag": "kPa",
    "mpa": "MPa",
    "barg": "bar",
    "psig": "psi",
    "inwc": "inH2O",
    "in.wc": "inH2O",
    "microns": "micron",
    "µmHg": "micron",
    "torr": "mmHg",
    "Torr": "mmHg",
    "hPa": "mbar",
    "lbs": "lb",
    "pound": "lb",
    "pounds": "lb",
    "ounces": "oz",
    "feet": "ft",
    "foot": "ft",
    "metre": "m",
    "metres": "m",
    "meters": "m",
    "m²": "m2",
    "ft²": "ft2",
    "sqft": "ft2",
    "mm²": "mm2",
    "kg/m³": "kg/m3",
    "m³": "m3",
    "L": "l",
    "sec": "s",
    "seconds": "s",
    "minutes": "min",
    "hours": "h",
    "hr": "h",
    "days": "day",
    "m³/h": "m3/h",
    "CFM": "cfm",
    "L/s": "l/s",
    "percent": "%",
    "pct": "%",
}
#: Spellings that say absolute or gauge, and so are wrong in the other place.
_ABSOLUTE, _GAUGE = {"psia": "psi", "bara": "bar", "kPaa": "kPa"}, {"psig", "barg", "kPag"}

QUANTITIES: dict[str, str] = {name: unit for name, (unit, _) in _TABLE.items()}

_NUMBER = re.compile(r"\s*([-+−]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?)\s*(.*?)\s*$")


def units_of(quantity: str) -> tuple[str, ...]:
    """Every unit that ``quantity`` may be given in, the one kept inside first. Raises UnknownName."""
    inside, units = _entry(quantity)
    return (inside, *(u for u in units if u != inside))


def _entry(quantity: str) -> tuple[str, dict[str, tuple[float, float]]]:
    if quantity not in _TABLE:
        raise UnknownName("quantity", quantity, _TABLE)
    return _TABLE[quantity]


def _resolve(quantity: str, unit: str) -> tuple[float, float]:
    _, units = _entry(quantity)
    spelled = unit.strip()
    if quantity == "pressure_absolute":
        if spelled in _GAUGE:
            raise BadUnit(f"{spelled} is a gauge pressure, but an absolute pressure is asked for.")
        spelled = _ABSOLUTE.get(spelled, spelled)
    elif quantity == "pressure_gauge" and spelled in _ABSOLUTE:
        raise BadUnit(f"{spelled} is an absolute pressure, but a gauge pressure is asked for.")
    for candidate in (spelled, _ALIASES.get(spelled, "")):
        if candidate in units:
            return units[candidate]
    may = ", ".join(units_of(quantity))
    raise BadUnit(f"{spelled!r} is not a unit of {quantity.replace('_', ' ')}; it may be given in {may}.")


def to_inside(quantity: str, value: float, unit: str) -> float:
    """``value`` in ``unit`` as the unit kept inside. Raises UnknownName, BadUnit, OutOfRange (beyond ±1e30)."""
    factor, offset = _resolve(quantity, unit)
    return within(quantity.replace("_", " "), value, -1e30, 1e30, unit) * factor + offset


def from_inside(quantity: str, value: float, unit: str) -> float:
    """The inverse of ``to_inside``."""
    factor, offset = _resolve(quantity, unit)
    return (within(quantity.replace("_", " "), value, -1e30, 1e30, QUANTITIES[quantity]) - offset) / factor


def convert(quantity: str, value: float, from_unit: str, to_unit: str) -> float:
    """``value`` from one unit of ``quantity`` into another."""
    return from_inside(quantity, to_inside(quantity, value, from_unit), to_unit)


def parse(quantity: str, text: str) -> float:
    """A number with a unit ("4.2 kohm", "77F", "123psig") as the unit kept inside; without a unit it is in that unit.

    Raises BadUnit when there is no number or the unit does not fit, naming what may be given.
    """
    inside, _ = _entry(quantity)
    found = _NUMBER.match(text)
    if found is None:
        example = f"12.5{inside if inside != '1' else ''}"
        raise BadUnit(f"{text!r} does not begin with a number; give {quantity.replace('_', ' ')} like {example}.")
    number, unit = float(found[1].replace("−", "-")), found[2]
    return to_inside(quantity, number, unit or inside)


#: How each quantity is shown to people: unit kept inside, and the customary unit beside it.
_SHOWN_INSIDE = {
    "degC": "°C",
    "uF": "µF",
    "m3/h": "m³/h",
    "m2": "m²",
    "mm2": "mm²",
    "kg/m3": "kg/m³",
    "m3": "m³",
    "1": "",
}
_CUSTOMARY: dict[str, str] = {
    "temperature": "degF",
    "temperature_difference": "degF",
    "pressure_gauge": "psi",
    "pressure_absolute": "psi",
    "vacuum": "micron",
    "power": "Btu/h",
    "mass": "lb",
    "mass_flow": "lb/h",
    "length": "ft",
    "area": "ft2",
    "airflow": "cfm",
    "enthalpy": "Btu/lb",
}
#: What an instrument of the trade can tell at best.
_DECIMALS = {"temperature": 1, "temperature_difference": 1, "humidity": 1, "percent": 2, "power": 0, "airflow": 0}
_CUSTOMARY_SHOWN = {"degF": "°F", "psi": "psig", "ft2": "ft²"}
_PREFIXED = {"ohm": ((1e9, "Gohm"), (1e6, "Mohm"), (1e3, "kohm"), (1, "ohm"), (1e-3, "mohm"))}


def shown(quantity: str, value: float) -> str:
    """``value`` (in the unit kept inside) for people: "4.2 kohm", "10.0 °C (50.0 °F)". Raises UnknownName."""
    inside, _ = _entry(quantity)
    for size, unit in _PREFIXED.get(inside, ()):
        if abs(value) >= size or (size == 1e-3 and value):
            return f"{figure(value / size)} {unit}"
    decimals = _DECIMALS.get(quantity, 8)
    first = f"{figure(value, decimals)} {_SHOWN_INSIDE.get(inside, inside)}".strip()
    other = _CUSTOMARY.get(quantity)
    if other is None or (quantity == "power" and abs(value) < 100):
        return first
    name = "psia" if quantity == "pressure_absolute" else _CUSTOMARY_SHOWN.get(other, other)
    return f"{first} ({figure(from_inside(quantity, value, other), decimals)} {name})"


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
