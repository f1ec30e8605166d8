"""Every way in which people name a place, far more than a search graph can hold: for words that were written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

from assistant.language import numbers, places
from assistant.language.meaning import ReadingExpectation
from assistant.language.number_words import DIGITS

_ORDINALS = (("first",), ("second",), ("third",), ("fourth",))


@lru_cache(maxsize=256)
def place_names(expected: ReadingExpectation) -> dict[str, str]:
    """Every way to name a place: its phrases, "the first one", and a word that no other place has."""
    named = places.all_phrases(expected.places, expected.quantity)
    if not named:
        return {}
    found: dict[str, str] = {}
    for place, phrases in named.items():
        for phrase in phrases:
            if not places.is_bare_number(phrase):
                for text in (phrase, phrase.replace("ground", "earth"), phrase.replace("earth", "ground")):
                    found.setdefault(text, place)
            letters = phrase.replace(" to ", " ").split()
            if len(letters) > 1 and all(len(letter) == 1 for letter in letters):
                found.setdefault("".join(letters), place)
                found.setdefault(" ".join(letters), place)
    for place, words in _own_words(named).items():
        for word in words:
            for text in (word, f"{word} one", f"{word} ones"):
                found.setdefault(text, place)
    if expected.quantity != "duration":
        for at, (place, _) in enumerate(named.items()):
            for ordinal in (*_ORDINALS[at : at + 1], ("last",) if at + 1 == len(named) else ()):
                for word in ordinal:
                    for noun in ("", " one", " wire", " leg", " phase", " pair", " winding", " pin"):
                        found.setdefault(f"{word}{noun}", place)
    for at, place in enumerate(named, start=1):
        if place.endswith(f"-{at}"):  # they are counted: "on three", "three's at forty seven"
            for text in (f"on {DIGITS[at]}", f"number {DIGITS[at]}", f"{DIGITS[at]} 's"):
                found.setdefault(text, place)
    for text, place in list(found.items()):
        for before in ("the ", "on ", "on the ", "from ", "across ", "between ", "at ", "to ", "to the ", "for the "):
            found.setdefault(before + text, place)
        if " to " in text:
            left, _, right = text.partition(" to ")
            found.setdefault(f"{left} and {right}", place)
            found.setdefault(f"between {left} and {right}", place)
    return found


def _own_words(named: Mapping[str, Sequence[str]]) -> dict[str, set[str]]:
    """Words that are said for one place only: "room" and "pipe", "neutral" and "earth"; no number words."""
    of: dict[str, set[str]] = {}
    for place, phrases in named.items():
        for word in {word for phrase in phrases for word in phrase.split()}:
            of.setdefault(word, set()).add(place)
    found: dict[str, set[str]] = {}
    for word, where in of.items():
        if len(where) == 1 and word not in numbers.NUMBER_WORDS and word not in ("to", "and", "a", "the", "sensor"):
            found.setdefault(next(iter(where)), set()).add(word)
            if word in ("earth", "ground"):
                found[next(iter(where))] |= {"earth", "ground"}
    return found
