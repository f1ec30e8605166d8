"""The trade's vocabulary: words and phrases that say the same, from ``grammars/notions.txt``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

from assistant.language.own_words import stem
from assistant.language.sources import Problem, folder, lines_of

FILE = "notions.txt"
#: The longest phrase, in words.
_LONGEST = 4
_WORD = re.compile(r"[a-z']+|\d+")
#: Words that carry no notion of their own.
_SMALL_WORDS = frozenset(
    [
        *(
            "a",
            "an",
            "the",
            "it",
            "its",
            "it's",
            "is",
            "are",
            "was",
            "were",
            "be",
            "been",
            "i",
            "i'm",
            "me",
            "my",
            "you",
        ),
        *("your", "we", "this", "that", "that's", "there", "there's", "of", "to", "in", "on", "at", "and", "but", "so"),
        *("just", "really", "very", "with", "for", "from"),
    ]
)
#: The same, as they stand among notions.
SMALL = _SMALL_WORDS | frozenset(map(stem, _SMALL_WORDS))


@dataclass(frozen=True)
class Notions:
    """``words`` and ``phrases`` -> the notion that they say."""

    words: dict[str, str]
    phrases: dict[str, str]

    @cached_property
    def beginnings(self) -> frozenset[str]:
        """The first words of the phrases."""
        return frozenset(phrase.partition(" ")[0] for phrase in self.phrases)

    def notions(self, text: str) -> list[str]:
        """The sentence as notions, in order: "+fan" for a word of the table, the stem of any other."""
        said = _WORD.findall(text.lower().replace("'s", " "))
        found: list[str] = []
        at = 0
        while at < len(said):
            length, notion = self._phrase(said, at)
            found.append(notion or self._word(said[at]))
            at += length
        return found

    def _phrase(self, said: list[str], at: int) -> tuple[int, str]:
        if said[at] not in self.beginnings:
            return 1, ""
        for length in range(min(_LONGEST, len(said) - at), 1, -1):
            notion = self.phrases.get(" ".join(said[at : at + length]))
            if notion is not None:
                return length, f"+{notion}"
        return 1, ""

    def _word(self, word: str) -> str:
        notion = self.words.get(word) or self.words.get(stem(word))
        return f"+{notion}" if notion else stem(word)


def read(path: Path) -> tuple[Notions, list[Problem]]:
    """The table at ``path`` and what is wrong in it."""
    words: dict[str, str] = {}
    phrases: dict[str, str] = {}
    problems: list[Problem] = []
    for number, line in lines_of(path):
        notion, colon, said = line.partition(":")
        if not colon or not said.strip():
            problems.append(Problem(path.name, number, f'"{line}" cannot be read.', 'Write "notion: word, two words".'))
            continue
        for text in (notion, *(one.strip() for one in said.split(","))):
            table = phrases if " " in text else words
            known = table.setdefault(text, notion)
            if known != notion:
                what = f'"{text}" stands under {known} already.'
                problems.append(Problem(path.name, number, what, "Keep one of them."))
    for text, notion in list(words.items()):
        words.setdefault(stem(text), notion)
    return Notions(words, phrases), problems


@lru_cache(maxsize=1)
def shipped() -> Notions:
    """The table of this installation."""
    return read(folder() / FILE)[0]
