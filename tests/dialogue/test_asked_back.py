"""Questions back: answered with a figure and its source, and never a caution passed or an answer recorded."""

import pytest

from assistant.dialogue.asked_back import TOPICS, expected
from assistant.dialogue.step import Words
from assistant.dialogue.turn import Turn
from assistant.language.meaning import BackQuestion, Heard, Indication
from assistant.library.loader import load


def ask(visit, topic, argument=""):
    meaning = BackQuestion(topic=topic, argument=argument)
    visit.now_s += 5
    return visit.do(Words(Heard(words="words", meaning=meaning, trust="sure", ears=(("typed", "words"),)), visit.now_s))


@pytest.mark.parametrize("topic", list(TOPICS))
def test_every_topic_is_answered_and_the_question_stays_open(diagnosing, topic):
    before = diagnosing.question
    ask(diagnosing, topic)
    assert len(diagnosing.says) >= 2
    assert diagnosing.question == before
    assert not any(fact.kind == "answer-given" for fact in diagnosing.facts)


@pytest.mark.parametrize("topic", list(TOPICS))
def test_before_anything_is_known_it_says_so(visit, topic):
    question = visit.question
    ask(visit, topic)
    assert visit.says
    assert visit.question == question


def test_no_question_passes_a_caution_or_tells_where_hands_go_before_it(diagnosing):
    visit = diagnosing
    for check in visit.context.library.checks:
        visit.command("check", check)
        if visit.state.acknowledging:
            break
    waiting = visit.state.acknowledging
    assert waiting
    described = [fact for fact in visit.facts if fact.kind == "check-described"]
    for topic in TOPICS:
        turn = ask(visit, topic)
        assert visit.state.acknowledging == waiting
        assert not any(reply.about == "instruction" for reply in turn.replies)
    assert [fact for fact in visit.facts if fact.kind == "check-described"] == described


def test_what_did_i_say_tells_the_last_answer(diagnosing):
    choice = diagnosing.state.run.check
    first = diagnosing.question
    assert first.startswith(choice)
    ask(diagnosing, "what-did-i-say")
    assert diagnosing.says[0] == "I have no answer of yours on that."
    library = diagnosing.context.library
    answer = library.checks[choice].ask[0].choices[0]
    diagnosing.choose(answer.id)
    ask(diagnosing, "what-did-i-say")
    assert answer.phrases[0] in diagnosing.says[0]


def test_how_sure_names_the_likeliest_with_its_chance(diagnosing):
    ask(diagnosing, "how-sure")
    assert "percent" in diagnosing.says[0]


def test_expected_values_have_the_figure_of_the_knowledge(context, diagnosing):
    library = load()
    check = library.checks["compressor-to-earth"]
    turn = Turn(context, diagnosing.state, 0.0)
    megohms = next(one for one in check.ask if one.key == "resistance")
    told = list(expected(turn, check, megohms))
    assert [said for said, _, _ in told] == ["expect-at-least"]
    assert "ohm" in told[0][1]


def test_an_indication_after_it_is_still_taken(visit):
    from assistant.language.meaning import Text

    visit.say(Text(words="mill lane"))
    visit.choose("copper-wren-solo")
    ask(visit, "how-sure")
    visit.say(Indication(choice="no-communication"))
    assert visit.state.symptoms == ("no-communication",)


def test_what_to_expect_can_be_asked_at_every_reading_of_every_unit(context, diagnosing):
    library = load()
    turn = Turn(context, diagnosing.state, 0.0)
    asked = 0
    for profile in ("", *library.profiles, *library.generals):
        turn.state = diagnosing.state.model_copy(update={"profile": profile or None})
        for check in library.checks.values():
            for question in check.ask:
                asked += len(list(expected(turn, check, question)))  # condensing pressures are judged by temperatures
    assert asked > 100


def understood(visit):
    while visit.state.acknowledging:
        visit.understood()


def test_terminals_and_volts_of_the_profile_stand_in_the_instruction(diagnosing):
    diagnosing.command("check", "signal-volts")
    said = list(diagnosing.says)
    while diagnosing.state.acknowledging:
        diagnosing.understood()
        said += diagnosing.says
    told = [text for text in said if text.startswith("Here that is ")]
    assert told == ["Here that is J to Q, 9 to 33 volts."]
    ask(diagnosing, "expected-value")
    assert diagnosing.says[0] == "It jumps, between 9 and 33 volts, when both ends talk."
    ask(diagnosing, "which-pins")
    assert diagnosing.says[1] == told[0]


def test_at_the_lock_it_is_told_what_is_expected(diagnosing):
    diagnosing.command("check", "winding-resistance")
    understood(diagnosing)
    assert diagnosing.question == "lock-out-power.state"
    ask(diagnosing, "expected-value")
    assert diagnosing.says[0] == "Normal is: locked."
