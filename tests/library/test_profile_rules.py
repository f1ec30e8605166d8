"""Figures of a profile that cannot be right are found before a visit is judged by them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import ValidationError

from assistant.library.bounds import DEAD_AT_MOST_V, USUAL
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.library.profile_rules import of_profile
from assistant.review.profiles import unusual


@pytest.mark.parametrize(
    ("part", "value", "what"),
    [
        ("sensors", {"pipe": {"r25_ohm": 10000}}, "it needs a table"),
        ("sensors", {"pipe": {"table": [[25, 10000]]}}, "one point makes no curve"),
        ("sensors", {"pipe": {"table": [[0, 3000], [25, 10000]]}}, "do not fall"),
        ("high_pressure_switch", {"opens_kpa": 3000, "closes_kpa": 4000}, "must open above"),
        ("low_pressure_switch", {"opens_kpa": 300, "closes_kpa": 100}, "must open below"),
        ("signal", {"terminals": ["1", "2"], "pair": ["1", "3"], "low_v": 5, "high_v": 20}, "is not listed"),
        ("signal", {"terminals": ["1", "2"], "pair": ["1", "2"], "low_v": 50, "high_v": 20}, "is not below"),
        ("zones", [{"id": "z", "name": "a", "phrases": ["a"]}, {"id": "z", "name": "b", "phrases": ["b"]}], "same id"),
        (
            "indoor_fan",
            {"supply_v": 310, "control_v": 15, "control_span_v": [6, 2], "pulses_per_turn": 3, "speed_rpm": [300, 900]},
            "lowest is above",
        ),
        ("supply", {"system": "single-phase-230", "nominal_v": 400, "frequency_hz": 50}, "is not a supply of"),
        ("bus", {"capacitance_uf": 1360, "bleed_ohm": 82000, "boosted_v": 200}, "less than the supply's own peak"),
    ],
)
def test_impossible_figures(library: Library, part: str, value: Any, what: str) -> None:
    sound = library.profiles["copper-wren-solo"]
    assert list(of_profile(sound)) == []
    spoilt = UnitProfile.model_validate({**sound.model_dump(), part: value})
    assert any(what in finding.what for finding in of_profile(spoilt))


def numbers(data: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """The way to every number in a profile."""
    if isinstance(data, dict | list | tuple):
        for key, value in data.items() if isinstance(data, dict) else enumerate(data):
            yield from numbers(value, (*path, key))
    elif isinstance(data, int | float) and not isinstance(data, bool):
        yield path


def changed(data: Any, path: tuple[Any, ...], value: object) -> Any:
    """A copy with one value replaced."""
    if not path:
        return value
    copy = dict(data) if isinstance(data, dict) else list(data)
    copy[path[0]] = changed(data[path[0]], path[1:], value)
    return copy


#: Figures that may be nought or below it: pipe that is free, a temperature, a gauge below the atmosphere.
MAY_BE_ZERO = {"free_length_m", "added_g_per_m", "greatest_height_m", "at_c", "control_v", "control_span_v", "low_v",
               "high_v", "opens_kpa", "closes_kpa"}  # fmt: skip
MAY_BE_NEGATIVE = {"at_c", "low_v", "high_v", "opens_kpa", "closes_kpa"}


@pytest.mark.parametrize("name", ["copper-wren-solo", "lantern-hill-trio"])
def test_no_number_of_a_profile_may_be_anything(library: Library, name: str) -> None:
    data = library.profiles[name].model_dump()
    paths = list(numbers(data))
    assert len(paths) > 50
    for path in paths:
        in_table = len(path) > 2 and path[-3] == "table"
        wrong: list[object] = [float("nan"), float("inf"), float("-inf"), "nan", "1e999", 1e12, -1e12, None, [], {}]
        if not MAY_BE_ZERO & set(path) and not (in_table and path[-1] == 0):
            wrong.append(0)
        if not MAY_BE_NEGATIVE & set(path) and not (in_table and path[-1] == 0):
            wrong.append(-1)
        for value in wrong:
            if value is None and path[-1] in ("running_current_a", "breaker_a", "longest_line_m", "greatest_height_m",
                                              "boosted_v", "capacity_kw", "r25_ohm", "beta_k"):  # fmt: skip
                continue
            with pytest.raises(ValidationError):
                UnitProfile.model_validate(changed(data, path, value))


@pytest.mark.parametrize("volts", [30.1, 60, 300, 1e9])
def test_no_profile_may_call_more_than_thirty_volts_dead(library: Library, volts: float) -> None:
    data = library.profiles["copper-wren-solo"].model_dump()
    with pytest.raises(ValidationError, match="less than or equal to 30"):
        UnitProfile.model_validate(changed(data, ("bus", "dead_below_v"), volts))
    assert DEAD_AT_MOST_V == 30


def test_figures_that_are_rare_are_told_and_the_shipped_ones_are_not(library: Library) -> None:
    assert list(unusual(library)) == []
    for path in USUAL:
        part, field = path.split(".")
        assert field in type(getattr(library.profiles["lantern-hill-trio"], part)).model_fields
