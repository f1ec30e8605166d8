"""Units against pint and SciPy, and text as people write it."""

from __future__ import annotations

import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import units
from assistant.calculations.errors import BadUnit, UnknownName
from assistant.language.meaning import CANONICAL_UNIT
from tests.calculations.checks import library, pint_registry, property_of

#: (quantity, unit here, unit in pint)
PAIRS = [
    ("pressure_gauge", "psi", "psi"),
    ("pressure_gauge", "bar", "bar"),
    ("pressure_gauge", "MPa", "MPa"),
    ("pressure_gauge", "inH2O", "inch_H2O"),
    ("pressure_absolute", "inHg", "inch_Hg_32F"),
    ("vacuum", "mmHg", "mmHg"),
    ("power", "Btu/h", "Btu_it / hour"),
    ("power", "ton", "refrigeration_ton"),
    ("power", "hp", "horsepower"),
    ("energy", "kWh", "kWh"),
    ("energy", "Btu", "Btu_it"),
    ("mass", "lb", "lb"),
    ("mass", "oz", "oz"),
    ("length", "ft", "foot"),
    ("length", "in", "inch"),
    ("area", "ft2", "foot**2"),
    ("airflow", "cfm", "foot**3 / minute"),
    ("airflow", "l/s", "liter / second"),
    ("enthalpy", "Btu/lb", "Btu_it / lb"),
    ("cross_section", "cmil", "circular_mil"),
    ("resistance_per_length", "ohm/kft", "ohm / kilofoot"),
    ("density", "lb/ft3", "lb / foot**3"),
    ("specific_volume", "ft3/lb", "foot**3 / lb"),
    ("speed", "rps", "revolution / second"),
    ("leak_flow", "mbar.l/s", "millibar * liter / second"),
    ("humidity_ratio", "gr/lb", "grain / lb"),
]
_PINT_INSIDE = {
    "m3/h": "m**3 / hour",
    "m2": "m**2",
    "mm2": "mm**2",
    "kg/m3": "kg / m**3",
    "m3/kg": "m**3 / kg",
    "Pa.m3/s": "Pa * m**3 / s",
    "kJ/kg": "kJ / kg",
    "ohm/m": "ohm / m",
    "kg/kg": "dimensionless",
}


@library("convert", PAIRS)
def test_factor_against_pint(quantity: str, unit: str, in_pint: str) -> None:
    registry = pint_registry()
    inside = units.QUANTITIES[quantity]
    factor = registry.Quantity(7.3, in_pint).to(_PINT_INSIDE.get(inside, inside)).magnitude
    relative = 2e-5 if unit in ("inH2O", "inHg") else 1e-6  # water and mercury at slightly other temperatures
    assert units.to_inside(quantity, 7.3, unit) == pytest.approx(factor, rel=relative)


@library("convert", [("F",), ("K",)])
def test_temperature_against_scipy(scale: str) -> None:
    for value in (-40.0, 75.0, 212.0, 310.0):
        expected = scipy.constants.convert_temperature(value, scale, "C")
        assert units.to_inside("temperature", value, "K" if scale == "K" else "F") == pytest.approx(float(expected))


def test_the_vocabularys_units_are_ours() -> None:
    for quantity, unit in CANONICAL_UNIT.items():
        assert units.QUANTITIES[quantity] == unit


@property_of("convert")
@given(st.sampled_from(sorted(units.QUANTITIES)), st.floats(-1e9, 1e9), st.data())
def test_units_return(quantity: str, value: float, data: st.DataObject) -> None:
    first, second = (data.draw(st.sampled_from(units.units_of(quantity))) for _ in range(2))
    if "inHg" in (first, second) and quantity == "pressure_gauge":
        value = abs(value) if first == "inHg" else -abs(value)  # a vacuum, whichever sign it is written with
    there = units.convert(quantity, value, first, second)
    assert units.convert(quantity, there, second, first) == pytest.approx(value, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize(
    ("quantity", "text", "inside"),
    [
        ("resistance", "4.2 kohm", 4200),
        ("resistance", "4.2k", 4200),
        ("resistance", "10.3 kΩ", 10_300),
        ("resistance", "2.5M", 2.5e6),
        ("resistance", ".45ohm", 0.45),
        ("temperature", "77 F", 25),
        ("temperature", "−40°F", -40),
        ("temperature_difference", "18F", 10),
        ("pressure_gauge", "100psig", 689.4757),
        ("pressure_gauge", "8 bar", 800),
        ("pressure_absolute", "14.696psia", 101.325),
        ("vacuum", "500 microns", 66.66),
        ("capacitance", "35µF", 35),
        ("airflow", "400 CFM", 679.6),
        ("duration", "5 min", 300),
        ("percent", "5", 5),
    ],
)
def test_text_is_read(quantity: str, text: str, inside: float) -> None:
    assert units.parse(quantity, text) == pytest.approx(inside, rel=1e-4)


@pytest.mark.parametrize(
    ("quantity", "text", "says"),
    [
        ("resistance", "cold", "does not begin with a number"),
        ("resistance", "4.2 furlong", "may be given in ohm"),
        ("pressure_gauge", "100psia", "absolute"),
        ("pressure_absolute", "100psig", "gauge"),
        ("temperature", "", "does not begin"),
    ],
)
def test_text_that_cannot_be_read_says_what_to_write(quantity: str, text: str, says: str) -> None:
    with pytest.raises(BadUnit, match=says):
        units.parse(quantity, text)


def test_unknown_quantity() -> None:
    with pytest.raises(UnknownName, match="moonlight"):
        units.parse("moonlight", "3")


@pytest.mark.parametrize(
    ("quantity", "value", "text"),
    [
        ("resistance", 4200, "4.2 kΩ"),
        ("resistance", 0.0123, "12.3 mΩ"),
        ("resistance", 0, "0 Ω"),
        ("temperature", 10, "10 °C (50 °F)"),
        ("temperature_difference", 5.549, "5.5 K (10 °F)"),
        ("temperature_difference", 0.031, "0.031 K (0.056 °F)"),
        ("pressure_gauge", 848.1, "848.1 kPa (123 psig)"),
        ("count", 0.9522, "0.9522"),
        ("count", 1.948e-7, "1.948e-07"),
    ],
)
def test_shown_for_people(quantity: str, value: float, text: str) -> None:
    assert units.shown(quantity, value) == text


@pytest.mark.parametrize(
    ("quantity", "text", "inside", "symbol"),
    [
        ("mass", "2 lb 10 oz", 1.19068, "lb"),
        ("mass", "2lb10oz", 1.19068, "lb"),
        ("mass", "2 pounds and 10 ounces", 1.19068, "lb"),
        ("mass", "1 kg 200 g", 1.2, "kg"),
        ("mass", "42 oz", 1.19068, "oz"),
        ("length", "6 ft 2 in", 1.8796, "ft"),
        ("duration", "2 min 30 s", 150.0, "min"),
    ],
)
def test_a_value_may_be_written_in_two_units(quantity, text, inside, symbol):
    value, given_in = units.read(quantity, text)
    assert value == pytest.approx(inside, abs=1e-5)  # 1 lb is 0.45359237 kg exactly (NIST SP 811, B.8)
    assert given_in == symbol


@pytest.mark.parametrize("text", ["2 lb 18 oz", "2 oz 1 lb", "2 lb 10 kg", "2 lb 10", "2 lb 10 m"])
def test_two_units_that_do_not_go_together_are_refused(text):
    with pytest.raises(BadUnit):
        units.read("mass", text)
