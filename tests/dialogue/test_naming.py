"""Routing by component: what "check the ..." leads to, in the words a technician uses."""

import pytest

from assistant.dialogue.nameable import components
from assistant.language.interpret import interpret
from assistant.language.meaning import Command, Expectation, Text


@pytest.mark.parametrize(
    ("said", "check"),
    [
        ("check the float switch", "drain-float-move"),
        ("look at the breaker", "breaker-look"),
        ("check the breaker", "breaker-look"),
        ("check the outdoor fan", "outdoor-fan-volts"),
        ("check the signal line", "signal-volts"),
        ("check the rectifier", "rectifier-diodes"),
        ("check the leaks", "leak-soap-joints"),
        ("test the drain", "drain-hose-suction"),
    ],
)
def test_a_component_is_named_without_a_question_back(context, said, check):
    understood = interpret(said, Expectation(question="any", checks=components(context.library)))
    assert understood.doubt == ""
    assert understood.meaning == Command(name="check", argument=check)


def test_a_component_of_another_kind_of_unit_leads_to_the_check_of_both_kinds(visit):
    visit.say(Text(words="the bakery"))
    visit.choose("copper-wren-solo")
    visit.command("check", "suspect:power-module-separate")
    assert visit.says[0] == visit.context.library.checks["module-diodes"].title + "."


def test_an_answer_that_nobody_asked_for_is_no_name_of_a_unit(visit):
    visit.say(Text(words="the bakery"))
    visit.say(Text(words="Yes."))
    assert visit.says[0] == "Then say the name again, or spell it."
    assert visit.question == "visit.profile"


def test_a_known_unit_is_known_after_another_name_was_heard(visit):
    visit.say(Text(words="the bakery"))
    visit.say(Text(words="pineapple nine"))
    assert visit.says == ["New unit: pineapple nine. Right? Yes, no, or spell it."]
    visit.say(Text(words="lantern hill trio"))
    assert visit.says == ["Do you mean lantern hill trio?"]
    visit.choose("yes")
    assert visit.says[0] == "Lantern Hill Trio."


@pytest.mark.parametrize("said", ["It's a two zone, no profile.", "I don't have a profile for it."])
def test_no_profile_is_no_profile_in_any_sentence(visit, said):
    visit.say(Text(words="the bakery"))
    visit.say(Text(words=said))
    assert visit.question == "visit.supply"
    assert visit.state.job.plate.make == ""


def test_a_name_refused_and_named_anew_in_one_breath(visit):
    visit.say(Text(words="the bakery"))
    visit.say(Text(words="the copper ren"))
    assert visit.says == ["Do you mean copper wren solo?"]
    visit.say(Text(words="No, it's a Greenfinch Duo."))
    assert visit.says == ["New unit: it's a Greenfinch Duo. Right? Yes, no, or spell it."]
