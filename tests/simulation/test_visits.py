"""Some hundred simulated visits: the bars of the design, with room for chance (the benchmark runs 5,000)."""

from __future__ import annotations

from random import Random
from statistics import fmean

import pytest

from assistant.library.loader import load
from tests.simulation.visit import Draw, Outcome, Simulation

VISITS, FEW = 300, 90


@pytest.fixture(scope="module")
def simulation() -> Simulation:
    library = load()
    return Simulation(library, [*library.profiles.values(), *library.generals.values()])


@pytest.fixture(scope="module")
def draws(simulation: Simulation) -> list[Draw]:
    rng = Random(7)
    return [simulation.draw(rng) for _ in range(VISITS)]


@pytest.fixture(scope="module")
def ours(simulation: Simulation, draws: list[Draw]) -> list[Outcome]:
    return [simulation.run(draw, "ours", seed, 0.0) for seed, draw in enumerate(draws)]


def test_the_right_suspect_comes_first(ours: list[Outcome]) -> None:
    # The bar is 95 %; 300 draws of a true 95 % fall under 92.5 % once in forty.
    assert fmean(outcome.right for outcome in ours) >= 0.925


def test_hardly_a_good_part_is_condemned(ours: list[Outcome]) -> None:
    # The bar is 1 %; 300 draws of a true 1 % show more than 7 once in a hundred.
    assert sum(outcome.condemned for outcome in ours) <= 7


def test_it_takes_far_less_time_than_the_textbook(
    simulation: Simulation, draws: list[Draw], ours: list[Outcome]
) -> None:
    book = [simulation.run(draw, "textbook", seed, 0.0) for seed, draw in enumerate(draws[:FEW])]
    assert fmean(o.minutes for o in ours[:FEW]) <= 0.6 * fmean(o.minutes for o in book)


def test_wrong_answers_are_borne(simulation: Simulation, draws: list[Draw]) -> None:
    outcomes = [simulation.run(draw, "ours", seed, 0.05) for seed, draw in enumerate(draws[:150])]
    # 600 draws gave 88 %; 150 of a true 88 % fall under 83 % once in forty.
    assert fmean(outcome.right for outcome in outcomes) >= 0.83
    assert sum(outcome.condemned for outcome in outcomes) <= 6


def test_the_same_draw_and_seed_give_the_same_visit(simulation: Simulation) -> None:
    first, second = (simulation.draw(Random(3)) for _ in range(2))
    assert first.symptoms == second.symptoms
    assert simulation.run(first, "ours", 5, 0.05) == simulation.run(second, "ours", 5, 0.05)


def test_no_check_is_asked_a_third_time(ours: list[Outcome]) -> None:
    for outcome in ours:
        asked = [step.split("=")[0] for step in outcome.steps]
        assert all(asked.count(check) <= 3 for check in asked), outcome
