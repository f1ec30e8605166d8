"""Capacitors against a numerically driven one; insulation by the shape of its law."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import capacitors, insulation
from assistant.calculations.errors import Inconsistent, OutOfRange, UnknownName
from assistant.calculations.uncertainty import Accuracy, Metered
from tests.calculations.checks import library, property_of
from tests.calculations.draws import drawn, expanded_of

DRIVEN = [(370.0, 35.0, 60.0), (230.0, 2.5, 50.0), (440.0, 7.5, 60.0)]


def rms(values: np.ndarray) -> float:
    """Root mean square of whole cycles."""
    return float(np.sqrt(np.mean(values**2)))


def driven_current(volts: float, uf: float, hertz: float) -> float:
    """RMS current through a capacitor on a sampled sine: i = C·dv/dt, differentiated by NumPy."""
    times = np.linspace(0, 3 / hertz, 300_001)
    return rms(uf * 1e-6 * np.gradient(math.sqrt(2) * volts * np.sin(2 * math.pi * hertz * times), times))


@library("capacitor-value", DRIVEN)
def test_value_against_a_driven_capacitor(volts: float, uf: float, hertz: float) -> None:
    assert capacitors.capacitance_uf(volts, driven_current(volts, uf, hertz), hertz) == pytest.approx(uf, rel=1e-4)


@library("capacitor-current", DRIVEN)
def test_current_against_a_driven_capacitor(volts: float, uf: float, hertz: float) -> None:
    assert capacitors.expected_current_a(uf, volts, hertz) == pytest.approx(driven_current(volts, uf, hertz), rel=1e-4)


@library("capacitor-at-work", [(370.0, 4.6, 35.0), (370.0, 4.4, 35.0)])
def test_uncertainty_at_work_against_monte_carlo(volts: float, amps: float, rated: float) -> None:
    readings = [Metered(volts, Accuracy(0.8, 0.3)), Metered(amps, Accuracy(2, 0.05))]
    found = capacitors.judge_capacitor_at_work(readings[0], readings[1], 60, rated, 5)
    draws = drawn(readings)
    values = 1e6 * draws[:, 1] / (2 * math.pi * 60 * draws[:, 0])
    assert found.against is not None
    assert found.against.expanded == pytest.approx(1.96 * float(values.std()), rel=0.02)
    assert found.chances["low"] == pytest.approx(float(np.mean(values < 0.95 * rated)), abs=0.01)


@property_of("capacitor-value", "capacitor-current")
@given(st.floats(10, 600), st.floats(0.5, 100), st.floats(45, 65))
def test_current_and_value_return(volts: float, uf: float, hertz: float) -> None:
    amps = capacitors.expected_current_a(uf, volts, hertz)
    assert capacitors.capacitance_uf(volts, amps, hertz) == pytest.approx(uf)


def test_no_current_is_an_open_path() -> None:
    with pytest.raises(Inconsistent, match="open"):
        capacitors.judge_capacitor_at_work(Metered(370), Metered(0), 60, 35, 5)
    with pytest.raises(OutOfRange, match="rated capacitance"):
        capacitors.judge_capacitance(Metered(35), 0, 5)
    with pytest.raises(UnknownName, match="kind of capacitor"):
        capacitors.judge_capacitance(Metered(35), 35, 5, "flux")


def test_too_much_is_a_fault_of_a_run_capacitor_and_settles_nothing_of_a_bus() -> None:
    assert capacitors.judge_capacitance(Metered(49), 35, 5).verdict == "fail"
    found = capacitors.judge_capacitance(Metered(1900), 1360, 25, "bus")
    assert (found.outcome, found.verdict) == ("high", "undecided")
    assert capacitors.judge_capacitance(Metered(900), 1360, 25, "bus").verdict == "fail"
    assert capacitors.judge_capacitance(Metered(math.inf), 35).outcome == "open"


@property_of("insulation-corrected")
@given(st.floats(1e3, 1e11), st.floats(-10, 120), st.floats(-10, 120))
def test_correction_returns_and_halves(ohm: float, first: float, second: float) -> None:
    there = insulation.corrected_ohm(ohm, first, second)
    if there <= insulation.MOST_OHM:
        assert insulation.corrected_ohm(there, second, first) == pytest.approx(ohm)
    assert insulation.corrected_ohm(ohm, 30, 40) == pytest.approx(ohm / 2)


@property_of("polarization-index")
@given(st.floats(1e4, 1e9), st.floats(1, 4))
def test_index_is_a_ratio(one_minute: float, ratio: float) -> None:
    assert insulation.polarization_index(one_minute, one_minute * ratio) == pytest.approx(ratio)


@library("insulation", [(9e6, 52.0), (30e6, 20.0), (6e6, 60.0)])
def test_insulation_uncertainty_against_monte_carlo(ohm: float, winding_c: float) -> None:
    readings = [Metered(ohm, Accuracy(5, 0)), Metered(winding_c, Accuracy(0, 3))]
    found = insulation.judge_insulation(readings[0], readings[1], least_ohm=5e6)
    draws = drawn(readings)
    values = draws[:, 0] * 0.5 ** ((40 - draws[:, 1]) / 10)
    assert found.against is not None
    assert found.against.expanded == pytest.approx(1.96 * float(values.std()), rel=0.05)


def test_a_cold_compressor_is_measured_again_before_it_is_condemned() -> None:
    low = Metered(0.4e6, Accuracy(5, 50e3))
    assert insulation.judge_insulation(low, shell="warm").verdict == "fail"
    cold = insulation.judge_insulation(low, shell="cold")
    assert (cold.outcome, cold.verdict) == ("repeat-warm", "undecided")
    assert insulation.judge_insulation(Metered(20e3, Accuracy(5, 10e3)), shell="cold").verdict == "fail"
    assert insulation.judge_insulation(Metered(math.inf), shell="cold").verdict == "pass"


@library("polarization-index", [(300e6, 690e6), (240e6, 470e6)])
def test_index_uncertainty_against_monte_carlo(one_minute: float, ten_minutes: float) -> None:
    """Both readings come from one meter: what they share cancels but for the fixed part."""
    readings = [Metered(ohm, Accuracy(5, 5e6), "meter") for ohm in (one_minute, ten_minutes)]
    found = insulation.judge_polarization_index(readings[0], readings[1])
    assert found.against is not None
    assert found.against.expanded == pytest.approx(expanded_of(lambda a, b: b / a, readings), rel=0.05)


def test_insulation_refusals() -> None:
    with pytest.raises(Inconsistent, match="5000 Mohm"):
        insulation.polarization_index(6e9, 9e9)
    with pytest.raises(UnknownName, match="winding"):
        insulation.minimum_ohm(0.4, "wet")
    with pytest.raises(Inconsistent, match="under 1 kV"):
        insulation.minimum_ohm(4, "random-wound")
    with pytest.raises(UnknownName, match="thermal class"):
        insulation.judge_polarization_index(Metered(1e8), Metered(2e8), "Z")
