"""Spoken numbers both ways, against their own grammar, the public test lists and another library."""

from __future__ import annotations

from decimal import Decimal
from functools import cache
from random import Random

import pytest
import text_to_num
from hypothesis import given
from hypothesis import strategies as st

from assistant.language import numbers
from assistant.language.automaton import Automaton, compile_automaton
from assistant.language.jsgf import Ref
from assistant.language.sources import shipped


@cache
def grammar() -> Automaton:
    return compile_automaton(Ref("numbers.number"), "numbers", shipped().lookup({}))


def accepts(automaton: Automaton, words: str) -> bool:
    states = {automaton.start}
    for word in words.split():
        states = {arc.to for state in states for arc in automaton.arcs(state).get(word, ())}
    return any(automaton.finals(state) for state in states)


# From 0.001 to 99,999 with one to five figures, as a meter or a nameplate shows them.
READINGS = st.one_of(
    st.integers(1, 99_999).map(Decimal),
    st.integers(1, 99_999).map(lambda n: Decimal(n) / 10),
    st.integers(1, 99_999).map(lambda n: Decimal(n) / 100),
    st.integers(1, 99_999).map(lambda n: Decimal(n) / 1000),
)


@given(READINGS, st.booleans())
def test_every_way_of_saying_a_reading_gives_it_back(value: Decimal, negative: bool) -> None:
    value = -value if negative else value
    for form in numbers.forms(value):
        found = numbers.parse(form)
        assert found is not None, form
        assert found.value == value, form


@given(READINGS)
def test_the_grammar_takes_every_way_of_saying_a_reading(value: Decimal) -> None:
    for form in numbers.forms(value):
        assert accepts(grammar(), form), form


def test_every_string_of_the_grammar_has_a_value() -> None:
    random = Random(7)
    automaton = grammar()
    for _ in range(4000):
        state, words = automaton.start, []
        while len(words) < 9:
            arcs = automaton.arcs(state)
            if not arcs or (automaton.finals(state) and random.random() < 0.3):
                break
            word = random.choice(sorted(arcs))
            words.append(word)
            state = random.choice(arcs[word]).to
        if automaton.finals(state):
            assert numbers.parse(words) is not None, " ".join(words)


WORDS = st.lists(st.sampled_from(sorted(numbers.NUMBER_WORDS | {"a", "and", "minus", "quarter"})), max_size=6)


@given(WORDS)
def test_the_grammar_and_the_arithmetic_accept_the_same_strings(words: list[str]) -> None:
    assert accepts(grammar(), " ".join(words)) == (numbers.parse(words) is not None), words


@pytest.mark.parametrize(
    ("said", "literal"),
    [
        # Issue "Hearing", the list of technicians' ways.
        ("four point two", "4.2"),
        ("four and a half", "4.5"),
        ("point four five", "0.45"),
        ("two forty", "240"),
        ("one eighteen", "118"),
        ("one oh five", "105"),
        ("twelve hundred", "1200"),
        ("minus twenty two", "-22"),
        ("three sixty", "360"),
        # "NeMo Inverse Text Normalization: From Development To Production" (2021) and its public English lists.
        ("two twenty", "220"),
        ("nine ninety eight", "998"),
        ("eleven hundred twenty one", "1121"),
        ("point one two oh five", "0.1205"),
        ("eighteen point oh five", "18.05"),
        ("minus sixty", "-60"),
        ("eight hundred", "800"),
        # Ours.
        ("twenty four", "24"),
        ("two oh eight", "208"),
        ("oh seven nine two two", "07922"),
        ("ten twenty eight sixty nine", "102869"),
        ("nineteen thousand four fifty", "19450"),
        ("nineteen thousand four oh five", "19405"),
        ("two thousand and twelve", "2012"),
        ("one point two million", "1200000"),
        ("a hundred and five", "105"),
        ("three eighths", "0.375"),
        ("one and seven eighths", "1.875"),
        ("half", "0.5"),
        ("twenty two below", "-22"),
    ],
)
def test_known_ways(said: str, literal: str) -> None:
    found = numbers.parse(said)
    assert found is not None
    assert found.literal == literal
    assert found.value == Decimal(literal)


@pytest.mark.parametrize(
    "said",
    [
        "",
        "hundred",
        "and five",
        "four point",
        "four point two point three",
        "twenty hundred hundred",
        "two thousand thousand",
        "four and",
        "minus",
        "minus minus four",
        "zero hundred",
        "for",
        "hero",
        "four volts",
    ],
)
def test_what_is_no_number(said: str) -> None:
    assert numbers.parse(said) is None


@pytest.mark.parametrize(
    ("said", "hidden"),
    [("two fifty", "2.50"), ("one oh five", "1.05"), ("twelve fifty", "12.50"), ("thirty four seventy", "34.70")],
)
def test_a_point_that_may_have_been_left_unsaid(said: str, hidden: str) -> None:
    found = numbers.parse(said)
    assert found is not None
    assert found.hidden == Decimal(hidden)


@pytest.mark.parametrize("said", ["two hundred fifty", "two point five", "fifty", "two five", "oh fifty"])
def test_no_point_hides_elsewhere(said: str) -> None:
    found = numbers.parse(said)
    assert found is not None
    assert found.hidden is None


@given(st.integers(0, 999_999))
def test_agrees_with_text2num_on_plain_numbers(value: int) -> None:
    said = numbers.say(Decimal(value))
    assert text_to_num.text2num(said, "en") == value


@given(st.integers(0, 999), st.integers(0, 999))
def test_agrees_with_text2num_on_decimals(whole: int, after: int) -> None:
    literal = f"{whole}.{after}"
    assert text_to_num.alpha2digit(numbers.say(literal), "en") == literal


@given(st.text("0123456789", min_size=1, max_size=11), st.sampled_from(["zero", "oh"]))
def test_digit_strings_keep_their_zeros(figures: str, zero: str) -> None:
    assert numbers.digits(numbers.say_digits(figures, zero)) == figures


def test_a_number_beyond_what_is_spoken_is_refused() -> None:
    with pytest.raises(ValueError, match="999,999"):
        numbers.forms("1000000")
