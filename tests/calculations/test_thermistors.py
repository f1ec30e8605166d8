"""Thermistor curves, fits and judgement against SciPy, NumPy and a data sheet's own equation."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq, curve_fit

from assistant.calculations import catalogue
from assistant.calculations.errors import CalculationError, Inconsistent, OutOfRange, UnknownName
from assistant.calculations.monotone import MonotoneCurve
from assistant.calculations.sensor_judging import judge_sensor, judge_sweep
from assistant.calculations.thermistor_fit import fit_beta, fit_steinhart_hart
from assistant.calculations.thermistors import (
    BetaCurve,
    SteinhartHartCurve,
    TableCurve,
    connector_ohm,
    curve_from,
    percent_per_kelvin,
)
from assistant.calculations.uncertainty import COVERAGE_95, Accuracy, Metered
from tests.calculations.checks import library, property_of
from tests.calculations.draws import drawn

#: NTC 10 kohm sensor in the Linux kernel's hwmon thermistor driver (B57330V2103).
TABLE = ((-40, 190030), (-20, 68104), (0, 27326), (10, 17973), (25, 10000), (50, 4158), (85, 1451), (100, 973))
AT_25 = Metered(25.0, Accuracy(0, 0.5))


def datasheet_c(resistance_ohm: float) -> float:
    """Data sheet equation of a 10 kohm, B25/85 3977 K sensor (NTCLE100E3): 1/T = a + b·x + c·x² + d·x³."""
    x = math.log(resistance_ohm / 10_000)
    return 1 / (3.354016e-3 + 2.569850e-4 * x + 2.620131e-6 * x**2 + 6.383091e-8 * x**3) - 273.15


@pytest.mark.parametrize(
    ("wanted_c", "tolerance_k"),
    [
        pytest.param(t, k, marks=pytest.mark.outside("thermistor-fit-steinhart", "data"))
        for t, k in ((-20, 0.05), (10, 0.03), (25, 0.03), (60, 0.05), (100, 0.2))
    ],
)
def test_three_points_of_a_datasheet_give_the_rest(wanted_c: float, tolerance_k: float) -> None:
    """Steinhart-Hart through three points of the data sheet's curve, tried at others (100 °C is 15 K beyond them)."""
    points = tuple((datasheet_c(r), float(r)) for r in (332_100, 19_873, 1070.3))
    curve = fit_steinhart_hart(points).curve
    resistance = brentq(lambda r: datasheet_c(r) - wanted_c, 100, 1e6)
    assert curve.temperature_c(resistance) == pytest.approx(wanted_c, abs=tolerance_k)


@pytest.mark.outside("thermistor-fit-steinhart", "example")
def test_published_three_point_example() -> None:
    curve = fit_steinhart_hart([(-25, 87041), (0, 27326), (25, 10000)]).curve
    assert curve.temperature_c(7000) + 273.15 == pytest.approx(307.903, abs=0.002)


@library("thermistor-fit-steinhart", [(1,), (2,), (3,)])
def test_least_squares_against_numpy(seed: int) -> None:
    generator = np.random.default_rng(seed)
    points = [(t, r * (1 + generator.normal(0, 0.002))) for t, r in TABLE]
    fitted = fit_steinhart_hart(points).curve
    logs = np.log([r for _, r in points])
    matrix = np.stack([np.ones(len(logs)), logs, logs**3], axis=1)
    expected = np.linalg.lstsq(matrix, [1 / (t + 273.15) for t, _ in points], rcond=None)[0]
    assert [fitted.a, fitted.b, fitted.c] == pytest.approx(expected, rel=1e-6)


@library("thermistor-fit-beta", [(1,), (2,), (3,)])
def test_beta_fit_against_scipy(seed: int) -> None:
    generator = np.random.default_rng(seed)
    points = [(t, r * (1 + generator.normal(0, 0.01))) for t, r in TABLE]
    fitted = fit_beta(points).curve
    x = np.array([1 / (t + 273.15) for t, _ in points])
    (log_r25, beta), _ = curve_fit(
        lambda x, a, b: a + b * (x - 1 / 298.15), x, np.log([r for _, r in points]), p0=(9.0, 3500.0)
    )
    assert fitted.beta_k == pytest.approx(beta, rel=1e-6)
    assert fitted.r25_ohm == pytest.approx(math.exp(log_r25), rel=1e-6)


@library("thermistor-temperature-table", [(t,) for t in (-33.3, -7.0, 13.0, 41.0, 77.7, 93.0)])
def test_table_against_scipy_pchip(temperature_c: float) -> None:
    """Between the rows the curve is SciPy's monotone cubic in (1/T, ln R)."""
    rows = sorted((1 / (t + 273.15), math.log(r)) for t, r in TABLE)
    reference = PchipInterpolator([x for x, _ in rows], [y for _, y in rows])
    expected = math.exp(float(reference(1 / (temperature_c + 273.15))))
    curve = TableCurve(tuple((float(t), float(r)) for t, r in TABLE))
    assert curve.resistance_ohm(temperature_c) == pytest.approx(expected, rel=1e-9)
    assert curve.temperature_c(expected) == pytest.approx(temperature_c, abs=1e-9)


@library("thermistor-resistance-steinhart", [(t,) for t in (-40.0, 0.0, 25.0, 60.0, 110.0)])
def test_cubic_against_scipy_root(temperature_c: float) -> None:
    curve = SteinhartHartCurve(8.975539783e-4, 2.5017914795e-4, 1.94834404e-7)
    log = brentq(lambda x: curve.a + curve.b * x + curve.c * x**3 - 1 / (temperature_c + 273.15), -10, 25)
    assert curve.resistance_ohm(temperature_c) == pytest.approx(math.exp(log), rel=1e-9)


@library("sensor", [(0.0, 27_326.0), (25.0, 10_400.0), (60.0, 3_000.0)])
def test_uncertainty_against_monte_carlo(temperature_c: float, resistance_ohm: float) -> None:
    """The temperature error's 95 % width, from linear propagation and from 200 000 draws."""
    readings = [Metered(resistance_ohm, Accuracy(0.8, 5)), Metered(temperature_c, Accuracy(0, 0.9))]
    found = judge_sensor(readings[0], readings[1], BetaCurve(10_000, 3435), 5)
    draws = drawn(readings)
    reads = 1 / (1 / 298.15 + np.log(draws[:, 0] / 10_000) / 3435) - 273.15
    expected = COVERAGE_95 * float(np.std(reads - draws[:, 1]))
    assert found.values["error_uncertainty"] == pytest.approx(expected, rel=0.05)


def test_outcomes_told_apart() -> None:
    curve = curve_from(table=TABLE)
    outcomes = {
        reading: judge_sensor(Metered(reading, Accuracy(0.5, 10)), AT_25, curve, 5).outcome
        for reading in (math.inf, 5e6, 10_100.0, 12_500.0, 7_000.0, 12.0, 0.0)
    }
    assert list(outcomes.values()) == ["open", "open", "ok", "drifted", "drifted", "shorted", "shorted"]


def test_a_cold_sensor_of_high_resistance_is_not_called_open() -> None:
    assert judge_sensor(Metered(1.3e6), Metered(-40), BetaCurve(50_000, 4000), 5).outcome == "drifted"
    assert judge_sensor(Metered(2.1e6), Metered(-40), BetaCurve(100_000, 4000), 5).outcome != "open"


def test_the_wider_tolerance_counts() -> None:
    """3435 K at 25 °C are 3.86 % a kelvin: 2 K are wider than 5 %, and 10 % are wider than 2 K."""
    curve = BetaCurve(10_000, 3435)
    assert judge_sensor(Metered(10_700), Metered(25), curve, 5).outcome == "drifted"
    assert judge_sensor(Metered(10_700), Metered(25), curve, 5, 2).outcome == "ok"
    assert judge_sensor(Metered(10_900), Metered(25), curve, 10, 2).outcome == "ok"


def test_the_worst_of_several_sensors_is_named() -> None:
    good = {"room": Metered(9_800), "pipe": Metered(12_000)}
    assert judge_sweep(good).outcome == "none"
    assert judge_sweep(good | {"room": Metered(math.inf)}).outcome == "room"
    assert judge_sweep(good | {"room": Metered(2e6), "pipe": Metered(4)}).outcome == "pipe"  # 25 times against 2
    assert judge_sweep(good | {"pipe": Metered(4)}).values["how"] == "shorted"
    with pytest.raises(Inconsistent, match="At least one"):
        judge_sweep({})


@library("thermistor-connector", [("ground",), ("reference",)])
def test_connector_volts_against_a_solved_divider(side: str) -> None:
    """Two resistors on 5 V, the node voltage by NumPy."""
    sensor, fixed = 7_000.0, 10_000.0
    top, bottom = (fixed, sensor) if side == "ground" else (sensor, fixed)
    node = float(np.linalg.solve(np.array([[1 / top + 1 / bottom]]), np.array([5 / top]))[0])
    assert connector_ohm(node, 5, fixed, side) == pytest.approx(sensor)


def test_an_end_of_the_divider_is_no_temperature() -> None:
    for volts in (0.0, 0.005, 4.995, 5.0):
        with pytest.raises(Inconsistent, match="open or shorted"):
            connector_ohm(volts, 5, 10_000)
    with pytest.raises(UnknownName, match="side of the sensor"):
        connector_ohm(2, 5, 10_000, "left")


def test_drift_is_told_in_kelvin() -> None:
    found = judge_sensor(Metered(12_213.8), AT_25, BetaCurve(10_000, 3950), 5)
    assert found.values["error"] == pytest.approx(-4.4, abs=0.15)
    assert found.verdict == "fail"


def test_a_poor_thermometer_leaves_it_undecided_and_says_how_good_it_must_be() -> None:
    result = catalogue.run(
        "sensor",
        {"resistance": 10_600.0, "temperature": 25.0, "r25": 10_000.0, "beta": 3435.0, "thermometer": 3.0},
    )
    assert result.answer("verdict") == "undecided"
    assert "ohm or better" in str(result.answer("better"))


@property_of("thermistor-temperature-beta", "thermistor-resistance-beta")
@given(st.floats(-50, 150), st.floats(1000, 200_000), st.floats(2500, 4700))
def test_beta_returns_and_falls(temperature_c: float, r25: float, beta: float) -> None:
    curve = BetaCurve(r25, beta)
    resistance = curve.resistance_ohm(temperature_c)
    assert curve.temperature_c(resistance) == pytest.approx(temperature_c, abs=1e-6)
    assert curve.resistance_ohm(temperature_c + 1) < resistance


@property_of("thermistor-temperature-steinhart", "thermistor-resistance-steinhart")
@given(st.floats(-50, 150), st.floats(1.5e-4, 3.5e-4), st.floats(0, 5e-7))
def test_steinhart_returns_and_falls(temperature_c: float, b: float, c: float) -> None:
    log25 = math.log(10_000)
    curve = SteinhartHartCurve(1 / 298.15 - b * log25 - c * log25**3, b, c)
    try:
        resistance = curve.resistance_ohm(temperature_c)
    except OutOfRange:
        return
    assert curve.temperature_c(resistance) == pytest.approx(temperature_c, abs=1e-6)
    assert curve.resistance_ohm(temperature_c + 1) < resistance


@st.composite
def tables(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    """Tables that fall from point to point."""
    temperatures = sorted(draw(st.sets(st.integers(-40, 120), min_size=3, max_size=9)))
    resistance, rows = draw(st.floats(1e5, 5e5)), []
    for t in temperatures:
        rows.append((float(t), resistance))
        resistance *= draw(st.floats(0.3, 0.95))
    return tuple(rows)


@property_of("thermistor-temperature-table", "thermistor-resistance-table")
@given(tables(), st.floats(0, 1))
def test_tables_return_and_never_overshoot(rows: tuple[tuple[float, float], ...], share: float) -> None:
    curve = TableCurve(rows)
    low, high = curve.span_c
    temperature = low + share * (high - low)
    resistance = curve.resistance_ohm(temperature)
    assert curve.temperature_c(resistance) == pytest.approx(temperature, abs=1e-5)
    for (t0, r0), (t1, r1) in pairwise(rows):
        if t0 <= temperature <= t1:
            assert r1 * (1 - 1e-9) <= resistance <= r0 * (1 + 1e-9)


@property_of("thermistor-fit-beta")
@given(st.floats(1000, 100_000), st.floats(2500, 4700), st.sets(st.integers(-40, 120), min_size=3, max_size=8))
def test_beta_fit_finds_the_beta_that_made_the_points(r25: float, beta: float, temperatures: set[int]) -> None:
    curve = BetaCurve(r25, beta)
    fitted = fit_beta([(float(t), curve.resistance_ohm(t)) for t in temperatures])
    assert fitted.curve.beta_k == pytest.approx(beta, rel=1e-6)
    assert fitted.worst_k < 1e-6


@property_of("thermistor-fit-steinhart")
@given(st.floats(2e-4, 3e-4), st.floats(5e-8, 4e-7))
def test_steinhart_fit_finds_its_own(b: float, c: float) -> None:
    log25 = math.log(10_000)
    curve = SteinhartHartCurve(1 / 298.15 - b * log25 - c * log25**3, b, c)
    fitted = fit_steinhart_hart([(t, curve.resistance_ohm(t)) for t in (-20.0, 0.0, 25.0, 60.0)])
    assert fitted.worst_k < 1e-6
    assert fitted.curve.c == pytest.approx(c, rel=1e-3)


def test_slope_is_a_thermistors() -> None:
    assert percent_per_kelvin(BetaCurve(10_000, 3435), 25) == pytest.approx(-100 * 3435 / 298.15**2, rel=1e-5)


def test_rows_are_met_exactly_and_nothing_is_extrapolated() -> None:
    curve = TableCurve(TABLE)
    assert [curve.resistance_ohm(t) for t, _ in TABLE] == [r for _, r in TABLE]
    with pytest.raises(OutOfRange, match="allowed is -40 to 100 °C"):
        curve.resistance_ohm(101)


@pytest.mark.parametrize(
    "points",
    [
        ((0, 10_000), (25, 12_000), (50, 13_000)),
        ((0, 10_000), (0, 9_000), (50, 4_000)),
        ((0, 1e4),),
        ((0, 1e4), (25, 2e4)),
    ],
)
def test_tables_that_are_none_are_refused(points: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(Inconsistent):
        TableCurve(points)


def test_points_that_bend_the_wrong_way_say_so() -> None:
    with pytest.raises(Inconsistent, match="fit Beta"):
        fit_steinhart_hart([(20, 12_000), (25, 10_000), (30, 9_000)])
    with pytest.raises(Inconsistent, match="three"):
        fit_beta([(20, 12_000), (25, 10_000)])


def test_a_curve_needs_its_data() -> None:
    with pytest.raises(CalculationError, match="either a table or both"):
        curve_from(r25_ohm=10_000)


def test_monotone_curve_refuses_disorder() -> None:
    with pytest.raises(Inconsistent):
        MonotoneCurve([0, 1, 1], [0, 1, 2])
    with pytest.raises(Inconsistent):
        MonotoneCurve([0, 1, 2], [0, 1, 0.5])
