"""Whether what an ear wrote is nearly what was understood: every number and letter the same, the rest alike.

An ear that writes free text often misspells the words around the numbers ("one thirty seven megas", "then pipe
frosted"), and then no text of it is understood as it stands. Where its numbers are those of the answer, and its other
words are as many and spelt much like the answer's, it has heard the answer all the same. (A word more may be the one
that counts: "help him" is no "help".)
"""

from __future__ import annotations

from functools import lru_cache

from rapidfuzz import fuzz

from assistant.hearing import saying
from assistant.language.lattice import NEVER_SKIPPED
from assistant.language.written import as_words

#: Likeness of the other words, of 100. "It rips inside" is 96 like "it drips inside", "flock" 62 like "blocked", "run"
#: 50 like "wrong".
ALIKE = 60.0
_TERMINALS = frozenset("lnpuvw")


def nearly(text: str, words: str) -> bool:
    """Whether free ``text`` is nearly the grammar words ``words``."""
    marks, rest = _apart(as_words(text))
    others, expected = _apart(words)
    if marks != others or (not marks and len(rest) != len(expected)):
        return False
    return rest == expected or fuzz.ratio("".join(rest), "".join(expected)) >= ALIKE


@lru_cache(maxsize=1024)
def _apart(words: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Numbers, as their digits, and terminals' letters; all other words."""
    marks, rest = [], []
    for said, number in saying.runs(words.split()):
        if number is not None:
            marks.append(number.literal)
        elif said[0] in _TERMINALS or said[0] in NEVER_SKIPPED:
            marks.append(said[0])
        else:
            rest.append(said[0])
    return tuple(marks), tuple(rest)
