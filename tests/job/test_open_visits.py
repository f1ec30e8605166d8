"""Several visits are open: which one goes on is chosen by voice, by its site and its unit."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.visit.journal import Journal
from assistant.visit.session import Session
from tests.job.technician import Technician

MORNING, NOON = datetime(2026, 3, 2, 9, tzinfo=UTC), datetime(2026, 3, 2, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def morning(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """At Quay Office two visits are open, to two units: their journal."""
    path = tmp_path_factory.mktemp("morning") / "journal.sqlite"
    journal = Journal(path)
    for lines in (
        ("Quay Office", "copper wren solo", "leaf lamp blinks slowly"),
        ("Quay Office", "no", "lantern hill trio", "zone two", "not cold enough"),
    ):
        rosa = Technician(journal)
        rosa.arrive(MORNING)
        rosa.say(*lines)
        rosa.leave()
    journal.close()
    return path


@pytest.fixture
def journal(morning: Path, tmp_path: Path) -> Journal:
    """A copy of that morning's."""
    path = tmp_path / "journal.sqlite"
    shutil.copy(morning, path)
    return Journal(path)


def arrived(journal: Journal, name: str = "Rosa Lind") -> Technician:
    led = Technician(journal, name=name)
    led.arrive(NOON)
    return led


def unit(led: Technician) -> str:
    assert led.session is not None
    return led.session.state.job.plate.called


def test_at_a_site_its_open_visits_are_offered_by_unit(journal):
    led = arrived(journal)
    new = led.session.visit
    [asked] = led.say("Quay Office")
    assert asked == (
        "Open here: Lantern Hill Trio, Rosa Lind, 2 March 2026; Copper Wren Solo, Rosa Lind, 2 March 2026. "
        "Which one goes on, or a new visit?"
    )
    said = led.say("copper wren solo")
    assert "The visit goes on where it stopped." in said
    assert unit(led) == "Copper Wren Solo"
    assert led.session.state.symptoms
    assert led.session.visit != new
    row = journal.row(new)
    assert row.closed
    assert row.standing.outcome == "went-over"
    led.leave()


@pytest.mark.parametrize(
    "words", ["go on with lantern hill trio", "continue with the lantern hill", "go on with quay office"]
)
def test_the_first_question_takes_the_open_visit_at_once(journal, words):
    led = arrived(journal)
    led.say(words)
    assert unit(led) == "Lantern Hill Trio"
    assert led.session.state.symptoms == ("weak-output",)
    led.say("note: key is at the desk")
    assert led.session.state.job.ledger[0].entry.text == "key is at the desk"
    assert any(fact.kind == "ledger-noted" for fact in led.facts)
    led.leave()


def test_a_colleague_who_goes_on_takes_over(journal):
    led = arrived(journal, "Sam Ortiz")
    said = led.say("go on with copper wren solo")
    assert "Sam Ortiz goes on from here." in said
    assert led.session.state.job.technicians == ("Rosa Lind", "Sam Ortiz")
    led.leave()


def test_a_new_visit_at_a_site_with_open_ones(journal):
    led = arrived(journal)
    led.say("Quay Office", "new visit")
    assert led.session.state.note("site") == "Quay Office"
    assert led.session.expectation.question == "visit.profile"
    assert not led.session.closed
    led.leave()


def test_a_visit_that_another_program_writes_is_told_and_this_one_goes_on(journal):
    wanted = next(row.id for row in journal.open_visits() if row.standing.unit == "Copper Wren Solo")
    other = Session.resume(arrived(journal).session.context, journal, wanted)
    led = arrived(journal)
    said = led.say("go on with copper wren solo")
    assert "is under way in another program" in said[0]
    assert led.session.expectation.question == "visit.site"
    assert not led.session.closed
    other.close()
    led.leave()


def test_old_visits_that_ended_are_not_offered(journal):
    led = arrived(journal)
    led.say("go on with copper wren solo", "finish", "yes")
    led.go_on()
    led.leave()
    led = arrived(journal)
    [asked] = led.say("Quay Office")
    assert asked == "A visit is open here: Lantern Hill Trio, Rosa Lind, 2 March 2026. Go on with it?"
    led.leave()
