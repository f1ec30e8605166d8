"""Takes written words apart: numerals, signs, abbreviations and punctuation, from a free-text ear or a keyboard.

The result is a row of tokens, each with the strings of grammar words that may have been said for it. Which of
them it was is for the grammar to decide (``parsing.py``); nothing is chosen here.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.language import numbers
from assistant.quantities.table import units

#: Single letters are units only where no word of the grammar is the same letter: C and F are words, R is of a name.
_LETTERS = {"v": "volts", "a": "amps", "w": "watts", "m": "meters", "g": "grams", "s": "seconds", "h": "hours"}
#: What the table of quantities leaves open (an "mf" of a run capacitor, a "mohm" of an insulation), and other words.
_OWN = {"mf": "microfarads", "mohm": "megohms", "mohms": "megohms", "deg": "degrees", "btus": "btu", "gnd": "ground"}


def _abbreviations() -> dict[str, str]:
    """Abbreviations of units as written, folded to lower case -> as spoken."""
    # "Um" is what a free-text ear writes of somebody who thinks, not a micron.
    said = {phrase for unit in units() for phrase in unit.phrases} - {"psig"} | {"um"}
    found = dict(_LETTERS)
    for unit in units():
        if unit.phrases:
            for written in (unit.symbol, *unit.signs, *unit.written):
                folded = written.lower().replace("µ", "u").replace("μ", "u")
                if re.fullmatch("[a-z]{2,}", folded) and folded not in said:
                    found.setdefault(folded, unit.many)
    current = {f"{sign}{which}": f"{found[sign]} {which}" for sign in ("v", "mv", "kv") for which in ("ac", "dc")}
    return found | current | {"psig": "psi"} | _OWN


ABBREVIATIONS: dict[str, str] = _abbreviations()

_SIGNS = (
    ("½", " 1/2 "),
    ("¼", " 1/4 "),
    ("¾", " 3/4 "),
    ("⅛", " 1/8 "),
    ("⅜", " 3/8 "),
    ("⅝", " 5/8 "),
    ("⅞", " 7/8 "),
    ("\N{OHM SIGN}", "Ω"),
    ("kΩ", " kilohms "),
    ("KΩ", " kilohms "),
    ("MΩ", " megohms "),
    ("mΩ", " milliohms "),
    ("Ω", " ohms "),
    ("°", " degrees "),
    ("º", " degrees "),
    ("µ", "u"),
    ("μ", "u"),
    ("%", " percent "),
    ("²", " 2 "),
    ("³", " 3 "),
    ("’", "'"),
    ("‘", "'"),
    ("−", "-"),
    ("–", "-"),
    ("—", " - "),
    ("&", " and "),
    ("=", " equals "),
)

_NOISE = re.compile(r"\[[^\]]*\]|\([^)]*\)|\*[^*]*\*|♪")

_TOKEN = re.compile(
    r"""(?P<money>\$\d[\d,]*(?:\.\d\d?)?)
      |(?P<clock>\d{1,2}:\d\d\b)
      |(?P<part>\d/\d\d?\b)
      |(?P<number>\d{1,3}(?:,\d{3})+(?:\.\d+)?(?![\d,])|\d*\.\d+|\d+)
      |(?P<word>[a-z]+(?:'[a-z]+)?)
      |(?P<stop>[.?!;:]+|,+)
      |(?P<dash>-)""",
    re.VERBOSE,
)

_PARTS = {
    "1/2": ("a half", "half"),
    "1/4": ("a quarter",),
    "3/4": ("three quarters",),
    "1/3": ("a third",),
    "2/3": ("two thirds",),
    "1/8": ("one eighth",),
    "3/8": ("three eighths",),
    "5/8": ("five eighths",),
    "7/8": ("seven eighths",),
}


@dataclass(frozen=True)
class Token:
    """A written piece: ``kind`` is a group of the pattern above; ``stop`` the punctuation before it, if any."""

    kind: str
    text: str
    stop: str = ""


def tokens(text: str) -> list[Token]:
    """The pieces of ``text`` in order, punctuation kept as the ``stop`` of the piece after it."""
    for sign, plain in _SIGNS:
        text = text.replace(sign, plain)
    text = _NOISE.sub(" ", text).lower()
    found: list[Token] = []
    stop = ""
    for match in _TOKEN.finditer(text):
        kind = match.lastgroup or ""
        if kind == "stop":
            stop = stop or match.group()[0]
        elif kind == "dash":
            if _is_sign(text, match.start(), found, stop):
                found.append(Token("word", "minus", stop))
                stop = ""
            elif text[match.start() - 1 : match.start()] != " ":
                stop = stop or "-"
        else:
            found.append(Token(kind, match.group(), stop if found else ""))
            stop = ""
    return found


def _is_sign(text: str, at: int, before: list[Token], stop: str) -> bool:
    """A dash before a digit is a minus unless it ties the digit to what stands right before it."""
    after = text[at + 1 : at + 2]
    if not (after.isdigit() or after == "."):
        return False
    return at == 0 or text[at - 1] in " ,;:(" or not before


def spoken_ways(token: Token) -> list[list[str]]:
    """The word strings that may have been said for one token, the likeliest first; never empty."""
    if token.kind == "word":
        return [[token.text]]
    if token.kind == "part":
        ways = _PARTS.get(token.text, ())
        return [w.split() for way in ways for w in (way, f"and {way}")] or [token.text.split("/")]
    if token.kind == "clock":
        return _clock(token.text)
    if token.kind == "money":
        return _money(token.text.lstrip("$").replace(",", ""))
    return _numeral(token.text.replace(",", ""))


@lru_cache(maxsize=16_384)
def as_words(text: str) -> str:
    """Grammar words for ``text``, each numeral in its plainest form: "R-410A" gives "r four hundred ten a"."""
    return " ".join("oh" if word == "o" else word for token in tokens(text) for word in spoken_ways(token)[0])


def _unique(ways: list[str]) -> list[list[str]]:
    return [way.split() for way in dict.fromkeys(ways)]


def _whole_ways(text: str) -> list[str]:
    digitwise = numbers.say_digits(text)
    if text.startswith("0") and len(text) > 1:
        return [digitwise, numbers.say_digits(text, "oh")]
    if len(text) > 6:
        return [digitwise] + (list(numbers.groupings(text)) if len(text) == 7 else [])
    forms = [form for form in numbers.forms(text) if " and " not in form]
    return forms + [digitwise] + (list(numbers.groupings(text)) if len(text) > 3 else [])


def _numeral(text: str) -> list[list[str]]:
    whole, point, after = text.partition(".")
    if not point:
        return _unique(_whole_ways(whole))
    tail = f"point {numbers.say_digits(after)}"
    return _unique([f"{head} {tail}" for head in (_whole_ways(whole) if whole else [])] or [tail])


def _clock(text: str) -> list[list[str]]:
    hours, _, minutes = text.partition(":")
    if minutes == "00":
        return _numeral(hours + minutes)
    tail = numbers.say_pair(int(minutes)) if minutes[0] != "0" else f"oh {numbers.DIGITS[int(minutes)]}"
    return _unique([f"{numbers.say_pair(int(hours)) if int(hours) else 'zero'} {tail}"])


def _money(text: str) -> list[list[str]]:
    """ "$4.20" is written for "four twenty"; what that is worth is decided by what the question expects."""
    whole, _, cents = text.partition(".")
    if len(cents) != 2 or not 0 < int(whole) < 100:
        return _numeral(text)
    low = int(cents)
    said = numbers.say_pair(low) if low >= 10 else f"oh {numbers.DIGITS[low]}" if low else "hundred"
    return _unique([f"{numbers.say_pair(int(whole))} {said}"]) + _numeral(str(Decimal(text)))
