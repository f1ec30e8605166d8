"""A question's own words answer it, with other endings and small words around them."""

from __future__ import annotations

import pytest

from assistant.language.clauses import clauses
from assistant.language.meaning import Expectation
from assistant.language.own_words import answers_in_own_words, offered
from tests.language.states import choice

LEVEL = Expectation(
    question="level",
    choices=(
        choice("level", "it is level"),
        choice("drain", "lower at the drain side"),
        choice("away", "lower at the other side"),
        choice("drips", "it drips inside", "not dry"),
    ),
)


@pytest.mark.parametrize(
    ("words", "answer", "wholly"),
    [
        ("level", "level", True),
        ("Yeah it's level", "level", True),
        ("lower on the drain side", "drain", True),
        ("the drain side", "drain", False),
        ("it's dripping inside", "drips", True),
        ("lower", None, False),
        ("not level", None, False),
        ("dry", None, False),
        ("", None, False),
    ],
)
def test_own_words(words: str, answer: str | None, wholly: bool) -> None:
    assert answers_in_own_words(words, LEVEL) == (answer, wholly)


def test_what_a_question_offers() -> None:
    said = "Pour water in. Is it level, lower at the drain side, or lower at the other side?"
    assert offered(said) == ("it level", "lower at the drain side", "lower at the other side")
    assert offered("After an hour, does it run again, or never?") == ("it run again", "never")
    assert offered("Is there a kink, or none? Say which.") == ("there is a kink", "none")
    assert offered("Are both probes on, their wires led out?") == ()


def test_a_question_s_own_words_may_stand_around_an_answer() -> None:
    asked = "Is the unit level, or lower at the drain side?"
    assert answers_in_own_words("the unit is level", LEVEL) == (None, False)
    assert answers_in_own_words("the unit is level", LEVEL, asked) == ("level", True)
    assert answers_in_own_words("the unit is not level", LEVEL, asked) == (None, False)
    assert answers_in_own_words("the fan is level", LEVEL, asked) == (None, False)


@pytest.mark.parametrize(
    ("words", "cut"),
    [
        ("they match, but one's loose", ("they match", "one's loose")),
        ("the filter's clean and the fan runs", ("the filter's clean", "the fan runs")),
        ("two hundred and five volts", ("two hundred and five volts",)),
        ("U zero, V and W point four", ("U zero", "V and W point four")),
        ("2.5 volts and falling", ("2.5 volts", "falling")),
        ("10,200 ohms", ("10,200 ohms",)),
        ("it's clean and one's loose", ("it's clean", "one's loose")),
        ("it's blocked", ("it's blocked",)),
        ("a, b, c, d, e, f, g", ("a, b, c, d, e, f, g",)),
    ],
)
def test_clauses(words: str, cut: tuple[str, ...]) -> None:
    assert clauses(words) == cut
