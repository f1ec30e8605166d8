"""The one table: its factors against pint, and that everybody takes from it."""

from __future__ import annotations

from functools import cache
from typing import Any, get_args

import pint
import pytest

from assistant.calculations.refrigerants import REFRIGERANTS as COMPOSED
from assistant.calculations.supply import NOMINAL_V, band_v
from assistant.data.places import data_folder
from assistant.language import sources, unit_rules
from assistant.language.closed import REFRIGERANTS as ASKED_REFRIGERANTS
from assistant.language.closed import SUPPLIES as ASKED_SUPPLIES
from assistant.language.meaning import CANONICAL_UNIT, Quantity
from assistant.language.written import as_words
from assistant.library.loader import load
from assistant.quantities.refrigerants import REFRIGERANTS, RefrigerantName
from assistant.quantities.supplies import SUPPLIES, SupplySystem
from assistant.quantities.table import OTHER_SIGNS, QUANTITIES, sign, units
from assistant.quantities.unit import Unit
from assistant.speaking.text import spoken

ALL = [(name, unit) for name, kind in QUANTITIES.items() for unit in kind.units]

#: What pint calls a symbol, where it is not the same.
PINT = {
    "kohm": "kiloohm",
    "Mohm": "megaohm",
    "mohm": "milliohm",
    "Gohm": "gigaohm",
    "uA": "microampere",
    "uF": "microfarad",
    "VA": "volt * ampere",
    "kVA": "kilovolt * ampere",
    "var": "volt * ampere",
    "kvar": "kilovolt * ampere",
    "ohm/kft": "ohm / kilofoot",
    "K": "kelvin",
    "kgf/cm2": "kilogram_force / centimeter**2",
    "inHg": "inch_Hg",
    "inH2O": "inch_H2O",
    "micron": "micrometer_Hg",
    "mmHg": "millimeter_Hg",
    "Torr": "torr",
    "mTorr": "millitorr",
    "%": "percent",
    "kg/kg": "dimensionless",
    "gr/lb": "grain / pound",
    "BTU/lb": "Btu_it / pound",
    "BTU/h": "Btu_it / hour",
    "BTU": "Btu_it",
    "ton": "refrigeration_ton",
    "hp": "horsepower",
    "lb/h": "pound / hour",
    "oz/ft": "ounce / foot",
    "in": "inch",
    "t": "tonne",
    "m2": "m**2",
    "ft2": "ft**2",
    "mm2": "mm**2",
    "cmil": "circular_mil",
    "m3": "m**3",
    "ft3": "ft**3",
    "gal": "gallon",
    "kg/m3": "kg / m**3",
    "lb/ft3": "pound / ft**3",
    "m3/kg": "m**3 / kg",
    "ft3/lb": "ft**3 / pound",
    "rpm": "revolution / minute",
    "rps": "revolution / second",
    "m3/h": "m**3 / hour",
    "m3/min": "m**3 / minute",
    "m3/s": "m**3 / second",
    "cfm": "ft**3 / minute",
    "Pa.m3/s": "Pa * m**3 / second",
    "mbar.L/s": "millibar * liter / second",
    "N.m": "newton * meter",
    "ft.lb": "foot * force_pound",
    "1/K": "1 / kelvin",
    "1": "dimensionless",
}


@cache
def registry() -> Any:
    made = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    made.define("micrometer_Hg = 1e-3 * mmHg")
    return made


@pytest.mark.parametrize(("name", "unit"), ALL, ids=lambda value: getattr(value, "symbol", value))
def test_what_a_unit_is_worth_is_what_pint_says(name: str, unit: Unit) -> None:
    inside = QUANTITIES[name].inside.symbol
    if name == "temperature_difference":
        given = {"K": "kelvin", "degC": "kelvin", "degF": "delta_degF"}[unit.symbol]
        inside = "kelvin"
    else:
        given = PINT.get(unit.symbol, unit.symbol)
        inside = PINT.get(inside, inside)
    expected = registry().Quantity(40.0, given).to(inside).magnitude
    # Columns of water and mercury are conventional to seven figures at most, and pint holds them at other temperatures.
    within = {"inHg": 1e-5, "inH2O": 1e-5, "ton": 1e-6}.get(unit.symbol, 1e-9)  # pint's ton has another Btu
    assert abs(40.0 * abs(unit.factor) + unit.offset) == pytest.approx(abs(expected), rel=within, abs=1e-9)
    assert (unit.factor < 0) == ((name, unit.symbol) == ("pressure_gauge", "inHg"))


@pytest.mark.parametrize("name", QUANTITIES)
def test_a_quantity_is_whole(name: str) -> None:
    kind = QUANTITIES[name]
    symbols = [unit.symbol for unit in kind.units]
    assert len(set(symbols)) == len(symbols)
    assert (kind.inside.factor, kind.inside.offset) == (1, 0)
    assert bool(kind.bare) != bool(kind.choices), "a bare number has its unit, or is asked for it"
    assert {*([kind.bare] if kind.bare else []), *kind.prefixed, *([kind.beside] if kind.beside else [])} <= {*symbols}
    for unit in kind.units:
        assert unit.symbol == "1" or (unit.one and unit.many), unit.symbol
        assert not unit.phrases or {unit.one, unit.many} - {""} <= {*unit.phrases}, unit.symbol


def test_the_grammar_of_units_is_made_from_the_table() -> None:
    made = (data_folder("grammars") / unit_rules.FILE).read_text(encoding="utf-8")
    assert made == unit_rules.rules(), "run python -m assistant.language.unit_rules"


def test_units_in_sums_are_those_of_the_table() -> None:
    """The grammar of sums has a few units of its own, to keep the search graph small."""
    rules = {rule.name: rule for rule in sources.shipped().grammars["calculations"].rules}
    words = " ".join(word.text for word in sources.words(rules["measure"].expansion))
    known = {word for unit in units() for phrase in unit.phrases for word in phrase.split()}
    assert set(words.split()) <= known | {"degrees"}


def test_every_reading_has_its_quantity() -> None:
    assert set(CANONICAL_UNIT) == set(get_args(Quantity)) <= set(QUANTITIES)


@pytest.mark.parametrize(("name", "unit"), ALL, ids=lambda value: getattr(value, "symbol", value))
def test_every_sign_is_said_in_words(name: str, unit: Unit) -> None:
    if unit.symbol in ("1", "1/K"):
        return
    said = spoken(f"It reads 2 {sign(unit.symbol)}, so go on.")
    assert said.removeprefix("It reads two ").removesuffix(", so go on.") in (
        {other.voiced[1] for other in units()} | {many for _, many in OTHER_SIGNS.values()}
    )


def test_supplies_are_one_list() -> None:
    assert tuple(SUPPLIES) == get_args(SupplySystem)
    assert {choice.id for choice in ASKED_SUPPLIES} == set(SUPPLIES) == set(load().generals)
    assert {system: supply.system_v for system, supply in SUPPLIES.items()}.items() <= dict(NOMINAL_V).items()
    for profile in load().generals.values():
        assert profile.supply.nominal_v == SUPPLIES[profile.supply.system].nameplate_v
        assert profile.supply.frequency_hz == SUPPLIES[profile.supply.system].hz


def test_refrigerants_are_one_list() -> None:
    assert tuple(REFRIGERANTS) == get_args(RefrigerantName)
    assert {choice.id for choice in ASKED_REFRIGERANTS} == set(REFRIGERANTS) == set(COMPOSED)


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_a_refrigerant_is_called_as_a_voice_says_it(name: RefrigerantName) -> None:
    assert spoken(name).lower().replace(" ay", " a") == REFRIGERANTS[name][0]
    assert as_words(name).split()[0] == "r"


def test_a_motor_of_115_volts_is_rated_by_its_nameplate() -> None:
    """Its system has 120 V; NEMA MG-1 allows ±10 % of what the nameplate prints."""
    assert band_v("single-phase-115", "motor-10-percent") == pytest.approx((103.5, 126.5))
    assert band_v("single-phase-115", "c84.1-utilization-a") == (108, 126)
