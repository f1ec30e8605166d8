"""Numbers as a keyboard writes them."""

from __future__ import annotations

import re

from assistant.errors import LaddersideError

_NUMBER = re.compile(r"\s*([-+−–]?(?:\d[\d,]*(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?)\s*(.*?)\s*$", re.DOTALL)
_THOUSANDS = re.compile(r"[-+]?\d{1,3}(?:,\d{3}){2,}(?:\.\d*)?|[-+]?[1-9]\d{0,2}(?:,\d{3})+\.\d*")
_DECIMAL_COMMA = re.compile(r"[-+]?(?:\d+,(?:\d{1,2}|\d{4,})|0+,\d+)(?:[eE][-+]?\d+)?")


class NumberError(LaddersideError):
    """Text that does not begin with a number, or whose comma may mean two things."""


def split(text: str) -> tuple[float, str]:
    """A number and what stands after it: "4,2 kohm" is 4.2 and "kohm", "12,345,678" has its thousands.

    One comma before three figures ("4,200") may be either, and raises NumberError, as does text without a number.
    """
    found = _NUMBER.match(text)
    if found is None:
        raise NumberError(f"“{text}” does not begin with a number.")
    figures = found[1].replace("−", "-").replace("–", "-")
    return float(_without_commas(figures, text)), found[2]


def _without_commas(figures: str, text: str) -> str:
    if "," not in figures:
        return figures
    if _THOUSANDS.fullmatch(figures):
        return figures.replace(",", "")
    if _DECIMAL_COMMA.fullmatch(figures):
        return figures.replace(",", ".")
    raise NumberError(f"“{text}” may mean thousands or a decimal; write it without the comma.")
