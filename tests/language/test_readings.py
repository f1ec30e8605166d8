"""Every reading from 0.001 to 99,999, in every form that is spoken or written, through the whole of language."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.language import numbers
from assistant.language.interpret import interpret
from assistant.language.meaning import CANONICAL_UNIT, Expectation, ReadingExpectation, Readings
from assistant.speaking.numbers import number as read_aloud
from tests.language.states import asks
from tests.language.telling import told

WIDE = asks("wide", "voltage_dc", "V", -100_000, 100_000)
VALUES = st.tuples(st.integers(1, 99_999), st.integers(0, 3)).map(lambda pair: Decimal(pair[0]).scaleb(-pair[1]))


def value(words: str, state: Expectation = WIDE) -> float | None:
    found = interpret(words, state)
    assert isinstance(found.meaning, Readings), words
    assert not found.doubt, (words, found.doubt)
    return found.meaning.items[0].value


@settings(max_examples=60, deadline=None)
@given(VALUES, st.sampled_from(["", " volts"]))
def test_every_spoken_form_of_a_reading_gives_it_back(reading: Decimal, unit: str) -> None:
    for form in numbers.forms(reading):
        assert value(form + unit) == pytest.approx(float(reading), rel=1e-12), form


@settings(max_examples=100, deadline=None)
@given(VALUES, st.sampled_from(["{} volts", "{}V", "{} VDC.", "It's {}.", "-{} V", "{:,} volts"]))
def test_every_written_form_of_a_reading_gives_it_back(reading: Decimal, written: str) -> None:
    expected = -float(reading) if written.startswith("-") else float(reading)
    text = written.format(reading) if "," in written else written.format(f"{reading:f}")
    assert value(text) == pytest.approx(expected, rel=1e-12), text


@settings(max_examples=60, deadline=None)
@given(VALUES)
def test_what_the_assistant_reads_aloud_it_understands_itself(reading: Decimal) -> None:
    said = read_aloud(f"{reading:f}")
    if "," not in said:  # a teen or a ten is said twice, "one five, fifteen"
        assert value(said) == pytest.approx(float(reading), rel=1e-12), said


UNITS = {
    "ten point three kilohms": ("resistance", 10_300),
    "one point two megohms": ("resistance", 1.2e6),
    "point five megs": ("resistance", 5e5),
    "four k seven": ("resistance", 4_700),
    "three hundred milliohms": ("resistance", 0.3),
    "two hundred forty volts a c": ("voltage_ac", 240),
    "twelve hundred millivolts": ("voltage_dc", 1.2),
    "one and a half kilovolts": ("voltage_dc", 1_500),
    "four hundred milliamps": ("current", 0.4),
    "two kilowatts": ("power", 2_000),
    "twelve thousand b t u": ("power", 3516.85284),
    "twelve thousand btu per hour": ("power", 3516.85284),
    "sixty hertz": ("frequency", 60),
    "thirty five mics": ("capacitance", 35),
    "forty seven nanofarads": ("capacitance", 0.047),
    "minus five celsius": ("temperature", -5),
    "five below zero celsius": ("temperature", -5),
    "forty one fahrenheit": ("temperature", 5),
    "nine degrees fahrenheit": ("temperature_difference", 5),
    "half a degree celsius": ("temperature_difference", 0.5),
    "ten kelvin": ("temperature_difference", 10),
    "three sixty psi": ("pressure_gauge", 2482.1126),
    "twenty five bar": ("pressure_gauge", 2500),
    "point eight megapascals": ("pressure_gauge", 800),
    "twenty inches of mercury": ("pressure_gauge", -67.7278),
    "half an inch of water": ("pressure_gauge", 0.1245445),
    "point five inches of water column": ("pressure_gauge", 0.1245445),
    "five hundred microns": ("vacuum", 66.6612),
    "forty five percent": ("humidity", 45),
    "two pounds six ounces": ("mass", 1.07728187875),
    "one kilo two hundred grams": ("mass", 1.2),
    "twenty five feet six inches": ("length", 7.7724),
    "three eighths inch": ("length", 0.009525),
    "two minutes thirty seconds": ("duration", 150),
    "eight fifty rpm": ("speed", 850),
    "four hundred cfm": ("airflow", 679.604318),
    "two liters per minute": ("airflow", 0.12),
    "fifteen percent": ("percent", 15),
    "five flashes": ("count", 5),
}


@pytest.mark.parametrize(("words", "expected"), UNITS.items())
def test_units(words: str, expected: tuple[str, float]) -> None:
    quantity, canonical = expected
    state = asks(quantity, quantity, CANONICAL_UNIT[quantity], -1e9, 1e9)  # type: ignore[arg-type]
    found = interpret(words, state)
    assert isinstance(found.meaning, Readings)
    assert found.meaning.items[0].value == pytest.approx(canonical, rel=1e-6)
    assert not found.meaning.items[0].unit_assumed


def test_a_reading_keeps_its_words_and_its_spoken_value() -> None:
    meaning = interpret("It's 12,400 millivolts.", WIDE).meaning
    assert isinstance(meaning, Readings)
    reading = meaning.items[0]
    assert (reading.spoken_value, reading.spoken_unit, reading.words) == (
        12_400,
        "mV",
        "twelve thousand four hundred millivolts",
    )


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("open line", "OL ?"),
        ("no reading", "none"),
        ("nothing at all", "none"),
        ("it jumps between four and five", "4..5"),
        ("it's jumping from five to four volts", "4..5"),
        ("somewhere between two thirty and two forty", "230..240"),
        ("it keeps changing", "unsteady"),
    ],
)
def test_when_the_meter_shows_no_steady_number(words: str, expected: str) -> None:
    found = interpret(words, WIDE)
    assert told(found.meaning) + (" ?" if found.doubt else "") == expected


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        ("forty eight, four eight, ohms", True),
        ("eleven one one ohms", True),
        ("eleven eleven ohms", False),
        ("four eight four eight ohms", False),
        ("four thousand eight hundred forty eight ohms", False),
        ("4848 ohms", False),
        ("eleven ohms", False),
        ("forty eight forty nine ohms", False),
    ],
)
def test_the_same_digits_twice_are_asked_about(words: str, asked: bool) -> None:
    wanted = ReadingExpectation(quantity="resistance", unit="ohm", plausible=(0, 10_000))
    found = interpret(words, Expectation(question="loop.resistance", reading=wanted))
    assert (found.doubt == "It may have been said twice.") is asked, found
