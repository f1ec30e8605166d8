"""A few whole visits through the dialogue; the figures of many are ``python -m tests.field.run``."""

import pytest

from assistant.visit.session import Knowledgeable
from tests.field.driver import Visit
from tests.field.faults import BY_ID
from tests.field.outcome import Outcome
from tests.field.patience import NeverAnswers, Patient
from tests.field.people.technician import Habits
from tests.field.report import good, in_all, leftovers, per_fault
from tests.field.run import main
from tests.field.world import World
from tests.field.world.site import draw

SURE = Habits(dont_know=0, cant_reach=0, misreads=0)


def led(context: Knowledgeable, fault: str, seed: int = 3, unit: str = "solo-240") -> Outcome:
    return Visit(context, World(draw(seed, BY_ID[fault], unit)), seed, habits=SURE).run()


@pytest.fixture(scope="module")
def outcomes(context: Knowledgeable) -> list[Outcome]:
    return [Visit(context, World(draw(seed)), seed).run() for seed in range(8)]


def test_a_plain_fault_is_named_mended_and_proved(context: Knowledgeable) -> None:
    outcome = led(context, "filter-blocked")
    assert outcome.first_was_right
    assert outcome.mended
    assert outcome.condemned == []
    assert outcome.minutes > 0


def test_the_same_seed_is_the_same_visit(context: Knowledgeable) -> None:
    assert led(context, "outdoor-fan-dead") == led(context, "outdoor-fan-dead")


def test_visits_come_to_an_end_and_nothing_live_is_touched(outcomes: list[Outcome]) -> None:
    assert all(outcome.closing != "left open" for outcome in outcomes)
    assert all(outcome.hazards == [] for outcome in outcomes)


def test_a_step_without_end_is_given_up(context: Knowledgeable) -> None:
    patient = Patient(context)
    with pytest.raises(NeverAnswers):
        all(patient.library for _ in range(10_000))
    patient.begin()
    assert patient.library is context.library


def test_the_report_counts_what_happened(outcomes: list[Outcome]) -> None:
    lines = "\n".join([*per_fault(outcomes), *in_all(outcomes), *leftovers(outcomes)])
    assert f"visits                         {len(outcomes)}" in lines
    share = 100 * sum(map(good, outcomes)) / len(outcomes)
    assert f"named or mended                {share:5.1f} %" in lines


def test_a_sound_part_condemned_is_counted() -> None:
    outcome = Outcome(1, "trio", ("filter-blocked",), "weak", named=["x"], condemned=["replace-compressor"])
    assert "sound dear part condemned      100.0 %" in "\n".join(in_all([outcome]))


def test_the_runner_prints_its_figures(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--visits", "1", "--fault", "filter-blocked", "--no-profile", "0"]) == 0
    assert "named or mended" in capsys.readouterr().out


def test_the_runner_lists_the_faults(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--list"]) == 0
    assert BY_ID["boost-dead"].physics in capsys.readouterr().out
