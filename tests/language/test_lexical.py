"""The second opinion: what words and notions speak for, and what sort of sentence it is."""

from __future__ import annotations

import pytest

from assistant.language.cues import is_asked, sign
from assistant.language.lexical import WordCounts, features
from assistant.language.notions import shipped

MODES = WordCounts(
    [
        ("cools fine but no heat", ("cooling-only",)),
        ("it cools, won't heat", ("cooling-only",)),
        ("heats fine but no cooling", ("heating-only",)),
        ("it heats, won't cool", ("heating-only",)),
    ]
)


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("cools good, won't heat at all", "cooling-only"),
        ("heats good, won't cool at all", "heating-only"),
        ("no heat, cools okay", "cooling-only"),
        ("no cool, heats okay", "heating-only"),
    ],
)
def test_what_is_denied_counts(words: str, key: str) -> None:
    told = MODES.opinion(words, ("cooling-only", "heating-only"))
    assert max(told, key=lambda one: told[one]) == key


def test_what_nobody_ever_said_speaks_for_nothing() -> None:
    assert MODES.opinion("cools fine", ("unheard-of",)) == {"unheard-of": 0.0}


def test_words_that_say_the_same_are_one_notion() -> None:
    assert shipped().notions("the blower in the head") == shipped().notions("the fan in the evap")
    assert "+at-once" in shipped().notions("it trips right away")


def test_features_know_pairs_and_denials() -> None:
    told = features("the prop won't spin")
    assert {"+fan", "+fan +not", "not +turn"} <= told


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        ("do good ones always click", True),
        ("So what should I read here?", True),
        ("how sure are you", True),
        ("you want this hot or dead", True),
        ("it clicks", False),
        ("the fan does not turn", False),
        ("can't see it", False),
        ("whatever I do it stays on", False),
    ],
)
def test_whether_it_is_asked(words: str, asked: bool) -> None:
    assert is_asked(words) is asked


def test_signs_weigh_a_sort_of_meaning() -> None:
    assert sign("soft-start-click.click=choice:yes", "do good ones always click") < 1
    assert sign("ask:what-is-normal", "do good ones always click") == 1
    assert sign("cannot:cant-see", "it's matted over") < 1
    assert sign("cannot:cant-see", "i can't see it") == 1
    assert sign("command:skip", "is it safe") == 1


@pytest.mark.parametrize(
    ("words", "of_old"),
    [
        ("it smelled burnt last week", True),
        ("you get a tingle when you touch the case", True),
        ("something's burning", False),
        ("he got a shock two minutes ago", False),
    ],
)
def test_what_is_told_of_another_time_is_less_an_emergency(words: str, of_old: bool) -> None:
    assert (sign("emergency:shock", words) < 1.0) == of_old
