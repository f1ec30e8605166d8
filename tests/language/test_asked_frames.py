"""Questions back are told by their frames, whatever they are about; what is said to others is no answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.language import asked_frames, to_others
from assistant.language.asked_frames import topics_within
from assistant.language.requested import asked_for
from assistant.language.to_others import is_to_others


def names_part(part: str) -> bool:
    return bool({"strainer", "fan", "valve", "board", "overload"} & set(part.split()))


@pytest.mark.parametrize(
    ("words", "topic"),
    [
        ("Which two screws do my leads go on?", "ask which-pins"),
        ("where's the strainer hiding", "ask where-is-it"),
        ("okay, what am I supposed to see there", "ask expected-value"),
        ("it ticks a bit, is that normal", "ask what-is-normal"),
        ("strainer, what's that", "ask what-is-that"),
        ("how confident are you it's the board", "ask how-sure"),
        ("remind me what I told you for the fan", "ask what-did-i-say"),
        ("what have we ruled out so far", "ask ruled-out"),
        ("how long does this take", "ask how-long"),
        ("how do I get the overload off", "ask how-do-i"),
        ("what kind of meter do I need", "ask which-tool"),
        ("does the power need to be on for this", "ask is-power-needed"),
        ("why does that matter", "command why"),
    ],
)
def test_a_question_back_is_told_by_its_frame(words: str, topic: str) -> None:
    assert topics_within(words, names_part) == [topic]


@pytest.mark.parametrize(
    "words",
    [
        "where's my lunch",
        "where did I park the truck",
        "how long have you lived here",
        "the fan sits behind the strainer",
        "they all turn freely",
        "it is normal",
    ],
)
def test_talk_and_answers_are_in_no_frame(words: str) -> None:
    assert topics_within(words, names_part) == []


def test_a_dog_or_a_customer_is_spoken_to() -> None:
    assert is_to_others("off, get off, good dog")
    assert is_to_others("yeah, I'll call you back in a bit")
    assert not is_to_others("it is switched off")


def test_what_is_told_with_is_asks_for_nothing() -> None:
    assert asked_for("the board's soaking wet right now") is None
    asked = asked_for("outdoor board, let's look at that one now")
    assert asked is not None
    assert asked.name == "outdoor board"


@pytest.mark.parametrize(("read", "text"), [(asked_frames.read, "why not\n"), (to_others.read, "Good Dog\n")])
def test_a_spoilt_table_is_told_by_its_line(read: object, text: str, tmp_path: Path) -> None:
    table = tmp_path / "table.txt"
    table.write_text(text, encoding="utf-8")
    problems = read(table)[1]  # type: ignore[operator]
    assert [one.line for one in problems] == [1]
