"""The six arms of a bridge: what each pattern of readings means."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations.bridge import ALIKE_V, ARMS, judge_bridge
from assistant.calculations.errors import Inconsistent, OutOfRange, UnknownName
from assistant.calculations.uncertainty import Accuracy, Metered
from tests.calculations.checks import library, property_of
from tests.calculations.draws import share_within

METER = Accuracy(1, 0.002)
GOOD: dict[str, float | None] = dict(zip(ARMS, (0.45, 0.46, 0.45, 0.44, 0.45, 0.45), strict=True))
OPEN: dict[str, float | None] = dict.fromkeys(ARMS)


def read(arms: Mapping[str, float | None]) -> dict[str, Metered]:
    """The arms as one meter reads them; None is an open line."""
    return {arm: Metered(math.inf if volts is None else volts, METER, "meter") for arm, volts in arms.items()}


@pytest.mark.parametrize(
    ("changes", "backwards", "outcome", "arms"),
    [
        ({}, {}, "ok", ()),
        ({"p-v": 0.02}, {}, "shorted", ("p-v",)),
        ({"n-w": None}, {}, "open", ("n-w",)),
        ({"n-w": 0.62}, {}, "uneven", ("n-w",)),
        ({}, {"p-u": 0.0}, "shorted", ("p-u",)),
        ({}, {"p-u": 1.2}, "leaky", ("p-u",)),
        (dict.fromkeys(ARMS), {}, "all-open", ARMS),
        (dict.fromkeys(ARMS, 0.2), {}, "low", ()),
    ],
)
def test_patterns(
    changes: dict[str, float | None], backwards: dict[str, float | None], outcome: str, arms: tuple[str, ...]
) -> None:
    found = judge_bridge(read(GOOD | changes), read(OPEN | backwards))
    assert (found.outcome, found.places) == (outcome, arms)
    assert found.values["means"]
    assert sum(found.chances.values()) == pytest.approx(1)


@pytest.mark.parametrize("volts", [0.82, 0.86, 1.4, 2.2])
def test_all_alike_is_sound_whatever_a_diode_drops(volts: float) -> None:
    """A boost diode in series, or transistors of a wide-gap material, condemn nothing."""
    found = judge_bridge(read(dict.fromkeys(ARMS, volts)))
    assert (found.outcome, found.verdict) == ("ok", "pass")
    assert found.values["parts"] != "one diode each"
    assert judge_bridge(read(GOOD)).values["parts"] == "one diode each"


@pytest.mark.parametrize("outcome", [dict.fromkeys(ARMS), dict.fromkeys(ARMS, 0.2)])
def test_what_wide_gap_or_parallel_parts_show_settles_nothing(outcome: dict[str, float | None]) -> None:
    assert judge_bridge(read(outcome)).verdict == "undecided"


def test_a_spread_at_the_limit_is_undecided() -> None:
    found = judge_bridge(read({"p-u": 0.45, "p-v": 0.51, "p-w": 0.45}))
    assert found.verdict == "undecided"


SPREADS = [(0.45, 0.46, 0.45), (0.45, 0.505, 0.45), (0.45, 0.51, 0.452), (0.45, 0.45, 0.45)]


@library("bridge-diodes", SPREADS)
def test_chance_of_a_spread_against_monte_carlo(u: float, v: float, w: float) -> None:
    arms = read({"p-u": u, "p-v": v, "p-w": w})
    found = judge_bridge(arms)
    within = share_within(lambda *volts: max(volts) - min(volts), list(arms.values()), high=ALIKE_V)
    assert found.chances["ok"] == pytest.approx(within, abs=0.02)


@property_of("bridge-diodes")
@given(st.lists(st.floats(0.35, 0.6), min_size=6, max_size=6), st.permutations(range(3)))
def test_the_phases_have_no_order(values: list[float], order: list[int]) -> None:
    first = judge_bridge(read(dict(zip(ARMS, values, strict=True))))
    mixed = [values[i] for i in order] + [values[3 + i] for i in order]
    found = judge_bridge(read(dict(zip(ARMS, mixed, strict=True))))
    assert found.values["spread"] == pytest.approx(first.values["spread"])


def test_refusals() -> None:
    with pytest.raises(UnknownName, match="p-x"):
        judge_bridge(read({"p-x": 0.4}))
    with pytest.raises(Inconsistent, match="two arms"):
        judge_bridge(read({"p-u": 0.4, "n-u": 0.4}))
    with pytest.raises(OutOfRange, match="diode reading p-u"):
        judge_bridge(read({"p-u": -0.4, "p-v": 0.4}))
