"""What is not certain comes back as a doubt in one sentence, with the other meanings; what is settled does not."""

from __future__ import annotations

import pytest

from assistant.language.interpret import interpret
from assistant.language.meaning import Readings
from tests.language.states import PINS, STATES, UVW, asks
from tests.language.telling import told


@pytest.mark.parametrize(
    ("name", "words", "doubt", "alternatives"),
    [
        ("big-clamp", "two fifty", '"two fifty" can mean two things.', ["2.5"]),
        ("windings", "four point two", "It was not said where that was read.", []),
        ("bus", "nine hundred", "That is outside what can be read here.", []),
        ("sensor", "nineteen thousand", "The unit was not said; it may be ohms.", []),
        (
            "insulation",
            "one thousand six hundred seventy two",
            "The unit was not said; it may be kilohms.",
            ["1672000"],
        ),
        ("sensor", "3.8 and kilohms", '"and" was not understood.', []),
        ("insulation", "zero point and one megohms", '"and" was not understood.', []),
        ("insulation", "oh oh", 'It may have been "O L".', []),
        ("insulation", "oh point fourteen nine megohms", 'It may have been "forty nine".', []),
        ("sensor", "open line", "No open line was expected here.", []),
        ("windings", "u to v four ohms u to v five ohms", "One place was named twice.", []),
        ("bus", "five, 5 volts", "It may have been said twice.", ["5"]),
        ("bus", "1. 07", "The point may have been a pause.", ["107"]),
        ("bus", "1 to 2", '"to" was taken for "two".', []),
        ("clamp", "no point four", 'It may have been "oh" and not "no".', []),
        ("arms", "p to u four point two", "That is outside what can be read here.", []),
    ],
)
def test_doubts(name: str, words: str, doubt: str, alternatives: list[str]) -> None:
    found = interpret(words, STATES[name])
    assert found.meaning is not None
    assert found.doubt == doubt
    assert [told(other) for other in found.alternatives] == alternatives


@pytest.mark.parametrize(
    ("name", "words", "value"),
    [
        ("clamp", "two fifty", 2.5),  # 250 A is more than this clamp can show
        ("big-clamp", "two hundred fifty", 250),
        ("big-clamp", "two point five", 2.5),
        ("bus", "two forty", 240),  # volts are not said without their point
        ("sensor", "nineteen", 19_000),
        ("insulation", "twelve", 12e6),
        ("line", "fifty", 10),
        ("suction", "one eighteen", 118 * 6.894757293168361),
    ],
)
def test_the_plausible_range_settles_it(name: str, words: str, value: float) -> None:
    found = interpret(words, STATES[name])
    assert not found.doubt
    assert isinstance(found.meaning, Readings)
    assert found.meaning.items[0].value == pytest.approx(value)


def test_an_unsaid_point_where_points_are_said_is_asked() -> None:
    signal = asks("signal", "voltage_dc", "V", 0, 10)
    found = interpret("two fifty", signal)
    assert told(found.meaning) == "2.5"
    assert found.doubt == "The point of 2.50 was not said."


def test_the_unit_is_marked_when_it_was_assumed() -> None:
    for words, assumed in (("nineteen k", False), ("nineteen", True)):
        meaning = interpret(words, STATES["sensor"]).meaning
        assert isinstance(meaning, Readings)
        assert (meaning.items[0].unit_assumed, meaning.items[0].spoken_unit) == (assumed, "kohm")
    bare = interpret("seventy two degrees", STATES["line"]).meaning
    assert isinstance(bare, Readings)
    assert (bare.items[0].unit_assumed, bare.items[0].spoken_unit) == (True, "degF")


def test_readings_in_the_order_asked_need_no_places() -> None:
    found = interpret("4.2 ohms, 4.1 ohms, 4.3 ohms", STATES["windings"])
    assert told(found.meaning) == "u-v=4.2 v-w=4.1 u-w=4.3"
    assert not found.doubt


def test_the_only_place_asked_needs_no_name() -> None:
    one = asks("one", "resistance", "ohm", 0.05, 100, UVW[:1])
    assert told(interpret("four point two", one).meaning) == "u-v=4.2"


def test_direction_matters_only_where_it_means_something() -> None:
    assert told(interpret("w to v four ohms", STATES["windings"]).meaning) == "v-w=4"
    assert interpret("u to p point four five", STATES["arms"]).meaning is None


def test_a_place_named_by_a_bare_number_must_be_said_as_such() -> None:
    from assistant.language.meaning import Choice

    numbered = tuple(Choice(id=f"phase-{n}", phrases=(word,)) for n, word in enumerate(("one", "two", "three"), 1))
    state = asks("numbered", "resistance", "ohm", 0.05, 100, numbered)
    assert told(interpret("number two, four point two", state).meaning) == "phase-2=4.2"
    found = interpret("twenty two", state)
    assert told(found.meaning) == "22"
    assert found.doubt


def test_loose_words_always_leave_a_doubt() -> None:
    for name, words in (("number", "hero tree"), ("bus", "roughly speaking forty volts"), ("windings", "u to b 4.2")):
        assert interpret(words, STATES[name]).meaning is None
        found = interpret(words, STATES[name], loose=True)
        assert found.meaning is not None
        assert found.doubt


def test_negations_are_never_passed_over() -> None:
    for words in ("not forty volts", "it isn't forty volts", "forty volts or fifty", "never forty volts"):
        assert interpret(words, STATES["bus"], loose=True).meaning is None


def test_pins_may_be_said_back_to_front() -> None:
    assert told(interpret("three to one, four point two", STATES["pins"]).meaning) == "1-3=4.2"
    assert [place.id for place in PINS] == ["1-2", "1-3", "2-3"]
