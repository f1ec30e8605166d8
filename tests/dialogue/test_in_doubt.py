"""What would warn, were it so, is not passed by: asked back and not answered, or read in a check that is left."""

import pytest

from assistant.language.meaning import Cannot, Command, Finding, Readings
from tests.dialogue.conftest import PROOFS
from tests.dialogue.test_hazards import standing

AFTER_IT = ["skip", "finish", "go-back", "correction", "ready", "done", "job-maintenance", "plate", "power-back"]


@pytest.fixture
def locking(diagnosing):
    diagnosing.command("check", "winding-resistance")
    diagnosing.understood()
    assert diagnosing.question == "lock-out-power.state"
    return diagnosing


@pytest.mark.parametrize("name", AFTER_IT)
@pytest.mark.parametrize("trust", ["sure", "confirm"])
def test_no_request_passes_a_lock_that_cannot_be_hung(locking, name, trust):
    locking.say(Finding(choice="cannot"), trust="confirm")
    asked = locking.says[-1]
    locking.say(Command(name=name), trust=trust)
    assert locking.says[-1] == asked
    locking.choose("yes")
    assert standing(locking) == {"cannot-lock"}


def test_nor_does_what_is_not_known_or_a_doubtful_request(locking):
    locking.say(Finding(choice="cannot"), trust="confirm")
    locking.say(Cannot(reason="dont-know"))
    locking.choose("yes")
    assert standing(locking) == {"cannot-lock"}


def test_a_no_lets_it_go(locking):
    locking.say(Finding(choice="cannot"), trust="confirm")
    locking.choose("no")
    locking.command("skip")
    assert not standing(locking)


def test_what_would_not_warn_is_dropped_by_a_request(locking):
    locking.say(Finding(choice="done"), trust="confirm")
    locking.command("skip")
    assert locking.state.unconfirmed is None


@pytest.fixture
def at_module(proving_dead):
    """At the upper row of the power module's diodes, its first reading a short."""
    visit = proving_dead
    visit.dead()
    visit.command("check", "module-diodes")
    for _ in range(6):
        visit.understood()
        visit.dead(volts=0.2) if visit.state.run and visit.state.run.check in PROOFS else None
        if visit.state.run.check == "bus-lower":
            visit.read(0.2)
    visit.understood()
    visit.say(Readings(items=visit.readings(0.0).items[:1]))
    assert visit.question.startswith("module-diodes.upper")
    return visit


@pytest.mark.parametrize("name", ["skip", "finish", "go-back", "winding-resistance"])
def test_a_short_that_was_read_bars_power_though_the_check_is_left(at_module, name):
    visit = at_module
    visit.command("check", name) if "-" in name and name != "go-back" else visit.command(name)
    if visit.state.finishing:
        visit.choose("yes")
    assert "shorted-power-stage" in standing(visit)
    latched = next(item for item in visit.state.hazards if item.hazard == "shorted-power-stage")
    assert latched.disputed is (name == "go-back")
