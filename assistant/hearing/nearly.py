"""Whether what an ear wrote is nearly what was understood: every number and letter the same, the rest alike.

An ear that writes free text often misspells the words around the numbers ("one thirty seven megas", "then pipe
frosted"), and then no text of it is understood as it stands. Where its numbers, letters and negations are those of the
answer, and its other words are spelt much like the answer's, it has heard the answer all the same. Where there is no
number they must also be as many, for a word more may be the one that counts: "help him" is no "help".

What may not differ is what ``language/closeness.py`` keeps too, but a number may be said in another way.
"""

from __future__ import annotations

from functools import lru_cache

from rapidfuzz import fuzz

from assistant.hearing import saying
from assistant.language.closeness import is_letter
from assistant.language.lattice import NEVER_SKIPPED
from assistant.language.written import as_words

#: Likeness of the other words, of 100. "It rips inside" is 96 like "it drips inside", "flock" 67 like "blocked", "run"
#: 50 like "wrong".
ALIKE = 60.0


def nearly(text: str, words: str) -> bool:
    """Whether free ``text`` is nearly the grammar words ``words``."""
    numbers, kept, rest = _apart(as_words(text))
    wanted, wanted_kept, expected = _apart(words)
    if (numbers, kept) != (wanted, wanted_kept) or (not numbers and len(rest) != len(expected)):
        return False
    return rest == expected or fuzz.ratio("".join(rest), "".join(expected)) >= ALIKE


@lru_cache(maxsize=1024)
def _apart(words: str) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """Numbers, as their digits; letters and negations; all other words."""
    numbers: list[str] = []
    kept: list[str] = []
    rest: list[str] = []
    for said, number in saying.runs(words.split()):
        if number is not None:
            numbers.append(number.literal)
        else:
            (kept if is_letter(said[0]) or said[0] in NEVER_SKIPPED else rest).append(said[0])
    return tuple(numbers), tuple(kept), tuple(rest)
