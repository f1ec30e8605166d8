"""The words of any ear as words of the grammar, for comparing ears and for scoring a proposal against the sound."""

from __future__ import annotations

import math
from itertools import islice, product

from assistant.language.answers import senses
from assistant.language.compare import meaning_key
from assistant.language.interpret import best_parse
from assistant.language.lattice import lattice
from assistant.language.meaning import Expectation, Meaning
from assistant.language.parsing import parse
from assistant.language.state import automata
from assistant.language.written import as_words, spoken_ways, tokens

#: How many spoken forms of one written string are worth scoring.
MOST_FORMS = 24


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
    scores a string against the sound should take the best of them. All have the meaning that ``interpret`` tells
    first; strings of another meaning are in ``proposals``. Where nothing fits, the ways to say each numeral.
    """
    told = proposals(words, expectation)
    if told:
        return told[0][1][:most]
    ways = [[" ".join(way) for way in spoken_ways(token)] for token in tokens(words)]
    found = [" ".join(one) for one in islice(product(*ways), most)]
    return tuple(dict.fromkeys([as_words(words), *found]))[:most]


def proposals(words: str, expectation: Expectation, loose: bool = False) -> tuple[tuple[Meaning, tuple[str, ...]], ...]:
    """Every meaning that ``words`` may have, the likeliest first, each with the grammar strings that say it.

    "1. 07" gives 1.07 ("one point zero seven") and 107 ("one zero seven"): the sound can tell them apart.
    """
    best: dict[tuple[object, ...], tuple[float, Meaning, dict[str, None]]] = {}
    for one in parse(automata(expectation), lattice(words, loose), keep=MOST_FORMS):
        for sense in senses(one, expectation):
            key = meaning_key(sense.meaning)
            cost, meaning, said = best.get(key, (math.inf, sense.meaning, {}))
            said[one.words] = None
            best[key] = (sense.cost, sense.meaning, said) if sense.cost < cost else (cost, meaning, said)
    ordered = sorted(best.values(), key=lambda told: told[0])
    return tuple((meaning, tuple(said)) for _, meaning, said in ordered)
