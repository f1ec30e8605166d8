"""Whether what an ear wrote is nearly what was understood: every number and letter the same, the rest alike.

An ear that writes free text often misspells the words around the numbers ("one thirty seven megas", "then pipe
frosted"), and then no text of it is understood as it stands. Where its numbers, letters and negations are those of the
answer, and its other words are spelt much like the answer's, it has heard the answer all the same. Where there is no
number they must also be as many, for a word more may be the one that counts: "help him" is no "help". Around
numbers a word that the table of soundalikes knows for one of the answer's is taken for it ("nine boy three"), but for
no digit, letter or negation.

What may not differ is what ``language/closeness.py`` keeps too, but a number may be said in another way.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from rapidfuzz import fuzz

from assistant.language import saying, soundalikes
from assistant.language.closeness import is_letter
from assistant.language.lattice import NEVER_SKIPPED
from assistant.language.number_words import NUMBER_WORDS
from assistant.language.written import as_words

#: Likeness of the other words, of 100. "It rips inside" is 96 like "it drips inside", "flock" 67 like "blocked", "run"
#: 50 like "wrong".
ALIKE = 60.0
#: So like must each word be: as a whole "there's nothing lit up" is 66 like "there's nothing like that".
_EACH_ALIKE = 50.0
#: "It hasn't got one" is no number.
_PRONOUN = ("1",)
_EXACT = NEVER_SKIPPED | (NUMBER_WORDS - {"point"})


def is_within(said: Sequence[str], more: Sequence[str]) -> bool:
    """Whether all words of ``said`` stand in ``more`` in this order, with others before, between or behind them."""
    left = iter(more)
    return len(said) < len(more) and all(word in left for word in said)


def nearly(text: str, words: str) -> bool:
    """Whether free ``text`` is nearly the grammar words ``words``."""
    wanted, wanted_kept, expected = _apart(words)
    plain = as_words(text)
    numbers, kept, rest = _apart(_as_meant(plain, words) if wanted else plain)
    measured = numbers not in ((), _PRONOUN)
    if (numbers, kept) != (wanted, wanted_kept) or (not measured and len(rest) != len(expected)):
        return False
    if not measured and any(fuzz.ratio(*each) < _EACH_ALIKE for each in zip(rest, expected, strict=True)):
        return False
    return rest == expected or fuzz.ratio("".join(rest), "".join(expected)) >= ALIKE


def _as_meant(text: str, words: str) -> str:
    """``text`` with soundalikes put right: of words that ``words`` have, and that are no digit, letter or negation."""
    table = soundalikes.shipped().near
    plain = {word for word in words.split() if word not in _EXACT and not is_letter(word)}
    return " ".join(next((word for word in table.get(said, ()) if word in plain), said) for said in text.split())


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
