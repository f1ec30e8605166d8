"""Who takes over or comes back hears lock and cautions; what is told in passing is taken seriously at any time."""

import pytest

from assistant.dialogue.closing import left_as
from assistant.dialogue.evolve import evolve
from assistant.dialogue.facts import CheckStarted
from assistant.dialogue.state import Off, Stage, VisitState
from assistant.dialogue.step import Resumed
from assistant.language.meaning import Finding, Indication, Text, Told, ToldAnswer
from assistant.messages.catalogue import catalogue


def standing(visit):
    return {item.hazard for item in visit.state.hazards}


def orders_the_lock(visit):
    return any("lock" in text and "tag" in text for text in visit.says)


@pytest.mark.parametrize("by_word", [True, False])
def test_an_order_to_lock_is_said_to_whom_the_lock_is(diagnosing, by_word):
    visit = diagnosing
    visit.command("check", "winding-resistance")
    assert visit.question == "lock-out-power.state"
    if by_word:
        visit.command("take-over")
        visit.say(Text(words="Mara"))
    else:
        visit.do(Resumed(visit.now_s, 20.0, "Mara"))
    assert visit.state.technician == "Mara"
    assert orders_the_lock(visit)
    assert visit.question == "lock-out-power.state"


def test_a_caution_that_another_heard_is_said_to_whom_takes_over(diagnosing):
    visit = diagnosing
    visit.command("check", "winding-resistance")
    visit.choose("done")
    assert visit.state.acknowledging
    visit.do(Resumed(visit.now_s, 20.0, "Mara"))
    assert visit.state.power.locked is False, "the lock is another's"
    assert not visit.state.acknowledging
    assert orders_the_lock(visit)


def test_cautions_of_a_repair_that_waited_over_a_long_hold_are_due_again_from_the_lock(diagnosing):
    visit = diagnosing
    visit.command("check", "winding-resistance")
    visit.locked_out()
    visit.do(Resumed(visit.now_s, 5000.0))
    assert not visit.state.acknowledging
    assert orders_the_lock(visit)
    visit.choose("understood")  # an answer to what is no longer asked acknowledges nothing
    assert visit.question == "lock-out-power.state"


def told(question, choice):
    return Told(facts=(ToldAnswer(question=question, answer=Finding(choice=choice)),))


def test_a_danger_told_while_the_plate_is_asked_bars_the_power(visit):
    visit.say(Text(words="mill lane"))
    visit.choose("copper-wren-solo")
    visit.command("plate")
    assert visit.state.job.aside
    asked = visit.state.job.aside
    visit.say(told("breaker-unit-off.breaker", "trips"))
    assert standing(visit) == {"trips-at-once"}
    assert visit.state.job.aside == asked, "what was open stays open"


def test_a_danger_told_of_what_was_looked_at_before_bars_the_power(diagnosing):
    visit = diagnosing
    visit.say(told("outdoor-board-look.board", "clean"))
    assert [result.check for result in visit.state.results] == ["outdoor-board-look"]
    visit.say(told("outdoor-board-look.board", "heat"))
    assert "burnt-parts" in standing(visit)


def test_what_was_told_long_ago_raises_nothing_again(diagnosing):
    visit = diagnosing
    visit.say(Indication(choice="weak-output"))
    visit.state = visit.state.model_copy(update={"stage": Stage.UNSOLVED})
    visit.say(told("breaker-unit-off.breaker", "trips"))
    assert standing(visit)
    visit.state = visit.state.model_copy(update={"hazards": ()})
    visit.say(told("filter-look.filter", "clear"))
    assert not standing(visit)


def test_a_repair_that_a_check_came_between_is_called_to_mind_again(diagnosing):
    state = diagnosing.state.model_copy(update={"repair_cautioned": ("ladder",)})
    assert evolve(state, CheckStarted(check="drain-water-start", role="asked", reason="asked")).repair_cautioned == ()


def test_all_that_is_off_is_told_in_sentences_that_can_be_followed(context):
    things = tuple(Off(thing=thing, places=("outdoor",)) for thing in context.library.things)
    told = left_as(VisitState(off=things), context.library)
    sentences = [catalogue().words(each, context.library) for each in told]
    assert len(sentences) > 2
    assert all(text.startswith("Left off: ") and len(text.split()) <= 25 for text in sentences)
    for thing in context.library.things.values():
        assert sum(thing.name in text for text in sentences) >= 1


@pytest.mark.parametrize("comes", [("", 5000.0), ("", None), ("Mara", 20.0)])
def test_a_unit_that_was_left_locked_is_switched_on_before_a_live_check(diagnosing, comes):
    visit = diagnosing
    visit.command("check", "winding-resistance")
    visit.locked_out()
    technician, away_s = comes
    visit.do(Resumed(visit.now_s, away_s, technician))
    assert not visit.state.power.locked, "it counts as live"
    visit.command("check", "indoor-display-look")
    visit.understood()
    for _ in range(3):
        if visit.state.run.check == "put-back":
            visit.choose("done")
            visit.understood()
    assert visit.question == "restore-power.state", "a dark display of a unit without power tells nothing"
    visit.choose("done")
    visit.understood()
    assert visit.question.startswith("indoor-display-look")


def test_a_unit_that_was_left_on_is_not_switched_on(diagnosing):
    visit = diagnosing
    visit.do(Resumed(visit.now_s, 5000.0))
    visit.command("check", "indoor-display-look")
    visit.understood()
    assert visit.question.startswith("indoor-display-look")


def test_who_takes_over_and_goes_back_to_a_live_step_says_understood_first(diagnosing):
    """The cautions were said to another, so what is to be done waits for an acknowledgement of one's own."""
    visit = diagnosing
    visit.command("check", "supply-volts")
    visit.understood()
    assert visit.question.startswith("supply-volts")
    probes = visit.context.library.checks["supply-volts"].probes
    visit.read(230.0)
    visit.do(Resumed(visit.now_s, 20.0, "Mara"))
    visit.command("go-back")
    assert visit.state.acknowledging, visit.says
    assert probes not in visit.says
    visit.understood()
    assert probes in visit.says
    assert visit.question.startswith("supply-volts")
