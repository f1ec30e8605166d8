"""The six arms of a bridge: what each pattern of readings means."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations.bridge import ARMS, judge_bridge
from assistant.calculations.errors import Inconsistent, OutOfRange, UnknownName
from assistant.calculations.uncertainty import Accuracy
from tests.calculations.checks import property_of

METER = Accuracy(1, 0.002)
GOOD: dict[str, float | None] = dict(zip(ARMS, (0.45, 0.46, 0.45, 0.44, 0.45, 0.45), strict=True))
OPEN: dict[str, float | None] = dict.fromkeys(ARMS)


@pytest.mark.parametrize(
    ("changes", "backwards", "outcome", "arms"),
    [
        ({}, {}, "ok", ()),
        ({"p-v": 0.02}, {}, "shorted", ("p-v",)),
        ({"n-w": None}, {}, "open", ("n-w",)),
        ({"n-w": 0.62}, {}, "uneven", ("n-w",)),
        ({}, {"p-u": 0.0}, "shorted", ("p-u",)),
        ({}, {"p-u": 1.2}, "leaky", ("p-u",)),
    ],
)
def test_patterns(
    changes: dict[str, float | None], backwards: dict[str, float | None], outcome: str, arms: tuple[str, ...]
) -> None:
    found = judge_bridge(GOOD | changes, METER, OPEN | backwards)
    assert (found.outcome, found.arms) == (outcome, arms)
    assert found.means
    assert sum(chance for _, chance in found.chances) == pytest.approx(1)


def test_all_alike_but_no_diode_is_not_ok() -> None:
    found = judge_bridge(dict.fromkeys(ARMS, 1.4), METER)
    assert found.outcome == "uneven"
    assert found.arms == ARMS


def test_a_spread_at_the_limit_is_undecided() -> None:
    found = judge_bridge({"p-u": 0.45, "p-v": 0.50, "p-w": 0.45}, METER)
    assert found.against_spread is not None
    assert found.against_spread.verdict == "undecided"


@property_of("bridge-diodes")
@given(st.lists(st.floats(0.35, 0.6), min_size=6, max_size=6), st.permutations(range(3)))
def test_the_phases_have_no_order(values: list[float], order: list[int]) -> None:
    first = judge_bridge(dict(zip(ARMS, values, strict=True)), METER)
    mixed = [values[i] for i in order] + [values[3 + i] for i in order]
    assert judge_bridge(dict(zip(ARMS, mixed, strict=True)), METER).spread_v == pytest.approx(first.spread_v)


def test_refusals() -> None:
    with pytest.raises(UnknownName, match="p-x"):
        judge_bridge({"p-x": 0.4}, METER)
    with pytest.raises(Inconsistent, match="two arms"):
        judge_bridge({"p-u": 0.4, "n-u": 0.4}, METER)
    with pytest.raises(OutOfRange, match="diode reading p-u"):
        judge_bridge({"p-u": -0.4, "p-v": 0.4}, METER)
