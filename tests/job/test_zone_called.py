"""An indoor unit by the room it hangs in: asked once which zone that is, known by its name from then on."""

from datetime import datetime

import pytest

from assistant.language.meaning import Correction, Finding, Heard
from assistant.visit.journal import Journal
from tests.job.technician import Technician


@pytest.fixture
def rosa(tmp_path):
    technician = Technician(Journal(tmp_path / "journal.sqlite"))
    technician.arrive(datetime(2026, 5, 6, 9, 0))
    technician.say("mill cottage", "lantern hill trio")
    return technician


def test_a_room_is_asked_for_its_zone_once_and_kept(rosa):
    rosa.say("it's the one in the master bedroom")
    assert rosa.replies == ["Master bedroom: which zone is that?"]
    rosa.say("zone two")
    assert rosa.session.state.zone == "zone-2"
    assert rosa.session.state.job.plate.zones == ("zone one", "master bedroom", "zone three")
    assert rosa.session.expectation.question == "visit.indication"

    rosa.leave()
    rosa.arrive(datetime(2026, 6, 6, 9, 0))
    rosa.say("mill cottage", "new visit", "lantern hill trio", "the master bedroom")
    assert rosa.session.state.zone == "zone-2"
    assert rosa.session.expectation.question == "visit.indication"


def test_rooms_are_understood_and_not_offered(rosa):
    rosa.say("what can I say")
    assert "You can answer zone one, zone two or zone three." in rosa.replies


def test_whose_room_is_not_known_is_asked_again(rosa):
    rosa.say("the den", "skip")
    assert rosa.session.expectation.question == "visit.zone"
    assert rosa.session.state.job.plate.zones == ("zone one", "zone two", "zone three")


def test_a_correction_of_something_else_is_no_zone(rosa):
    """It once ended the program."""
    rosa.say("the den")
    yes = Correction(meaning=Finding(choice="yes"))
    rosa.session.hear(Heard(words="no, yes", meaning=yes, trust="sure", ears=(("one", "no, yes"),)))
    assert rosa.session.state.job.aside == "zone-called:den"
    assert rosa.session.state.job.plate.zones == ("zone one", "zone two", "zone three")
