"""The rule that makes one answer of what two ears heard, where it comes from, and how well it does.

What each ear proposes is turned into meanings. Where both ears by themselves put the same meaning first, that is the
answer. Free words that Whisper alone can write are taken as they are. Else the answer is the meaning with the highest

    score(M) = F(M) + S(M) + PROPOSED * [Whisper wrote M] - DOUBTFUL * [language doubts M]
               - OUTSIDE * [M lies outside the plausible range]

F(M): the phoneme ear's forward log likelihood of M, the best over every way to say it. S(M): the second look, Whisper's
log probability of the words of M had it to write them; taken for the few likeliest meanings where the ears differ, or
agree while another meaning sounds nearly as likely.

The chance that the answer is right is a logistic function of its lead in F + S over the next meaning (agreed), or of
that and how well its sounds fit (differed). Weights and coefficients are fitted on synthetic voices alone: 451
utterances of 28 voices, clean and in fan noise of 10 dB. ``tests/benchmarks/judgement.py`` does it again and prints
the curve. Of the 243 on which the ears agreed, 9 were wrong, 4 of these with a doubt of language; by the least lead:

    lead   right answers asked about (natural voices, clean)   wrong ones recorded of those without a doubt
      0         1 %                                                5
      4         3 %                                                3
      5         5 %                                                2
      6         6 %                                                1
      8        10 %                                                1

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
from assistant.language.meaning import Correction, Expectation, Meaning, Readings, Text

Key = tuple[object, ...]
Trust = Literal["sure", "confirm", "again"]

PROPOSED = 1.5
DOUBTFUL = 1.5
OUTSIDE = 4.0
SURE = 0.919
AGAIN = 0.25
#: Meanings that get a second look, and the lead by sound below which even an agreed answer gets one.
LOOKED_AT = 5
NEAR = 6.0

#: Chance of an answer on which the ears agree: constant and lead. SURE is a lead of 6.
_AGREED = (0.73, 0.284)
#: Chance of an answer on which they differ: constant, lead and fit.
_DIFFERED = (0.0, 0.23, 0.18)
#: Chance of free words: constant and Whisper's log probability a word.
_FREE = (1.2, 1.15)
#: Beyond these a lead says no more, and a misfit or unsureness no worse.
_MOST_LEAD = 12.0
_WORST_FIT = -8.0
_WORST_WRITTEN = -3.0


@dataclass(frozen=True)
class Candidate:
    """A meaning that an ear proposed.

    ``words`` are grammar words that mean it and ``forward`` F(M); ``fit`` is how far the sound lies, per word, below
    what any string of phonemes would score (0: perfect); ``found`` says whether the phoneme ear's own search proposed
    it; ``written`` is Whisper's log probability of its own words, None when it did not write it; ``second`` is S(M),
    None without a second look; ``doubt`` is language's.
    """

    meaning: Meaning
    words: str
    forward: float
    fit: float
    found: bool
    written: float | None
    second: float | None = None
    doubt: str = ""


@dataclass(frozen=True)
class Judgement:
    """The answer with its trust, the calibrated chance that it is right, and the next best meaning."""

    answer: Candidate | None
    trust: Trust
    chance: float
    runner_up: Candidate | None = None
    doubt: str = ""


def worth_a_look(candidates: Sequence[Candidate]) -> list[Candidate]:
    """The few meanings for which Whisper is asked a second time: the likeliest by sound, and what it wrote itself."""
    ranked = sorted(candidates, key=lambda each: each.forward + 2 * PROPOSED * (each.written is not None), reverse=True)
    chosen = ranked[:LOOKED_AT]
    own = next((each for each in ranked if each.written is not None), None)
    return chosen if own is None or own in chosen else [*chosen[:-1], own]


def judge(candidates: Sequence[Candidate], first: tuple[Key | None, Key | None], expectation: Expectation) -> Judgement:
    """Judges the ``candidates``; ``first`` holds the key of the meaning that each ear by itself puts first."""
    if not candidates:
        return Judgement(None, "again", 0.0)
    if first[0] is not None and first[0] == first[1]:
        return _agreed(candidates, first[0], expectation)
    free = next((each for each in candidates if meaning_key(each.meaning) == first[1] and _is_text(each.meaning)), None)
    if free is not None:
        return _free_text(free)
    scores = {index: _score(each, candidates, expectation) for index, each in enumerate(candidates)}
    best, *others = sorted(scores, key=lambda index: scores[index], reverse=True)
    answer = candidates[best]
    lead = scores[best] - scores[others[0]] if others else _MOST_LEAD
    chance = _chance(_DIFFERED, min(lead, _MOST_LEAD), max(answer.fit, _WORST_FIT))
    runner_up = candidates[others[0]] if others else None
    return Judgement(answer, "again" if chance < AGAIN else "confirm", chance, runner_up, answer.doubt)


def _agreed(candidates: Sequence[Candidate], agreed: Key, expectation: Expectation) -> Judgement:
    """Both ears put this meaning first: the others only tell how near a mishearing lies."""
    answer = next(each for each in candidates if meaning_key(each.meaning) == agreed)
    others = sorted((each for each in candidates if each is not answer), key=lambda each: each.forward, reverse=True)
    chance = _chance(_AGREED, min(agreed_lead(answer, others), _MOST_LEAD))
    plain = not answer.doubt and plausible(answer.meaning, expectation) and chance >= SURE
    trust: Trust = "sure" if plain else "again" if chance < AGAIN else "confirm"
    return Judgement(answer, trust, chance, others[0] if others else None, answer.doubt)


def agreed_lead(answer: Candidate, others: Sequence[Candidate]) -> float:
    """Lead over the nearest of ``others`` in F + S where both had a second look, else in F alone."""
    leads = [_MOST_LEAD]
    for other in others:
        lead = answer.forward - other.forward
        if answer.second is not None and other.second is not None:
            leads.append(lead + answer.second - other.second)
        elif answer.second is None or lead < 0:
            leads.append(lead)
    return min(leads)


def is_near(candidates: Sequence[Candidate], agreed: Key) -> bool:
    """Whether another meaning sounds nearly as likely as the agreed one."""
    forward = {meaning_key(each.meaning): each.forward for each in candidates}
    return any(forward[agreed] - each < NEAR for name, each in forward.items() if name != agreed)


def _free_text(answer: Candidate) -> Judgement:
    """Only one ear can write free words, and the other knows no sound of a name: they are always read back."""
    chance = _chance(_FREE, max(_a_word(answer), _WORST_WRITTEN))
    return Judgement(answer, "again" if chance < AGAIN else "confirm", chance, None, answer.doubt)


def _is_text(meaning: Meaning) -> bool:
    return isinstance(meaning.meaning if isinstance(meaning, Correction) else meaning, Text)


def _a_word(answer: Candidate) -> float:
    """Whisper's log probability a word."""
    return (answer.written or 0.0) / max(1, len(answer.words.split()))


def _score(candidate: Candidate, candidates: Sequence[Candidate], expectation: Expectation) -> float:
    """Without a second look a meaning is taken to be as bad as the worst that got one."""
    looked = [each.second for each in candidates if each.second is not None]
    second = candidate.second if candidate.second is not None else min(looked, default=0.0)
    outside = 0.0 if plausible(candidate.meaning, expectation) else OUTSIDE
    doubtful = DOUBTFUL if candidate.doubt else 0.0
    return candidate.forward + second + PROPOSED * (candidate.written is not None) - doubtful - outside


def plausible(meaning: Meaning, expectation: Expectation) -> bool:
    """Whether every reading in ``meaning`` lies within what instrument and place can give."""
    inner = meaning.meaning if isinstance(meaning, Correction) else meaning
    if not isinstance(inner, Readings) or expectation.reading is None:
        return True
    low, high = expectation.reading.plausible
    values = [value for item in inner.items for value in (item.value, *(item.span or ())) if value is not None]
    return all(low <= value <= high for value in values)


def _chance(coefficients: tuple[float, ...], *features: float) -> float:
    constant, *slopes = coefficients
    x = constant + sum(slope * feature for slope, feature in zip(slopes, features, strict=True))
    return 1 / (1 + math.exp(-max(-50.0, min(50.0, x))))
