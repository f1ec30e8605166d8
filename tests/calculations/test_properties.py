"""Every calculation with any finite input: a finite answer or one of the documented errors, never anything else.

LADDERSIDE_EXAMPLES=500 looks deeper than the usual 30 examples a calculation.
"""

from __future__ import annotations

import math
import os
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.calculations import catalogue
from assistant.calculations.entry import TABLE, WORD, Calculation, Parameter, Value
from assistant.calculations.errors import CalculationError, OutOfRange
from tests.calculations.checks import MARK_PROPERTY

EXAMPLES = int(os.environ.get("LADDERSIDE_EXAMPLES", "30"))
#: Numbers that trip formulas: signs, zeros, the smallest and the largest, and the sizes that service meets.
AWKWARD = (0.0, -0.0, 1.0, -1.0, 5e-324, -5e-324, 1e-12, 1e12, 1.7976931348623157e308, -1.7976931348623157e308)
NUMBERS = (
    st.floats(allow_nan=False, allow_infinity=False)
    | st.sampled_from(AWKWARD)
    | st.floats(-100, 1000)
    | st.floats(0, 10)
    | st.integers(-5, 500).map(float)
)

#: Values at which every calculation gives an answer: the start of the walk through each parameter's whole range.
SENSIBLE: dict[str, float] = {
    "temperature": 20.0,
    "resistance": 5000.0,
    "voltage_ac": 230.0,
    "voltage_dc": 300.0,
    "pressure_gauge": 900.0,
    "percent": 5.0,
    "count": 2.0,
    "current": 10.0,
    "capacitance": 470.0,
    "mass": 2.0,
    "length": 20.0,
    "frequency": 60.0,
    "power": 3000.0,
    "airflow": 600.0,
    "humidity": 50.0,
    "vacuum": 50.0,
    "duration": 600.0,
}


def values_for(parameter: Parameter) -> st.SearchStrategy[Any]:
    """Anything a caller could give: numbers of every size, words right and wrong, tables of every order."""
    if parameter.quantity == WORD:
        return st.sampled_from(parameter.choices) if parameter.choices else st.sampled_from(["degC", "psi", "nonsense"])
    if parameter.quantity == TABLE:
        return st.lists(st.tuples(NUMBERS | st.floats(-40, 120), NUMBERS | st.floats(100, 1e5)), max_size=6).map(tuple)
    numbers = NUMBERS | st.just(SENSIBLE.get(parameter.quantity, 1.0))
    return numbers | st.just(math.inf) if parameter.open_line else numbers


@st.composite
def whole_calls(draw: st.DrawFn, calculation: Calculation) -> dict[str, Value]:
    """A value for every required parameter and for some of the others."""
    return {p.name: draw(values_for(p)) for p in calculation.parameters if p.required or draw(st.booleans())}


ALL = [
    pytest.param(c, id=c.name, marks=getattr(pytest.mark, MARK_PROPERTY)(c.name)) for c in catalogue.CATALOGUE.values()
]


def assert_sound(calculation: Calculation, values: dict[str, Value]) -> None:
    """The answer is finite, or the refusal is one of the documented errors."""
    try:
        result = catalogue.run(calculation.name, values)
    except CalculationError:
        return
    for answer in result.answers:
        if isinstance(answer.value, float):
            assert math.isfinite(answer.value), answer
        assert answer.text
    assert result.numbers
    assert "{" not in result.numbers + result.source


@pytest.mark.parametrize("calculation", ALL)
@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_any_finite_input(calculation: Calculation, data: st.DataObject) -> None:
    assert_sound(calculation, data.draw(whole_calls(calculation)))


def example_of(calculation: Calculation) -> dict[str, Value]:
    """The first row of ``tests/reference`` for it, or sensible numbers."""
    from tests.calculations.checks import rows

    for row in rows():
        if row.calculation == calculation.name:
            return catalogue.read(row.calculation, row.pairs)
    return {
        p.name: SENSIBLE.get(p.quantity, p.choices[0] if p.choices else 1.0)
        for p in calculation.parameters
        if p.required
    }


@pytest.mark.parametrize("calculation", ALL)
@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_one_input_gone_wild(calculation: Calculation, data: st.DataObject) -> None:
    """From a call that works, one value goes anywhere: this reaches behind the first range check."""
    values = example_of(calculation)
    wild = data.draw(st.sampled_from(calculation.parameters))
    assert_sound(calculation, values | {wild.name: data.draw(values_for(wild))})


@pytest.mark.parametrize("calculation", ALL)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_no_number_is_refused(calculation: Calculation, bad: float) -> None:
    numbers = [p for p in calculation.parameters if p.quantity not in (WORD, TABLE)]
    for parameter in numbers:
        if parameter.open_line and bad == math.inf:
            continue
        with pytest.raises((OutOfRange, CalculationError)):
            catalogue.run(calculation.name, example_of(calculation) | {parameter.name: bad})
