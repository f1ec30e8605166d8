"""The words of a sentence, one by one, as they were written: with its numerals said and its pauses marked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from assistant.language.written import spoken_ways, tokens

#: The longest phrase that is looked for, in words.
_LONGEST = 6
#: Words whose "'s" belongs to them.
_WHOLE = frozenset({"it's", "that's", "let's", "here's", "there's", "she's", "he's", "what's", "ma'am"})


@dataclass(frozen=True)
class SaidWord:
    """A word of the sentence; ``numeral``: it was written in figures. ``stop``: there was punctuation before it."""

    text: str
    numeral: bool = False
    stop: bool = False


def said_words(text: str, respelt: Mapping[str, str]) -> list[SaidWord]:
    """The words of ``text``, with "leg two's" as "leg two 's" and each numeral as its words.

    ``respelt``: words that are written in more than one way, with the way that is known.
    """
    found: list[SaidWord] = []
    for token in tokens(text):
        stop = bool(token.stop) and token.stop != "-"
        if token.kind == "word":
            word = respelt.get(token.text, token.text)
            base, mark, tail = word.partition("'")
            if mark and tail == "s" and word not in _WHOLE:
                found += [SaidWord(base, False, stop), SaidWord("'s", False, False)]
            else:
                found.append(SaidWord(word, False, stop))
            continue
        if token.stop == "-" and found and found[-1].numeral:
            found.append(SaidWord("to", False, False))
        for index, word in enumerate(spoken_ways(token)[0]):
            found.append(SaidWord(word, True, stop and not index))
    return found


def text_of(row: Sequence[SaidWord], start: int, end: int) -> str:
    return " ".join(item.text for item in row[start:end])


def longest(row: Sequence[SaidWord], at: int, phrases: Mapping[str, str]) -> tuple[str | None, int]:
    """What the longest phrase at ``at`` stands for, and where it ends; no pause lies inside a phrase."""
    for length in range(min(len(row) - at, _LONGEST), 0, -1):
        if any(item.stop for item in row[at + 1 : at + length]):
            continue
        text = text_of(row, at, at + length)
        if text in phrases:
            return phrases[text], at + length
    return None, at
