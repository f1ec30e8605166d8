"""The words of any ear as words of the grammar, for comparing ears and for scoring a proposal against the sound."""

from __future__ import annotations

from itertools import islice, product

from assistant.language.interpret import best_parse
from assistant.language.lattice import lattice
from assistant.language.meaning import Expectation
from assistant.language.parsing import parse
from assistant.language.state import automata
from assistant.language.written import as_words, spoken_ways, tokens

#: How many spoken forms of one written string are worth scoring.
MOST_FORMS = 16


def normalise(words: str, expectation: Expectation) -> str:
    """``words`` as they were most likely spoken: lower case, no punctuation, numerals said, homophones chosen.

    Where the state's grammar takes the words, the result is a path of its graph. Else every numeral is said in
    its plainest form and the rest is kept.
    """
    best = best_parse(words, expectation)
    if best is not None:
        return best.words
    return as_words(words)


def spoken_forms(words: str, expectation: Expectation, most: int = MOST_FORMS) -> tuple[str, ...]:
    """Every grammar string that may have been spoken for the written ``words``, the likeliest first.

    "120 ohms" may have been "one hundred twenty ohms", "one twenty ohms" or "one two zero ohms": an ear that
    scores a string against the sound should take the best of them. Falls back to ``normalise``'s way out.
    """
    found = [one.words for one in parse(automata(expectation), lattice(words))]
    if not found:
        ways = [[" ".join(way) for way in spoken_ways(token)] for token in tokens(words)]
        found = [" ".join(one) for one in islice(product(*ways), most)]
    best = normalise(words, expectation)
    return tuple(dict.fromkeys([best, *found]))[:most]
