"""Grammar words as a writing ear spells them."""

from __future__ import annotations

import pytest

from assistant.language.spelling import spellings


@pytest.mark.parametrize(
    ("words", "written"),
    [
        ("oh point forty nine ohms u and w", ("Oh point forty nine ohms U and W.", "0.49 ohms U and W.")),
        ("negative fourteen point seven f", ("Negative fourteen point seven F.", "Negative 14.7 F.")),
        ("one two three", ("One two three.", "123.", "One, two, three.")),
        ("two thirty volts a c", ("Two thirty volts AC.", "230 volts AC.")),
        ("a leak", ("A leak.",)),
    ],
)
def test_spellings(words: str, written: tuple[str, ...]) -> None:
    assert spellings(words) == written
