"""How an ear that writes free text may write grammar words, so that it can be asked about them in its own hand."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.language import saying
from assistant.language.number_words import ONES

_AS_WRITTEN = {"i've": "I've", "i'm": "I'm", "ac": "AC", "dc": "DC", "ol": "OL"}
#: Letters said one by one that are written as one word.
_INITIALS = {("a", "c"): "AC", ("d", "c"): "DC", ("p", "s", "i"): "psi"}
_SIGNS = ("minus", "negative")


def spellings(words: str) -> tuple[str, ...]:
    """As a sentence each: numbers in words, single digits with commas between them, and numerals."""
    said = words.split()
    numerals = [
        _numeral(run, number.literal) if number else _capitals(run) for run, number in saying.runs(_joined(said))
    ]
    ways = [_capitals(_joined(said)), " ".join(numerals)]
    if all(ONES.get(word, 10) < 10 for word in said):
        ways.append(", ".join(said))
    return tuple(f"{text[:1].upper()}{text[1:]}." for text in dict.fromkeys(ways))


def _joined(words: Sequence[str]) -> list[str]:
    """Initials as one word."""
    joined: list[str] = []
    at = 0
    while at < len(words):
        length = next((len(each) for each in _INITIALS if tuple(words[at : at + len(each)]) == each), 0)
        joined.append(_INITIALS[tuple(words[at : at + length])] if length else words[at])
        at += max(1, length)
    return joined


def _capitals(words: Sequence[str]) -> str:
    """Letters as capitals; the word "a" stays."""
    return " ".join(
        _AS_WRITTEN.get(word, word.upper() if len(word) == 1 and word.isalpha() and word != "a" else word)
        for word in words
    )


def _numeral(run: Sequence[str], literal: str) -> str:
    sign = run[0] if run[0] in _SIGNS else _SIGNS[0]
    return literal.replace("-", f"{sign} ")
