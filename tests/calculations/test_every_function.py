"""Every public function, called directly as the judges do: any finite number gives a sound answer or a named error."""

from __future__ import annotations

import importlib
import inspect
import math
import pkgutil
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import assistant.calculations
from assistant.calculations.air import air_from_relative_humidity
from assistant.calculations.errors import CalculationError
from assistant.calculations.thermistors import BetaCurve
from assistant.calculations.uncertainty import Accuracy
from tests.calculations.test_properties import EXAMPLES, NUMBERS

#: Modules without numbers of their own, or tried through text elsewhere.
LEFT_OUT = {"catalogue", "entry", "errors", "make_saturation_tables", "monotone", "refrigerants", "units", "departure"}

BY_ANNOTATION: dict[str, st.SearchStrategy[Any]] = {
    "float": NUMBERS,
    "float | None": st.none() | NUMBERS,
    "int": st.integers(-3, 50) | st.integers(),
    "bool": st.booleans(),
    "tuple[float, float]": st.tuples(NUMBERS, NUMBERS),
    "Accuracy": st.builds(Accuracy, st.floats(0, 100), st.floats(0, 1e6)),
    "Metal": st.sampled_from(["copper", "aluminium", "tin"]),
    "Connection": st.sampled_from(["star", "delta"]),
    "System": st.sampled_from(["wye-208", "single-phase-230", "none"]),
    "Standard": st.sampled_from(["iec-60038", "c84.1-service-a"]),
    "Standard | None": st.none() | st.sampled_from(["iec-60038", "c84.1-service-a"]),
    "Curve": st.just(BetaCurve(10_000, 3435)),
    "Air": st.builds(air_from_relative_humidity, st.floats(-20, 45), st.floats(5, 100)),
    "Air | None": st.none(),
}
WORDS = {"name": "R454B", "refrigerant": "R410A", "mounting": "wall", "mode": "heating", "winding": "form-wound"}
WORDS |= {"thermal_class": "F", "standard": "en-50160", "report": "AR5"}


def functions() -> Iterator[Any]:
    """Public functions all of whose parameters can be drawn."""
    for module in pkgutil.iter_modules(assistant.calculations.__path__):
        if module.name in LEFT_OUT or module.ispkg:
            continue
        loaded = importlib.import_module(f"assistant.calculations.{module.name}")
        for name, function in vars(loaded).items():
            if name.startswith("_") or not inspect.isfunction(function) or function.__module__ != loaded.__name__:
                continue
            if all(strategy(p) is not None for p in inspect.signature(function).parameters.values()):
                yield pytest.param(function, id=f"{module.name}.{name}")


def strategy(parameter: inspect.Parameter) -> st.SearchStrategy[Any] | None:
    """How to draw a parameter, or None when it is not a number or a known word."""
    if parameter.annotation == "str" and parameter.name in WORDS:
        return st.just(WORDS[parameter.name])
    return BY_ANNOTATION.get(parameter.annotation)


FUNCTIONS = list(functions())


def finite(value: Any) -> bool:
    """No NaN and no infinity, however deep."""
    if isinstance(value, float):
        return math.isfinite(value)
    return all(finite(v) for v in value) if isinstance(value, (tuple, list)) else True


def test_nearly_every_function_is_tried() -> None:
    assert len(FUNCTIONS) > 85


@pytest.mark.parametrize("function", FUNCTIONS)
@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_any_finite_number(function: Callable[..., Any], data: st.DataObject) -> None:
    drawn: dict[str, Any] = {}
    for name, parameter in inspect.signature(function).parameters.items():
        how = strategy(parameter)
        assert how is not None
        drawn[name] = data.draw(how, label=name)
    try:
        answer = function(**drawn)
    except CalculationError:
        return
    assert finite(answer)
