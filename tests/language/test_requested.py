"""Requests for a check or a component, in whatever frame they come, and talk that is none."""

from __future__ import annotations

import pytest

from assistant.dialogue.nameable import components
from assistant.language.meaning import Choice
from assistant.language.requested import targets_within
from assistant.library.loader import load

FRAMES = (
    "check the {}",
    "{} next",
    "{}, please",
    "{} check, please",
    "let's go {}",
    "let's have a look at the {}",
    "I want to look at the {} first",
    "I'd rather check the {}, it's right here",
    "could we jump to the {}",
    "go straight to the {}",
    "take me to the {}",
    "before we go on I'd like to check the {}",
    "how about the {}",
    "let's do the {} because it looks odd",
    "okay, {} now",
)


@pytest.fixture(scope="module")
def checks() -> tuple[Choice, ...]:
    return components(load())


@pytest.mark.parametrize(
    ("name", "targets"),
    [
        ("float switch", {"drain-float-move", "suspect:drain-float-stuck"}),
        ("breaker", {"breaker-look"}),
        ("line voltage", {"supply-volts"}),
        ("reversing valve", {"reversing-listen", "suspect:reversing-valve-stuck", "reversing-voltage-shift"}),
        ("megohm test", {"compressor-to-earth"}),
        ("superheat", {"circuit-superheat"}),
    ],
)
def test_a_name_is_found_in_every_frame(name: str, targets: set[str], checks: tuple[Choice, ...]) -> None:
    for frame in FRAMES:
        found = {target for target, _ in targets_within(frame.format(name), checks)}
        assert found & targets, (frame.format(name), found)


def test_every_name_is_found_in_a_frame(checks: tuple[Choice, ...]) -> None:
    missed = [
        (check.id, phrase)
        for check in checks
        for phrase in check.phrases[:1]
        if len(phrase.split()) < 4 and not targets_within(f"I'd like to check the {phrase} next, please", checks)
    ]
    assert len(missed) <= 0.05 * len(checks), missed


@pytest.mark.parametrize(
    ("words", "target"),
    [
        ("let's meg the compressor", "compressor-to-earth"),
        ("ohm out the windings", "winding-resistance"),
        ("let's hunt for a leak", "leak-soap-joints"),
        ("take a superheat", "circuit-superheat"),
        ("do the filter next", "filter-look"),
    ],
)
def test_a_verb_may_name_what_is_measured(words: str, target: str, checks: tuple[Choice, ...]) -> None:
    assert target in {found for found, _ in targets_within(words, checks)}


@pytest.mark.parametrize(
    "words",
    [
        "the filter is dirty",
        "don't check the filter",
        "I checked the filter already",
        "is the filter next",
        "let's grab lunch next",
        "could you hold the ladder, please",
        "look at that dog",
        "let me see the customer",
        "just one, please",
        "check please",
        "next week",
    ],
)
def test_talk_asks_for_no_check(words: str, checks: tuple[Choice, ...]) -> None:
    assert not targets_within(words, checks)


def test_what_somebody_says_that_he_does_is_a_weak_request(checks: tuple[Choice, ...]) -> None:
    assert targets_within("I'll check the filter", checks) == [("filter-look", "told")]
