"""Readings that nobody asked for, by what names them."""

from __future__ import annotations

import pytest

from assistant.dialogue.scope import tellable
from assistant.language.meaning import Readings
from assistant.language.told_readings import shipped, told_readings
from assistant.library.loader import load


@pytest.fixture(scope="module")
def facts():
    return tellable(load())


def told(words, facts):
    """The surest reading that is told, as its question and the values."""
    found = told_readings(words, facts)
    if not found:
        return None
    answer = found[0].facts[0].answer
    assert isinstance(answer, Readings)
    return found[0].facts[0].question, [item.special or item.value for item in answer.items]


def test_every_name_is_that_of_a_reading(facts):
    asked = {key for key, question in facts.questions.items() if question.reading is not None}
    assert set(shipped()) <= asked
    assert not set(shipped()) & facts.barred


@pytest.mark.parametrize(
    ("words", "question", "values"),
    [
        ("two forty one leg to leg", "supply-volts.voltage", [241]),
        ("it's ninety five out", "visit-outdoor-air.air", [35]),
        ("two hundred forty volts at the outdoor unit", "supply-volts.voltage", [240]),
        ("the bus is sitting at three thirty eight d c", "bus-volts.voltage", [338]),
        ("leg one to ground's one twenty one and leg two is one nineteen", "supply-legs-earth.voltages", [121, 119]),
        ("the fuse in the head is open", "indoor-fuse-ohms.resistance", ["open_line"]),
        ("worst fuse outside, worst one's point four ohms", "outdoor-fuse-ohms.resistance", [0.4]),
        ("five volt pin on the indoor board gives me two point one", "indoor-low-volts.voltage", [2.1]),
        ("I megged the compressor, two hundred megs", "compressor-to-earth.resistance", [2e8]),
    ],
)
def test_a_reading_is_told_by_its_name(words, question, values, facts):
    found = told(words, facts)
    assert found is not None
    assert found[0] == question
    assert found[1] == pytest.approx(values) if isinstance(values[0], float) else found[1] == values


@pytest.mark.parametrize(
    "words",
    [
        "the bus is late again, about ten minutes",  # not volts
        "the bus is nine thousand volts",  # no instrument shows it there
        "nothing on the bus yet",  # nothing of what?
        "the bus should be three twenty",  # nobody read it
        "leg one is one twenty",  # the other leg is missing
        "two of the colors are swapped at the indoor terminals",
    ],
)
def test_what_was_not_read_is_not_told(words, facts):
    assert told(words, facts) is None


def test_a_voltage_in_a_name_is_no_reading(facts):
    assert told("five volt supply's dead on the indoor board", facts) is None
