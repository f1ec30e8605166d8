"""Figures of a profile that cannot be right are found before a visit is judged by them."""

from __future__ import annotations

from typing import Any

import pytest

from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.library.rules.profiles import of_profile


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
            {"supply_v": 310, "control_v": 15, "control_span_v": [6, 2], "pulses_per_turn": 3, "speed_rpm": [1, 2]},
            "lowest is above",
        ),
    ],
)
def test_impossible_figures(library: Library, part: str, value: Any, what: str) -> None:
    sound = library.profiles["copper-wren-solo"]
    assert list(of_profile(sound)) == []
    spoilt = UnitProfile.model_validate({**sound.model_dump(), part: value})
    assert any(what in finding.what for finding in of_profile(spoilt))
