"""Units against pint, their own inverse and their own grammar."""

from __future__ import annotations

from functools import cache
from typing import Any, get_args

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language import units
from assistant.language.automaton import compile_automaton
from assistant.language.jsgf import Ref
from assistant.language.meaning import CANONICAL_UNIT, Quantity
from assistant.language.sources import shipped

PINT = {
    "ohm": "ohm",
    "kohm": "kiloohm",
    "Mohm": "megaohm",
    "mohm": "milliohm",
    "Gohm": "gigaohm",
    "uF": "microfarad",
    "nF": "nanofarad",
    "pF": "picofarad",
    "degC": "degC",
    "degF": "degF",
    "K": "kelvin",
    "psi": "psi",
    "inH2O": "inH2O",
    "micron": "micrometer_Hg",
    "%": "percent",
    "rpm": "revolutions_per_minute",
    "m3/h": "m^3/hour",
    "m3/min": "m^3/minute",
    "cfm": "foot^3/minute",
    "L/s": "liter/second",
    "L/min": "liter/minute",
    "BTU/h": "BTU/hour",
    "Torr": "torr",
    "mTorr": "millitorr",
    "1": "dimensionless",
}
ALL = [(quantity, unit) for quantity in get_args(Quantity) for unit in units.UNITS[quantity]]


@cache
def registry() -> Any:
    made = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    made.define("micrometer_Hg = 1e-3 * mmHg")
    return made


@pytest.mark.parametrize(("quantity", "unit"), ALL)
def test_factors_agree_with_pint(quantity: Quantity, unit: units.Unit) -> None:
    name, canonical = PINT.get(unit.symbol, unit.symbol), PINT.get(CANONICAL_UNIT[quantity], CANONICAL_UNIT[quantity])
    if unit.symbol == "inHg":  # vacuum counts downwards from the atmosphere
        assert units.to_canonical(10, "inHg", quantity) == pytest.approx(-33.86389, rel=1e-6)
        return
    if quantity == "temperature_difference":
        name, canonical = ("delta_degF", "kelvin") if unit.symbol == "degF" else ("kelvin", "kelvin")
    expected = registry().Quantity(40.0, name).to(canonical).magnitude
    # Conventional water and mercury columns are defined to five or six figures.
    assert units.to_canonical(40.0, unit.symbol, quantity) == pytest.approx(expected, rel=2e-6)


@pytest.mark.parametrize(("quantity", "unit"), ALL)
@given(value=st.floats(-99_999, 99_999, allow_nan=False))
def test_there_and_back(quantity: Quantity, unit: units.Unit, value: float) -> None:
    value = abs(value) if unit.factor < 0 else value  # inches of mercury are a vacuum, whichever sign they have
    there = units.to_canonical(value, unit.symbol, quantity)
    assert units.from_canonical(there, unit.symbol, quantity) == pytest.approx(value, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize(("quantity", "unit"), [pair for pair in ALL if pair[1].many])
def test_the_spoken_names_are_in_the_grammar(quantity: Quantity, unit: units.Unit) -> None:
    automaton = compile_automaton(Ref(f"units.{quantity}"), "units", shipped().lookup({}))
    for name in (unit.one, unit.many):
        states = {automaton.start}
        for word in name.split():
            states = {arc.to for state in states for arc in automaton.arcs(state).get(word, ())}
        tags = {mark.tag for state in states for marks, _ in automaton.finals(state) for mark in marks}
        assert f"unit {unit.symbol}" in tags, name


def test_a_level_and_a_difference_are_told_apart() -> None:
    assert units.to_canonical(50, "degF", "temperature") == 10
    assert units.to_canonical(9, "degF", "temperature_difference") == 5


def test_a_unit_of_another_quantity_is_refused_with_what_would_fit() -> None:
    with pytest.raises(units.UnitError, match="“psi” is not a unit of resistance; it may be given in ohm, kohm"):
        units.to_canonical(1, "psi", "resistance")


@pytest.mark.parametrize(
    ("symbol", "quantity"), [("kΩ", "resistance"), ("megohm", "resistance"), ("°F", "temperature")]
)
def test_other_spellings(symbol: str, quantity: Quantity) -> None:
    assert units.unit(symbol, quantity).symbol in ("kohm", "Mohm", "degF")


def test_the_canonical_unit_is_worth_one() -> None:
    for quantity, symbol in CANONICAL_UNIT.items():
        found = units.unit(symbol, quantity)  # type: ignore[arg-type]
        assert (found.factor, found.offset) == (1, 0)


@pytest.mark.parametrize(
    ("value", "asked", "quantity", "told"),
    [
        (3.0, "Mohm", "resistance", "ohm"),
        (5e3, "Mohm", "resistance", "kohm"),
        (1e5, "Mohm", "resistance", "Mohm"),
        (2e6, "Mohm", "resistance", "Mohm"),
        (2e9, "ohm", "resistance", "Mohm"),
        (2e6, "kohm", "resistance", "Mohm"),
        (3.45e3, "kPa", "pressure_gauge", "kPa"),
        (0.0, "Mohm", "resistance", "Mohm"),
        (0.02, "kg", "mass", "g"),
        (0.05, "V", "voltage_dc", "V"),
    ],
)
def test_a_number_is_told_in_a_unit_of_its_size(value, asked, quantity, told):
    assert units.of_its_size(value, asked, quantity) == told
