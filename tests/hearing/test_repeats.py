"""Texts that turn in a circle are cut back to their first rounds, and others are left whole."""

from __future__ import annotations

import pytest

from assistant.hearing.ears.repeats import first_rounds


def cut(text: str, ended: bool = False) -> list[str]:
    pieces = [f" {word}" for word in text.split()]
    return ["".join(pieces[:length]).strip() for length in first_rounds(pieces, ended)]


@pytest.mark.parametrize(
    ("text", "proposals"),
    [
        ("Yes. Yes. Yes. Yes.", ["Yes.", "Yes. Yes.", "Yes. Yes. Yes."]),
        ("923. 63. 923. 63. 923.", ["923. 63.", "923. 63. 923. 63."]),
        ("One five two. One five two. One", ["One five two.", "One five two. One five two."]),
        ("17, 15, 1970, 1970, 1970,", ["17, 15, 1970,", "17, 15, 1970, 1970,", "17, 15, 1970, 1970, 1970,"]),
        ("six eight three one", ["six eight three one"]),
        ("stop", ["stop"]),
    ],
)
def test_rounds(text: str, proposals: list[str]) -> None:
    assert cut(text) == proposals


def test_an_honest_repetition_that_came_to_its_end_is_proposed_whole_as_well() -> None:
    assert cut("five five", ended=True) == ["five", "five five"]
    assert "two two two two two" in cut("two two two two two", ended=True)


def test_punctuation_alone_is_nothing() -> None:
    assert first_rounds([".", "..."], True) == []
    assert first_rounds([], True) == []
