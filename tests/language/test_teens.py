"""Which words of a reading may be thirteen for thirty."""

from __future__ import annotations

import pytest

from assistant.language.teens import mistakable


@pytest.mark.parametrize(
    ("words", "others"),
    [
        ("two forty volts", ["two fourteen volts"]),
        ("thirteen and a half", ["thirty and a half"]),
        ("thirty one point fifteen", ["thirty one point fifty"]),
        ("one hundred and thirty one to two", ["one hundred and thirteen one to two"]),
        ("one twenty volts", []),
        ("sixty oh", ["sixteen oh"]),
        ("eighteen k ninety", ["eighty k ninety", "eighteen k nineteen"]),
        ("go back", []),
    ],
)
def test_mistakable(words: str, others: list[str]) -> None:
    assert list(mistakable(words)) == others
