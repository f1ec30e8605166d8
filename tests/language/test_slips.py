"""Small things of typed words: a slip of a key is asked back, a bare temperature is no complaint."""

from __future__ import annotations

import pytest

from assistant.dialogue.scope import ANY, scope_at
from assistant.language.meaning import Finding
from assistant.language.slips import mended
from assistant.language.understand import understand
from assistant.language.within import is_bare_temperature
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


def test_how_warm_it_is_is_no_complaint() -> None:
    assert is_bare_temperature("it's seventy in here")
    assert is_bare_temperature("95 outside")
    assert not is_bare_temperature("one outside")
    assert not is_bare_temperature("it's set to seventy and it stops at sixty five")


def test_a_slip_is_asked_back(library: Library) -> None:
    scope = scope_at("breaker-look.breaker", library)
    assert scope is not None
    found = understand("breakr is on", scope)
    assert found.meaning == Finding(choice="on")
    assert found.doubt
