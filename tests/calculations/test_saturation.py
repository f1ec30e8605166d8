"""The saturation tables against CoolProp itself, and the shape that physics gives them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import catalogue, saturation
from assistant.calculations.errors import OutOfRange, UnknownName
from assistant.calculations.make_saturation_tables import (
    COLDEST_C,
    HOTTEST_C,
    across_gap_kpa,
    rows_c,
    solved_kpa,
    table,
)
from assistant.calculations.refrigerants import REFRIGERANTS, refrigerant
from tests.calculations.checks import library, property_of

NAMES = st.sampled_from(sorted(REFRIGERANTS))


def spread(name: str) -> list[float]:
    """Five temperatures off the rows of the table, over its whole range."""
    return [COLDEST_C + share * (HOTTEST_C[name] - COLDEST_C) for share in (0.0123, 0.31, 0.55, 0.783, 0.991)]


POINTS = [(name, t) for name in REFRIGERANTS for t in spread(name)]


@library("saturation-pressure", POINTS)
def test_pressure_against_coolprop(name: str, temperature_c: float) -> None:
    result = catalogue.run("saturation-pressure", {"refrigerant": name, "temperature": temperature_c})
    for quality, output in ((0, "bubble"), (1, "dew")):
        solved = solved_kpa(name, temperature_c, quality)
        if solved is not None:
            answer = result.answer(output)
            assert isinstance(answer, float)
            assert answer + 101.325 == pytest.approx(solved, rel=2e-4)


@library("saturation-temperature", POINTS)
def test_temperature_against_coolprop(name: str, temperature_c: float) -> None:
    for quality, output in ((0, "bubble"), (1, "dew")):
        solved = solved_kpa(name, temperature_c, quality)
        line = saturation.bubble_line(name)
        if solved is None or not line.lowest_kpa < solved < saturation.dew_line(name).highest_kpa:
            continue
        result = catalogue.run("saturation-temperature", {"refrigerant": name, "pressure": solved - 101.325})
        assert result.answer(output) == pytest.approx(temperature_c, abs=0.02)


@pytest.mark.parametrize("name", sorted(REFRIGERANTS))
def test_within_002_k_over_the_whole_range(name: str) -> None:
    """Every half kelvin off the rows, both lines; CoolProp's own gaps are few and are counted."""
    missing = 0
    for quality, line in ((0, saturation.bubble_line(name)), (1, saturation.dew_line(name))):
        for step in range(int(2 * (line.hottest_c - line.coldest_c))):
            temperature = line.coldest_c + step / 2 + 0.13
            solved = solved_kpa(name, temperature, quality)
            if solved is None:
                missing += 1
            elif line.lowest_kpa <= solved <= line.highest_kpa:
                assert abs(line.temperature_c(solved) - temperature) < 0.02, (name, quality, temperature)
    assert missing <= (16 if name == "R454B" else 0)


@pytest.mark.parametrize("name", ["R134a", "R454B"])
def test_shipped_table_is_what_coolprop_gives_now(name: str) -> None:
    made = table(name)
    for key, line in (("bubble_kpa", saturation.bubble_line(name)), ("dew_kpa", saturation.dew_line(name))):
        values = made[key]
        assert isinstance(values, list)
        for t, p in zip(rows_c(name), values, strict=True):
            assert line.pressure_kpa(t) == pytest.approx(p, rel=1e-6)


def test_a_gap_is_filled_to_a_ten_thousandth_of_a_kelvin() -> None:
    """The same cubic over a gap of 4 K cut into R32, which has none."""
    line = saturation.bubble_line("R32")
    for middle in (0, 30, 57, 65):
        around = {float(t): line.pressure_kpa(t) for t in range(middle - 6, middle + 7) if abs(t - middle) > 1}
        assert abs(line.temperature_c(across_gap_kpa(around, middle)) - middle) < 1e-3


@property_of("saturation-pressure", "saturation-temperature")
@given(NAMES, st.floats(0, 1))
def test_both_ways_return(name: str, share: float) -> None:
    for line in (saturation.bubble_line(name), saturation.dew_line(name)):
        temperature = line.coldest_c + share * (line.hottest_c - line.coldest_c)
        back = line.temperature_c(min(max(line.pressure_kpa(temperature), line.lowest_kpa), line.highest_kpa))
        assert back == pytest.approx(temperature, abs=1e-8)


@property_of("saturation-pressure", "saturation-temperature")
@given(NAMES, st.floats(0, 1), st.floats(1e-6, 0.2))
def test_pressure_rises_with_temperature(name: str, share: float, step: float) -> None:
    for line in (saturation.bubble_line(name), saturation.dew_line(name)):
        low = line.coldest_c + share * (line.hottest_c - line.coldest_c) * 0.99
        high = min(low + step, line.hottest_c)
        assert line.pressure_kpa(low) < line.pressure_kpa(high)


@property_of("saturation-pressure")
@given(NAMES, st.floats(0, 1))
def test_bubble_is_never_below_dew(name: str, share: float) -> None:
    temperature = COLDEST_C + share * (HOTTEST_C[name] - COLDEST_C)
    bubble, dew = saturation.bubble_pressure_kpa(name, temperature), saturation.dew_pressure_kpa(name, temperature)
    assert bubble >= dew * (1 - 1e-12)


@property_of("saturation-temperature", "saturation-pressure")
@given(NAMES, st.floats(0.001, 0.999))
def test_midpoint_returns_and_lies_between(name: str, share: float) -> None:
    low, high = saturation.dew_line(name), saturation.bubble_line(name)
    first, last = math.log(max(low.lowest_kpa, high.lowest_kpa)), math.log(min(low.highest_kpa, high.highest_kpa))
    pressure = math.exp(first + share * (last - first))
    middle = saturation.midpoint_temperature_c(name, pressure)
    bubble, dew = saturation.bubble_temperature_c(name, pressure), saturation.dew_temperature_c(name, pressure)
    assert bubble - 1e-9 <= middle <= dew + 1e-9
    assert saturation.midpoint_pressure_kpa(name, middle) == pytest.approx(pressure, rel=1e-9)
    assert saturation.glide_k(name, pressure) >= -1e-9


def test_known_glide() -> None:
    assert saturation.glide_k("R454B", 1000) == pytest.approx(1.5, abs=0.05)
    assert saturation.glide_k("R32", 1000) == pytest.approx(0, abs=1e-9)
    assert 5 < saturation.glide_k("R407C", 600) < 7


@pytest.mark.parametrize("spelling", ["R410A", "R-410A", "r410a", "410a", "R 410A"])
def test_names_as_people_write_them(spelling: str) -> None:
    assert refrigerant(spelling).name == "R410A"


def test_refusals_name_what_is_allowed() -> None:
    with pytest.raises(UnknownName, match=r"R999.*R410A"):
        saturation.dew_pressure_kpa("R999", 0)
    with pytest.raises(OutOfRange, match="R410A dew temperature is 90 °C; allowed is -70 to 71"):
        saturation.dew_pressure_kpa("R410A", 90)
    with pytest.raises(OutOfRange, match="R32 bubble pressure is 1e"):
        saturation.bubble_temperature_c("R32", 1e9)
