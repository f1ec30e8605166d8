"""Putting right what was said: the present answer, the one before, or within one breath."""

from __future__ import annotations

import pytest

from assistant.language.interpret import interpret
from assistant.language.meaning import Correction, Readings
from tests.language.states import STATES
from tests.language.telling import heard


@pytest.mark.parametrize(
    ("name", "words", "expected"),
    [
        ("bus", "correction four point eight", "correction 4.8"),
        ("bus", "no, four point eight", "correction 4.8"),
        ("bus", "sorry four point eight volts", "correction 4.8"),
        ("bus", "make that four point eight", "correction 4.8"),
        ("bus", "correction", "correction"),
        ("bus", "no", "correction"),
        ("windings", "correction U to W one point nine", "correction u-w=1.9"),
        ("yes-no", "correction no", "correction finding no"),
        ("yes-no", "no", "finding no"),
        ("shown", "correction five flashes", "correction finding five"),
        ("note", "Correction, the name is Lund", "correction text the name is Lund"),
        # The answer before was to another question.
        ("after-windings", "correction u to w one point nine", "correction u-w=1.9"),
        ("after-windings", "one point nine", "1.9"),
        ("after-shown", "no, five flashes", "correction finding five"),
        # While a reading is being confirmed, a correction is of that one.
        ("confirm", "no, four point eight", "correction 4.8"),
        ("confirm", "no", "finding no"),
        ("confirm", "correction nineteen k", "correction 19000"),
        # Within one breath.
        ("bus", "four point two no four point eight", "4.8 ?"),
        ("windings", "u to v four point two correction four point eight", "u-v=4.8 ?"),
        ("windings", "u to v four point two sorry v to w four point eight", "v-w=4.8 ?"),
    ],
)
def test_corrections(name: str, words: str, expected: str) -> None:
    assert heard(interpret(words, STATES[name])) == expected


def test_a_correction_of_the_answer_before_is_in_its_own_quantity() -> None:
    meaning = interpret("correction u to v two ohms", STATES["after-windings"]).meaning
    assert isinstance(meaning, Correction)
    assert isinstance(meaning.meaning, Readings)
    assert meaning.meaning.items[0].quantity == "resistance"
