"""Power that comes back by itself or by another hand: whoever tells of it, hands come off, nothing counts as dead."""

import re

import pytest

from assistant.dialogue.step import Words, heard_in
from assistant.language.net import default_net
from assistant.visit.session import typed

TOLD = (
    "the power is back on",
    "somebody switched it on",
    "i took my lock off",
    "the fan just started",
    "there is voltage here",
    "it is still live",
    "the outdoor unit is running",
    "it is humming",
    "230 volts",
    "i read two hundred thirty volts here",
    "i had to take my lock off for a sec",
    "somebody cut the lock",
    "the padlock's been removed",
    "the boss unlocked the disconnect",
    "took off my tag for a minute",
    "the meter was dead all along",
    "turns out the meter wasn't on",
)
#: None of these is an answer to "say locked when dead".
NOT_LOCKED = (
    "it is on",
    "it is live",
    "230 volts",
    "the lock is off",
    "i read 230 volts here",
    "the power is back on",
    "0.4",
    "is it done",
    "i am not done",
    "almost",
    "the customer is here",
)


def tell(visit, line):
    visit.now_s += 5
    heard = typed(line, heard_in(visit.context, visit.state), default_net())
    return visit.do(Words(heard, visit.now_s))


@pytest.fixture
def hands_in(proving_dead):
    proving_dead.dead()
    proving_dead.command("check", "winding-resistance")
    proving_dead.understood()
    assert proving_dead.question.startswith("winding-resistance")
    return proving_dead


@pytest.mark.parametrize("line", TOLD)
def test_what_tells_of_power_takes_all_that_was_shown(hands_in, line):
    tell(hands_in, line)
    assert hands_in.says[0].startswith("Hands off now")
    assert not hands_in.state.power.locked
    assert hands_in.question == "lock-out-power.state"


@pytest.mark.parametrize(
    "line",
    [
        "0.3 volts",
        "power is off",
        "my lock is on",
        "it's locked",
        "the fan was running before",
        "i never took my lock off",
        "i will take my lock off later",
        "the meter is good",
    ],
)
def test_what_tells_of_none_takes_nothing(hands_in, line):
    tell(hands_in, line)
    assert hands_in.state.power.at("outdoor") == "proved-dead"


def test_it_is_heard_in_a_hold_and_beside_a_caution(hands_in):
    hands_in.command("wait")
    tell(hands_in, "the power is back on")
    assert not hands_in.state.power.locked
    hands_in.command("resume")
    hands_in.choose("done")
    assert hands_in.state.acknowledging
    tell(hands_in, "somebody switched it on")
    assert not hands_in.state.power.locked
    assert hands_in.question == "lock-out-power.state"


@pytest.mark.parametrize("line", NOT_LOCKED)
def test_no_lock_is_read_into_words_of_power(diagnosing, line):
    diagnosing.command("check", "winding-resistance")
    tell(diagnosing, line)
    assert not diagnosing.state.power.locked
    assert "locked. right" not in diagnosing.says[0].lower()
    assert not re.search(r"did you mean.*\blocked\b", diagnosing.says[0].lower())


def test_to_lock_is_not_yet_locked(diagnosing):
    diagnosing.command("check", "winding-resistance")
    tell(diagnosing, "lock it out")
    assert not diagnosing.state.power.locked


def test_who_is_about_to_lock_hears_the_whole_order_again_in_a_hold_too(diagnosing):
    diagnosing.command("check", "winding-resistance")
    diagnosing.command("wait")
    tell(diagnosing, "the power is back on")
    assert diagnosing.says[0] == "Count the unit as live."
    assert any("lock" in text and "tag" in text for text in diagnosing.says)
    assert diagnosing.state.held


@pytest.mark.parametrize(
    ("line", "locked"), [("power is on", False), ("the filter is new, power it down at night", True)]
)
def test_power_told_where_a_note_is_asked_for_is_no_note(hands_in, line, locked):
    hands_in.command("finish")
    hands_in.choose("yes")
    hands_in.choose("done")  # all back on
    assert hands_in.question == "visit.customer-note"
    tell(hands_in, line)
    assert hands_in.state.power.locked is locked
