"""What is odd about the numbers of a reading, and what has its unit."""

from __future__ import annotations

import pytest

from assistant.hearing.listening.usual import oddities, says_units
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, Meaning, ReadingExpectation

VOLTS = Expectation(
    question="test", reading=ReadingExpectation(quantity="voltage_ac", unit="V", plausible=(0, 100_000))
)
FLASHES = Expectation(question="test", reading=ReadingExpectation(quantity="count", unit="1", plausible=(0, 1e9)))


def meant(words: str, expectation: Expectation = VOLTS) -> Meaning:
    meaning = interpret(words, expectation).meaning
    assert meaning is not None
    return meaning


@pytest.mark.parametrize(
    "words",
    [
        *("four point two", "oh point zero five volts", "two thirty one", "two three one volts", "zero", "one oh five"),
        *("four hundred and eighty volts", "minus twelve point seven", "twelve hundred", "point four oh", "ninety"),
    ],
)
def test_what_a_meter_shows_is_not_odd(words: str) -> None:
    assert oddities(words, meant(words)) == 0


@pytest.mark.parametrize(
    "words",
    [
        *("thirty four oh", "oh one three point four volts", "four four zero five volts"),
        *("three eight point two four six volts", "two point sixty ten volts", "oh"),
    ],
)
def test_what_noise_makes_of_a_reading_is_odd(words: str) -> None:
    assert oddities(words, meant(words)) == 1


def test_a_count_and_a_command_are_never_odd() -> None:
    assert oddities("oh seven nine two two", meant("oh seven nine two two", FLASHES)) == 0
    assert oddities("go back", meant("go back")) == 0
    assert not says_units(meant("seven", FLASHES))
    assert not says_units(meant("go back"))


def test_a_unit_is_said_or_assumed() -> None:
    assert says_units(meant("two thirty one volts"))
    assert not says_units(meant("two thirty one"))
    assert says_units(meant("correction two thirty one volts", VOLTS.model_copy(update={"corrects": VOLTS.reading})))
