"""How a person reads a number aloud so that it cannot be taken for another.

Fifteen and fifty are the pair that ears confuse most (design, section 5), so a teen or a ten is never said
alone: two figures are given twice ("one five, fifteen"), longer ones digit by digit ("two three zero").
"""

from __future__ import annotations

import re

_UNITS = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"),
    *("ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
)
_TENS = ("zero", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_ORDINALS = (
    *("zeroth", "first", "second", "third", "fourth", "fifth", "sixth"),
    *("seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth"),
)
_PARTS = {2: ("half", "halves"), 3: ("third", "thirds"), 4: ("quarter", "quarters"), 8: ("eighth", "eighths")}
_PARTS |= {16: ("sixteenth", "sixteenths"), 32: ("thirty second", "thirty seconds")}

#: Above this a number is read digit by digit: it is a serial number, not a measurement.
LARGEST = 999_999


def digits(text: str) -> str:
    """ "208" → "two zero eight": every figure by its own name; anything but a figure is dropped."""
    return " ".join(_UNITS[int(figure)] for figure in text if figure.isascii() and figure.isdigit())


def cardinal(value: int) -> str:
    """0..999,999 in plain words, American style, no "and" and no hyphens. ValueError outside that range."""
    if not 0 <= value <= LARGEST:
        raise ValueError(f"{value} is outside 0..{LARGEST}")
    if value < 20:
        return _UNITS[value]
    if value < 100:
        tens, rest = divmod(value, 10)
        return _TENS[tens] + (f" {_UNITS[rest]}" if rest else "")
    size, name = (100, "hundred") if value < 1000 else (1000, "thousand")
    head, rest = divmod(value, size)
    return f"{cardinal(head)} {name}" + (f" {cardinal(rest)}" if rest else "")


def confusable(value: int) -> bool:
    """True when the last two figures make a teen or a ten that sounds like its partner (13/30 .. 19/90)."""
    last = value % 100
    return 13 <= last <= 19 or (last % 10 == 0 and last >= 30)


def number(text: str) -> str:
    """An unsigned figure as written ("4.20", "12,000", ".45") in words; the figures after the point are kept.

    ValueError when ``text`` is not such a figure.
    """
    match = re.fullmatch(r"(\d{1,3}(?:,\d{3})+|\d*)(?:\.(\d+))?", text)
    if match is None or not text:
        raise ValueError(f"not a number: {text!r}")
    whole, decimals = match.group(1).replace(",", ""), match.group(2)
    if decimals is None:
        return _whole(whole)
    head = _before_point(whole)
    return f"{head} point {digits(decimals)}"


def _whole(figures: str) -> str:
    value = int(figures)
    if value > LARGEST or (figures != "0" and figures.startswith("0")):
        return digits(figures)
    if value >= 1000 and value % 1000 == 0:
        return f"{_whole(figures[:-3])} thousand"
    if not confusable(value) and not confusable(value // 1000):
        return cardinal(value)
    return f"{digits(figures)}, {cardinal(value)}" if value < 100 else digits(figures)


def _before_point(figures: str) -> str:
    """Said twice, "fifteen" before a point would break the figure in two: a teen or ten goes by its digits."""
    if not figures:
        return "zero"
    value = int(figures)
    return digits(figures) if value > LARGEST or confusable(value) or confusable(value // 1000) else cardinal(value)


def fraction(numerator: int, denominator: int) -> str:
    """3, 8 → "three eighths"; 1, 2 → "one half". Other denominators are read "three over seven"."""
    if denominator not in _PARTS:
        return f"{cardinal(numerator)} over {cardinal(denominator)}"
    one, many = _PARTS[denominator]
    return f"{cardinal(numerator)} {one if numerator == 1 else many}"


def mixed(whole: int, numerator: int, denominator: int) -> str:
    """4, 1, 2 → "four and a half"; 2, 3, 8 → "two and three eighths"."""
    part = fraction(numerator, denominator)
    if numerator == 1:
        article = "an" if denominator == 8 else "a"
        part = f"{article} {part.removeprefix('one ')}"
    return f"{cardinal(whole)} and {part}"


def ordinal(value: int) -> str:
    """1..12 as "first" .. "twelfth"; above that "number" and the figure."""
    return _ORDINALS[value] if 0 <= value < len(_ORDINALS) else f"number {number(str(value))}"
