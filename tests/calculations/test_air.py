"""Moist air and capacity against CoolProp's real-gas humid air."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from assistant.calculations import air, air_capacity, catalogue, instruments
from assistant.calculations.air import (
    air_from_dew_point,
    air_from_humidity_ratio,
    air_from_relative_humidity,
    air_from_wet_bulb,
)
from assistant.calculations.errors import CalculationError, Inconsistent, OutOfRange
from assistant.calculations.found import Found
from assistant.calculations.uncertainty import Accuracy, Metered
from tests.calculations.checks import library, pint_registry, property_of
from tests.calculations.draws import expanded_of

DRY, HUMIDITY = st.floats(-15, 45), st.floats(5, 100)


def humid(output: str, dry_bulb_c: float, relative_humidity: float, kpa: float = 101.325) -> float:
    """CoolProp's humid air; enthalpy kJ/kg dry air, temperatures °C."""
    from CoolProp.CoolProp import HAPropsSI

    value = float(HAPropsSI(output, "T", dry_bulb_c + 273.15, "R", relative_humidity / 100, "P", kpa * 1000))
    return {"H": value / 1000, "B": value - 273.15, "D": value - 273.15}.get(output, value)


@library("moist-air", [(25.0, 50.0), (26.7, 51.0), (10.0, 80.0), (0.5, 60.0), (35.0, 40.0), (20.0, 20.0)])
def test_state_against_coolprop(dry_bulb: float, humidity: float) -> None:
    """Ideal gas against real: humidity ratio 0.6 %, enthalpy 0.4 kJ/kg, wet bulb and dew point 0.1 K."""
    result = catalogue.run("moist-air", {"dry_bulb": dry_bulb, "humidity": humidity})
    assert result.answer("ratio") == pytest.approx(humid("W", dry_bulb, humidity), rel=0.006)
    assert result.answer("enthalpy") == pytest.approx(humid("H", dry_bulb, humidity), abs=0.4)
    assert result.answer("wet") == pytest.approx(humid("B", dry_bulb, humidity), abs=0.1)
    assert result.answer("dew") == pytest.approx(humid("D", dry_bulb, humidity), abs=0.1)
    assert result.answer("volume") == pytest.approx(humid("V", dry_bulb, humidity), rel=0.002)


COILS = [
    (680.0, 26.7, 51.0, 14.4, 89.0, 101.325),
    (680.0, 26.7, 51.0, 14.4, 89.0, 84.3),
    (500.0, 21.0, 45.0, 38.0, 17.0, 101.325),
    (900.0, 30.0, 60.0, 17.0, 92.0, 95.0),
]


@library("capacity", COILS)
def test_capacity_against_coolprop(airflow: float, t1: float, rh1: float, t2: float, rh2: float, kpa: float) -> None:
    found = air_capacity.capacity(
        airflow, air_from_relative_humidity(t1, rh1, kpa), air_from_relative_humidity(t2, rh2, kpa)
    )
    mass = airflow / 3600 / humid("V", t1, rh1, kpa)
    expected = 1000 * mass * (humid("H", t1, rh1, kpa) - humid("H", t2, rh2, kpa))
    assert found.total_w == pytest.approx(expected, rel=0.01)
    assert found.sensible_w + found.latent_w == pytest.approx(found.total_w)


@library("condensate", [c for c in COILS if c[1] > c[3]])
def test_condensate_against_coolprop(airflow: float, t1: float, rh1: float, t2: float, rh2: float, kpa: float) -> None:
    water = air_capacity.condensate_kg_h(
        airflow, air_from_relative_humidity(t1, rh1, kpa), air_from_relative_humidity(t2, rh2, kpa)
    )
    expected = airflow / humid("V", t1, rh1, kpa) * (humid("W", t1, rh1, kpa) - humid("W", t2, rh2, kpa))
    assert water == pytest.approx(expected, rel=0.015)


@library("airflow", [c for c in COILS if c[5] == 101.325])
def test_airflow_against_coolprop(airflow: float, t1: float, rh1: float, t2: float, rh2: float, kpa: float) -> None:
    """Sensible heat of CoolProp's air, brought back to the airflow that carried it."""
    mass = airflow / 3600 / humid("V", t1, rh1)
    from CoolProp.CoolProp import HAPropsSI

    ratio = humid("W", t2, rh2)
    enthalpies = [HAPropsSI("H", "T", t + 273.15, "W", ratio, "P", 101325.0) for t in (t1, t2)]
    sensible = mass * (enthalpies[0] - enthalpies[1])
    entering, leaving = air_from_relative_humidity(t1, rh1), air_from_relative_humidity(t2, rh2)
    assert air_capacity.airflow_from_capacity_m3_h(sensible, entering, leaving) == pytest.approx(airflow, rel=0.005)


@library("expected-split", [(26.7, 51.0), (24.0, 45.0), (29.0, 60.0)])
def test_expected_split_against_coolprop_and_scipy(dry_bulb: float, humidity: float) -> None:
    """The wet coil found with CoolProp's saturated air and SciPy's root finder."""
    watt, airflow = 3517.0, 680.0
    drop = watt / 1000 / (airflow / 3600 / humid("V", dry_bulb, humidity)) / (1 - air_capacity.BYPASS)
    surface = humid("H", dry_bulb, humidity) - drop
    coil = brentq(lambda t: humid("H", t, 100) - surface, -15, dry_bulb)
    found = air_capacity.expected_split(air_from_relative_humidity(dry_bulb, humidity), watt, airflow)
    assert not found.dry
    assert found.coil_c == pytest.approx(coil, abs=0.15)
    assert found.split_k == pytest.approx((1 - air_capacity.BYPASS) * (dry_bulb - coil), abs=0.15)


@library("split", [(26.7, 51.0), (24.0, 45.0)])
def test_split_at_coolprops_supply_passes(dry_bulb: float, humidity: float) -> None:
    watt, airflow = 3517.0, 680.0
    drop = watt / 1000 / (airflow / 3600 / humid("V", dry_bulb, humidity)) / (1 - air_capacity.BYPASS)
    surface = humid("H", dry_bulb, humidity) - drop
    coil = brentq(lambda t: humid("H", t, 100) - surface, -15, dry_bulb)
    supply = dry_bulb - (1 - air_capacity.BYPASS) * (dry_bulb - coil)
    readings = Metered(dry_bulb, Accuracy(0, 0.5), "probe"), Metered(humidity, Accuracy(0, 3))

    def judge(supply_c: float) -> Found:
        leaving = Metered(supply_c, Accuracy(0, 0.5), "probe")
        return air_capacity.judge_split(*readings, leaving, watt, airflow, air_from_relative_humidity)

    assert judge(supply).verdict == "pass"
    assert (judge(supply + 5).outcome, judge(supply + 5).verdict) == ("low", "fail")
    assert (judge(supply - 5).outcome, judge(supply - 5).verdict) == ("high", "fail")


@library("split", [(26.7, 51.0, 14.0), (24.0, 45.0, 12.5)])
def test_uncertainty_of_a_split_against_monte_carlo(dry_bulb: float, humidity: float, supply: float) -> None:
    """The humidity counts through the split that it makes one expect, and one thermometer's common error cancels."""
    watt, airflow = 3517.0, 680.0
    readings = [
        Metered(dry_bulb, Accuracy(0, 0.5, 0.2), "probe"),
        Metered(humidity, Accuracy(0, 3)),
        Metered(supply, Accuracy(0, 0.5, 0.2), "probe"),
    ]
    found = air_capacity.judge_split(readings[0], readings[1], readings[2], watt, airflow, air_from_relative_humidity)

    def off(dry: float, rh: float, out: float) -> float:
        return dry - out - air_capacity.expected_split(air_from_relative_humidity(dry, rh), watt, airflow).split_k

    assert found.against is not None
    assert found.against.expanded == pytest.approx(expanded_of(off, readings, 1500), rel=0.08)


@pytest.mark.outside("capacity", "library")
def test_capacity_says_how_uncertain_it_is() -> None:
    """Usual instruments and 1500 draws of them: some thirteen percent of a ton."""
    values = {"airflow": 680.0, "in_dry_bulb": 26.7, "in_humidity": 51.0, "out_dry_bulb": 14.4, "out_humidity": 90.0}
    total = catalogue.run("capacity", dict(values)).answers[0]
    names = ["anemometer", "air-thermometer", "hygrometer", "air-thermometer", "hygrometer"]
    readings = [Metered(v, instruments.usual(n), n) for v, n in zip(values.values(), names, strict=True)]

    def capacity(flow: float, t1: float, rh1: float, t2: float, rh2: float) -> float:
        entering, leaving = air_from_relative_humidity(t1, rh1), air_from_relative_humidity(t2, min(rh2, 100.0))
        return air_capacity.capacity(flow, entering, leaving).total_w

    assert isinstance(total.value, float)
    assert total.expanded is not None
    assert total.expanded == pytest.approx(expanded_of(capacity, readings, 1500), rel=0.08)
    assert 0.05 < total.expanded / total.value < 0.2
    assert "± with a usual" in catalogue.run("capacity", dict(values)).source


@library("cop", [(3517.0, 1000.0), (5200.0, 1300.0)])
def test_cop_against_pint(watt: float, electric: float) -> None:
    unit = pint_registry()
    eer = (watt * unit.watt).to("Btu_it / hour").magnitude / electric
    assert air_capacity.coefficient_of_performance(watt, electric) == pytest.approx(eer / 3.412142, rel=1e-5)


@property_of("moist-air")
@given(DRY, HUMIDITY)
def test_every_way_in_gives_the_same_air(dry_bulb: float, humidity: float) -> None:
    state = air_from_relative_humidity(dry_bulb, humidity)
    if state.wet_bulb_c > 0.5 or state.wet_bulb_c < -0.5:  # PsychroLib's equations jump between water and ice
        back = air_from_wet_bulb(dry_bulb, min(state.wet_bulb_c, dry_bulb))
        assert back.humidity_ratio == pytest.approx(state.humidity_ratio, rel=2e-3, abs=1e-6)
    back = air_from_dew_point(dry_bulb, min(state.dew_point_c, dry_bulb))
    assert back.humidity_ratio == pytest.approx(state.humidity_ratio, rel=2e-3)
    assert air_from_humidity_ratio(dry_bulb, state.humidity_ratio).relative_humidity_percent == pytest.approx(
        humidity, rel=1e-4
    )


@property_of("moist-air")
@given(DRY, st.floats(5, 95))
def test_dew_point_wet_bulb_and_dry_bulb_are_in_order(dry_bulb: float, humidity: float) -> None:
    state = air_from_relative_humidity(dry_bulb, humidity)
    assert state.dew_point_c <= state.wet_bulb_c + 0.05 <= dry_bulb + 0.1
    moister = air_from_relative_humidity(dry_bulb, humidity + 1)
    assert moister.enthalpy_kj_kg > state.enthalpy_kj_kg
    assert moister.density_kg_m3 < state.density_kg_m3 + 1e-9


@property_of("capacity", "condensate", "airflow")
@given(st.floats(200, 3000), st.floats(20, 32), st.floats(30, 70), st.floats(8, 18), st.floats(60, 95))
def test_airflow_and_capacity_return(airflow: float, t1: float, rh1: float, t2: float, rh2: float) -> None:
    entering, leaving = air_from_relative_humidity(t1, rh1), air_from_relative_humidity(t2, rh2)
    found = air_capacity.capacity(airflow, entering, leaving)
    back = air_capacity.airflow_from_capacity_m3_h(found.sensible_w, entering, leaving)
    assert back == pytest.approx(airflow)
    assert air_capacity.capacity(2 * airflow, entering, leaving).total_w == pytest.approx(2 * found.total_w)
    assert (found.condensate_kg_h > 0) == (entering.humidity_ratio > leaving.humidity_ratio)


@property_of("expected-split", "split")
@given(st.floats(20, 30), st.floats(20, 65), st.floats(2000, 3600))
def test_split_grows_with_capacity_and_shrinks_with_moisture(dry_bulb: float, humidity: float, watt: float) -> None:
    here = air_capacity.expected_split(air_from_relative_humidity(dry_bulb, humidity), watt, 680).split_k
    more = air_capacity.expected_split(air_from_relative_humidity(dry_bulb, humidity), watt * 1.05, 680).split_k
    moister = air_capacity.expected_split(air_from_relative_humidity(dry_bulb, humidity + 5), watt, 680).split_k
    assert more > here
    assert moister <= here + 0.1


def test_refusals() -> None:
    with pytest.raises(Inconsistent, match="above dry bulb"):
        air_from_wet_bulb(20, 21)
    with pytest.raises(Inconsistent, match="too far below"):
        air_from_wet_bulb(40, 5)
    with pytest.raises(Inconsistent, match="more water"):
        air_from_humidity_ratio(10, 0.02)
    with pytest.raises(Inconsistent, match="above dry bulb"):
        air_from_dew_point(20, 25)
    with pytest.raises(Inconsistent, match="nearly boils"):
        air_from_relative_humidity(79, 50, 35)
    with pytest.raises(OutOfRange, match="relative humidity is 130 %"):
        air_from_relative_humidity(20, 130)
    with pytest.raises(CalculationError, match="wet_bulb"):
        catalogue.run("moist-air", {"dry_bulb": 20.0})
    entering, leaving = air_from_relative_humidity(25, 50), air_from_relative_humidity(24.8, 50)
    with pytest.raises(Inconsistent, match="cannot carry"):
        air_capacity.airflow_from_capacity_m3_h(1000, entering, leaving)
    with pytest.raises(Inconsistent, match="airflow"):
        air_capacity.expected_split(entering, 9000, 300)


def test_psychrolibs_units_do_not_leak_in() -> None:
    """Other code in the process may have left PsychroLib in US units."""
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.IP)
    assert air.air_from_relative_humidity(25, 50).humidity_ratio == pytest.approx(0.00988, abs=2e-5)
