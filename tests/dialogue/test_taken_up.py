"""What could not be answered comes once more when it decides; what a check prepares is led to; dead tests stand."""

import pytest

from assistant.dialogue import facts as f
from assistant.dialogue.searching import barred_now, since_power, taken_off_before
from assistant.dialogue.state import Result, Stage
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Cannot, Indication, Text
from assistant.library.demand import procedures
from assistant.messages.message import message
from assistant.reasoning.judgement import Judgement


@pytest.fixture
def draughty(visit):
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="draught-at-wall"))
    return visit


def unable_to_the_end(visit):
    """Understand every caution and be unable to answer every check until the search is over."""
    for _ in range(300):
        if visit.state.stage is not Stage.CHECK:
            return
        visit.understood()
        run = visit.state.run
        procedure = run is not None and run.check in procedures(visit.context.library)
        if procedure:
            visit.command("skip")
        else:
            visit.say(Cannot(reason="cant-reach"))
    pytest.fail("the search does not end")


def test_what_could_not_be_answered_is_asked_once_more_before_giving_up(draughty):
    unable_to_the_end(draughty)
    taken = [fact.check for fact in draughty.facts if isinstance(fact, f.CheckAskedFor) and fact.taken_up]
    assert taken
    assert len(taken) == len(set(taken))
    again = [fact for fact in draughty.facts if isinstance(fact, f.CheckStarted) and fact.check == taken[0]]
    assert len(again) == 2
    assert again[-1].reason == message("reason-taken-up")


def test_what_was_skipped_on_purpose_is_not_asked_again(draughty):
    for _ in range(300):
        if draughty.state.stage is not Stage.CHECK:
            break
        draughty.understood()
        draughty.command("skip")
    assert not [fact for fact in draughty.facts if isinstance(fact, f.CheckAskedFor) and fact.taken_up]


def test_a_check_that_another_prepares_is_not_barred_by_what_that_takes_off(diagnosing):
    """The magnet is put on while it is locked out; the test with it must not count as barred before."""
    turn = Turn(diagnosing.context, diagnosing.state, 0.0)
    assert taken_off_before(turn, "eev-magnet-turn", frozenset()) >= {"valve-coil"}
    assert "eev-magnet-turn" not in barred_now(turn)
    # Once that was done and put back, it is: nobody is to pull it off again under power.
    assert taken_off_before(turn, "eev-magnet-turn", frozenset({"eev-magnet-set"})) == frozenset()


def judged(check, outcome):
    judgement = Judgement(
        outcome=outcome, chances=((outcome, 1.0),), verdict="pass", says=message("in-words", words="x")
    )
    return Result(check=check, role="diagnosis", answers=(), judgement=judgement)


@pytest.mark.parametrize(("restored", "left"), [("trips", ("compressor-to-earth",)), ("done", ())])
def test_a_dead_test_stands_until_the_unit_has_had_power(diagnosing, restored, left):
    results = (judged("compressor-to-earth", "ok"), judged("restore-power", restored))
    state = diagnosing.state.model_copy(update={"results": results})
    since = since_power(Turn(diagnosing.context, state, 0.0))
    assert tuple(check for check in since if check == "compressor-to-earth") == left


def test_what_was_just_left_out_is_not_asked_again_at_once(draughty):
    """Two others come first, if there are any: nobody who cannot reach it now can reach it in the next breath."""
    asked = []
    for _ in range(40):
        if draughty.state.stage is not Stage.CHECK or len(asked) == 4:
            break
        draughty.understood()
        run = draughty.state.run
        assert run is not None
        asked.append(run.check)
        procedure = run.check in procedures(draughty.context.library)
        draughty.command("skip") if procedure else draughty.say(Cannot(reason="cant-reach"))
    assert len(asked) == len(set(asked)) == 4
