"""What a docstring says a value may be is what the function takes: both ends are taken, just beyond is refused."""

from __future__ import annotations

import inspect
import math
import re
from collections.abc import Callable
from typing import Any

import pytest

from assistant.calculations.air import air_from_relative_humidity
from assistant.calculations.errors import CalculationError, OutOfRange
from assistant.calculations.thermistors import BetaCurve
from assistant.calculations.uncertainty import Metered
from tests.calculations.test_every_function import WORDS, functions

_NUMBER = r"(-?\d+(?: \d{3})*(?:\.\d+)?(?:e-?\d+)?)"
#: "``line_m`` and ``free_m`` 0 to 500 m", "``allowed_percent`` (0.01 to 10) of".
_DOCUMENTED = re.compile(rf"((?:``\w+``(?:, | and ))*``\w+``) \(?{_NUMBER} to {_NUMBER}")
#: Values at which a function works, by the name of its parameter, where the docstring gives no range.
_SANE: dict[str, Any] = {
    "airflow_m3_h": 600.0, "state": air_from_relative_humidity(25, 50), "entering": air_from_relative_humidity(26, 50),
    "leaving": air_from_relative_humidity(14, 90), "pressure_kpa": 101.325, "percent": 50.0, "voltage_v": 230.0,
    "current_a": 5.0, "voltage": 230.0, "current": 5.0, "capacitance": 35.0, "mass": 1.2, "length": 15.0,
    "measured": 34.0, "measured_ohm": 1e7, "phases": 1, "start_v": 325.0, "limit_v": 60.0, "first_v": 320.0,
    "later_v": 120.0, "bleed_ohm": 1e5, "capacitance_uf": 1000.0, "suction": 850.0, "liquid": 2500.0, "line": 14.0,
    "suction_gauge_kpa": 850.0, "liquid_gauge_kpa": 2500.0, "pressure": 1500.0, "coldest": 25.0, "resistance_ohm": 2.0,
    "resistance": 9000.0, "temperature": 25.0, "to_c": 60.0, "from_c": 20.0, "voltages": (Metered(398.0),) * 3,
    "frequency": 60.0, "volts": 2.5, "start": 40.0, "middle": 45.0, "end": 50.0, "start_c": 20.0, "now_c": 15.0,
    "start_temperature": 20.0, "now": 40.0, "now_temperature": 20.0, "idle": 240.0, "loaded": 235.0,
    "no_load_v": 240.0, "area_mm2": 2.5, "length_m": 20.0, "temperature_c": 25.0, "largest_drop_v": 5.0,
    "tare_kg": 12.0, "water_capacity_kg": 22.0, "condensing_c": 40.0, "nominal_ohm": 1400.0, "bore_mm": 8.0,
    "curve": BetaCurve(10_000, 3435), "system": "single-phase-230", "connection": "star", "metal": "copper",
    "winding": "random-wound", "dry_bulb_c": 25.0, "wet_bulb_c": 18.0, "dew_point_c": 12.0, "added_kg": 1.0,
    "breaker_a": 25.0, "largest_device_a": 30.0, "low_c": 0.0, "high_c": 30.0, "opens_kpa": 4150.0,
    "closes_kpa": 3200.0, "rating_a": 20.0, "lead_ohm": 0.1, "u_v": 1.2, "v_w": 1.2, "w_u": 1.2, "lfl": 0.3,
    "standard": "motor-5-percent", "absolute": 500.0, "active": 900.0, "nameplate_kg": 1.1,
    "frequency_hz": 60.0, "free_m": 7.5, "added_g_per_m": 20.0, "pulses_per_turn": 6, "tolerance_percent": 5.0,
    "branches": 10.0, "loaded_v": 230.0, "charge": 1.0, "mounting": "wall", "rated_uf": 35.0,
}  # fmt: skip

#: What has a default with which not every function works.
_GIVEN_EVEN_SO = {"lfl"}


def documented(function: Callable[..., Any]) -> dict[str, tuple[float, float]]:
    """The range of each parameter that the docstring gives one."""
    text = " ".join((function.__doc__ or "").split())
    parameters = inspect.signature(function).parameters
    found = {}
    for match in _DOCUMENTED.finditer(text):
        for name in re.findall(r"``(\w+)``", match[1]):
            if name in parameters:
                found[name] = (float(match[2].replace(" ", "")), float(match[3].replace(" ", "")))
    return found


def working_call(function: Callable[..., Any]) -> dict[str, Any]:
    """Arguments with which the function works, as far as they have no default."""
    ranges = documented(function)
    call: dict[str, Any] = {}
    for name, parameter in inspect.signature(function).parameters.items():
        if parameter.default is not parameter.empty and name not in _GIVEN_EVEN_SO:
            continue
        if name in WORDS and parameter.annotation == "str":
            call[name] = WORDS[name]
        elif name in _SANE:
            call[name] = (
                several(parameter) if "Sequence" in str(parameter.annotation) else taken(parameter, _SANE[name])
            )
        elif name in ranges:
            low, high = ranges[name]
            call[name] = taken(parameter, math.sqrt(low * high) if low > 0 else (low + high) / 2)
    return call


def several(parameter: inspect.Parameter) -> list[Any]:
    """Numbers, or pairs of them."""
    if "Metered" in str(parameter.annotation):
        return [Metered(5.0)]
    return [(10.0, 20.0)] if "tuple" in str(parameter.annotation) else [1.0]


def taken(parameter: inspect.Parameter, value: Any) -> Any:
    """The value as the parameter wants it."""
    return Metered(value) if isinstance(value, float) and "Metered" in str(parameter.annotation) else value


CASES = [
    pytest.param(param.values[0], name, *ends, id=f"{param.id}.{name}")
    for param in functions()
    for name, ends in documented(param.values[0]).items()
]


def test_most_ranges_are_read() -> None:
    assert len(CASES) > 200


@pytest.mark.parametrize(("function", "name", "low", "high"), CASES)
def test_the_docstring_tells_the_range(function: Callable[..., Any], name: str, low: float, high: float) -> None:
    call, parameter = working_call(function), inspect.signature(function).parameters[name]

    def refused(value: float) -> OutOfRange | None:
        try:
            function(**{**call, name: taken(parameter, value)})
        except OutOfRange as error:
            return error if math.isclose(error.value, value) else None
        except CalculationError:
            return None
        return None

    beside = {low: low - max(1e-9, abs(low) * 1e-6), high: high + max(1e-9, abs(high) * 1e-6)}
    for end, beyond in beside.items():
        error = refused(beyond)
        assert error is not None, f"{beyond} is taken"
        assert [error.low, error.high] == pytest.approx([low, high])
        assert refused(end) is None


def test_an_altitude_that_is_not_told_is_the_seas() -> None:
    """And so is a pressure of the air: everything else would move each sum in silence."""
    usual = {"altitude_m": 0.0, "pressure_kpa": 101.325}
    defaults = [
        (param.id, name, parameter.default)
        for param in functions()
        for name, parameter in inspect.signature(param.values[0]).parameters.items()
        if name in usual and parameter.default is not parameter.empty
    ]
    assert len(defaults) > 15
    assert [(where, name, value) for where, name, value in defaults if value != usual[name]] == []
