"""Numbers aloud: right, complete, and never to be taken for another."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.speaking.numbers import cardinal, confusable, digits, fraction, mixed, number, ordinal

WORD = {digits(str(value)): value for value in range(10)}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("0", "zero"),
        ("7", "seven"),
        ("12", "twelve"),
        ("15", "one five, fifteen"),
        ("50", "five zero, fifty"),
        ("13", "one three, thirteen"),
        ("30", "three zero, thirty"),
        ("20", "twenty"),
        ("24", "twenty four"),
        ("100", "one hundred"),
        ("208", "two hundred eight"),
        ("115", "one one five"),
        ("150", "one five zero"),
        ("230", "two three zero"),
        ("324", "three hundred twenty four"),
        ("1200", "one thousand two hundred"),
        ("12,000", "twelve thousand"),
        ("15000", "one five, fifteen thousand"),
        ("15500", "one five five zero zero"),
        ("150000", "one five zero thousand"),
        ("12213", "one two two one three"),
        ("1234567", "one two three four five six seven"),
        ("007", "zero zero seven"),
        ("4.2", "four point two"),
        ("4.20", "four point two zero"),
        (".45", "zero point four five"),
        ("15.3", "one five point three"),
        ("53.1", "fifty three point one"),
        ("1,250.5", "one two five zero point five"),
    ],
)
def test_numbers(text, said):
    assert number(text) == said


@pytest.mark.parametrize("text", ["", ".", "1.", "4,2", "1,23", "-1", "1e3", "four"])
def test_what_is_no_number_is_refused(text):
    with pytest.raises(ValueError, match="not a number"):
        number(text)


def test_no_teen_or_ten_is_ever_said_alone():
    for value in range(1000):
        if confusable(value):
            said = number(str(value))
            assert digits(str(value)) in said, said


def test_all_numbers_up_to_99_999_sound_different():
    said = [number(str(value)) for value in range(100_000)]
    assert len(set(said)) == len(said)


@given(st.integers(0, 999_999), st.text("0123456789", min_size=1, max_size=4))
def test_every_figure_after_the_point_is_said(whole, decimals):
    tail = number(f"{whole}.{decimals}").split(" point ")[1]
    assert "".join(str(WORD[word]) for word in tail.split()) == decimals


@given(st.integers(0, 999_999))
def test_cardinals_mean_what_they_say(value):
    small = {cardinal(each): each for each in range(20)} | {cardinal(each): each for each in range(20, 100, 10)}
    total = group = 0
    for word in cardinal(value).split():
        if word == "thousand":
            total, group = total + group * 1000, 0
        else:
            group = group * 100 if word == "hundred" else group + small[word]
    assert total + group == value


def test_cardinals_have_a_range():
    with pytest.raises(ValueError, match="outside"):
        cardinal(1_000_000)
    with pytest.raises(ValueError, match="outside"):
        cardinal(-1)


def test_fractions():
    assert fraction(1, 2) == "one half"
    assert fraction(3, 8) == "three eighths"
    assert fraction(1, 16) == "one sixteenth"
    assert fraction(3, 7) == "three over seven"
    assert mixed(4, 1, 2) == "four and a half"
    assert mixed(2, 1, 8) == "two and an eighth"
    assert mixed(2, 3, 8) == "two and three eighths"


def test_ordinals():
    assert ordinal(2) == "second"
    assert ordinal(21) == "number twenty one"
