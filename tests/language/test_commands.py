"""Commands in every state, each in all its phrasings."""

from __future__ import annotations

import pytest

from assistant.language.interpret import interpret
from assistant.language.meaning import Command, Finding
from assistant.language.numbers import NUMBER_WORDS
from assistant.language.state import Phrase, command_phrases
from tests.language.states import STATES

IDS = (
    "why repeat slower faster louder quieter where-am-i what-is-left skip go-back wait resume stop help"
    " is-it-safe done finish new-indication calculate ready what-can-i-say"
    " what-noted strike-entry last-time trend plate duties take-over other-zone acknowledged power-back"
    " job-repair job-commissioning job-maintenance job-leak-check job-return job-removal"
)


def test_every_command_has_a_phrase() -> None:
    assert {phrase.tag for phrase in command_phrases()} == {f"command {name}" for name in IDS.split()}


@pytest.mark.parametrize("phrase", command_phrases(), ids=lambda phrase: phrase.words)
def test_every_phrase_is_understood_in_every_state(phrase: Phrase) -> None:
    for state in STATES.values():
        for words in (phrase.words, f"{phrase.words.capitalize()}."):
            found = interpret(words, state)
            assert found.meaning == Command(name=phrase.tag.removeprefix("command ")), (state.question, words)
            assert not found.doubt


def test_no_command_sounds_like_the_beginning_of_a_number() -> None:
    assert not [phrase.words for phrase in command_phrases() if phrase.words.split()[0] in NUMBER_WORDS]


def test_no_phrase_means_two_commands() -> None:
    words = [phrase.words for phrase in command_phrases()]
    assert len(words) == len(set(words))


def test_an_expected_answer_comes_before_a_command_of_the_same_words() -> None:
    from assistant.language.meaning import Choice, Expectation

    state = Expectation(question="locked", choices=(Choice(id="done", phrases=("done", "locked")),))
    assert interpret("Done.", state).meaning == Finding(choice="done")
    assert interpret("it's done", state).meaning == Command(name="done")


@pytest.mark.parametrize(
    ("words", "argument"),
    [
        ("check the float switch", "float"),
        ("Check condensate float.", "float"),
        ("let's check the fan motor", "fan"),
        ("go to outdoor fan", "fan"),
        ("I want to test the outdoor fan", "fan"),
        ("Let's do the outdoor fan.", "fan"),
    ],
)
def test_a_check_is_asked_by_name(words: str, argument: str) -> None:
    assert interpret(words, STATES["yes-no"]).meaning == Command(name="check", argument=argument)


def test_a_check_that_this_state_does_not_allow_is_not_understood() -> None:
    assert interpret("check the float switch", STATES["bus"]).meaning is None


@pytest.mark.parametrize(
    "words", ["repeat the capacitor test", "skip cleaning, no time", "stopped the leak", "why it leaked"]
)
def test_free_words_that_begin_like_a_command_stay_free_words(words: str) -> None:
    found = interpret(words, STATES["note"]).meaning
    assert found is not None
    assert found.kind == "text"
