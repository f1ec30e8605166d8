"""Superheat, subcooling, standing pressure and envelopes against CoolProp and Monte Carlo."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import catalogue, pressure_envelope, refrigerant_cycle, standing
from assistant.calculations.atmosphere import absolute_kpa, atmospheric_kpa, gauge_kpa
from assistant.calculations.entry import Value
from assistant.calculations.errors import Inconsistent, OutOfRange, UnknownName
from assistant.calculations.make_saturation_tables import COOLPROP_NAMES
from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.calculations.uncertainty import Accuracy, Metered
from tests.calculations.checks import library, property_of
from tests.calculations.draws import expanded_of, share_within


def coolprop_c(name: str, kpa: float, quality: int) -> float:
    """CoolProp's saturation temperature in °C."""
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("T", "P", kpa * 1000, "Q", quality, COOLPROP_NAMES.get(name, name))) - 273.15


def coolprop_kpa(name: str, celsius: float, quality: int) -> float:
    """CoolProp's saturation pressure in kPa."""
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("P", "T", celsius + 273.15, "Q", quality, COOLPROP_NAMES.get(name, name))) / 1000


def weathered(name: str, quality: int) -> Callable[..., float]:
    """CoolProp's saturation temperature as a function of gauge kPa, atmosphere off its standard and table off (%).

    Solved on a fine grid once: thousands of draws read between its points, off by less than a millikelvin.
    """
    grid = np.geomspace(500, 2900, 300)
    celsius = np.array([coolprop_c(name, float(kpa), quality) for kpa in grid])
    return lambda gauge, weather, table: float(
        np.interp((gauge + 101.325 + weather) * (1 + table / 100), grid, celsius)
    )


def unseen(name: str) -> list[Metered]:
    """The errors that no instrument shows: the weather's 2.4 kPa, the saturation table's percentage."""
    return [Metered(0, Accuracy(0, 2.4)), Metered(0, Accuracy(0, REFRIGERANTS[name].table_percent))]


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
def test_uncertainty_of_superheat_against_monte_carlo(name: str, gauge: float) -> None:
    readings = [Metered(gauge, Accuracy(1, 7)), Metered(15, Accuracy(0, 0.8))]
    found = refrigerant_cycle.judge_superheat(name, readings[0], readings[1])
    steady = Metered(0, Accuracy(0, refrigerant_cycle.STEADINESS_K))
    dew = weathered(name, 1)
    draws = expanded_of(lambda p, line, w, t, moved: line + moved - dew(p, w, t), [*readings, *unseen(name), steady])
    assert found.against is not None
    assert found.against.expanded == pytest.approx(draws, rel=0.03)


@library("subcooling-judged", [("R410A", 2500.0), ("R454B", 2400.0)])
def test_uncertainty_of_subcooling_against_monte_carlo(name: str, gauge: float) -> None:
    readings = [Metered(gauge, Accuracy(1, 14)), Metered(30, Accuracy(0, 0.8))]
    found = refrigerant_cycle.judge_subcooling(name, readings[0], readings[1], target_k=6)
    steady = Metered(0, Accuracy(0, refrigerant_cycle.STEADINESS_K))
    bubble = weathered(name, 0)
    draws = expanded_of(lambda p, line, w, t, moved: bubble(p, w, t) - line + moved, [*readings, *unseen(name), steady])
    assert found.against is not None
    assert found.against.expanded == pytest.approx(draws, rel=0.03)


@library("saturation-judged", [("R410A", 800.0), ("R32", 2300.0)])
def test_uncertainty_of_a_saturation_against_monte_carlo(name: str, gauge: float) -> None:
    reading = Metered(gauge, Accuracy(1, 7))
    found = refrigerant_cycle.judge_saturation(name, reading, 0, 60)
    steady = Metered(0, Accuracy(0, refrigerant_cycle.STEADINESS_K))
    dew = weathered(name, 1)
    draws = expanded_of(lambda p, w, t, moved: dew(p, w, t) + moved, [reading, *unseen(name), steady])
    assert found.against is not None
    assert found.against.expanded == pytest.approx(draws, rel=0.03)


def test_superheat_of_r32_may_be_nothing_and_that_of_others_not() -> None:
    dew = coolprop_c("R32", 1000, 1)
    assert refrigerant_cycle.judge_superheat("R32", Metered(1000 - 101.325), Metered(dew)).verdict == "pass"
    dew = coolprop_c("R410A", 1000, 1)
    found = refrigerant_cycle.judge_superheat("R410A", Metered(1000 - 101.325), Metered(dew - 1))
    assert (found.outcome, found.verdict) == ("low", "fail")


def test_altitude_moves_what_is_judged() -> None:
    """At 5280 ft the same gauge means 1.15 °F more superheat."""
    low = refrigerant_cycle.judge_superheat("R410A", Metered(813.6), Metered(10)).values["superheat"]
    high = refrigerant_cycle.judge_superheat("R410A", Metered(813.6), Metered(10), altitude_m=1609).values["superheat"]
    assert isinstance(low, float)
    assert isinstance(high, float)
    assert (high - low) * 1.8 == pytest.approx(1.15, abs=0.03)


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
    values: dict[str, Value] = {"refrigerant": name, "coldest": celsius, "warmest": celsius + 3}
    assert catalogue.run("standing-pressure", values | {"pressure": gauge}).value == "pass"
    assert catalogue.run("standing-pressure", values | {"pressure": 0.75 * gauge}).value == "fail"


@library("standing-pressure", [("R410A", 1500.0, 25.0), ("R32", 1540.0, 25.0), ("R454B", 1300.0, 20.0)])
def test_chance_of_a_short_charge_against_monte_carlo(name: str, gauge: float, celsius: float) -> None:
    """The thermometer's error counts as much as the gauge's."""
    readings = [Metered(gauge, Accuracy(1, 7)), Metered(celsius, Accuracy(0, 1.0))]
    found = standing.judge_standing(name, readings[0], readings[1], tolerance_k=2)
    dew = weathered(name, 1)
    within = share_within(lambda p, c, w, t: dew(p, w, t) - c, [*readings, *unseen(name)], low=-2)
    assert 1 - found.chances["low"] == pytest.approx(within, abs=0.01)


def test_a_kelvin_of_thermometer_error_condemns_no_charge() -> None:
    """R-32 at 1540 kPa and 25.0 °C is 1.1 K under its saturation; one temperature is enough to pass."""
    readings = Metered(1540, Accuracy(0.5, 7)), Metered(25.0, Accuracy(0, 1.0))
    assert standing.judge_standing("R32", *readings).verdict == "pass"
    assert standing.judge_standing("R32", Metered(1200, Accuracy(0.5, 7)), readings[1]).outcome == "low"
    assert standing.judge_standing("R32", Metered(1990, Accuracy(0.5, 7)), readings[1]).outcome == "high"


@pytest.mark.parametrize("name", sorted(REFRIGERANTS))
def test_a_switch_of_unknown_make_is_condemned_only_where_every_one_would_be(name: str) -> None:
    at_rest = coolprop_kpa(name, 25, 0) - 101.325
    opens, closes = standing.switch_points_kpa(name, "high")
    judge = standing.judge_pressure_switch
    assert judge(Metered(at_rest), "open", opens, closes).outcome == "stuck-open"
    assert judge(Metered(at_rest), "closed", opens, closes).outcome == "ok"
    hot = coolprop_kpa(name, 60, 0) - 101.325
    assert {judge(Metered(hot), contact, opens, closes).outcome for contact in ("open", "closed")} == {"ok"}
    opens, closes = standing.switch_points_kpa(name, "low")
    assert judge(Metered(at_rest), "open", opens, closes, "low").outcome == "stuck-open"
    assert judge(Metered(-60), "closed", opens, closes, "low").outcome == "stuck-closed"


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
