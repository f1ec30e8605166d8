"""Windings against a resistor network solved by NumPy, and the judgement's outcomes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import windings
from assistant.calculations.errors import CalculationError, Inconsistent, UnknownName
from assistant.calculations.found import Found
from assistant.calculations.uncertainty import Accuracy, Metered
from assistant.calculations.winding_judging import judge_windings
from tests.calculations.checks import library, property_of
from tests.calculations.draws import expanded_of, share_within

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
    uv, vw, wu = (effective_ohm(network, 4, a, b) for a, b in ((0, 1), (1, 2), (2, 0)))
    assert windings.phases_ohm(uv, vw, wu, "star") == pytest.approx((u, v, w), rel=1e-9)


@library("winding-phases", [(1.0, 1.02, 0.98), (0.35, 0.40, 0.30), (12.0, 15.0, 20.0)])
def test_delta_against_a_solved_network(uv: float, vw: float, wu: float) -> None:
    network = [(0, 1, uv), (1, 2, vw), (2, 0, wu)]
    read = [effective_ohm(network, 3, a, b) for a, b in ((0, 1), (1, 2), (2, 0))]
    assert windings.phases_ohm(read[0], read[1], read[2], "delta") == pytest.approx((uv, vw, wu), rel=1e-9)


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


def judge(*pairs: float | None, meter: Accuracy = METER, **more: Any) -> Found:
    """A judgement with one meter, by default a fine one, and a limit of 5 %; None is an open line."""
    readings = (Metered(math.inf if pair is None else pair, meter, "meter") for pair in pairs)
    return judge_windings(*readings, imbalance_limit_percent=5, **more)


def test_good_windings_pass() -> None:
    found = judge(1.10, 1.12, 1.11, expected_ohm=1.0, lead_ohm=0.1)
    assert (found.outcome, found.verdict) == ("ok", "pass")
    assert found.chances["ok"] > 0.95
    assert sum(found.chances.values()) == pytest.approx(1)


@pytest.mark.parametrize(
    ("pairs", "outcome", "places"),
    [
        ((1.0, None, None), "open", ("w",)),
        ((None, None, None), "open", ("u-v", "v-w", "w-u")),
        ((1.0, 1e5, 1e5), "open", ("w",)),
        ((1.0, 0.05, 1.0), "shorted", ("v-w",)),
        ((0.0, 1.0, 1.0), "shorted", ("u-v",)),
        ((1.0, 1.0, 1.3), "unbalanced", ("w-u",)),
        ((1.5, 1.5, 1.5), "off-value", ("u-v", "v-w", "w-u")),
        ((0.4, 0.4, 0.4), "shorted", ("u-v", "v-w", "w-u")),  # all under half of what they should be
    ],
)
def test_faults_told_apart(pairs: tuple[float | None, ...], outcome: str, places: tuple[str, ...]) -> None:
    found = judge(*pairs, expected_ohm=1.0)
    assert (found.outcome, found.places) == (outcome, places)


def test_ground_comes_first() -> None:
    assert judge(1.0, 1.0, 1.0, to_ground=Metered(0.3e6)).outcome == "grounded"
    assert judge(1.0, 1.0, 1.0, to_ground=Metered(50e6)).outcome == "ok"
    assert judge(1.0, 1.0, 1.0, to_ground=Metered(math.inf)).outcome == "ok"


def test_a_warm_motor_is_compared_at_the_profiles_temperature() -> None:
    """1.0 ohm at 20 °C reads 1.236 at 80 °C: in order, not off value."""
    warm = windings.at_temperature_ohm(1.0, 20, 80)
    found = judge(warm, warm, warm, expected_ohm=1.0, expected_at_c=20, temperature_c=80, tolerance_percent=5)
    assert found.outcome == "ok"
    assert found.values["mean"] == pytest.approx(1.0)
    assert judge(warm, warm, warm, expected_ohm=1.0, tolerance_percent=5).outcome == "off-value"
    assert judge(warm, warm, warm, expected_ohm=1.0, tolerance_percent=None).outcome == "ok"


def test_a_coarse_meter_leaves_the_imbalance_undecided() -> None:
    found = judge(1.0, 1.0, 1.09, meter=Accuracy(1, 0.02))
    assert found.verdict == "undecided"
    assert found.against is not None
    assert found.against.settling < found.against.expanded


def imbalance(*pairs: float) -> float:
    """The definition, for the draws."""
    mean = sum(pairs) / 3
    return 100 * max(abs(pair - mean) for pair in pairs) / mean


EQUAL = [
    (1.2, 1.2, 1.2, 0.9, 0.2),  # three equal windings of an ohm on a multimeter
    (1.2, 1.2, 1.2, 0.5, 0.005),
    (12.0, 12.0, 12.0, 0.9, 0.2),
    (1.0, 1.0, 1.12, 0.5, 0.003),
    (1.0, 1.0, 1.077, 0.5, 0.005),
    (3.0, 3.1, 2.95, 0.9, 0.05),
]


@library("windings", EQUAL)
def test_chance_of_balance_against_monte_carlo(u: float, v: float, w: float, percent: float, offset: float) -> None:
    """Also at equal readings, where the largest departure has a kink and its slope says nothing."""
    readings = [Metered(pair, Accuracy(percent, offset), "meter") for pair in (u, v, w)]
    found = judge(u, v, w, meter=Accuracy(percent, offset))
    assert found.against is not None
    assert found.against.chance_inside == pytest.approx(share_within(imbalance, readings, high=5), abs=0.02)


def test_three_equal_ohms_on_a_multimeter_pass_nothing() -> None:
    """What the meter cannot tell is neither passed nor evidence, and the better meter is named."""
    found = judge(1.2, 1.2, 1.2, meter=Accuracy(0.9, 0.2))
    assert (found.outcome, found.verdict, found.unfit) == ("ok", "undecided", True)
    assert found.chances["ok"] == pytest.approx(0.25, abs=0.03)
    assert "low-ohm" in found.better
    assert judge(1.2, 1.2, 3.0, meter=Accuracy(0.9, 0.2)).verdict == "fail"  # so much even it can tell


@pytest.mark.parametrize("mean", [0.3, 1.0, 1.35, 4.0])
def test_the_meter_asked_for_is_fine_enough_and_not_much_finer(mean: float) -> None:
    asked = judge(mean, mean, mean, meter=Accuracy(0, 0.2)).values["fine_enough"]
    assert isinstance(asked, float)
    assert judge(mean, mean, mean, meter=Accuracy(0, asked)).verdict == "pass"
    assert judge(mean, mean, mean, meter=Accuracy(0, 1.25 * asked)).verdict == "undecided"


@pytest.mark.outside("windings", "library")
def test_uncertainty_of_the_imbalance_against_monte_carlo() -> None:
    """Width of the imbalance where it bends little, and draws of three readings."""
    readings = [Metered(pair, METER, "meter") for pair in (1.00, 1.00, 1.12)]
    found = judge(1.00, 1.00, 1.12)
    assert found.against is not None
    assert found.against.expanded == pytest.approx(expanded_of(imbalance, readings), rel=0.05)


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
