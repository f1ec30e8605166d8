"""A word that nobody knows, one letter away from one word of the trade, is asked back as that word."""

from __future__ import annotations

import pytest

from assistant.dialogue.scope import ANY, scope_at
from assistant.language.meaning import Finding
from assistant.language.slips import mended
from assistant.language.understand import understand
from assistant.library.loader import Library, load


@pytest.fixture(scope="module")
def library() -> Library:
    return load()


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("breakr is on", "breaker is on"),
        ("the filtr is plugged", "the filter is plugged"),
        ("condensor fan hums", "condenser fan hums"),
        ("outdor fan", "outdoor fan"),
        ("my grandfather likes fishing", "my grandfather likes fishing"),
        ("Mrs Kowalski called", "Mrs Kowalski called"),
        ("seventeeen", "seventeeen"),
    ],
)
def test_one_letter_of_a_long_word_is_mended(library: Library, said: str, meant: str) -> None:
    scope = scope_at(ANY, library)
    assert scope is not None
    assert mended(said, scope.tellable) == meant


def test_a_slip_is_asked_back(library: Library) -> None:
    scope = scope_at("breaker-look.breaker", library)
    assert scope is not None
    found = understand("breakr is on", scope)
    assert found.meaning == Finding(choice="on")
    assert found.doubt
