"""The words of spoken numbers and what each is worth."""

from __future__ import annotations

DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
TEENS = (
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
)
TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")

ONES: dict[str, int] = {word: value for value, word in enumerate(DIGITS)} | {"oh": 0}
TEEN_VALUES: dict[str, int] = {word: value for value, word in enumerate(TEENS, start=10)}
TEN_VALUES: dict[str, int] = {word: value * 10 for value, word in enumerate(TENS) if word}
PARTS: dict[str, str] = {
    "a half": "0.5",
    "one half": "0.5",
    "a quarter": "0.25",
    "one quarter": "0.25",
    "three quarters": "0.75",
    "three quarter": "0.75",
    "a third": "0.333",
    "one third": "0.333",
    "two thirds": "0.667",
    "a eighth": "0.125",
    "one eighth": "0.125",
    "three eighths": "0.375",
    "five eighths": "0.625",
    "seven eighths": "0.875",
}
SCALES = {"thousand": 1_000, "million": 1_000_000}

#: Every word that can stand in a number and nowhere else: fuzzy matching must leave these alone.
NUMBER_WORDS = (
    frozenset(ONES)
    | frozenset(TEEN_VALUES)
    | frozenset(TEN_VALUES)
    | {"hundred", "thousand", "million", "point", "half"}
)


_OF_A_NUMBER = frozenset(TEEN_VALUES) | frozenset(TEN_VALUES) | {"hundred", "thousand", "million", "point"}
_LEAST = 10


def has_number(text: str) -> bool:
    """Whether words hold a number of ten and more, or one with a point: "one" and "two" may be said of anything."""
    said = text.lower().replace("-", " ").replace(",", " ").split()
    return any(
        word in _OF_A_NUMBER or (word[:1].isdigit() and (not word.isdigit() or int(word) >= _LEAST)) for word in said
    )


def say_digits(literal: str, zero: str = "zero") -> str:
    """Digits one by one: "105" gives "one zero five"."""
    return " ".join(zero if digit == "0" else DIGITS[int(digit)] for digit in literal)


def say_pair(value: int) -> str:
    """A value of 1 to 99 in words."""
    if value < 10:
        return DIGITS[value]
    if value < 20:
        return TEENS[value - 10]
    return TENS[value // 10] + (f" {DIGITS[value % 10]}" if value % 10 else "")
