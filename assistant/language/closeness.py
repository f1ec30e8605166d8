"""A near miss on a closed phrase: returned as a doubt, never as an answer of its own, and never over numbers."""

from __future__ import annotations

from functools import lru_cache

from rapidfuzz import fuzz, process

from assistant.language.lattice import NEVER_SKIPPED
from assistant.language.numbers import only_number_words
from assistant.language.state import Phrase

#: Score (0..100) from which a phrase is near, and by how much it must lead the best phrase of another meaning.
#: Chosen with tests/benchmarks/language.py on the shipped symptoms and commands with a word lost, added or changed:
#: 94 % come back as a doubt of the right meaning, 1 in 427 as one of another, and no sentence of far talk is near.
NEAR = 78.0
MARGIN = 8.0
#: So near must the letters in their order be at least: with all words the same, the score is half of this and 50.
_LEAST = 2 * (NEAR - MARGIN) - 100


def near_phrases(words: str, phrases: tuple[Phrase, ...]) -> list[Phrase]:
    """Phrases that ``words`` nearly are, the nearest first, one for each meaning.

    Only phrases with exactly the same number words, single letters and negations are looked at: "five blinks" is
    never near "four blinks", "code e four" not near "code f four", nor "do not stop" near "stop".
    Empty when the best is not near enough or leads too little.
    """
    exact = _exact(words)
    fitting = {phrase.words: phrase for phrase in phrases if _exact(phrase.words) == exact}
    like = process.extract(words, fitting.keys(), scorer=fuzz.ratio, limit=None, score_cutoff=_LEAST)
    likely = [text for text, _, _ in like]
    scored = process.extract(words, likely, scorer=_score, limit=8, score_cutoff=NEAR - MARGIN)
    best: dict[str, float] = {}
    for text, score, _ in scored:
        tag = fitting[text].tag
        best[tag] = max(best.get(tag, 0.0), score)
    order = sorted(best, key=lambda tag: -best[tag])
    if not order or best[order[0]] < NEAR:
        return []
    if len(order) > 1 and best[order[0]] - best[order[1]] < MARGIN:
        return []
    named = {phrase.tag: phrase for phrase in reversed(phrases)}
    return [named[tag] for tag in order]


@lru_cache(maxsize=1 << 15)
def _exact(words: str) -> tuple[tuple[str, ...], tuple[str, ...], frozenset[str]]:
    """What may not differ at all."""
    row = words.split()
    return only_number_words(row), tuple(filter(is_letter, row)), NEVER_SKIPPED.intersection(row)


def is_letter(word: str) -> bool:
    """Whether it is a letter said as such (a terminal, a code), not the word "a" or "i"."""
    return len(word) == 1 and word not in ("a", "i")


def _score(one: str, other: str, **_: object) -> float:
    """Letters in order, and words in any order: both must be near, so that one long shared word does not decide."""
    return min(fuzz.ratio(one, other), fuzz.token_sort_ratio(one, other)) * 0.5 + 0.5 * fuzz.token_set_ratio(one, other)
