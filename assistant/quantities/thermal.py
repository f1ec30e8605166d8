"""Temperature, pressure, moist air, energy. Factors are exact or from NIST SP 811 (2008), appendix B, as told beside.

"inHg" under gauge pressure is a vacuum, so it counts downwards from the atmosphere.
"""

from __future__ import annotations

from assistant.quantities.unit import Kind, Unit

PSI_KPA = 6.894757293168361  # from the exact pound, standard gravity and inch
INHG_KPA = 3.386389  # conventional, at 0 °C: 3.386 389 E+03 Pa
INH2O_KPA = 0.2490889  # conventional: 2.490 889 E+02 Pa
MMHG_PA = 133.322387415  # conventional millimetre of mercury, as pint and SciPy have it
TORR_PA = 101325 / 760  # exact by definition
BTU_J = 1055.05585262  # International Table, exact by definition
TON_W = 12_000 * BTU_J / 3600
_F = 5 / 9  # exact

_DEGREES = ("degree", "degrees")


def _degrees(*names: str) -> tuple[str, ...]:
    return tuple(f"{before}{name}" for name in names for before in ("", "degree ", "degrees "))


_CELSIUS = _degrees("celsius", "c")
_FAHRENHEIT = _degrees("fahrenheit", "f")
_C = ("C", "deg C", "celsius", "centigrade")
_FW = ("F", "deg F", "fahrenheit")


def _pressures(*, gauge: bool) -> tuple[Unit, ...]:
    """The units that gauge and absolute pressure share."""
    mark = "gauge" if gauge else "absolute"
    return (
        Unit("kPa", 1, "kilopascal", heard=("kilopascal", "kilopascals") if gauge else ()),
        Unit(
            "psi", PSI_KPA, "psi", "psi", ("psi", "PSI"), heard=("psi", "psig", "p s i") if gauge else (),
            american=("pounds", "pounds per square inch") if gauge else (), written=("lb/in2", "lbf/in2"),
            voice=("P S I", "P S I"),
        ),
        Unit("bar", 100, "bar", "bar", heard=("bar", "bars") if gauge else ()),
        Unit("MPa", 1e3, "megapascal", heard=("megapascal", "megapascals") if gauge else ()),
        Unit("mbar", 0.1, "millibar", heard=("millibar", "millibars") if gauge else ()),
        Unit("Pa", 1e-3, "pascal", heard=("pascal", "pascals") if gauge else ()),
        Unit("hPa", 0.1, "hectopascal"),
        Unit("kgf/cm2", 98.0665, f"kilogram per square centimeter {mark}", f"kilograms per square centimeter {mark}",
             ("kgf/cm²",), written=("kg/cm2", "kp/cm2")),
    )  # fmt: skip


THERMAL: dict[str, Kind] = {
    "temperature": Kind(
        (
            Unit("degC", 1, "degree celsius", "degrees celsius", ("°C", "℃"), heard=_CELSIUS, written=_C,
                 voice=("degree Celsius", "degrees Celsius")),
            Unit("degF", _F, "degree fahrenheit", "degrees fahrenheit", ("°F", "℉"), -32 * _F, heard=_FAHRENHEIT,
                 written=_FW, voice=("degree Fahrenheit", "degrees Fahrenheit")),
            Unit("K", 1, "kelvin", "kelvin", offset=-273.15),
        ),
        choices=("F", "C"),
        beside="degF",
        decimals=1,
        unsaid=_DEGREES,
    ),
    "temperature_difference": Kind(
        (
            Unit("K", 1, "kelvin", "kelvin", heard=("kelvin",)),
            Unit("degC", 1, "degree celsius", "degrees celsius", ("°C", "℃"), heard=_CELSIUS, written=_C,
                 voice=("degree Celsius", "degrees Celsius")),
            Unit("degF", _F, "degree fahrenheit", "degrees fahrenheit", ("°F", "℉"), heard=_FAHRENHEIT, written=_FW,
                 voice=("degree Fahrenheit", "degrees Fahrenheit")),
        ),
        choices=("F", "K"),
        beside="degF",
        decimals=1,
        unsaid=_DEGREES,
    ),
    "pressure_gauge": Kind(
        (
            *_pressures(gauge=True),
            Unit("inHg", -INHG_KPA, "inch of mercury", "inches of mercury", ("inHg", "in.Hg"),
                 heard=("inch of mercury", "inches of mercury"),
                 american=("inch of vacuum", "inches of vacuum", "inches vacuum"), written=('"Hg',)),
            Unit("inH2O", INH2O_KPA, "inch of water", "inches of water", ("inH2O", "in.H2O"),
                 heard=("inch of water", "inches of water", "inch of water column", "inches of water column",
                        "inches water column"),
                 written=("in wc", "in w.c.", '"wc', "iwc")),
        ),
        choices=("psi", "kPa"),
        beside="psi",
    ),
    "pressure_absolute": Kind(
        (
            *_pressures(gauge=False),
            Unit("inHg", INHG_KPA, "inch of mercury", "inches of mercury", ("inHg", "in.Hg"), written=('"Hg',)),
            Unit("mmHg", MMHG_PA / 1000, "millimeter of mercury", "millimeters of mercury"),
            Unit("Torr", TORR_PA / 1000, "torr", "torr"),
            Unit("atm", 101.325, "atmosphere"),
        ),
        choices=("psi", "kPa"),
        beside="psi",
    ),
    "vacuum": Kind(
        (
            Unit("Pa", 1, "pascal", heard=("pascal", "pascals")),
            Unit("micron", MMHG_PA / 1000, "micron", signs=("µmHg", "μmHg", "microns"),
                 heard=("micron", "microns"), written=("um", "umHg")),
            Unit("hPa", 100, "hectopascal", heard=("hectopascal", "hectopascals")),
            Unit("kPa", 1e3, "kilopascal", heard=("kilopascal", "kilopascals")),
            Unit("mbar", 100, "millibar", heard=("millibar", "millibars")),
            Unit("Torr", TORR_PA, "torr", "torr", heard=("torr",)),
            Unit("mTorr", TORR_PA / 1000, "millitorr", "millitorr"),
            Unit("mmHg", MMHG_PA, "millimeter of mercury", "millimeters of mercury",
                 heard=("millimeter of mercury", "millimeters of mercury")),
        ),
        choices=("micron", "Pa"),
        beside="micron",
    ),
    "humidity": Kind(
        (Unit("%", 1, "percent", "percent", ("%", "% RH"),
              heard=("percent", "percent humidity", "percent relative humidity"), written=("pct", "rh")),),
        bare="%",
        decimals=1,
    ),
    "humidity_ratio": Kind(
        (
            Unit("kg/kg", 1, "kilogram per kilogram", "kilograms per kilogram"),
            Unit("g/kg", 1e-3, "gram per kilogram", "grams per kilogram"),
            Unit("gr/lb", 1 / 7000, "grain per pound", "grains per pound"),
        ),
        bare="kg/kg",
    ),
    "enthalpy": Kind(
        (
            Unit("kJ/kg", 1, "kilojoule per kilogram", "kilojoules per kilogram"),
            Unit("BTU/lb", 2.326, "btu per pound", "btu per pound", ("BTU/lb", "Btu/lb"),
                 voice=("B T U per pound", "B T U per pound")),  # exact by definition of the International Table Btu
        ),
        choices=("BTU/lb", "kJ/kg"),
        beside="BTU/lb",
    ),
    "power": Kind(
        (
            Unit("W", 1, "watt", heard=("watt", "watts")),
            Unit("kW", 1e3, "kilowatt", heard=("kilowatt", "kilowatts")),
            Unit("BTU/h", BTU_J / 3600, "btu per hour", "btu per hour", ("BTU/h", "Btu/h"),
                 american=("btu", "b t u", "btu per hour", "b t u per hour"), written=("btuh", "btu/hr", "btu"),
                 voice=("B T U per hour", "B T U per hour")),
            Unit("ton", TON_W, "ton", written=("tons", "tr")),  # of refrigeration: 12,000 BTU/h
            Unit("hp", 745.6998715822702, "horsepower", "horsepower"),  # 550 foot pounds a second
        ),
        choices=("W", "kW", "BTU/h"),
        beside="BTU/h",
        decimals=0,
    ),
    "energy": Kind(
        (
            Unit("J", 1, "joule"),
            Unit("kJ", 1e3, "kilojoule"),
            Unit("BTU", BTU_J, "btu", "btu", ("BTU", "Btu"), voice=("B T U", "B T U")),
            Unit("kWh", 3.6e6, "kilowatt hour"),
        ),
        choices=("J", "kWh"),
    ),
}  # fmt: skip
