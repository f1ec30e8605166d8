"""The pressure-enthalpy diagram's dome and its points against CoolProp."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI

from assistant.calculations import enthalpy
from assistant.calculations.make_saturation_tables import COOLPROP_NAMES, HOTTEST_C
from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.calculations.saturation import bubble_line, dew_line

KELVIN = 273.15


def coolprop(name, first, one, second, other):
    fluid = COOLPROP_NAMES.get(name, name)
    zero = PropsSI("H", "T", KELVIN, "Q", 0, fluid)
    return (PropsSI("H", first, one, second, other, fluid) - zero) / 1000 + 200


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_the_dome_is_coolprops(name):
    low, high = enthalpy.span_c(name)
    assert low <= -50
    assert high >= HOTTEST_C[name] - 4
    seen = 0
    for t in range(-45, HOTTEST_C[name] - 8, 5):  # odd degrees lie between the rows
        try:
            liquid, vapour = (coolprop(name, "T", t + KELVIN, "Q", side) for side in (0, 1))
        except ValueError:  # a gap of the mixture's solver
            continue
        seen += 1
        assert enthalpy.liquid_kj_kg(name, t) == pytest.approx(liquid, abs=0.3)
        assert enthalpy.vapour_kj_kg(name, t) == pytest.approx(vapour, abs=0.3)
    assert seen >= 15


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_near_the_dome_it_stays_within_what_it_says(name):
    seen = 0
    for t in range(-20, HOTTEST_C[name] - 20, 7):
        for kelvin in (3, 8, 15, 20):
            dew, bubble = dew_line(name).pressure_kpa(t), bubble_line(name).pressure_kpa(t)
            try:
                vapour = coolprop(name, "T", t + kelvin + KELVIN, "P", dew * 1000)
                liquid = coolprop(name, "T", t - min(kelvin, 15) + KELVIN, "P", bubble * 1000)
            except ValueError:
                continue
            seen += 1
            assert enthalpy.suction_kj_kg(name, dew, t + kelvin) == pytest.approx(vapour, abs=2)
            assert enthalpy.liquid_line_kj_kg(name, bubble, t - min(kelvin, 15)) == pytest.approx(liquid, abs=2)
    assert seen >= 20


def test_wet_vapour_and_flashing_liquid_lie_on_the_dome():
    dew, bubble = dew_line("R32").pressure_kpa(5), bubble_line("R32").pressure_kpa(40)
    assert enthalpy.suction_kj_kg("R32", dew, 2) == pytest.approx(enthalpy.vapour_kj_kg("R32", 5))
    assert enthalpy.liquid_line_kj_kg("R32", bubble, 45) == pytest.approx(enthalpy.liquid_kj_kg("R32", 40))
