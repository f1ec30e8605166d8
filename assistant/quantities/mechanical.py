"""Mass, length, time, flow and counts. Factors are exact (international foot and pound) unless told beside."""

from __future__ import annotations

import math

from assistant.quantities.unit import Kind, Unit

FOOT_M = 0.3048
POUND_KG = 0.45359237
CFM_M3_H = FOOT_M**3 * 60


def _times(one: str, many: str, *per: str) -> tuple[str, ...]:
    """The phrases "cubic meter per hour", "cubic meters a hour" ..."""
    return tuple(f"{name}{tail}" for name in (one, many) for tail in per)


MECHANICAL: dict[str, Kind] = {
    "mass": Kind(
        (
            Unit("kg", 1, "kilogram", heard=("kilogram", "kilograms", "kilo", "kilos")),
            Unit("g", 1e-3, "gram", heard=("gram", "grams")),
            Unit("lb", POUND_KG, "pound", signs=("lb", "lbs"), heard=("pound", "pounds")),
            Unit("oz", POUND_KG / 16, "ounce", heard=("ounce", "ounces")),
            Unit("t", 1e3, "tonne", written=("tonnes",)),
        ),
        choices=("lb", "oz", "kg", "g"),
        beside="lb",
    ),
    "mass_flow": Kind(
        (
            Unit("kg/h", 1, "kilogram per hour", "kilograms per hour"),
            Unit("lb/h", POUND_KG, "pound per hour", "pounds per hour"),
        ),
        choices=("lb/h", "kg/h"),
        beside="lb/h",
    ),
    "mass_per_length": Kind(
        (
            Unit("g/m", 1, "gram per meter", "grams per meter"),
            Unit("oz/ft", POUND_KG / 16 * 1000 / FOOT_M, "ounce per foot", "ounces per foot"),
        ),
        choices=("oz/ft", "g/m"),
    ),
    "length": Kind(
        (
            Unit("m", 1, "meter", heard=("meter", "meters"), written=("metre", "metres")),
            Unit("cm", 1e-2, "centimeter", heard=("centimeter", "centimeters"), written=("centimetre", "centimetres")),
            Unit("mm", 1e-3, "millimeter", heard=("millimeter", "millimeters"), written=("millimetre", "millimetres")),
            Unit("ft", FOOT_M, "foot", "feet", heard=("foot", "feet"), written=("'",)),
            Unit("in", FOOT_M / 12, "inch", "inches", heard=("inch", "inches"), written=('"',)),
            Unit("km", 1e3, "kilometer"),
        ),
        choices=("ft", "m"),
        beside="ft",
    ),
    "area": Kind(
        (
            Unit("m2", 1, "square meter", signs=("m²", "m2"), written=("sqm",)),
            Unit("ft2", FOOT_M**2, "square foot", "square feet", ("ft²", "ft2"), written=("sqft", "sq ft")),
        ),
        choices=("ft2", "m2"),
        beside="ft2",
    ),
    "cross_section": Kind(
        (
            Unit("mm2", 1, "square millimeter", signs=("mm²", "mm2")),
            Unit("cmil", math.pi / 4 * 0.0254**2, "circular mil"),
        ),
        choices=("mm2", "cmil"),
    ),
    "volume": Kind(
        (
            Unit("m3", 1, "cubic meter", signs=("m³", "m3")),
            Unit("L", 1e-3, "liter", signs=("L", "l"), written=("litre", "litres")),
            Unit("ft3", FOOT_M**3, "cubic foot", "cubic feet", ("ft³", "ft3"), written=("cuft", "cu ft")),
            Unit("gal", 231 * 0.0254**3, "gallon"),  # US gallon: 231 cubic inches
        ),
        choices=("ft3", "m3", "L"),
    ),
    "density": Kind(
        (
            Unit("kg/m3", 1, "kilogram per cubic meter", "kilograms per cubic meter", ("kg/m³",)),
            Unit("lb/ft3", POUND_KG / FOOT_M**3, "pound per cubic foot", "pounds per cubic foot", ("lb/ft³",)),
        ),
        choices=("lb/ft3", "kg/m3"),
    ),
    "specific_volume": Kind(
        (
            Unit("m3/kg", 1, "cubic meter per kilogram", "cubic meters per kilogram", ("m³/kg",)),
            Unit("ft3/lb", FOOT_M**3 / POUND_KG, "cubic foot per pound", "cubic feet per pound", ("ft³/lb",)),
        ),
        choices=("ft3/lb", "m3/kg"),
    ),
    "duration": Kind(
        (
            Unit("s", 1, "second", heard=("second", "seconds"), written=("sec", "secs")),
            Unit("min", 60, "minute", heard=("minute", "minutes"), written=("mins",)),
            Unit("h", 3600, "hour", heard=("hour", "hours"), written=("hr", "hrs")),
            Unit("ms", 1e-3, "millisecond", heard=("millisecond", "milliseconds")),
            Unit("day", 86_400, "day", written=("days",)),
        ),
        choices=("s", "min", "h"),
    ),
    "speed": Kind(
        (
            Unit("rpm", 1, "rpm", "rpm", ("rpm", "RPM", "r/min"),
                 heard=("rpm", "r p m", "revolutions", "revolutions per minute", "turns per minute"),
                 voice=("R P M", "R P M")),
            Unit("rps", 60, "turn per second", "turns per second"),
        ),
        bare="rpm",
    ),
    "airflow": Kind(
        (
            Unit("m3/h", 1, "cubic meter per hour", "cubic meters per hour", ("m³/h",),
                 heard=_times("cubic meter", "cubic meters", "", " per hour", " a hour"), written=("cmh", "m3/hr")),
            Unit("m3/min", 60, "cubic meter per minute", "cubic meters per minute", ("m³/min",),
                 heard=_times("cubic meter", "cubic meters", " per minute"), written=("cmm",)),
            Unit("cfm", CFM_M3_H, "cfm", "cfm", ("cfm", "CFM"), american=("cfm", "c f m"),
                 heard=_times("cubic foot", "cubic feet", "", " per minute"), written=("ft3/min",),
                 voice=("C F M", "C F M")),
            Unit("L/s", 3.6, "liter per second", "liters per second", ("L/s", "l/s"),
                 heard=_times("liter", "liters", " per second", " a second")),
            Unit("L/min", 0.06, "liter per minute", "liters per minute", ("L/min", "l/min"),
                 heard=_times("liter", "liters", " per minute", " a minute"), written=("lpm",)),
            Unit("m3/s", 3600, "cubic meter per second", "cubic meters per second", ("m³/s",)),
        ),
        choices=("cfm", "m3/h"),
        beside="cfm",
        decimals=0,
    ),
    "air_speed": Kind(
        (
            Unit("m/s", 1, "meter per second", "meters per second"),
            Unit("ft/min", FOOT_M / 60, "foot per minute", "feet per minute", ("ft/min", "fpm")),
        ),
        choices=("ft/min", "m/s"),
    ),
    "leak_flow": Kind(
        (
            Unit("Pa.m3/s", 1, "pascal cubic meter per second", "pascal cubic meters per second", ("Pa·m³/s",)),
            Unit("mbar.L/s", 0.1, "millibar liter per second", "millibar liters per second", ("mbar·L/s",)),
        ),
        choices=("Pa.m3/s", "mbar.L/s"),
    ),
    "torque": Kind(
        (
            Unit("N.m", 1, "newton meter", signs=("N·m", "Nm")),
            Unit("ft.lb", 1.3558179483314004, "foot pound", signs=("ft·lb",)),  # pound-force times foot, exact
        ),
        choices=("ft.lb", "N.m"),
    ),
    "percent": Kind(
        (Unit("%", 1, "percent", "percent", heard=("percent",), written=("pct",)),), bare="%", decimals=2
    ),
    "coefficient_per_kelvin": Kind((Unit("1/K", 1, "per kelvin", "per kelvin"),), bare="1/K"),
    "kelvin": Kind((Unit("K", 1, "kelvin", "kelvin"),), bare="K"),
    "count": Kind(
        (Unit("1", 1, "", signs=("",), heard=("times", "flashes", "blinks", "pulses", "turns", "pieces")),), bare="1"
    ),
}  # fmt: skip
