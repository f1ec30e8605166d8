"""The ± beside every sum of readings, against drawing the readings with their instruments' errors."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
import pytest

from assistant.calculations import catalogue, instruments
from assistant.calculations.entry import Calculation, Value
from assistant.calculations.uncertainty import COVERAGE_95, Metered
from tests.calculations.checks import property_of
from tests.calculations.draws import drawn
from tests.calculations.pins import situations

#: So many draws tell a width to within 5 %, and how far it may be off from that.
DRAWS, OFF = 300, 0.15
#: Saturated air: half of what is drawn is wetter than air can be.
AT_A_WALL = {"moist-air"}


def readings_of(calculation: Calculation, values: dict[str, Value]) -> dict[str, Metered]:
    """The readings among the values, each with the instrument that its parameter names."""
    return {
        p.name: Metered(float(value), instruments.usual(p.instrument), p.instrument)
        for p in calculation.parameters
        if p.instrument and isinstance(value := values.get(p.name, p.default), float)
    }


def summed() -> Iterator[Any]:
    for calculation in catalogue.CATALOGUE.values():
        if not calculation.judges and readings_of(calculation, situations(calculation)[-1]):
            marks = [pytest.mark.property_of(calculation.name)]
            yield pytest.param(calculation, id=calculation.name, marks=marks)


SUMMED = list(summed())


@pytest.mark.parametrize("calculation", [case for case in SUMMED if case.id not in AT_A_WALL])
def test_a_sums_width_is_that_of_its_draws(calculation: Calculation) -> None:
    values = situations(calculation)[-1]
    readings = readings_of(calculation, values)
    defaults = {p.name: values.get(p.name, p.default) for p in calculation.parameters}
    made: dict[str, list[float]] = {}
    for row in drawn([*readings.values()], DRAWS):
        drawn_values = dict(zip(readings, (float(value) for value in row), strict=True))
        found = calculation.compute(**{**defaults, **drawn_values})
        assert isinstance(found, Mapping)
        for name, value in found.items():
            if isinstance(value, float):
                made.setdefault(name, []).append(value)
    answers = catalogue.run(calculation.name, values).answers
    assert any(answer.expanded for answer in answers)
    for answer in answers:
        if isinstance(answer.value, float):
            width = COVERAGE_95 * float(np.std(made[answer.name]))
            assert (answer.expanded or 0.0) == pytest.approx(width, rel=OFF, abs=1e-9), answer.name


@property_of("superheat")
def test_the_width_is_told_and_so_are_its_instruments() -> None:
    result = catalogue.run("superheat", {"suction": 850.0, "line": 12.0, "refrigerant": "R410A"})
    told = result.answers[0].text_with_uncertainty
    assert " ± 0.8" in told
    assert told.endswith("°F)")
    assert result.source.endswith("± with a usual digital refrigerant gauge, contact thermometer")
    assert "11.7" in result.numbers, "the gauge's own ± stands beside its reading"


def test_an_exact_value_has_none() -> None:
    result = catalogue.run("fan-laws", {"speed": 0.9})
    assert all(answer.expanded is None for answer in result.answers)
    assert " ± " not in result.numbers + result.source
    assert math.isclose(float(result.value), 0.9)  # type: ignore[arg-type]
