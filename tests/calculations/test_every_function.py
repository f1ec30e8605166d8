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
from assistant.calculations.found import Found
from assistant.calculations.thermistors import BetaCurve
from assistant.calculations.uncertainty import Accuracy, Metered
from tests.calculations.test_properties import EXAMPLES, NUMBERS

#: Modules without numbers of their own, or tried through text elsewhere.
LEFT_OUT = {"catalogue", "entry", "errors", "monotone", "refrigerants", "units", "departure"}
LEFT_OUT |= {"make_saturation_tables", "make_enthalpy_tables"}  # these would write tables

METERED = st.builds(
    Metered,
    NUMBERS | st.just(math.inf),
    st.builds(Accuracy, st.floats(0, 100), st.floats(0, 1e6)),
    st.sampled_from(["", "meter"]),
    st.floats(0, 10),
)
PLACES = st.sampled_from(["", "l1-l2", "l2-l3", "l3-l1", "p-u", "p-v", "n-w", "room", "pipe"])
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
    "Metered": METERED,
    "Metered | None": st.none() | METERED,
    "Metered | float": NUMBERS | METERED,
    "Mapping[str, Metered]": st.dictionaries(PLACES, METERED, max_size=6),
    "Mapping[str, Metered] | None": st.none() | st.dictionaries(PLACES, METERED, max_size=6),
    "Sequence[Metered]": st.lists(METERED, max_size=4),
    "tuple[Metered, ...]": st.tuples(METERED, METERED, METERED),
    "Sequence[float]": st.lists(NUMBERS, max_size=3),
    "Sequence[tuple[float, float]]": st.lists(st.tuples(NUMBERS, NUMBERS), max_size=3),
}
WORDS = {"name": "R454B", "refrigerant": "R410A", "mounting": "wall", "mode": "heating", "winding": "form-wound"}
WORDS |= {"thermal_class": "F", "standard": "en-50160", "report": "AR5", "kind": "unknown", "shell": "cold"}
WORDS |= {"tripped": "yes", "works": "no", "side": "low", "contact": "open", "phase": "vapour", "point": "bubble"}
WORDS |= {"expects": "second-lower", "sensor_side": "reference", "calling": "no", "size": "3/8", "nameplate": "460"}


def functions() -> Iterator[Any]:
    """Public functions all of whose parameters can be drawn."""
    for module in pkgutil.iter_modules(assistant.calculations.__path__):
        if module.name in LEFT_OUT or module.ispkg:
            continue
        loaded = importlib.import_module(f"assistant.calculations.{module.name}")
        for name, function in vars(loaded).items():
            if name.startswith("_") or not inspect.isfunction(function) or function.__module__ != loaded.__name__:
                continue
            parameters = inspect.signature(function).parameters.values()
            if all(strategy(p) is not None and p.kind is not p.VAR_POSITIONAL for p in parameters):
                yield pytest.param(function, id=f"{module.name}.{name}")


def strategy(parameter: inspect.Parameter) -> st.SearchStrategy[Any] | None:
    """How to draw a parameter, or None when it is not a number or a known word."""
    if parameter.annotation == "str" and parameter.name in WORDS:
        return st.just(WORDS[parameter.name])
    return BY_ANNOTATION.get(parameter.annotation)


FUNCTIONS = list(functions())


def finite(value: Any) -> bool:
    """No NaN and no infinity, however deep."""
    if isinstance(value, Found):
        assert sum(value.chances.values()) == pytest.approx(1)
        assert value.outcome in value.chances
        return finite([*value.chances.values(), *value.values.values(), value.against or ()])
    if isinstance(value, float):
        return math.isfinite(value)
    return all(finite(v) for v in value) if isinstance(value, (tuple, list)) else True


def test_nearly_every_function_is_tried() -> None:
    assert len(FUNCTIONS) > 120


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
