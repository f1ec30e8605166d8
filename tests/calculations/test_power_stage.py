"""The bus against SciPy: rectified sines sampled, discharge and ripple integrated."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from assistant.calculations import power_stage
from assistant.calculations.errors import Inconsistent, OutOfRange
from tests.calculations.checks import library, property_of

OHM, UF = st.floats(1e3, 1e6), st.floats(1, 5000)


@library("bus-voltage", [(208.0, 0.0), (230.0, 0.9), (240.0, 1.1)])
def test_peak_against_a_sampled_sine(line: float, drop: float) -> None:
    wave = np.abs(math.sqrt(2) * line * np.sin(np.linspace(0, 2 * math.pi, 100_001)))
    assert power_stage.bus_peak_v(line, drop) == pytest.approx(float(wave.max()) - 2 * drop, rel=1e-6)


@library("bus-mean-three-phase", [(208.0,), (400.0,)])
def test_three_phase_mean_against_quadrature(line: float) -> None:
    """Mean of the largest of the six line-to-line sines over a twelfth of a cycle each way."""
    mean, _ = quad(lambda a: math.sqrt(2) * line * math.cos(a), -math.pi / 6, math.pi / 6)
    assert power_stage.three_phase_mean_v(line) == pytest.approx(mean / (math.pi / 3), rel=1e-9)


DISCHARGES = [
    (325.0, 60.0, 1e5, 1000.0),
    (340.0, 60.0, 47e3, 470.0),
    (325.0, 34.0, 470e3, 1.0),
    (400.0, 30.0, 33e3, 2200.0),
]


@library("bleed-time", DISCHARGES)
def test_bleed_time_against_an_integrated_circuit(start: float, limit: float, ohm: float, uf: float) -> None:
    tau = ohm * uf * 1e-6
    hit = lambda t, v: v[0] - limit  # noqa: E731
    hit.terminal = True  # type: ignore[attr-defined]
    solved = solve_ivp(lambda t, v: -v / tau, (0, 10 * tau), [start], events=hit, rtol=1e-9, atol=1e-9)
    assert power_stage.bleed_time_s(start, limit, ohm, uf) == pytest.approx(float(solved.t_events[0][0]), rel=1e-5)


@library("bus-remaining", DISCHARGES)
def test_remaining_against_an_integrated_circuit(start: float, limit: float, ohm: float, uf: float) -> None:
    tau = ohm * uf * 1e-6
    solved = solve_ivp(lambda t, v: -v / tau, (0, 1.7 * tau), [start], rtol=1e-9, atol=1e-9)
    assert power_stage.remaining_v(start, 1.7 * tau, ohm, uf) == pytest.approx(float(solved.y[0, -1]), rel=1e-5)


@library("bleed-from-decay", DISCHARGES)
def test_bleed_found_in_an_integrated_decay(start: float, limit: float, ohm: float, uf: float) -> None:
    tau = ohm * uf * 1e-6
    later = solve_ivp(lambda t, v: -v / tau, (0, 0.8 * tau), [start], rtol=1e-9, atol=1e-9).y[0, -1]
    if 0.8 * tau >= 0.1:
        assert power_stage.bleed_from_decay_ohm(start, float(later), 0.8 * tau, uf) == pytest.approx(ohm, rel=1e-4)


@library("bus-energy", [(325.0, 1000.0), (340.0, 470.0), (60.0, 2200.0)])
def test_energy_against_quadrature(volts: float, uf: float) -> None:
    joule, _ = quad(lambda v: uf * 1e-6 * v, 0, volts)
    assert power_stage.stored_energy_j(volts, uf) == pytest.approx(joule, rel=1e-9)


@library(
    "bus-ripple",
    [
        (4.0, 1500.0, 60.0, 1),
        (8.0, 2200.0, 50.0, 1),
        (10.0, 680.0, 60.0, 3),
        (3.0, 10.0, 60.0, 3),
        (0.5, 1.0, 50.0, 1),
    ],
)
def test_ripple_against_a_stepped_rectifier(load: float, uf: float, hertz: float, phases: int) -> None:
    """A bridge on sampled sines, a capacitor and a constant current, stepped at 2 µs."""
    line, step = 230.0, 2e-6
    peak = volts = math.sqrt(2) * line
    times = np.arange(0, 4 / hertz, step)
    angles = 2 * math.pi * hertz * times
    if phases == 1:
        source = np.abs(peak * np.sin(angles))
    else:
        source = np.max([np.abs(peak * np.cos(angles - k * math.pi / 3)) for k in range(6)], axis=0)
    bus = np.empty_like(times)
    for i, v in enumerate(source):
        volts = max(v, volts - load * step / (uf * 1e-6))
        bus[i] = volts
    settled = bus[len(bus) // 2 :]
    stepped = float(settled.max() - settled.min())
    assert power_stage.ripple_v(line, load, uf, hertz, phases) == pytest.approx(stepped, rel=5e-3)


@property_of("bus-ripple")
@given(
    st.floats(100, 480), st.floats(0, 50), st.floats(1, 5000), st.sampled_from([50.0, 60.0]), st.sampled_from([1, 3])
)
def test_ripple_rises_with_load_and_stays_under_the_peak(
    line: float, load: float, uf: float, hertz: float, phases: int
) -> None:
    ripple = power_stage.ripple_v(line, load, uf, hertz, phases)
    assert 0 <= ripple <= math.sqrt(2) * line * (1 + 1e-9)
    assert power_stage.ripple_v(line, load + 1, uf, hertz, phases) >= ripple * (1 - 1e-9)


@property_of("bleed-time", "bus-remaining")
@given(st.floats(80, 400), st.floats(10, 79), OHM, UF)
def test_after_the_bleed_time_the_limit_is_left(start: float, limit: float, ohm: float, uf: float) -> None:
    time = power_stage.bleed_time_s(start, limit, ohm, uf)
    assert power_stage.remaining_v(start, time, ohm, uf) == pytest.approx(limit, rel=1e-9)
    assert power_stage.safe_wait_s(start, limit, ohm, uf) >= time


@property_of("bleed-time")
@given(st.floats(80, 400), st.floats(10, 79), OHM, UF)
def test_more_of_anything_takes_longer(start: float, limit: float, ohm: float, uf: float) -> None:
    time = power_stage.bleed_time_s(start, limit, ohm, uf)
    assert power_stage.bleed_time_s(start + 5, limit, ohm, uf) > time
    assert power_stage.bleed_time_s(start, limit, ohm * 1.1, uf) > time
    assert power_stage.bleed_time_s(start, limit, ohm, uf * 1.1) > time
    assert power_stage.bleed_time_s(limit, start, ohm, uf) == 0


def test_refusals() -> None:
    with pytest.raises(Inconsistent, match="did not fall"):
        power_stage.bleed_from_decay_ohm(200, 200, 10, 1000)
    with pytest.raises(Inconsistent, match="1 or 3 phases"):
        power_stage.ripple_v(230, 1, 1000, 60, 2)
    with pytest.raises(OutOfRange, match="bleed resistance is 0 ohm"):
        power_stage.bleed_time_s(325, 60, 0, 1000)
    with pytest.raises(Inconsistent, match="more than the peak"):
        power_stage.bus_peak_v(1, 3)
