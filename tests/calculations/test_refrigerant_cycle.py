"""Superheat, subcooling and envelopes against CoolProp and numerical integration."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import catalogue, pressure_envelope, refrigerant_cycle
from assistant.calculations.atmosphere import absolute_kpa, atmospheric_kpa, gauge_kpa
from assistant.calculations.errors import Inconsistent, OutOfRange, UnknownName
from assistant.calculations.make_saturation_tables import COOLPROP_NAMES
from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.calculations.uncertainty import COVERAGE_95, Accuracy
from tests.calculations.checks import library, property_of


def coolprop_c(name: str, kpa: float, quality: int) -> float:
    """CoolProp's saturation temperature in °C."""
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("T", "P", kpa * 1000, "Q", quality, COOLPROP_NAMES.get(name, name))) - 273.15


def coolprop_kpa(name: str, celsius: float, quality: int) -> float:
    """CoolProp's saturation pressure in kPa."""
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("P", "T", celsius + 273.15, "Q", quality, COOLPROP_NAMES.get(name, name))) / 1000


def integrated_sd(
    function: Callable[[float, float], float], values: Sequence[float], expanded: Sequence[float]
) -> float:
    """Standard deviation of a function of two normal values, by Gauss-Hermite quadrature of NumPy (9 x 9 points)."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(9)
    grid = [
        [function(values[0] + x * expanded[0] / COVERAGE_95, values[1] + y * expanded[1] / COVERAGE_95) for y in nodes]
        for x in nodes
    ]
    weight = np.outer(weights, weights) / weights.sum() ** 2
    mean = float((weight * grid).sum())
    return float(np.sqrt((weight * (np.array(grid) - mean) ** 2).sum()))


@library(
    "superheat",
    [(n, p, a) for n, p in zip(REFRIGERANTS, (850, 820, 790, 500, 480, 250, 450), strict=True) for a in (0, 1600)],
)
def test_superheat_against_coolprop(name: str, gauge: float, altitude: float) -> None:
    result = catalogue.run("superheat", {"suction": gauge, "line": 12.0, "refrigerant": name, "altitude": altitude})
    expected = 12 - coolprop_c(name, gauge + atmospheric_kpa(altitude), 1)
    assert result.value == pytest.approx(expected, abs=0.02)


@library("subcooling", [(n, p) for n, p in zip(REFRIGERANTS, (2500, 2600, 2400, 1600, 1700, 1000, 1300), strict=True)])
def test_subcooling_against_coolprop(name: str, gauge: float) -> None:
    result = catalogue.run("subcooling", {"liquid": gauge, "line": 32.0, "refrigerant": name})
    assert result.value == pytest.approx(coolprop_c(name, gauge + 101.325, 0) - 32, abs=0.02)


@library("superheat-judged", [("R410A", 850.0), ("R32", 900.0), ("R454B", 800.0)])
def test_uncertainty_of_superheat_against_integration(name: str, gauge: float) -> None:
    meter, thermometer = Accuracy(1, 7), 0.8
    found = refrigerant_cycle.judge_superheat(name, gauge, 15, gauge=meter, thermometer_k=thermometer)
    deviation = integrated_sd(
        lambda p, line: line - coolprop_c(name, p + 101.325, 1), (gauge, 15), (meter.expanded(gauge), thermometer)
    )
    assert found.against.expanded == pytest.approx(COVERAGE_95 * deviation, rel=0.01)


@library("subcooling-judged", [("R410A", 2500.0), ("R454B", 2400.0)])
def test_uncertainty_of_subcooling_against_integration(name: str, gauge: float) -> None:
    meter, thermometer = Accuracy(1, 14), 0.8
    found = refrigerant_cycle.judge_subcooling(name, gauge, 30, target_k=6, gauge=meter, thermometer_k=thermometer)
    deviation = integrated_sd(
        lambda p, line: coolprop_c(name, p + 101.325, 0) - line, (gauge, 30), (meter.expanded(gauge), thermometer)
    )
    assert found.against.expanded == pytest.approx(COVERAGE_95 * deviation, rel=0.01)


@library("compression-ratio", [(850.0, 2800.0, 0.0), (800.0, 2600.0, 1600.0), (400.0, 2200.0, 3000.0)])
def test_ratio_with_psychrolibs_atmosphere(suction: float, discharge: float, altitude: float) -> None:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    local = psychrolib.GetStandardAtmPressure(altitude) / 1000
    expected = (discharge + local) / (suction + local)
    assert refrigerant_cycle.compression_ratio(suction, discharge, altitude) == pytest.approx(expected, rel=1e-4)


@library("atmosphere", [(-400.0,), (0.0,), (800.0,), (2500.0,), (4500.0,)])
def test_atmosphere_against_psychrolib(altitude: float) -> None:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    expected = psychrolib.GetStandardAtmPressure(altitude) / 1000
    assert atmospheric_kpa(altitude) == pytest.approx(expected, rel=1e-5)


@library(
    "pressure-envelope",
    [("R410A", "cooling", 24.0, 35.0), ("R32", "heating", 21.0, 2.0), ("R454B", "cooling", 27.0, 30.0)],
)
def test_envelope_against_coolprop(name: str, mode: str, indoor: float, outdoor: float) -> None:
    """The corners are CoolProp's saturation at the air temperatures with their differences."""
    found = pressure_envelope.pressure_envelope(name, mode, indoor, outdoor)
    cold, warm = (indoor, outdoor) if mode == "cooling" else (outdoor, indoor)
    corners = [coolprop_kpa(name, t, 1) - 101.325 for t in (cold - 25, cold - 5)]
    corners += [coolprop_kpa(name, t, 0) - 101.325 for t in (warm + 4, warm + 22)]
    assert [*found.suction_kpa, *found.discharge_kpa] == pytest.approx(corners, rel=1e-3)


@library("standing-pressure", [("R410A", 25.0), ("R32", 10.0), ("R290", 30.0)])
def test_standing_pressure_is_saturation(name: str, celsius: float) -> None:
    """At CoolProp's own pressure of the coldest part it is decided good, a quarter below it is decided short."""
    gauge = coolprop_kpa(name, celsius + 1.5, 1) - 101.325
    values = {
        "refrigerant": name,
        "coldest": celsius,
        "warmest": celsius + 3,
        "gauge_percent": 0.2,
        "gauge_offset": 0.5,
    }
    assert catalogue.run("standing-pressure", values | {"pressure": gauge}).value == "pass"
    assert catalogue.run("standing-pressure", values | {"pressure": 0.75 * gauge}).value == "fail"


@library("gauge-pressure", [(500.0, 0.0), (900.0, 1500.0)])
def test_gauge_with_psychrolibs_atmosphere(absolute: float, altitude: float) -> None:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    expected = absolute - psychrolib.GetStandardAtmPressure(altitude) / 1000
    assert gauge_kpa(absolute, altitude) == pytest.approx(expected, rel=1e-4)


@property_of("gauge-pressure", "atmosphere")
@given(st.floats(-80, 5000), st.floats(-400, 4000))
def test_gauge_and_absolute_return(gauge: float, altitude: float) -> None:
    if gauge >= -atmospheric_kpa(altitude):
        assert gauge_kpa(absolute_kpa(gauge, altitude), altitude) == pytest.approx(gauge, abs=1e-9)
    assert atmospheric_kpa(altitude) > atmospheric_kpa(altitude + 10)


@property_of("superheat", "subcooling")
@given(st.sampled_from(sorted(REFRIGERANTS)), st.floats(200, 1500), st.floats(-20, 60), st.floats(0.1, 20))
def test_kelvin_for_kelvin(name: str, gauge: float, line: float, more: float) -> None:
    """A line warmer by some kelvins has just so much more superheat and less subcooling, negative ones included."""
    superheat = refrigerant_cycle.superheat_k(name, gauge, line)
    assert refrigerant_cycle.superheat_k(name, gauge, line + more) - superheat == pytest.approx(more)
    subcooling = refrigerant_cycle.subcooling_k(name, gauge, line)
    assert refrigerant_cycle.subcooling_k(name, gauge, line + more) - subcooling == pytest.approx(-more)
    assert superheat <= -subcooling + 1e-9  # dew is never below bubble


@property_of("superheat")
@given(st.floats(300, 1500), st.floats(1, 200))
def test_superheat_falls_with_pressure(gauge: float, more: float) -> None:
    assert refrigerant_cycle.superheat_k("R410A", gauge + more, 10) < refrigerant_cycle.superheat_k("R410A", gauge, 10)


@property_of("target-superheat")
@given(st.floats(15, 24), st.floats(13, 40))
def test_target_rises_with_humidity_and_falls_with_heat(wet_bulb: float, outdoor: float) -> None:
    def target(wet: float, out: float) -> float | None:
        try:
            return refrigerant_cycle.orifice_target_superheat_k(wet, out)
        except Inconsistent:
            return None

    here, moister, hotter = target(wet_bulb, outdoor), target(wet_bulb + 0.4, outdoor), target(wet_bulb, outdoor + 0.4)
    if here is not None:
        assert moister is not None
        assert moister > here
        assert hotter is None or hotter < here


@property_of("pressure-envelope")
@given(st.sampled_from(["cooling", "heating"]), st.floats(16, 32), st.floats(-15, 46))
def test_envelope_is_in_order(mode: str, indoor: float, outdoor: float) -> None:
    try:
        found = pressure_envelope.pressure_envelope("R410A", mode, indoor, outdoor)
    except OutOfRange:
        return
    assert found.suction_kpa[0] < found.suction_kpa[1] < found.discharge_kpa[1]
    assert found.discharge_kpa[0] < found.discharge_kpa[1]


def test_refusals() -> None:
    with pytest.raises(Inconsistent, match="hoses are swapped"):
        refrigerant_cycle.compression_ratio(2000, 800)
    with pytest.raises(Inconsistent, match="weigh it in"):
        refrigerant_cycle.orifice_target_superheat_k(12, 40)
    with pytest.raises(UnknownName, match="mode"):
        pressure_envelope.pressure_envelope("R32", "defrost", 20, 5)
    with pytest.raises(OutOfRange, match="line temperature is 400 °C"):
        refrigerant_cycle.superheat_k("R32", 800, 400)
    with pytest.raises(OutOfRange, match=r"gauge pressure is -200 kPa; allowed is -101\.325"):
        refrigerant_cycle.superheat_k("R32", -200, 10)
