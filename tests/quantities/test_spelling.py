"""Units as technicians write them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

import pytest

from assistant.calculations import units
from assistant.calculations.errors import BadUnit
from assistant.library.profile import UnitProfile
from assistant.model import Model
from assistant.quantities import numbers
from assistant.quantities.spelling import unit_in_name


@pytest.mark.parametrize(
    ("quantity", "text", "inside"),
    [
        ("pressure_gauge", "123 PSIG", 848.055),
        ("pressure_gauge", "123psi", 848.055),
        ("pressure_gauge", "850 kPa(g)", 850),
        ("pressure_gauge", "850 kpag", 850),
        ("pressure_gauge", "2.1 MPaG", 2100),
        ("pressure_gauge", "8.5 barg", 850),
        ("pressure_gauge", "25 inHg", -84.6597),
        ("pressure_gauge", "-25 in. Hg", -84.6597),
        ("pressure_gauge", "0.5 in. w.c.", 0.124545),
        ("pressure_gauge", "250 mbar", 25),
        ("pressure_absolute", "101.3 kPa abs", 101.3),
        ("pressure_absolute", "101.3 kPa(a)", 101.3),
        ("pressure_absolute", "29.92 inHg", 101.3208),
        ("pressure_absolute", "14.7 PSIA", 101.353),
        ("vacuum", "500 mTorr", 66.6612),
        ("vacuum", "500 µm", 66.6612),
        ("vacuum", "500 Microns", 66.6612),
        ("vacuum", "0.5 Torr", 66.6612),
        ("capacitance", "35 MFD", 35),
        ("capacitance", "35uf", 35),
        ("capacitance", "470 pF", 0.00047),
        ("resistance", "4,2 kohm", 4200),
        ("resistance", "4.2 KOHM", 4200),
        ("resistance", "1.2 Ohm", 1.2),
        ("resistance", "1.2 OHMS", 1.2),
        ("resistance", "2 megohms", 2e6),
        ("resistance", "2 MΩ", 2e6),
        ("resistance", "2 M\N{OHM SIGN}", 2e6),
        ("resistance", "50 mΩ", 0.05),
        ("insulation_resistance", "500 Mohm", 5e8),
        ("insulation_resistance", "500 MΩ", 5e8),
        ("insulation_resistance", "500 megohms", 5e8),
        ("insulation_resistance", "50 milliohm", 0.05),
        ("temperature", "77 deg F", 25),
        ("temperature", "77°F", 25),
        ("temperature", "25 Celsius", 25),
        ("temperature", "−4,5 °C", -4.5),
        ("airflow", "10 L/min", 0.6),
        ("airflow", "400 CFM", 679.604),
        ("airflow", "4.2 m³/min", 252),
        ("length", '3/8"'.replace("3/8", "0.375"), 0.009525),
        ("power", "9000 btuh", 2637.64),
        ("power", "9000 Btu/hr", 2637.64),
        ("resistance", "0", 0),
        ("pressure_gauge", "0", 0),
        ("voltage_ac", "231", 231),
        ("capacitance", "35", 35),
        ("percent", "5", 5),
    ],
)
def test_is_understood(quantity: str, text: str, inside: float) -> None:
    assert units.parse(quantity, text) == pytest.approx(inside, rel=1e-5)


@pytest.mark.parametrize(
    ("quantity", "text", "says"),
    [
        ("pressure_gauge", "123", "123 has no unit; write 123psi or 123kPa."),
        ("temperature", "52", "52 has no unit; write 52F or 52C."),
        ("temperature", "0", "0 has no unit; write 0F or 0C."),
        ("vacuum", "500", "500 has no unit; write 500micron or 500Pa."),
        ("resistance", "10", "10 has no unit; write 10ohm or 10kohm."),
        ("insulation_resistance", "50", "50 has no unit; write 50Mohm or 50kohm."),
        ("insulation_resistance", "50 mohm", "50 mohm may mean 50megohm or 50milliohm; write which."),
        ("insulation_resistance", "50 MOHM", "50 MOHM may mean 50megohm or 50milliohm; write which."),
        ("insulation_resistance", "50 mΩ", "50 mΩ may mean 50megohm or 50milliohm; write which."),
        ("resistance", "50 MOHM", "50 MOHM may mean 50megohm or 50milliohm; write which."),
        ("capacitance", "35 MF", "35 MF may mean 35microfarad or 35millifarad; write which."),
        (
            "pressure_gauge",
            "100 kPa abs",
            "kPa abs is an absolute pressure, but a gauge pressure is asked for: take the "
            "air's off it, 101.3 kPa or 14.7 psi at sea level.",
        ),
        (
            "pressure_absolute",
            "100 PSIG",
            "PSIG is a gauge pressure, but an absolute pressure is asked for: add the "
            "air's to it, 101.3 kPa or 14.7 psi at sea level.",
        ),
        ("resistance", "4,200 ohm", "“4,200 ohm” may mean thousands or a decimal; write it without the comma"),
        ("vacuum", "cold", "“cold” does not begin with a number; give vacuum like 12.5micron."),
    ],
)
def test_is_asked_about(quantity: str, text: str, says: str) -> None:
    with pytest.raises(BadUnit) as refused:
        units.parse(quantity, text)
    assert str(refused.value).startswith(says)


@pytest.mark.parametrize(
    ("text", "value"),
    [("4,2", 4.2), ("0,500", 0.5), ("12,345,678", 12_345_678), ("1,234.5", 1234.5), ("1e-3", 0.001), ("−4", -4)],
)
def test_commas(text: str, value: float) -> None:
    assert numbers.split(text) == (value, "")


@pytest.mark.parametrize(
    ("name", "symbol"),
    [
        ("charge_kg", "kg"),
        ("added_g_per_m", "g/m"),
        ("insulation_min_mohm", "Mohm"),
        ("resistance_ohm", "ohm"),
        ("opens_kpa", "kPa"),
        ("capacitance_uf", "uF"),
        ("imbalance_percent", "%"),
        ("measured_at_c", "degC"),
        ("low_v", "V"),
        ("volts", ""),
        ("v", ""),
    ],
)
def test_the_name_of_a_field_tells_its_unit(name: str, symbol: str) -> None:
    assert unit_in_name(name) == symbol


def _models(of: type[Model]) -> Iterator[type[Model]]:
    yield of
    for field in of.model_fields.values():
        for part in (field.annotation, *get_args(field.annotation)):
            if isinstance(part, type) and issubclass(part, Model):
                yield from _models(part)


#: Counts, which have none.
_COUNTS = {"pulses_per_turn"}


def test_every_number_of_a_profile_names_its_unit() -> None:
    numbers_ = {
        name
        for model in _models(UnitProfile)
        for name, field in model.model_fields.items()
        if {float, int} & {field.annotation, *get_args(field.annotation)} and field.annotation is not bool
    }
    assert len(numbers_) > 15
    assert {name for name in numbers_ if not unit_in_name(name)} == _COUNTS
