"""Near misses on closed phrases: told as doubts, never over numbers, letters or negations."""

from __future__ import annotations

from random import Random

import pytest

from assistant.language.closeness import near_phrases
from assistant.language.interpret import interpret
from assistant.language.state import closed_phrases
from tests.language.states import SHOWN, STATES


@pytest.mark.parametrize(
    ("words", "tag"),
    [
        ("leaf lamp blinking slowly", "choice slow-leaf"),
        ("slow leaf lump", "choice slow-leaf"),
        ("the drop lamp blinks quick", "choice fast-drop"),
        ("five flash", "choice five"),
    ],
)
def test_near_misses(words: str, tag: str) -> None:
    assert near_phrases(words, closed_phrases(SHOWN))[0].tag == tag
    found = interpret(words, SHOWN)
    assert found.meaning is not None
    assert found.doubt


@pytest.mark.parametrize(
    "words",
    ["four flashes", "six flash", "mark kit five", "lamp blinks", "fan rattles", "do not skip it", "do not stop", "x"],
)
def test_what_is_not_near(words: str) -> None:
    assert near_phrases(words, closed_phrases(SHOWN)) == []


def test_a_phrase_between_two_meanings_is_none() -> None:
    assert near_phrases("lamp blinks slowly quickly", closed_phrases(SHOWN)) == []


def test_a_letter_lost_or_changed_never_gives_another_answer_without_doubt() -> None:
    """Every answer and command with one letter lost or changed: the same meaning, a doubt, or nothing."""
    random = Random(5)
    state = STATES["shown"]
    for phrase in closed_phrases(state):
        want = interpret(phrase.words, state).meaning
        for _ in range(5):
            at = random.randrange(len(phrase.words))
            letter = random.choice(["", random.choice("abcdefghijklmnopqrstuvwxyz")])
            hurt = phrase.words[:at] + letter + phrase.words[at + 1 :]
            found = interpret(hurt, state)
            assert found.meaning in (None, want) or found.doubt, (phrase.words, hurt, found)
