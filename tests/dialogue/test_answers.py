"""Taking answers: sure, doubtful, out of range, confirmed, corrected, taken back. Exact replies where they matter."""

from assistant.dialogue import facts as f
from assistant.dialogue.step import expected as listened_for
from assistant.language.interpret import interpret
from assistant.language.meaning import Command, Correction, Finding, Heard, Indication, Reading, Readings, Text


def answers(visit):
    return [fact for fact in visit.facts if isinstance(fact, f.AnswerGiven)]


def at_the_bus(visit):
    visit.pass_time(4000)
    assert visit.question == "prove-dead.voltage"
    return visit


def test_a_sure_reading_is_recorded_and_read_back(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(3.8)
    assert answers(visit)[-1].answer.value == 3.8
    assert answers(visit)[-1].how == "two ears"
    assert visit.says[0] == "3.8 V."
    visit.choose("yes")  # the meter tried again
    assert visit.state.power.at("outdoor") == "proved-dead"


def test_a_doubtful_reading_is_recorded_only_after_yes(proving_dead):
    visit = at_the_bus(proving_dead)
    before = len(answers(visit))
    visit.read(3.8, trust="confirm")
    assert len(answers(visit)) == before
    assert visit.says == ["I heard 3.8 V. Right?"]
    assert visit.question == "confirm"
    visit.choose("yes")
    assert answers(visit)[-1].how == "confirmed by voice"
    visit.choose("yes")
    assert visit.state.energy == "proved-dead"


def test_no_discards_it_and_asks_again(proving_dead):
    visit = at_the_bus(proving_dead)
    before = len(answers(visit))
    visit.read(3.8, trust="confirm")
    visit.choose("no")
    assert len(answers(visit)) == before
    assert visit.question == "prove-dead.voltage"
    assert visit.says == ["Not recorded. Say it again, please."]


def test_a_yes_that_was_hardly_heard_confirms_nothing(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(3.8, trust="confirm")
    for trust, chance in (("again", 0.2), ("confirm", 0.4)):
        visit.say(Finding(choice="yes"), trust, chance=chance)
        assert visit.question == "confirm"
        assert visit.says == ["Right or wrong? Say yes or no."]
    visit.say(Finding(choice="yes"), "confirm", chance=0.8)
    assert answers(visit)[-1].how == "confirmed by voice"


def test_a_doubtful_command_said_again_is_obeyed(diagnosing):
    visit = diagnosing
    check = visit.state.run.check
    for _ in range(2):
        visit.say(Command(name="skip"), "confirm", chance=0.7)
    assert check in visit.state.skipped


def test_saying_the_same_again_confirms_and_another_one_replaces(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(38.0, trust="confirm")
    visit.read(3.8, trust="confirm")
    assert visit.says == ["I heard 3.8 V. Right?"]
    visit.read(3.8, trust="confirm")
    assert answers(visit)[-1].answer.value == 3.8
    visit.choose("yes")
    assert visit.state.energy == "proved-dead"


def test_a_finding_said_again_confirms_when_it_was_heard_surely(diagnosing):
    """In the words of a mouth: the phrase is understood where yes or no is asked for."""
    visit = diagnosing
    choice = visit.context.library.checks[visit.state.run.check].ask[0].choices[0]
    before = len(answers(visit))
    for trust in ("confirm", "sure"):
        assert len(answers(visit)) == before
        if visit.question != "confirm":
            visit.say(Finding(choice=choice.id), "confirm")
        phrase = next(each for each in choice.phrases if each not in ("yes", "no"))
        meaning = interpret(phrase, listened_for(visit.context, visit.state)).meaning
        visit.say(meaning, trust)
    assert (answers(visit)[-1].answer, answers(visit)[-1].how) == (Finding(choice=choice.id), "confirmed by voice")


def test_no_to_a_refused_reading_is_about_that_reading_and_not_the_answer_before(proving_dead):
    visit = at_the_bus(proving_dead)
    for meaning in (visit.reading(9000.0), Correction()):
        visit.say(meaning)
    assert visit.says == ["Say it again, please."]
    visit.read(3.8)
    assert answers(visit)[-1].answer.value == 3.8


def test_no_and_the_right_reading_answer_the_question_whose_reading_was_refused(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(9000.0)
    visit.correct(3.8)
    assert visit.says[0] == "3.8 V."
    assert answers(visit)[-1].replaces is None
    visit.choose("yes")
    assert visit.state.energy == "proved-dead"


def at_the_windings(visit):
    """A question in ohms, after an answer in volts."""
    at_the_bus(visit).read(3.8)
    visit.choose("yes")
    visit.command("check", "winding-resistance")
    visit.understood()
    return visit


def test_no_and_a_bare_number_are_in_the_unit_of_the_refused_reading(proving_dead):
    """And not in that of the answer before, which would then be corrected."""
    visit = at_the_windings(proving_dead)
    visit.read(9e9)
    assert "cannot give" in visit.says[0]
    visit.say(interpret("no one point five three", listened_for(visit.context, visit.state)).meaning)
    assert (answers(visit)[-1].check, answers(visit)[-1].replaces) == ("winding-resistance", None)
    assert answers(visit)[-1].answer.value == 1.53


def test_a_correction_after_noise_is_still_one_of_the_answer_before(proving_dead):
    """Only a reading that was refused is what "no" is said to: the open question would take these ohms as well."""
    visit = at_the_windings(proving_dead)
    visit.read(1.35)
    before = answers(visit)[-1]
    assert before.check == "winding-resistance"
    visit.say(None, trust="again")
    visit.correct(1.53)
    assert answers(visit)[-1].replaces == before.number


def test_what_the_place_cannot_give_is_not_recorded(proving_dead):
    visit = at_the_bus(proving_dead)
    before = len(answers(visit))
    visit.read(9000.0)
    assert len(answers(visit)) == before
    assert "cannot give" in visit.says[0]
    assert visit.state.energy == "isolated"


def test_a_charged_bus_is_not_dead_and_is_waited_for_again(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(180.0)
    assert visit.state.energy == "isolated"
    assert "prove-dead" in visit.question
    assert not any(fact.kind == "energy-changed" and fact.to == "proved-dead" for fact in visit.facts)


def test_a_corrected_proof_of_death_takes_the_state_back(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(3.8)
    visit.correct(180.0)
    assert visit.state.energy == "isolated"
    assert "prove-dead" in visit.question
    old, new = answers(visit)[-2:]
    assert new.replaces == old.number
    assert (old.answer.value, new.answer.value) == (3.8, 180.0)
    assert visit.says[0] == "Corrected: 180 V."


def test_correction_alone_asks_what_it_should_be(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(3.8)
    visit.say(Correction())
    assert visit.says == ["The last answer was 3.8 V. What should it be?"]
    visit.correct(2.9)
    assert answers(visit)[-1].answer.value == 2.9


def test_a_place_not_named_is_the_next_one_asked_for_and_is_read_back(context, proving_dead):
    visit = at_the_windings(proving_dead)
    if visit.state.energy != "proved-dead":
        return
    question = next(q for q in context.library.checks["winding-resistance"].ask if q.reading and q.reading.places)
    first, second, third = (place.id for place in question.reading.places)
    visit.read(1.35)
    assert answers(visit)[-1].place == first
    assert visit.says[0].endswith(": 1.35 ohm.") or "1.35 Ω" in visit.says[0]
    item = Reading(quantity="resistance", value=1.36, spoken_value=1.36, spoken_unit="ohm", place=third)
    visit.say(Readings(items=(item,)))
    assert answers(visit)[-1].place == third
    assert visit.question.endswith(second)


def test_an_unclear_answer_is_asked_again_and_the_third_time_a_way_on_is_offered(diagnosing):
    for _ in range(2):
        diagnosing.say(None, trust="again")
        assert diagnosing.says[0].startswith("I do not know that yet. You can answer")
    diagnosing.say(None, trust="again")
    assert "say skip" in diagnosing.says[0]


def test_going_back_undoes_one_answer(diagnosing):
    run = diagnosing.state.run.check
    question = diagnosing.question
    first = diagnosing.context.library.checks[run].ask[0].choices[0].id
    diagnosing.choose(first)
    assert diagnosing.state.results
    diagnosing.command("go-back")
    assert diagnosing.question == question
    assert not diagnosing.state.results


def test_going_back_never_makes_the_unit_safer(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(3.8)
    visit.choose("yes")
    visit.command("check", "restore-power")
    visit.choose("done")  # the cover is back on
    visit.understood()
    visit.choose("done")
    assert visit.state.energy == "live"
    for _ in range(3):
        visit.command("go-back")
        assert visit.state.energy == "live"


def cautions(visit, check, length="say"):
    wanted = (visit.context.library.precautions[name] for name in visit.context.library.checks[check].precautions)
    return [" ".join((getattr(precaution, length) or precaution.say).split()) for precaution in wanted]


def test_who_comes_back_to_a_step_hears_its_cautions_again(proving_dead):
    """By "go back", or with a visit that was cut short: what was cautioned is repeated before the step is asked."""
    visit = at_the_bus(proving_dead)
    assert set(cautions(visit, "prove-dead")) <= set(visit_said(visit))
    again = cautions(visit, "prove-dead", "again")
    visit.read(180.0)
    visit.command("go-back")
    assert visit.says[: 1 + len(again)] == ["Back one step.", *again]
    visit.reopen(away_s=60.0)
    unsafe = "It was locked out when the work stopped. See that your lock is still on, and measure before you touch."
    assert visit.says == ["The visit goes on where it stopped.", unsafe, *again, visit.says[-1]]
    assert visit.question == "prove-dead.voltage"


def test_a_caution_that_was_not_acknowledged_is_spoken_again_when_a_visit_goes_on(diagnosing):
    visit = diagnosing
    visit.command("check", "prove-dead")
    visit.choose("done")
    [waiting] = [visit.context.library.precautions[item.precaution].say for item in visit.state.acknowledging]
    visit.reopen(away_s=60.0)
    assert visit.says[-2:] == [" ".join(waiting.split()), "Say understood."]
    assert visit.state.acknowledging


def test_a_unit_that_was_proved_dead_before_a_break_is_to_be_measured_again(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(3.8)
    visit.choose("yes")
    assert visit.state.energy == "proved-dead"
    visit.reopen()
    assert visit.state.energy == "live"
    first = ["Left isolated and locked, and to be proved dead anew.", "Left off: the outdoor cover."]
    assert visit.says[1:4] == [*first, "The bakery in mill lane, Copper Wren Solo."]
    assert visit.says[4] == "You were away long. Lock, measurement and cautions all again."


def test_nothing_is_said_of_a_lock_where_the_power_was_on(diagnosing):
    diagnosing.reopen()
    assert not any("lock" in said for said in diagnosing.says)


def visit_said(visit):
    return [fact.text for fact in visit.facts if isinstance(fact, f.Said)]


def test_while_held_nothing_is_an_answer(diagnosing):
    before = len(answers(diagnosing))
    question = diagnosing.question
    diagnosing.command("wait")
    diagnosing.choose("yes")
    diagnosing.say(Text(words="do you want a coffee"))
    assert len(answers(diagnosing)) == before
    assert diagnosing.says == []
    diagnosing.command("resume")
    assert diagnosing.question == question


def test_who_skips_a_caution_skips_its_step_which_is_never_described(diagnosing):
    visit = diagnosing
    visit.command("check", "prove-dead")
    visit.choose("done")
    assert visit.state.run.check == "mains-dead-outdoor"
    assert visit.state.acknowledging
    visit.command("skip")
    assert not visit.state.acknowledging
    assert visit.says[0] == "A caution is not skipped, so the step is."
    described = [fact.check for fact in visit.facts if isinstance(fact, f.CheckDescribed)]
    assert not {"mains-dead-outdoor", "prove-dead"}.intersection(described)
    assert visit.state.energy == "isolated"


def test_another_check_may_be_named_instead_of_accepting_a_caution(diagnosing):
    visit = diagnosing
    visit.command("check", "prove-dead")
    visit.choose("done")
    assert visit.state.acknowledging
    assert any(choice.id == "remote-look" for choice in listened_for(visit.context, visit.state).checks)
    visit.command("check", "remote-look")
    assert visit.state.run.check == "remote-look"
    assert not visit.state.acknowledging


def test_ready_before_the_time_is_told_how_long_it_still_is(proving_dead):
    proving_dead.command("ready")
    assert proving_dead.question == "prove-dead.wait"
    assert proving_dead.says[0].startswith("Wait ")


def test_is_it_safe_follows_the_energy_state(proving_dead):
    proving_dead.command("is-it-safe")
    assert proving_dead.says[0].startswith("Not yet")
    visit = at_the_bus(proving_dead)
    visit.read(3.8)
    visit.choose("yes")
    visit.command("check", "winding-resistance")
    visit.command("is-it-safe")
    assert "measured dead" in visit.says[0]


def test_every_command_is_answered_in_every_leg_of_a_visit(visit):
    from assistant.dialogue.commands import commands

    def all_answered():
        for name in commands(visit.context.library):
            if name in ("skip", "finish", "check", "new-indication", "go-back"):
                continue
            visit.say(Command(name=name))
            if visit.state.held:
                visit.say(Command(name="resume"))
            assert visit.says, f"{name} was met with silence at {visit.question}"
            if visit.state.correcting is not None:
                visit.command("go-back")

    all_answered()
    visit.say(Text(words="the bakery"))
    all_answered()
    visit.choose("copper-wren-solo")
    all_answered()


def test_finish_asks_once_then_closes(diagnosing):
    diagnosing.command("finish")
    assert diagnosing.question == "visit.finish"
    diagnosing.choose("no")
    assert diagnosing.state.stage.value == "check"
    diagnosing.command("finish")
    diagnosing.choose("yes")
    diagnosing.say(Finding(choice="nothing"))
    assert diagnosing.state.closing


def test_help_tells_what_may_be_answered(visit):
    visit.command("help")
    assert visit.says[-1] == "Which site is this?"
    visit.say(Text(words="the bakery in mill lane"))
    visit.command("help")
    assert visit.says[0] == "You can answer copper wren solo, lantern hill trio or no profile."
    visit.choose("copper-wren-solo")
    visit.command("help")
    assert visit.says[0].startswith("You can answer, for example, ")
    visit.say(Indication(choice="no-communication"))
    visit.command("check", "prove-dead")
    visit.understood()
    visit.command("help")
    assert visit.says[0] == "You can answer locked, it still starts or cannot lock it."


def test_help_tells_the_unit_of_a_reading(proving_dead):
    proving_dead.pass_time(3600)
    proving_dead.command("help")
    assert proving_dead.says[0] == "You can answer with a number in volts, or no reading."


def test_after_three_refusals_a_way_on_is_offered_that_there_is(visit):
    for _ in range(3):
        visit.say(None, trust="again")
    assert visit.says[0].endswith("or say skip.")
    visit.command("skip")
    visit.choose("copper-wren-solo")
    for _ in range(3):
        visit.say(None, trust="again")
    assert visit.question == "visit.indication"
    assert visit.says[0].endswith("or say help.")


def test_beside_noise_words_are_asked_for_that_differ(proving_dead):
    visit = at_the_bus(proving_dead)
    visit.read(3.8, trust="confirm", poor_sound=True)
    assert visit.says == ["I heard 3.8 V. Say that's correct, or that's wrong."]
    visit.say(Finding(choice="yes"), "confirm", chance=0.8, poor_sound=True)
    assert visit.question == "confirm"
    visit.say(Finding(choice="yes"), "sure", poor_sound=True)
    assert answers(visit)[-1].how == "confirmed by voice"


def test_beside_noise_a_number_is_asked_for_digit_by_digit(proving_dead):
    visit = at_the_bus(proving_dead)
    ears = (("whisper", "three point eight"), ("phoneme", "repeat"))
    visit.hear(Heard(words="", meaning=None, trust="again", probability=0.1, ears=ears, poor_sound=True))
    assert visit.says[0] == "It is loud here. Say it digit by digit, and its unit."
