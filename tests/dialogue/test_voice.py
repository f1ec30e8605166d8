"""How fast and how loud it speaks is set by words, in any state, and stays so for the visit."""

import pytest

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import evolve
from assistant.dialogue.step import Words
from assistant.dialogue.voice_set import PACES, VOLUMES
from assistant.language.meaning import Command, Finding, Heard, Text


def ask(visit, way):
    visit.say(Command(name=way))
    return visit.says


@pytest.mark.parametrize(("way", "field", "steps"), [
    ("slower", "pace", PACES[1::-1]), ("faster", "pace", PACES[3:]),
    ("louder", "volume", VOLUMES[3:]), ("quieter", "volume", VOLUMES[1::-1]),
])  # fmt: skip
def test_each_request_is_one_step_and_the_last_is_told(visit, way, field, steps):
    question = visit.question
    for step in steps:
        ask(visit, way)
        assert getattr(visit.state, field) == step
    set_so_far = sum(isinstance(fact, f.VoiceSet) for fact in visit.facts)
    said = ask(visit, way)
    assert said[0].startswith("That is as")
    assert sum(isinstance(fact, f.VoiceSet) for fact in visit.facts) == set_so_far
    assert visit.question == question


def test_what_was_not_followed_is_said_again(visit):
    asked = visit.says[-1]
    assert ask(visit, "louder")[-1] == asked
    assert ask(visit, "quieter")[0] == "Quieter."
    assert ask(visit, "slower")[-1] == asked


def test_that_it_is_faster_is_not_said_again(visit):
    asked = visit.state.spoken[-1]
    ask(visit, "faster")
    ask(visit, "slower")
    assert list(visit.state.spoken) == [asked]


def test_it_stays_so_over_going_back_and_a_resume(visit):
    visit.say(Text(words="mill lane"))
    ask(visit, "louder")
    ask(visit, "slower")
    visit.say(Command(name="go-back"))
    visit.reopen(away_s=10)
    assert (visit.state.pace, visit.state.volume) == (0.8, 1.6)


def test_a_journal_from_before_goes_on_as_slowly(visit):
    assert evolve(visit.state, f.SlowerAsked()).pace == 0.8


@pytest.mark.parametrize("answer", [Command(name="louder"), Finding(choice="option-1")])
def test_an_either_or_of_two_voices_is_settled_by_either_word(visit, answer):
    options = (Command(name="louder"), Command(name="quieter"))
    heard = Heard(words="words", meaning=options[0], trust="confirm", options=options, ears=(("typed", "words"),))
    question, asked = visit.question, visit.says[-1]
    visit.do(Words(heard, visit.now_s))
    assert visit.question == "either"
    visit.say(answer)
    assert visit.state.volume == 1.6
    assert (visit.question, visit.says[-1]) == (question, asked)
