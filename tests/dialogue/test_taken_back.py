"""An answer that gave safety and is corrected gives none; a number that nobody can judge gives none either."""

import pytest

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import fold
from assistant.language.meaning import Command, Correction, Finding, Heard, Text, Told, ToldAnswer
from tests.dialogue.test_hazards import grounded, reach, reach_warm, standing  # noqa: F401

HIGH = 3.8e15
EARS = (("one", "words"), ("two", "words"))


def latched(visit, hazard, check, *good):
    raised = f.HazardRaised(hazard=hazard, by=check, cleared_by=((check, good),))
    visit.state = fold([raised], visit.state)


def answered(visit, check, choice):
    """Ask for a check, go there, and answer its question."""
    visit.command("check", check)
    reach(visit, check)
    visit.choose(choice)


def test_an_insulation_that_no_tester_can_read_frees_no_power(grounded):  # noqa: F811
    visit = grounded
    visit.state = fold([f.RepairDone(suspect="compressor-earthed", done=True)], visit.state)
    visit.command("check", "compressor-to-earth")
    reach_warm(visit)
    visit.read(HIGH)
    assert "insulation-low" in standing(visit)


@pytest.mark.parametrize("volts", [2.02e6])
def test_an_insulation_on_the_limit_itself_frees_no_power(grounded, volts):  # noqa: F811
    visit = grounded
    visit.state = fold([f.RepairDone(suspect="compressor-earthed", done=True)], visit.state)
    visit.command("check", "compressor-to-earth")
    reach_warm(visit)
    visit.read(volts)
    last = visit.state.results[-1]
    assert last.check == "compressor-to-earth"
    assert last.judgement.verdict == "undecided"
    assert "insulation-low" in standing(visit)


def test_what_freed_from_a_hazard_and_is_corrected_lets_it_stand_again(diagnosing):
    visit = diagnosing
    latched(visit, "gas-in-room", "room-aired", "silent")
    visit.command("check", "filter-look")
    assert visit.question.startswith("room-aired")
    visit.choose("yes")
    assert not standing(visit)
    assert [item.hazard for item in visit.state.cleared] == ["gas-in-room"]
    visit.say(Correction(meaning=Finding(choice="no")))
    assert "gas-in-room" in standing(visit)


def test_what_the_circuit_holds_and_is_corrected_is_in_doubt(diagnosing):
    visit = diagnosing
    visit.state = visit.state.model_copy(update={"circuit": ("charged", "opened")})
    visit.command("check", "bus-volts")
    reach(visit, "circuit-told")
    visit.choose("charged")
    assert visit.state.circuit == ("charged",)
    visit.understood()
    visit.say(Correction(meaning=Finding(choice="opened")))
    assert set(visit.state.circuit) == {"charged", "opened"}


def test_what_was_not_put_back_after_all_is_off(diagnosing):
    visit = diagnosing
    visit.command("check", "winding-resistance")
    visit.locked_out()
    visit.state = fold([f.TakenOff(things=("compressor-leads",), places=("outdoor",), by="here")], visit.state)
    visit.command("check", "bus-volts")
    reach(visit, "put-back")
    visit.choose("done")
    assert "compressor-leads" not in {item.thing for item in visit.state.off}
    visit.understood()
    visit.say(Correction(meaning=Finding(choice="cannot")))
    assert "compressor-leads" in {item.thing for item in visit.state.off}


def test_no_to_the_end_of_the_visit_is_no_answer_to_its_check(diagnosing):
    visit = diagnosing
    check = visit.state.run.check
    visit.command("finish")
    near = (Command(name="go-back"), Finding(choice="no"))
    visit.hear(Heard(words="words", meaning=near[0], options=near, trust="confirm", ears=EARS))
    visit.choose("option-2")
    visit.choose("no")
    assert visit.state.run.check == check
    assert not visit.state.run.answers


def test_a_lock_that_may_hang_yet_is_told_at_the_end(diagnosing):
    """Gone back over or left alone for long, it counts for nothing, and is no less there."""
    visit = diagnosing
    visit.command("check", "winding-resistance")
    visit.locked_out()
    visit.command("go-back")
    assert not visit.state.power.locked
    visit.command("finish")
    visit.choose("yes")
    if visit.question == "put-back.state":
        visit.choose("done")
    visit.choose("nothing")
    assert visit.state.closing
    assert visit.says[0] == "A lock may still hang there. Whose it is takes it off."


def test_what_an_answer_should_be_is_answered_before_what_is_asked_beside_the_visit(visit):
    """Which zone a room is waits meanwhile, and is asked again after it."""
    visit.say(Text(words="mill lane"))
    visit.choose("lantern-hill-trio")
    told = ToldAnswer(question="filter-look.filter", answer=Finding(choice="clear"))
    visit.say(Told(facts=(told,)))
    visit.choose("room:small bathroom")
    visit.command("correction")
    assert visit.says[-1] == "The last answer was it is clear. What should it be?"
    visit.choose("blocked")
    assert visit.state.told[-1].answer == Finding(choice="blocked")
    assert visit.says[-1] == "Small bathroom: which zone is that?"
