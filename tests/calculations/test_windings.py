"""Windings against a resistor network solved by NumPy, and the judgement's outcomes."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import windings
from assistant.calculations.errors import CalculationError, Inconsistent, UnknownName
from assistant.calculations.uncertainty import Accuracy
from assistant.calculations.winding_judging import WindingJudgement, judge_windings
from tests.calculations.checks import library, property_of

METER = Accuracy(0.5, 0.003)
OHM = st.floats(0.05, 500)


def effective_ohm(branches: list[tuple[int, int, float]], nodes: int, a: int, b: int) -> float:
    """Resistance between two nodes of a network, from the pseudo-inverse of its Laplacian."""
    laplacian = np.zeros((nodes, nodes))
    for i, j, ohm in branches:
        laplacian[i, i] += 1 / ohm
        laplacian[j, j] += 1 / ohm
        laplacian[i, j] -= 1 / ohm
        laplacian[j, i] -= 1 / ohm
    inverse = np.linalg.pinv(laplacian)
    return float(inverse[a, a] + inverse[b, b] - 2 * inverse[a, b])


@library("winding-phases", [(1.0, 1.02, 0.98), (0.35, 0.40, 0.30), (12.0, 15.0, 20.0)])
def test_star_against_a_solved_network(u: float, v: float, w: float) -> None:
    network = [(0, 3, u), (1, 3, v), (2, 3, w)]
    pairs = [effective_ohm(network, 4, a, b) for a, b in ((0, 1), (1, 2), (2, 0))]
    assert windings.phases_ohm(*pairs, "star") == pytest.approx((u, v, w), rel=1e-9)


@library("winding-phases", [(1.0, 1.02, 0.98), (0.35, 0.40, 0.30), (12.0, 15.0, 20.0)])
def test_delta_against_a_solved_network(uv: float, vw: float, wu: float) -> None:
    network = [(0, 1, uv), (1, 2, vw), (2, 0, wu)]
    pairs = [effective_ohm(network, 3, a, b) for a, b in ((0, 1), (1, 2), (2, 0))]
    assert windings.phases_ohm(*pairs, "delta") == pytest.approx((uv, vw, wu), rel=1e-9)


@property_of("winding-phases")
@given(OHM, OHM, OHM, st.sampled_from(["star", "delta"]))
def test_phases_return(a: float, b: float, c: float, connection: windings.Connection) -> None:
    pairs = windings.pairs_ohm(a, b, c, connection)
    try:
        phases = windings.phases_ohm(*pairs, connection)
    except Inconsistent:  # three values so unlike that the difference drowns in rounding
        assert max(a, b, c) > 1000 * min(a, b, c)
        return
    assert phases == pytest.approx((a, b, c), rel=1e-6)


@property_of("winding-imbalance")
@given(OHM, OHM, OHM, st.floats(0.1, 10))
def test_imbalance_has_no_order_and_no_scale(a: float, b: float, c: float, scale: float) -> None:
    first = windings.imbalance_percent(a, b, c)
    assert windings.imbalance_percent(c, a, b) == pytest.approx(first, abs=1e-9)
    assert windings.imbalance_percent(a * scale, b * scale, c * scale) == pytest.approx(first, abs=1e-9)
    assert 0 <= first <= 200


@property_of("winding-at-temperature", "winding-rise")
@given(OHM, st.floats(-40, 200), st.floats(-40, 200), st.sampled_from(["copper", "aluminium"]))
def test_temperature_returns(resistance: float, first: float, second: float, metal: windings.Metal) -> None:
    there = windings.at_temperature_ohm(resistance, first, second, metal)
    assert windings.at_temperature_ohm(there, second, first, metal) == pytest.approx(resistance)
    assert windings.temperature_from_resistance_c(there, resistance, first, metal) == pytest.approx(second, abs=1e-6)
    assert (there > resistance) == (second > first) or second == pytest.approx(first)


@property_of("winding-leads")
@given(OHM, st.floats(0, 0.04))
def test_leads_come_off(winding: float, leads: float) -> None:
    assert windings.without_leads_ohm(winding + leads, leads) == pytest.approx(winding)


def judge(*pairs: float | None, **more: float) -> WindingJudgement:
    """A judgement with the usual meter and a limit of 5 %."""
    return judge_windings(*pairs, meter=METER, imbalance_limit_percent=5, **more)  # type: ignore[arg-type, misc]


def test_good_windings_pass() -> None:
    found = judge(1.10, 1.12, 1.11, expected_ohm=1.0, lead_ohm=0.1)
    assert found.outcome == "ok"
    assert dict(found.chances)["ok"] > 0.95
    assert sum(chance for _, chance in found.chances) == pytest.approx(1)


@pytest.mark.parametrize(
    ("pairs", "outcome", "places"),
    [
        ((1.0, None, None), "open", ("w",)),
        ((None, None, None), "open", ("u-v", "v-w", "w-u")),
        ((1.0, 1e5, 1.0), "open", ("v-w",)),
        ((1.0, 0.05, 1.0), "shorted", ("v-w",)),
        ((0.0, 1.0, 1.0), "shorted", ("u-v",)),
        ((1.0, 1.0, 1.3), "unbalanced", ("w-u",)),
        ((1.5, 1.5, 1.5), "off-value", ("u-v", "v-w", "w-u")),
    ],
)
def test_faults_told_apart(pairs: tuple[float | None, ...], outcome: str, places: tuple[str, ...]) -> None:
    found = judge(*pairs, expected_ohm=1.0)
    assert (found.outcome, found.places) == (outcome, places)


def test_ground_comes_first() -> None:
    assert judge(1.0, 1.0, 1.0, to_ground_ohm=0.3e6).outcome == "grounded"
    assert judge(1.0, 1.0, 1.0, to_ground_ohm=50e6).outcome == "ok"


def test_a_warm_motor_is_compared_at_the_profiles_temperature() -> None:
    """1.0 ohm at 20 °C reads 1.236 at 80 °C: in order, not off value."""
    warm = windings.at_temperature_ohm(1.0, 20, 80)
    found = judge(warm, warm, warm, expected_ohm=1.0, expected_at_c=20, temperature_c=80, tolerance_percent=5)
    assert found.outcome == "ok"
    assert found.mean_at_reference_ohm == pytest.approx(1.0)
    assert judge(warm, warm, warm, expected_ohm=1.0, tolerance_percent=5).outcome == "off-value"


def test_a_coarse_meter_leaves_the_imbalance_undecided() -> None:
    found = judge_windings(1.0, 1.0, 1.09, meter=Accuracy(1, 0.05), imbalance_limit_percent=5)
    assert found.against_imbalance is not None
    assert found.against_imbalance.verdict == "undecided"
    assert found.against_imbalance.settling < found.against_imbalance.expanded


@pytest.mark.outside("windings", "library")
def test_uncertainty_of_the_imbalance_against_monte_carlo() -> None:
    """Propagated width of the imbalance, and 100 000 draws of three readings."""
    pairs = np.array([1.00, 1.00, 1.12])
    found = judge(*pairs)
    assert found.against_imbalance is not None
    widths = np.array([METER.expanded(float(p)) for p in pairs]) / 1.96
    draws = np.random.default_rng(3).normal(pairs, widths, (100_000, 3))
    means = draws.mean(axis=1, keepdims=True)
    values = 100 * np.abs(draws - means).max(axis=1) / means[:, 0]
    assert found.against_imbalance.expanded == pytest.approx(1.96 * float(values.std()), rel=0.05)


def test_refusals() -> None:
    with pytest.raises(Inconsistent, match="cannot be three windings"):
        windings.phases_ohm(1, 1, 2.5, "star")
    with pytest.raises(Inconsistent, match="leaves nothing"):
        windings.without_leads_ohm(0.2, 0.2)
    with pytest.raises(UnknownName, match="copper, aluminium"):
        windings.at_temperature_ohm(1, 20, 30, "gold")  # type: ignore[arg-type]
    with pytest.raises(CalculationError, match="winding u-v is -1 ohm"):
        judge(-1.0, 1.0, 1.0)


def test_coefficient_is_the_handbooks() -> None:
    assert windings.conductor_temperature_coefficient_per_k() == pytest.approx(0.00393, rel=1e-3)
