"""The rule that makes one answer of what two ears heard, where it comes from, and how well it does.

What each ear proposes is turned into meanings, and every meaning gets one score:

    score(M) = PHONEME * F(M) + WHISPER * W(M) - OUTSIDE * [M lies outside the plausible range]

F(M): the phoneme ear's forward log likelihood of M, summed over every way to say it. W(M): Whisper's log probability
of the words that mean M; a meaning that it did not propose is taken as UNPROPOSED below its best. The highest score is
the answer, the next one the runner-up, and the chance that the answer is right is a logistic function of the lead.

Trust follows the design's first promise. "sure" needs all of: each ear by itself puts this meaning first; it lies in
the plausible range; language has no doubt; its chance is at least SURE. "again" when nothing was understood or the
chance is below AGAIN. Everything between is "confirm".
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from assistant.language.compare import meaning_key
from assistant.language.meaning import Correction, Expectation, Meaning, Readings

Key = tuple[object, ...]
Trust = Literal["sure", "confirm", "again"]

#: Lead taken when nothing else was proposed.
_LEAD_ALONE = 10.0

PHONEME = 0.5
WHISPER = 1.0
UNPROPOSED = 6.0
OUTSIDE = 4.0
SURE = 0.9
AGAIN = 0.2
#: The chance's logistic function: its value at no lead, its slope, and what agreement adds.
_AT_NO_LEAD = -0.5
_SLOPE = 0.35
_AGREED = 3.0


@dataclass(frozen=True)
class Candidate:
    """A meaning that an ear proposed.

    ``words`` are grammar words that mean it and ``forward`` F(M); ``found`` says whether the phoneme ear's own search
    proposed it; ``written`` is W(M), None when Whisper did not propose it; ``doubt`` is language's.
    """

    meaning: Meaning
    words: str
    forward: float
    found: bool
    written: float | None
    doubt: str = ""


@dataclass(frozen=True)
class Judgement:
    """The answer with its trust, the calibrated chance that it is right, and the next best meaning."""

    answer: Candidate | None
    trust: Trust
    chance: float
    runner_up: Candidate | None = None
    doubt: str = ""


def judge(candidates: Sequence[Candidate], first: tuple[Key | None, Key | None], expectation: Expectation) -> Judgement:
    """Judges the ``candidates``; ``first`` holds the key of the meaning that each ear by itself puts first."""
    if not candidates:
        return Judgement(None, "again", 0.0)
    best_written = max((each.written for each in candidates if each.written is not None), default=0.0)
    scored = sorted(
        ((_score(each, best_written, expectation), index) for index, each in enumerate(candidates)), reverse=True
    )
    answer = candidates[scored[0][1]]
    runner_up = candidates[scored[1][1]] if len(scored) > 1 else None
    lead = scored[0][0] - scored[1][0] if len(scored) > 1 else _LEAD_ALONE
    agreed = first[0] == first[1] == meaning_key(answer.meaning)
    chance = _logistic(_AT_NO_LEAD + _SLOPE * lead + _AGREED * agreed)
    if chance < AGAIN:
        return Judgement(answer, "again", chance, runner_up)
    plain = agreed and not answer.doubt and plausible(answer.meaning, expectation) and chance >= SURE
    return Judgement(answer, "sure" if plain else "confirm", chance, runner_up, answer.doubt)


def _score(candidate: Candidate, best_written: float, expectation: Expectation) -> float:
    written = candidate.written if candidate.written is not None else best_written - UNPROPOSED
    outside = 0.0 if plausible(candidate.meaning, expectation) else OUTSIDE
    return PHONEME * candidate.forward + WHISPER * written - outside


def plausible(meaning: Meaning, expectation: Expectation) -> bool:
    """Whether every reading in ``meaning`` lies within what instrument and place can give."""
    inner = meaning.meaning if isinstance(meaning, Correction) else meaning
    if not isinstance(inner, Readings) or expectation.reading is None:
        return True
    low, high = expectation.reading.plausible
    values = [value for item in inner.items for value in (item.value, *(item.span or ())) if value is not None]
    return all(low <= value <= high for value in values)


def _logistic(x: float) -> float:
    return 1 / (1 + math.exp(-x))
