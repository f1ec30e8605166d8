"""People say what is wrong before they are asked: while the unit is being named it is noted, and not asked again."""

from datetime import datetime

import pytest

from assistant.visit.journal import Journal
from tests.job.technician import Technician


@pytest.fixture
def arrived(tmp_path):
    who = Technician(Journal(tmp_path / "journal.sqlite"))
    who.arrive(datetime(2026, 5, 6, 9, 0))
    who.say("Mill Shop")
    yield who
    who.leave()


def test_a_complaint_at_the_supply_is_the_complaint(arrived):
    said = arrived.say("no profile", "it's not cooling at all and the filter is clean")
    assert "Noted: it blows warm air when cooling." in said
    assert arrived.session.expectation.question == "visit.supply"
    arrived.say("two thirty", "four ten")
    state = arrived.session.state
    assert state.symptoms == ("blows-warm-cooling",)
    assert [(result.check, result.role) for result in state.results] == [("filter-look", "told")]
    assert arrived.session.expectation.question not in ("visit.indication", "filter-look.filter")


def test_a_complaint_is_no_name_of_a_unit(arrived):
    arrived.say("one of the heads is dripping water")
    assert arrived.session.state.symptoms == ("water-down-wall",)
    assert arrived.session.expectation.question == "visit.profile"
    arrived.say("hollow creek wall mount", "it won't run and nothing lights up on it")
    assert arrived.session.state.job.aside == "unit-new:hollow creek wall mount"


@pytest.mark.parametrize("name", ["the big ice blue one on the roof", "frost line heat pump", "old dead zone single"])
def test_a_name_that_sounds_of_a_fault_is_a_name(arrived, name):
    arrived.say(name)
    assert arrived.session.state.job.aside == f"unit-new:{name}"
    assert arrived.session.state.symptoms == ()


def test_in_maintenance_what_is_told_opens_no_search(arrived):
    arrived.say("yearly maintenance", "no profile", "two thirty", "four ten")
    assert arrived.session.state.symptoms == ()
    assert arrived.session.state.stage == "course"
