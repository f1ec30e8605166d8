"""The first minutes of a repair: what matters for the complaint is asked once, before anything is opened."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.data.errors import LibraryError
from assistant.library.closing import general_proof
from assistant.library.loader import load, read_as
from assistant.library.opening import MOST_QUESTIONS, Opening, questions_of
from assistant.visit.journal import Journal
from tests.job.technician import Technician

DAY = datetime(2026, 7, 2, 9, tzinfo=UTC)


def begun(tmp_path: Path, complaint: str, **so: str) -> Technician:
    """At a unit without a profile, with what is complained of told."""
    answers = {key.replace("__", ".").replace("_", "-"): said for key, said in so.items()}
    led = Technician(Journal(tmp_path / "journal.sqlite"), so=answers)
    led.arrive(DAY)
    led.say("Old Dairy", "no profile", "split phase", "R410A", complaint)
    return led


def first_questions(led: Technician, most: int) -> list[str]:
    """The questions that are asked one after the other, without cautions."""
    assert led.session is not None
    asked: list[str] = []
    while len(asked) < most:
        question = led.session.expectation.question
        if not question.startswith("precaution.") and question not in asked:
            asked.append(question)
        led.say(led.answer(question))
    return asked


def test_weak_cooling_is_asked_its_story_its_mode_and_its_split_before_anything_is_opened(tmp_path):
    led = begun(
        tmp_path, "not cold enough",
        work_done_lately__history="by itself", complaint_mode__mode="in cooling",
        first_split_cooling__inlet="82 F", first_split_cooling__outlet="70 F",
    )  # fmt: skip
    asked = first_questions(led, 5)
    assert asked == [
        "work-done-lately.history", "complaint-mode.mode", "visit-outdoor-air.air",
        "first-split-cooling.inlet", "first-split-cooling.outlet",
    ]  # fmt: skip
    state = led.session.state
    assert state.power.at("outdoor") == "live"
    assert [result.judgement.outcome for result in state.results] == ["by-itself", "cooling", "ok", "low"]
    assert not led.session.expectation.question.startswith("first-split")


def test_weather_that_was_told_is_not_asked(tmp_path):
    led = begun(
        tmp_path, "not cold enough", work_done_lately__history="by itself", complaint_mode__mode="in cooling",
        first_split_cooling__inlet="82 F", first_split_cooling__outlet="70 F",
    )  # fmt: skip
    led.go_on("complaint-mode.mode")
    led.say("it's ninety degrees fahrenheit outside")
    assert first_questions(led, 2) == ["complaint-mode.mode", "first-split-cooling.inlet"]
    weather = [r.judgement.outcome for r in led.session.state.results if r.check == "visit-outdoor-air"]
    assert weather == ["high"]


def test_what_the_complaint_tells_is_not_asked(tmp_path):
    led = begun(
        tmp_path, "it does not heat", work_done_lately__history="by itself", aside__reports="nothing",
        first_split_heating__inlet="20 celsius", first_split_heating__outlet="24 celsius",
    )  # fmt: skip
    assert first_questions(led, 5) == [
        "work-done-lately.history", "aside.reports", "visit-outdoor-air.air",
        "first-split-heating.inlet", "first-split-heating.outlet",
    ]  # fmt: skip


def test_a_report_of_the_display_is_learnt_from(tmp_path):
    led = begun(tmp_path, "the compressor never starts", work_done_lately__history="by itself")
    led.go_on("aside.reports")
    said = led.say("communication fault")
    assert "no-communication" in led.session.state.symptoms
    assert "The indoor unit hears nothing from the outdoor unit." in said
    assert led.session.expectation.question != "aside.reports"


def test_a_dark_display_is_asked_nothing_first(tmp_path):
    led = begun(tmp_path, "the display stays dark")
    first = {f"{one.check}." for one in load().first_questions if one.check}
    assert not led.session.expectation.question.startswith(("aside.", *first))


def test_the_breaker_is_asked_once_and_kept_with_the_unit(tmp_path):
    led = begun(tmp_path, "the breaker trips after a few minutes", work_done_lately__history="by itself")
    led.go_on("aside.plate-breaker-a")
    led.say("25 amps")
    assert led.session.state.job.plate.breaker_a == 25
    assert not led.session.state.job.aside
    led.leave()
    again = Technician(led.journal, so=led.so)
    again.arrive(DAY)
    again.say("Old Dairy", "new visit")
    assert again.session.state.job.recalled is not None
    assert again.session.state.job.recalled.units[0].plate.breaker_a == 25


def test_skipped_first_questions_do_not_come_again(tmp_path):
    led = begun(tmp_path, "not cold enough")
    for _ in range(3):
        led.say("skip")
    skipped = led.session.state.skipped
    assert skipped[:2] == ("work-done-lately", "complaint-mode")
    assert not led.session.expectation.question.startswith(("work-done-lately", "complaint-mode"))


def test_the_mode_that_was_told_decides_the_proof():
    library = load()
    assert general_proof(library, ("weak-output",), [("complaint-mode", "heating")])[0] == "commission-split-heating"
    assert general_proof(library, ("weak-output",), [("complaint-mode", "both")])[0] == "commission-split-cooling"


def test_the_first_split_tells_what_the_proof_tells():
    checks = load().checks
    assert checks["first-split-cooling"].tells == checks["commission-split-cooling"].tells


def test_no_complaint_is_asked_more_than_a_few(tmp_path):
    library = load()
    asked = [symptom for one in library.first_questions for symptom in one.of]
    assert max(asked.count(symptom) for symptom in asked) <= MOST_QUESTIONS


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("questions: [{check: no-such-check, of: [weak-output]}]", "there is no check “no-such-check”"),
        ("questions: [{reports: true, of: [no-such-symptom]}]", "there is no symptom “no-such-symptom”"),
        ("questions: [{reports: true, check: complaint-mode, of: [weak-output]}]", "one of check, plate and reports"),
        ("questions:\n" + "  - {reports: true, of: [weak-output]}\n" * 6, "more than 5 questions of “weak-output”"),
    ],
)
def test_a_wrong_list_is_refused_in_one_sentence(tmp_path, text, what):
    file = tmp_path / "opening.yaml"
    file.write_text(text, encoding="utf-8")
    library = load()
    with pytest.raises(LibraryError, match=what):
        questions_of(read_as(Opening, file), file, library.checks, library.symptoms)
