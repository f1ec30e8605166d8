"""The rules of the GUM against SciPy's distributions and Monte Carlo."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from assistant.calculations import uncertainty
from assistant.calculations.errors import Inconsistent, OutOfRange
from assistant.calculations.uncertainty import Accuracy, better_reading, combined, judged, propagated
from tests.calculations.checks import library, property_of

VALUE, WIDTH = st.floats(-1e6, 1e6), st.floats(0, 1e3)


@library("judge", [(9.4, 0.8), (10.0, 0.8), (10.9, 0.8), (12.2, 0.8), (10.6, 3.0)])
def test_chances_against_scipy(value: float, expanded: float) -> None:
    found = judged(value, expanded, 9.5, 10.5)
    normal = stats.norm(value, expanded / stats.norm.ppf(0.975))
    assert found.chance_below == pytest.approx(normal.cdf(9.5), abs=1e-12)
    assert found.chance_above == pytest.approx(normal.sf(10.5), abs=1e-12)
    assert found.chance_inside == pytest.approx(normal.cdf(10.5) - normal.cdf(9.5), abs=1e-12)


@library("standard-uncertainty", [("rectangular",), ("triangular",), ("normal95",)])
def test_standard_from_a_half_width_against_scipy(shape: str) -> None:
    expected = {
        "rectangular": stats.uniform(-1.7, 3.4).std(),
        "triangular": stats.triang(0.5, -1.7, 3.4).std(),
        "normal95": 1.7 / stats.norm.ppf(0.975),
    }[shape]
    assert uncertainty.standard_from_limits(1.7, shape) == pytest.approx(float(expected))  # type: ignore[arg-type]


@library("combined-uncertainty", [(0.3, 0.4, 0.0), (1.0, 2.0, 2.0), (0.05, 0.02, 0.07)])
def test_combination_against_monte_carlo(a: float, b: float, c: float) -> None:
    draws = np.random.default_rng(1).normal(0, (a, b, c), (400_000, 3)).sum(axis=1)
    assert combined((a, b, c)) == pytest.approx(float(draws.std()), rel=0.01)


@library("combined-uncertainty", [("product",), ("ratio",), ("logarithm",), ("exponential",)])
def test_linear_propagation_against_monte_carlo(name: str) -> None:
    """Functions of the kinds used here, with the small relative uncertainties of service instruments."""
    function = {
        "product": lambda v, i: v * i,
        "ratio": lambda v, i: v / i,
        "logarithm": lambda v, i: v * math.log(i),
        "exponential": lambda v, i: v * math.exp(-i / 10),
    }[name]
    values, standards = (230.0, 8.0), (1.2, 0.15)
    found = propagated(function, values, standards)
    generator = np.random.default_rng(4)
    pairs = generator.normal(values, standards, (100_000, 2))
    draws = np.array([function(float(v), float(i)) for v, i in pairs])
    assert found == pytest.approx(float(draws.std()), rel=0.015)


@property_of("judge")
@given(VALUE, WIDTH, VALUE, VALUE)
def test_judgement_is_whole(value: float, expanded: float, a: float, b: float) -> None:
    low, high = min(a, b), max(a, b)
    found = judged(value, expanded, low, high)
    assert found.chance_below + found.chance_inside + found.chance_above == pytest.approx(1)
    if found.verdict == "pass":
        slack = 1e-9 * max(abs(low), abs(high), abs(value), abs(expanded))  # a limit just met is met
        assert low - slack <= value - expanded <= value + expanded <= high + slack
        assert found.chance_inside >= 0.949
    if found.verdict == "fail":
        assert found.chance_inside <= 0.026
    assert (better_reading(found, "V") == "") == (found.verdict != "undecided")


@property_of("judge")
@given(VALUE, st.floats(1e-3, 1e3), VALUE)
def test_the_reading_asked_for_would_settle_it(value: float, expanded: float, limit: float) -> None:
    found = judged(value, expanded, None, limit)
    if found.verdict == "undecided" and found.settling > 0:  # a value at 5e-324 from a limit of 0 sits on it
        assert judged(value, found.settling * 0.999, None, limit).verdict != "undecided"


@property_of("judge")
@given(VALUE, st.floats(1e-3, 1e3), VALUE)
def test_limits_mirror(value: float, expanded: float, limit: float) -> None:
    above, below = judged(value, expanded, None, limit), judged(-value, expanded, -limit, None)
    assert (above.verdict, above.margin) == (below.verdict, below.margin)
    assert above.chance_above == pytest.approx(below.chance_below)


@property_of("combined-uncertainty")
@given(st.lists(st.floats(0, 1e6), min_size=1, max_size=6))
def test_a_combination_is_no_less_than_its_largest_part(parts: list[float]) -> None:
    whole = combined(parts)
    assert max(parts) * (1 - 1e-12) <= whole <= sum(parts) * (1 + 1e-12)


@property_of("combined-uncertainty")
@given(st.floats(-10, 10), st.floats(-10, 10), st.floats(0, 5), st.floats(0, 5))
def test_propagation_is_exact_for_straight_lines(a: float, b: float, u: float, w: float) -> None:
    found = propagated(lambda x, y: a * x + b * y + 3, (1.0, 2.0), (u, w))
    assert found == pytest.approx(math.hypot(a * u, b * w), abs=1e-9)


@property_of("standard-uncertainty")
@given(st.floats(0, 1e6))
def test_shapes_are_in_order(half_width: float) -> None:
    """The more a shape gathers in the middle, the smaller its standard uncertainty."""
    normal = uncertainty.standard_from_limits(half_width, "normal95")
    triangular = uncertainty.standard_from_limits(half_width, "triangular")
    rectangular = uncertainty.standard_from_limits(half_width, "rectangular")
    assert triangular <= normal <= rectangular <= half_width or half_width == 0


def test_a_reading_on_the_limit_can_never_be_settled() -> None:
    found = judged(10, 0.5, None, 10)
    assert found.verdict == "undecided"
    assert "no meter can settle it" in better_reading(found, "V")


def test_a_perfect_meter_decides_everything_but_the_limit() -> None:
    assert judged(10, 0, 9, 10).verdict == "pass"
    assert judged(10.001, 0, 9, 10).verdict == "fail"


def test_refusals() -> None:
    with pytest.raises(Inconsistent, match="at least one limit"):
        judged(1, 1)
    with pytest.raises(Inconsistent, match="above the upper limit"):
        judged(1, 1, 5, 2)
    with pytest.raises(OutOfRange, match="value is nan"):
        judged(math.nan, 1, 0, 2)
    with pytest.raises(Inconsistent, match="2 values but 1"):
        propagated(lambda a, b: a, (1, 2), (1,))
    with pytest.raises(OutOfRange, match="accuracy"):
        Accuracy(-1, 0)
