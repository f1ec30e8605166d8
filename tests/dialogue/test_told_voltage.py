"""A voltage told in passing while the lock hangs, and then corrected, counts as there like one told at once."""

import pytest

from assistant.language.meaning import Correction, Indication, Reading, Readings, Text, Told, ToldAnswer
from tests.dialogue.test_hazards import standing


def volts(value):
    return Readings(items=(Reading(quantity="voltage_ac", value=value, spoken_value=value, spoken_unit="V"),))


def tell(visit, question, value):
    visit.say(Told(facts=(ToldAnswer(question=question, answer=volts(value)),)))


def is_dead(visit):
    return visit.state.power.at("outdoor") == "proved-dead"


@pytest.fixture
def hands_in(proving_dead):
    proving_dead.dead()
    proving_dead.command("check", "winding-resistance")
    proving_dead.understood()
    return proving_dead


@pytest.mark.parametrize("question", ["supply-volts.voltage", "supply-drop.idle"])  # judged at once; half of a check
@pytest.mark.parametrize("in_two_breaths", [False, True])
def test_a_told_voltage_that_is_corrected_upwards_counts_as_live(hands_in, question, in_two_breaths):
    tell(hands_in, question, 2.3)
    assert is_dead(hands_in)
    if in_two_breaths:
        hands_in.command("correction")
        hands_in.say(volts(68.9))
    else:
        hands_in.say(Correction(meaning=volts(68.9)))
    assert not hands_in.state.power.locked
    assert any("Count it as live" in text for text in hands_in.says)
    hands_in.understood()
    assert hands_in.question == "lock-out-power.state"


def test_one_that_is_corrected_to_nothing_takes_nothing(hands_in):
    tell(hands_in, "supply-volts.voltage", 2.3)
    hands_in.say(Correction(meaning=volts(0.4)))
    assert is_dead(hands_in)


def test_what_is_told_while_a_plate_is_asked_for_bars_at_once(visit):
    visit.say(Text(words="mill lane"))
    visit.choose("no-profile")
    visit.choose("three-phase-400")
    visit.choose("R410A")
    visit.say(Indication(choice="lights-dim"))
    assert visit.state.job.aside
    between = (("line-neutral", 180.0), ("line-earth", 235.0))
    items = tuple(
        Reading(quantity="voltage_ac", value=value, spoken_value=value, spoken_unit="V", place=place)
        for place, value in between
    )
    visit.say(Told(facts=(ToldAnswer(question="supply-neutral.voltages", answer=Readings(items=items)),)))
    assert standing(visit) == {"neutral-open"}
