"""The rule that makes one answer of what two ears heard, where it comes from, and how well it does.

What each ear proposes is turned into meanings. Where both ears by themselves put the same meaning first, and no other
sounds nearly as likely, that is the answer. Free words that Whisper alone can write are taken as they are. Else there
is a second look, in which Whisper says of the meanings likeliest by sound how likely it finds their words, and the
answer is the meaning with the highest

    score(M) = SOUND * F(M) + S(M) - DOUBTFUL * [language doubts M] - OUTSIDE * [M lies outside the plausible range]

F(M): the phoneme ear's forward log likelihood of M, the best over every way to say it. S(M): Whisper's log probability
of the words of M, its own where it wrote just these. Each ear's *lead* is how far it puts the answer before any other.

Two ears have heard the same when they agree without a second look, or when Whisper wrote the answer without a word
too many and both leads are at least 0. The chance that such an answer is right is a logistic function of the leads.
The coefficients are fitted on synthetic voices: 700 utterances of 28 voices, half of them clean and half in fan noise
of 10 dB; ``tests/benchmarks/judgement.py`` does it again and prints the curve. Three choices were made with the results
on AN4's human speech in view as well, so AN4 is no held-out set for them: SOUND (0.6, where the synthetic voices liked
0.8 as much), SURE, and that Whisper hears the noise. The curve is that of the utterances fitted on, taken with four
meanings asked about and five hypotheses followed, one more of each than now. On 220 of them the ears agreed without a
look, none wrong. On 182 more both had heard the answer after a look; of these, by the least log odds:

    log odds   recorded   wrong among them
      none        182             5
      2.3         168             2
      3.2         148             1
      3.8         132             0

Trust follows the design's first promise. "sure" needs all of: both ears have heard it; it lies in the plausible range;
language has no doubt; its chance is at least SURE. "again" when nothing was understood or the chance is below AGAIN.
Everything between is "confirm".
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

SOUND = 0.6
DOUBTFUL = 3.0
OUTSIDE = 8.0
SURE = 0.919
AGAIN = 0.25
#: Meanings that the other ear is asked about, and the lead by sound below which even an agreed answer gets that look.
LOOKED_AT = 3
NEAR = 6.0
#: For an ear that cannot be asked again: what it is worth that it proposed a meaning.
_PROPOSED = 1.5

#: Chance of an answer after a second look, heard by both ears or not: constant, lead by sound, lead in the other ear.
_BOTH = (0.27, 0.80, 0.39)
_DIFFERED = (0.68, 0.19, 0.19)
#: Chance of an answer on which the ears agree without one: constant and lead by sound.
_AGREED = (0.73, 0.284)
#: Chance of free words: constant and Whisper's log probability a word.
_FREE = (1.2, 1.15)
#: So often a word may stand alone: "eight eight eight eight" is a reading.
_MOST_ALIKE = 4
#: Beyond this a lead says no more, and unsureness no worse.
_MOST_LEAD = 12.0
_WORST_WRITTEN = -3.0


@dataclass(frozen=True)
class Candidate:
    """A meaning that an ear proposed.

    ``words`` are grammar words that mean it and ``forward`` F(M); ``as_written`` are those nearest to what the other
    ear wrote. ``found`` says whether the phoneme ear's own search proposed it; ``written`` is Whisper's log probability
    of its own words, None when it did not write it, and ``exact`` that it wrote this and nothing else; ``second`` is
    S(M), None where it is not known; ``doubt`` is language's.
    """

    meaning: Meaning
    words: str
    as_written: str
    forward: float
    found: bool
    written: float | None
    second: float | None = None
    exact: bool = False
    doubt: str = ""


@dataclass(frozen=True)
class Judgement:
    """The answer with its trust, the calibrated chance that it is right, and the next best meaning.

    ``both`` says whether both ears have heard the answer; ``told`` are its leads where there was a second look.
    """

    answer: Candidate | None
    trust: Trust
    chance: float
    runner_up: Candidate | None = None
    doubt: str = ""
    both: bool = False
    told: tuple[float, float] | None = None


def worth_a_look(candidates: Sequence[Candidate]) -> list[Candidate]:
    """The few meanings that the other ear is asked about: the likeliest by sound of those that it did not write itself.

    What it wrote only in part or loosely is among them.
    """
    unknown = sorted((each for each in candidates if each.second is None), key=lambda each: -each.forward)
    written = [each for each in unknown if each.written is not None][:1]
    return [*written, *(each for each in unknown if each not in written)][:LOOKED_AT]


def judge(candidates: Sequence[Candidate], first: tuple[Key | None, Key | None], expectation: Expectation) -> Judgement:
    """Judges the ``candidates``; ``first`` holds the key of the meaning that each ear by itself puts first."""
    if not candidates:
        return Judgement(None, "again", 0.0)
    agreed = first[0] if first[0] == first[1] else None
    told: tuple[float, float] | None
    free = next((each for each in candidates if meaning_key(each.meaning) == first[1] and _is_text(each.meaning)), None)
    if agreed is None and free is not None:
        return _free_text(free)
    ranked = sorted(candidates, key=lambda each: _score(each, candidates, expectation), reverse=True)
    if agreed is not None and not (is_near(candidates, agreed) and _asked(candidates)):
        answer = next(each for each in candidates if meaning_key(each.meaning) == agreed)
        others = [each for each in ranked if each is not answer]
        told, both = None, True
        chance = _chance(_AGREED, leads(answer, others)[0])
    else:
        answer, *others = ranked
        told = leads(answer, others)
        both = answer.exact and min(told) >= 0
        chance = _chance(_BOTH if both else _DIFFERED, *told)
    plain = both and not answer.doubt and plausible(answer.meaning, expectation) and not is_babble(answer.words)
    plain = plain and chance >= SURE
    trust: Trust = "sure" if plain else "again" if chance < AGAIN else "confirm"
    return Judgement(answer, trust, chance, others[0] if others else None, answer.doubt, both, told)


def is_babble(words: str) -> bool:
    """One word over and over: both ears make that of people who talk far away, and nobody answers so."""
    said = words.split()
    return len(said) > _MOST_ALIKE and len(set(said)) == 1


def _asked(candidates: Sequence[Candidate]) -> bool:
    """Whether the other ear said of any meaning how likely it finds it."""
    return any(each.second is not None for each in candidates)


def leads(answer: Candidate, others: Sequence[Candidate]) -> tuple[float, float]:
    """How far the phoneme ear and the other ear put ``answer`` before the best of the ``others``, within limits.

    An ear that was not asked about the answer speaks against it; one that was asked about nothing else, for it.
    """
    by_sound = min((answer.forward - other.forward for other in others), default=_MOST_LEAD)
    known = [other.second for other in others if other.second is not None]
    if answer.second is None:
        return _bounded(by_sound), -_MOST_LEAD
    return _bounded(by_sound), _bounded(answer.second - max(known)) if known else _MOST_LEAD


def is_near(candidates: Sequence[Candidate], agreed: Key) -> bool:
    """Whether another meaning sounds nearly as likely as the agreed one."""
    forward = {meaning_key(each.meaning): each.forward for each in candidates}
    return any(forward[agreed] - each < NEAR for name, each in forward.items() if name != agreed)


def _bounded(lead: float) -> float:
    return max(-_MOST_LEAD, min(_MOST_LEAD, lead))


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
    """A meaning of which the other ear was not asked is taken to be as bad for it as the worst of which it was."""
    known = [each.second for each in candidates if each.second is not None]
    second = candidate.second if candidate.second is not None else min(known, default=0.0)
    proposed = 0.0 if known else _PROPOSED * (candidate.written is not None)
    outside = 0.0 if plausible(candidate.meaning, expectation) else OUTSIDE
    doubtful = DOUBTFUL if candidate.doubt else 0.0
    return SOUND * candidate.forward + second + proposed - doubtful - outside


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
