"""Power against sampled waves."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import electrical_power
from assistant.calculations.errors import Inconsistent, OutOfRange
from assistant.calculations.uncertainty import Accuracy, Metered
from tests.calculations.checks import library, property_of

LOADS = [(230.0, 8.5, 0.92, 1), (120.0, 4.2, 0.6, 1), (208.0, 15.0, 0.85, 3), (400.0, 6.3, 0.8, 3)]


def sampled_w(volts: float, amps: float, factor: float, phases: int) -> float:
    """Mean of v·i over a cycle, summed over the phases; line voltage over √3 is the phase voltage of a wye."""
    angles = np.linspace(0, 2 * math.pi, 20_001)[:-1]
    lag, phase_v = math.acos(factor), volts / (math.sqrt(3) if phases == 3 else 1)
    total = np.zeros_like(angles)
    for k in range(phases):
        shift = 2 * math.pi * k / 3
        total += 2 * phase_v * amps * np.sin(angles - shift) * np.sin(angles - shift - lag)
    return float(total.mean())


@library("power", LOADS)
def test_active_power_against_sampled_waves(volts: float, amps: float, factor: float, phases: int) -> None:
    assert electrical_power.active_w(volts, amps, factor, phases) == pytest.approx(
        sampled_w(volts, amps, factor, phases), rel=1e-6
    )


@library("power-factor", LOADS)
def test_factor_against_sampled_waves(volts: float, amps: float, factor: float, phases: int) -> None:
    watt = sampled_w(volts, amps, factor, phases)
    assert electrical_power.power_factor(watt, volts, amps, phases) == pytest.approx(factor, rel=1e-6)


@library("line-current", LOADS)
def test_current_against_sampled_waves(volts: float, amps: float, factor: float, phases: int) -> None:
    watt = sampled_w(volts, amps, factor, phases)
    assert electrical_power.current_from_power_a(watt, volts, factor, phases) == pytest.approx(amps, rel=1e-6)


@library("running-current", [(9.6, 10.0), (10.3, 10.0), (9.98, 10.0)])
def test_chance_over_the_nameplate_against_scipy(amps: float, nameplate: float) -> None:
    from scipy.stats import norm

    clamp = Accuracy(2, 0.05)
    found = electrical_power.judge_running_current(Metered(amps, clamp), nameplate, None, 100)
    assert found.chances["high"] == pytest.approx(
        norm.sf(nameplate, amps, clamp.expanded(amps) / norm.ppf(0.975)), abs=1e-9
    )


@property_of("power", "power-factor")
@given(st.floats(10, 480), st.floats(0.1, 100), st.floats(0.05, 1), st.sampled_from([1, 3]))
def test_the_power_triangle_closes(volts: float, amps: float, factor: float, phases: int) -> None:
    active = electrical_power.active_w(volts, amps, factor, phases)
    reactive = electrical_power.reactive_var(volts, amps, factor, phases)
    apparent = electrical_power.apparent_va(volts, amps, phases)
    assert math.hypot(active, reactive) == pytest.approx(apparent)
    assert electrical_power.power_factor(active, volts, amps, phases) == pytest.approx(factor)


@property_of("line-current")
@given(st.floats(10, 10_000), st.floats(100, 480), st.floats(0.3, 1), st.sampled_from([1, 3]))
def test_current_and_power_return(watt: float, volts: float, factor: float, phases: int) -> None:
    amps = electrical_power.current_from_power_a(watt, volts, factor, phases)
    assert electrical_power.active_w(volts, amps, factor, phases) == pytest.approx(watt)


def test_running_current() -> None:
    def verdict(amps: float) -> str:
        return electrical_power.judge_running_current(Metered(amps, Accuracy(2, 0.05)), 10).verdict

    assert verdict(8) == "pass"
    assert verdict(11.95) == "undecided"
    assert verdict(12.5) == "fail"
    assert verdict(2) == "undecided"  # an inverter at part load draws little


def test_refusals() -> None:
    with pytest.raises(Inconsistent, match="look at the clamp"):
        electrical_power.power_factor(5000, 230, 10)
    with pytest.raises(Inconsistent, match="without voltage and current"):
        electrical_power.power_factor(0, 0, 0)
    with pytest.raises(Inconsistent, match="2-phase"):
        electrical_power.apparent_va(230, 5, 2)
    with pytest.raises(OutOfRange, match="power factor is 1"):
        electrical_power.active_w(230, 5, 1.4)
