"""How a unit was left is met by the next visit to it, whoever makes it: hazards bar, what is off is off."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from assistant.library.loader import load
from assistant.record.build import build
from assistant.visit.journal import Journal
from tests.job.technician import Technician

FIRST, NEXT = datetime(2026, 3, 2, 9, tzinfo=UTC), datetime(2026, 3, 9, 9, tzinfo=UTC)
SO = {
    "visit.site": "Alder House",
    "site-new.*": "yes",
    "visit.profile": "copper wren solo",
    "visit.symptom": "leaf lamp blinks slowly",
    "compressor-to-earth.shell": "warm",
}


@pytest.fixture
def left(tmp_path: Path) -> Technician:
    """A compressor at 0.02 megohms to ground, its leads off; the visit is left open."""
    led = Technician(Journal(tmp_path / "journal.sqlite"), so=SO)
    led.arrive(FIRST)
    led.say("Alder House", "copper wren solo", "leaf lamp blinks slowly", "check compressor to ground")
    led.go_on("compressor-to-earth.*")
    led.say("warm", "0.02 megohms")
    assert led.session is not None
    assert {item.hazard for item in led.session.state.hazards} == {"insulation-low"}
    led.leave()
    return led


def again(left: Technician) -> list[str]:
    """Another technician comes to the same unit; what is said on the way to the first question about the fault."""
    other = Technician(left.journal, name="Sam Ortiz", so=SO)
    other.arrive(NEXT)
    other.say("Alder House")
    said = [*other.say("new visit"), *other.say("copper wren solo")]
    left.session = other.session
    return said


def test_a_hazard_bars_the_next_visit_too(left):
    said = again(left)
    assert "When it was left: insulation to ground below its limit." in said
    state = left.session.state
    assert {item.hazard for item in state.hazards} == {"insulation-low"}
    assert "compressor-leads" in {item.thing for item in state.off}
    left.say("leaf lamp blinks slowly")
    assert any("Barred" in text for text in left.say("check supply volts"))


def test_of_the_technicians_lock_others_are_told_in_their_words(left):
    [row] = left.journal.visits()
    left.resume(row.id, timedelta(minutes=1))
    left.go_on("signal-cable-loop.*")
    left.say("finish", "yes")
    left.go_on()
    told = " ".join(build(left.journal.row(row.id), left.journal.facts(row.id), load()).left.sentences)
    assert "Only the one whose lock it is takes it off." in told
    assert "your" not in told.lower()


def test_the_list_and_a_resumed_visit_say_first_how_it_is_left(left):
    [row] = left.journal.visits()
    assert row.standing is not None
    assert row.standing.left[0] == "Barred: insulation to ground below its limit."
    assert row.standing.left[1].startswith("Left isolated and locked, proved dead where it was measured")
    left.resume(row.id, timedelta(hours=2))
    assert left.replies[1] == "Barred: insulation to ground below its limit."
    assert left.replies[2] == "Left isolated and locked, and to be proved dead anew."
