"""Slips of the keyboard: a word that nobody knows and that is one letter away from one long word of the trade."""

from __future__ import annotations

import re
from collections import Counter
from functools import lru_cache

from rapidfuzz.distance import OSA

from assistant.language.around import shipped as around
from assistant.language.clause_tables import known_clauses
from assistant.language.number_words import NUMBER_WORDS
from assistant.language.scope import Tellable

#: Words from this length on are mended, where the meant one stands in so many known clauses.
_LONG, _USUAL = 5, 4
#: In a shorter word another letter makes another word ("likes" is no "lines"); one too many, too few or swapped is a
#: slip.
_OTHER_LETTER = 8
_WORD = re.compile(r"[A-Za-z']+")


def mended(words: str, tellable: Tellable) -> str:
    """``words`` with every slip mended of which it is clear what was meant; as they were where there is none.

    Another letter at the beginning, or a number word, is no slip: that would be another thing.
    """
    known, usual = _vocabulary(tellable)

    def meant(found: re.Match[str]) -> str:
        word = found.group()
        small = word.lower()
        if len(small) < _LONG or small in known or "'" in small:
            return word
        near = [one for one in usual if _is_near(small, one)]
        return near[0] if len(near) == 1 else word

    return _WORD.sub(meant, words)


def _is_near(word: str, known: str) -> bool:
    if word[0] != known[0] or abs(len(word) - len(known)) > 1:
        return False
    if len(word) == len(known) < _OTHER_LETTER and sorted(word) != sorted(known):
        return False
    return OSA.distance(word, known, score_cutoff=1) == 1 and known not in (f"{word}s", f"{word}'s")


@lru_cache(maxsize=2)
def _vocabulary(tellable: Tellable) -> tuple[frozenset[str], tuple[str, ...]]:
    """Every known word, and the long ones of clauses that are usual there."""
    said = Counter(word for text, _ in known_clauses() for word in {*_WORD.findall(text.lower())})
    table = around()
    known = {*said, *tellable.words, *NUMBER_WORDS}
    known |= {word for phrase in table.section for word in phrase.split()}
    known |= {word for words in table.words.values() for word in words}
    usual = (word for word, count in said.items() if len(word) >= _LONG and count >= _USUAL and "'" not in word)
    return frozenset(known), tuple(sorted(set(usual) - NUMBER_WORDS))
