"""What a person says besides plain answers: near meanings, reasons why not, and facts nobody asked for."""

import pytest

from assistant.dialogue.step import Words, heard_in
from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Command,
    Correction,
    Finding,
    Heard,
    Indication,
    Reading,
    Readings,
    Text,
    Told,
    ToldAnswer,
)
from assistant.visit.session import typed as typed_line


def typed(meaning, options=(), trust="sure"):
    return Heard(
        words="words", meaning=meaning, trust=trust, options=options, ears=(("typed", "words"),), probability=1.0
    )


def hear(visit, heard):
    visit.now_s += 5
    return visit.do(Words(heard, visit.now_s))


@pytest.fixture
def asked(visit):
    """A visit that asks what the unit shows."""
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("copper-wren-solo")
    return visit


EITHER = (Indication(choice="indoor-fan-still"), Indication(choice="indoor-fan-weak"))


def either(visit):
    return hear(visit, typed(EITHER[0], EITHER, "confirm"))


def test_an_either_or_is_answered_by_its_place(asked):
    either(asked)
    assert asked.says == ["Did you mean the indoor fan does not turn, or little air comes out of the indoor unit?"]
    assert asked.question == "either"
    asked.choose("option-2")
    assert asked.state.symptoms == ("indoor-fan-weak",)


def test_of_two_symptoms_both_may_have_been_meant(asked):
    both = Told(answer=EITHER[0], facts=(EITHER[1],))
    hear(asked, typed(EITHER[0], (*EITHER, both), "confirm"))
    assert asked.says == [
        "Did you mean the indoor fan does not turn, little air comes out of the indoor unit, or both?"
    ]
    hear(asked, typed_line("both", heard_in(asked.context, asked.state)))
    assert sorted(asked.state.symptoms) == ["indoor-fan-still", "indoor-fan-weak"]


def test_an_either_or_is_answered_by_an_options_own_words(asked):
    either(asked)
    asked.choose("indoor-fan-still")
    assert asked.state.symptoms == ("indoor-fan-still",)


def test_neither_asks_the_question_again(asked):
    either(asked)
    asked.choose("neither")
    assert asked.state.symptoms == ()
    assert asked.says[-1] == "What does the unit show or do?"


def test_a_request_leaves_the_either_or_open(asked):
    either(asked)
    asked.command("is-it-safe")
    assert asked.says[-1].startswith("Did you mean")
    assert asked.question == "either"


def test_a_question_back_leaves_the_either_or_open(asked):
    either(asked)
    hear(asked, typed(BackQuestion(topic="how-sure")))
    assert asked.says[-1].startswith("Did you mean")
    asked.choose("option-2")
    assert asked.state.symptoms == ("indoor-fan-weak",)


def test_yes_to_an_either_or_means_nothing(asked):
    either(asked)
    asked.choose("yes")
    assert asked.says == ["Say the first, the second, or neither."]
    assert asked.state.symptoms == ()


METERS = ("winding-resistance.meter", "winding-at-pins.meter")


def of_one_name(*questions):
    """The same answer to each of these questions, heard in one sentence."""
    options = tuple(Told(facts=(fact(question, "low-ohm"),)) for question in questions)
    return typed(options[0], options, "confirm")


def test_two_meanings_of_one_name_are_told_apart_by_their_check(diagnosing):
    hear(diagnosing, of_one_name(*METERS))
    assert diagnosing.says == [
        "Did you mean low ohm meter for the three windings against each other, "
        "or low ohm meter for the windings once more, at the compressor's own pins?"
    ]


def test_two_meanings_that_nobody_can_tell_apart_are_asked_as_one(diagnosing):
    hear(diagnosing, of_one_name(METERS[0], METERS[0]))
    assert not diagnosing.says[0].startswith("Did you mean")
    assert diagnosing.question != "either"


def test_what_cannot_be_answered_is_left_out_with_its_reason(diagnosing):
    check = diagnosing.state.run.check
    hear(diagnosing, typed(Cannot(reason="cant-reach")))
    skipped = next(fact for fact in diagnosing.facts if fact.kind == "check-skipped")
    assert (skipped.check, skipped.reason) == (check, "cant-reach")
    assert diagnosing.state.run.check != check


def test_no_step_of_the_energy_is_left_out_by_not_knowing(proving_dead):
    check = proving_dead.state.run.check
    hear(proving_dead, typed(Cannot(reason="dont-know")))
    assert proving_dead.state.run.check == check
    assert not [fact for fact in proving_dead.facts if fact.kind == "check-skipped"]


def fact(question, choice):
    return ToldAnswer(question=question, answer=Finding(choice=choice))


def test_a_fact_told_answers_its_check(diagnosing):
    run = diagnosing.state.run.check
    hear(diagnosing, typed(Told(facts=(fact("filter-look.filter", "clear"),))))
    assert diagnosing.says[0] == "Noted: the air filter against the light, it is clear."
    assert [result.check for result in diagnosing.state.results] == ["filter-look"]
    assert diagnosing.state.results[0].role == "told"
    assert diagnosing.state.run.check == run  # the open question stays open


def test_a_symptom_told_later_joins_the_others(diagnosing):
    hear(diagnosing, typed(Told(facts=(Indication(choice="ice-on-line"),))))
    assert "ice-on-line" in diagnosing.state.symptoms


def test_an_answer_with_an_addition_gives_both(asked):
    told = Told(answer=Indication(choice="weak-output"), facts=(fact("filter-look.filter", "blocked"),))
    hear(asked, typed(told))
    assert asked.state.symptoms == ("weak-output",)
    assert any(result.check == "filter-look" for result in asked.state.results)


def test_a_told_reading_that_no_place_gives_is_not_noted(diagnosing):
    item = Reading(quantity="voltage_ac", value=9000.0, spoken_value=9000.0, spoken_unit="V")
    hear(diagnosing, typed(Told(facts=(ToldAnswer(question="supply-volts.voltage", answer=Readings(items=(item,))),))))
    assert diagnosing.state.told == ()
    assert diagnosing.says[0].startswith("Not noted")


def test_the_energy_state_is_never_told(diagnosing):
    hear(diagnosing, typed(Told(facts=(fact("lock-out-power.state", "done"),))))
    assert diagnosing.state.energy == "live"
    assert diagnosing.state.told == ()


def test_a_told_fact_is_corrected_as_the_last_thing_said(diagnosing):
    hear(diagnosing, typed(Told(facts=(fact("filter-look.filter", "clear"),))))
    hear(diagnosing, typed(Correction(meaning=Finding(choice="blocked"))))
    (result,) = (one for one in diagnosing.state.results if one.check == "filter-look")
    assert result.answers[-1].answer == Finding(choice="blocked")
    assert result.judgement.outcome == "blocked"


def test_a_reading_told_is_known_when_it_is_asked_after(diagnosing):
    item = Reading(quantity="voltage_ac", value=200.0, spoken_value=200.0, spoken_unit="V")
    told = ToldAnswer(question="supply-drop.loaded", answer=Readings(items=(item,)))  # the other half is not known yet
    hear(diagnosing, typed(Told(facts=(told,))))
    hear(diagnosing, typed(BackQuestion(topic="what-did-i-say", argument="supply under load")))
    assert "200 V" in diagnosing.says[0]


def test_no_proof_of_a_repair_is_told(diagnosing):
    hear(diagnosing, typed(Told(facts=(fact("commission-complaint-gone.gone", "yes"),))))
    assert diagnosing.state.told == ()
    assert diagnosing.state.results == ()


def test_going_back_takes_a_told_fact_back(diagnosing):
    hear(diagnosing, typed(Told(facts=(fact("filter-look.filter", "clear"),))))
    diagnosing.command("go-back")
    assert diagnosing.state.results == ()


def test_words_heard_well_are_answered_with_what_can_be_said(asked):
    hear(asked, typed(None, trust="again"))
    assert "You can answer" in asked.says[0]


def test_talk_between_others_is_left_alone(asked):
    ears = (("whisper", "hand me the rag"), ("moonshine", "hand me the rag"))
    hear(asked, Heard(words="hand me the rag", meaning=None, trust="again", talk=True, ears=ears, probability=0.0))
    assert asked.says == []


def test_understood_where_nothing_waits_for_it_is_answered(asked):
    hear(asked, typed(Command(name="acknowledged")))
    assert asked.says[0] == "Nothing waits for that now."
    assert not asked.state.misheard


def test_two_questions_back_are_told_apart(asked):
    which = (BackQuestion(topic="which-pins"), BackQuestion(topic="expected-value"))
    hear(asked, typed(which[0], which, "confirm"))
    assert asked.says == ["Did you mean which pins, or what it should read?"]


# ---- said anew instead of yes, no or which ----------------------------------------------------------------------


def in_words(visit, line):
    """``line`` as a keyboard gives it, understood by the grammar alone."""
    return hear(visit, typed_line(line, heard_in(visit.context, visit.state)))


def test_an_either_or_shuts_no_answer_and_no_request_out(asked):
    either(asked)
    in_words(asked, "check the breaker")
    assert asked.state.unconfirmed is None
    assert asked.state.run is not None
    assert asked.state.run.check == "breaker-look"


def test_an_either_or_is_answered_by_another_answer_to_the_same_question(asked):
    either(asked)
    in_words(asked, "the outdoor fan does not turn")
    assert asked.state.symptoms == ("outdoor-fan-still",)


def test_who_says_it_anew_need_not_say_no_first(visit):
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("no-profile")
    visit.say(Finding(choice="split-phase-240"), trust="confirm", doubt="It may be another.")
    assert visit.question == "confirm"
    in_words(visit, "three phase")
    assert visit.says[0] == "Three phase."


def test_a_reading_at_an_either_or_is_a_reading_of_the_question_beneath(diagnosing):
    diagnosing.command("check", "mains-dead-outdoor")
    diagnosing.locked_out()
    first, second = BackQuestion(topic="where-is-it"), BackQuestion(topic="what-is-normal")
    hear(diagnosing, typed(first, (first, second), "confirm"))
    assert diagnosing.question == "either"
    in_words(diagnosing, "zero point two volts line to line and zero point one to ground")
    assert diagnosing.says[:2] == ["Line to line: 0.2 V.", "Line to ground: 0.1 V."]


def test_who_names_none_of_them_twice_hears_the_question_itself_again(asked):
    either(asked)
    in_words(asked, "mumble")
    assert asked.says == ["Say the first, the second, or neither."]
    in_words(asked, "mumble")
    assert asked.says == ["Not that, then.", "What does the unit show or do?"]
    assert asked.question == "visit.indication"
    assert asked.state.symptoms == ()


def test_nothing_at_an_either_or_is_neither(asked):
    either(asked)
    in_words(asked, "nothing")
    assert asked.says[0] == "Not that, then."
    assert asked.state.symptoms == ()


def test_what_the_profile_calls_a_fault_is_told_while_something_else_is_asked(asked):
    asked.say(Indication(choice="blows-cold-heating"))
    assert asked.question != "visit.indication"
    in_words(asked, "the leaf lamp is blinking slowly")
    assert asked.says[0].startswith("Leaf lamp blinks slowly")
    noted = [fact for fact in asked.facts if fact.kind == "indication-noted"][-1]
    shown = asked.context.library.profiles["copper-wren-solo"].indications[0].shown
    assert (noted.symptom, noted.shown) == ("no-communication", shown)
