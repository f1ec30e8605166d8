"""The rule that makes one answer of what several ears heard, where it comes from, and how well it does.

What each ear proposes is turned into meanings. Free words that a writing ear alone can write are taken as they are.
Of all other meanings the answer is the one with the highest

    score(M) = SOUND * F(M) + sum over writing ears of (WRITER * S(M) + WROTE * [it came upon M by itself])
               + WORD * [words of M] + UNIT * [units are said] - ODD * [odd numbers in M]
               - DOUBTFUL * [language doubts M] - OUTSIDE * [M lies outside the plausible range]

F(M): the phoneme ear's forward log likelihood of M, the best over every way to say it. S(M): a writing ear's log
probability of the words of M. The share of a meaning is its part of exp(score) among all meanings.

An ear has *heard* the answer when it proposed it by itself and finds no other meaning likelier. The ears *agree* where
two of them have heard it and put it ahead by CLEARLY; for the second counts a writing ear that wrote it nearly
(``hearing/nearly.py``) and finds no other likelier. They also agree where all have heard it and two put it ahead by
TOGETHER; and where two have heard it, none finds another likelier, and two put it FAR ahead. Then the share is the
chance that the answer is right; else that is worth a fifth of its log odds.

The weights lie between those of softmax regressions on 2,611 answers to synthetic utterances, clean and in fan noise of
10 dB, and the heavier weights of the writing ears that human speech wants (AN4, looked at beside them, so that it is no
clean held-out set): most of the natural voices had taught the phoneme ear. That fit is older than the rules of
agreement. With both, of 3,287 utterances no wrong answer was recorded: AN4 clean, at 10 and at 5 dB; all natural voices
clean, two thirds of them at 10 dB; a third of the formant voices, clean and at 10 dB; most of them seen while the
thresholds were set. Of the right answers of AN4 5 in 100 were asked about clean and 11 at 10 dB; of natural voices 12
and 24, of formant voices 30 and 38.

SURE, VETO, CLEARLY and TOGETHER were set after seeing what they keep out: AN4's answers at 5 dB in which every ear had
lost the same "oh", and "four point seventy one" for "oh point seventy one", which all ears took for it. That one stays
out by a hair: it has 1.02 where TOGETHER is 1.05, and a right answer of AN4 1.07.
``tests/benchmarks/judgement.py`` prints the curve and a fresh fit.

Trust follows the design's first promise. "sure" needs all of: the ears agree; the answer lies in the plausible range;
language has no doubt; no number in it is odd (``hearing/usual.py``), unless every ear put it ahead by CLEARLY; its
share is at least SURE; no ear finds another answer likelier by more than VETO; without a rival, its words were written
surely (ALONE, FAINT); a teen in it is well apart from its ten for every ear, or the other way round (TEENS_APART).
In poor sound (``hearing/sound/quality.py``) more is asked (POOR_SURE, POOR_LEAST, POOR_FAR), and a short word that
decides is weighed against the others of its kind by every ear.
"again" when nothing was understood or the chance is below AGAIN. All between is "confirm".
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from assistant.hearing.listening.nearly import is_within, nearly
from assistant.hearing.listening.usual import oddities, says_units
from assistant.job.ledger import FREE
from assistant.language.compare import meaning_key
from assistant.language.interpret import interpret
from assistant.language.meaning import Correction, Expectation, LedgerSaid, Meaning, Readings, Text
from assistant.language.number_words import NUMBER_WORDS
from assistant.language.teens import mistakable
from assistant.language.written import as_words

Key = tuple[object, ...]
Trust = Literal["sure", "confirm", "again"]

#: What F counts.
SOUND = 0.5
#: What a writing ear's log probability is worth.
WRITER = 0.25
#: What it counts that a writing ear came upon a meaning by itself: what it would write when asked to is less. Another
#: ear that can be asked counts as the least of them.
WROTE = {"whisper": 1.5, "moonshine": 1.1}
WORD = 1.5
UNIT = 1.5
ODD = 1.3
DOUBTFUL = 2.7
OUTSIDE = 2.3
SURE = 0.97
CLEARLY = 1.25
TOGETHER = 1.05
FAR = 3.0
#: What an ear wrote, though language has a doubt of it, it has heard if, asked for the grammar's words, it puts them
#: ahead by so much. (Where words of it were not understood this is not enough: "no cool one" is no "no".)
DOUBTED = 3.5
AGAIN = 0.35
#: Where nothing else that was heard made sense, no share can tell: so sure must the writing ears be of their own words,
#: in log probability a word; less where all ears heard it. Five wrong ones fall short ("no" for "help"). Moonshine must
#: be surer than Whisper, for it hears without the noise as the phoneme ear does, and so may take it for the same.
ALONE, FAINT = {"whisper": -0.9, "moonshine": -0.65}, -1.5
#: So far must every ear put a teen before its ten, or the ten before its teen, or by CLEARLY and all together by more:
#: "thirty and a half" for "thirteen and a half" all ears heard, by 9.5 together.
TEENS_APART, TEENS_TOGETHER = 2.0, 12.0
#: An ear that finds another answer so much likelier is heeded, whatever the others say.
VETO = 8.0
#: In poor sound the share must be greater, and either all ears put it ahead by so much, or two by far: set on AN4's
#: utterances played faster and slower in noise of 5 and 8 dB, where "help" was "no" and "four oh three" "four three".
POOR_SURE, POOR_LEAST, POOR_FAR = 0.975, 1.0, 3.0
#: Chance of an answer that fewer than two ears have heard: constant and log odds of its share.
_UNHEARD = (-0.5, 0.2)
#: For an ear that cannot be asked: what it is worth that it proposed a meaning. A guess: no English Vosk model could be
#: had to fit it on.
_PROPOSED = 2.0
#: A meaning is never more than this behind the best for one ear: an ear can be deaf to a word.
_MOST_LEAD = 30.0

#: Chance of free words: constant and the log probability a word.
_FREE = (1.2, 1.15)
_WORST_WRITTEN = -3.0
#: A made-up name is never written surely, and to hear it again brings no more: it is read back down to this log
#: probability a word. (What is noise a writing ear does not give out at all.)
_FREE_WORST = -5.0
#: So often a word may stand alone: "eight eight eight eight" is a reading.
_MOST_ALIKE = 4


@dataclass(frozen=True)
class View:
    """What a writing ear thinks of one meaning.

    ``written`` is its log probability of its own words, None when it did not write them, and ``exact`` that it wrote
    this and nothing else; ``doubted`` that it wrote this, but language has a doubt ("six, twenty six": a pause).
    ``second`` is S(M), None where it was not asked.
    """

    written: float | None = None
    exact: bool = False
    second: float | None = None
    doubted: bool = False

    @property
    def known(self) -> float | None:
        """S(M) as far as it is known: asked, or its own words where it wrote nothing else."""
        own = self.written if self.exact else None
        told = [each for each in (own, self.second) if each is not None]
        return max(told) if told else None


@dataclass(frozen=True)
class Candidate:
    """A meaning that an ear proposed.

    ``words`` are grammar words that mean it and ``forward`` F(M). ``found`` says whether the phoneme ear's own search
    proposed it; ``views`` are those of the writing ears by name; ``doubt`` is language's.
    """

    meaning: Meaning
    words: str
    forward: float
    found: bool
    views: Mapping[str, View] = field(default_factory=dict)
    doubt: str = ""


@dataclass(frozen=True)
class Judgement:
    """The answer with its trust, the chance that it is right, the next best meaning, and how many ears heard it."""

    answer: Candidate | None
    trust: Trust
    chance: float
    runner_up: Candidate | None = None
    doubt: str = ""
    hearers: int = 0


def judge(
    candidates: Sequence[Candidate],
    firsts: Sequence[Key | None],
    expectation: Expectation,
    wrote: Mapping[str, str] | None = None,
    poor: bool = False,
) -> Judgement:
    """Judges the ``candidates``.

    ``firsts`` holds the key of the meaning that each ear by itself puts first, ``wrote`` the likeliest text of each
    writing ear by its name; ``poor`` says that the sound is (``hearing/sound/quality.py``).
    """
    if not candidates:
        return Judgement(None, "again", 0.0)
    free = _free_words(candidates, firsts)
    if free is not None:
        a_word = _a_word(free)
        chance = _logistic(_FREE[0] + _FREE[1] * max(a_word, _WORST_WRITTEN))
        return Judgement(free, "again" if a_word < _FREE_WORST else "confirm", chance, None, free.doubt)
    (answer, share), *others = rank(candidates, expectation)
    heard = hearers(answer, candidates)
    ears = len(answer.views) + 1
    clearly = hearers(answer, candidates, CLEARLY)
    witnesses = clearly + near_hearers(answer, candidates, wrote or {}) if clearly else 0
    told = leads(answer, candidates)
    agreed = witnesses >= 2 or _together(heard, told)
    chance = share if agreed else _logistic(_UNHEARD[0] + _UNHEARD[1] * _log_odds(share))
    plain = agreed and not answer.doubt and plausible(answer.meaning, expectation) and not is_babble(answer.words)
    plain = plain and (bool(others) or witnesses > clearly or _is_sure_of_words(answer, heard == ears))
    plain = plain and (clearly == ears or not oddities(answer.words, answer.meaning))
    plain = plain and not _mistakable(answer, candidates, expectation)
    plain = plain and min(told) >= -VETO
    plain = plain and not any(_has_more_of_it(words, answer.words) for words in (wrote or {}).values())
    if poor:
        plain = plain and share >= POOR_SURE and _in_poor_sound(heard == ears, told)
    trust: Trust = "sure" if plain and share >= SURE else "again" if chance < AGAIN else "confirm"
    return Judgement(answer, trust, chance, others[0][0] if others else None, answer.doubt, heard)


def rank(candidates: Sequence[Candidate], expectation: Expectation) -> list[tuple[Candidate, float]]:
    """The candidates, best first, each with its share."""
    if not candidates:
        return []
    scores = _scores(candidates, expectation)
    best = max(scores)
    shares = [math.exp(score - best) for score in scores]
    ranked = sorted(zip(candidates, shares, strict=True), key=lambda each: -each[1])
    return [(candidate, share / sum(shares)) for candidate, share in ranked]


def hearers(answer: Candidate, candidates: Sequence[Candidate], clearly: float = 0.0) -> int:
    """How many ears have heard ``answer``: proposed it themselves, and put it ahead of every other by ``clearly``."""
    by_sound, *by_writers = leads(answer, candidates)
    heard = [
        lead >= (clearly if view.exact else DOUBTED)
        for view, lead in zip(answer.views.values(), by_writers, strict=True)
        if view.exact or (view.doubted and view.second is not None)
    ]
    return (answer.found and by_sound >= clearly) + sum(heard)


def near_hearers(answer: Candidate, candidates: Sequence[Candidate], wrote: Mapping[str, str]) -> int:
    """How many writing ears have nearly written ``answer``, and find no other candidate likelier.

    One that wrote it wholly, with or without a doubt, has heard it or has not: ``hearers`` tells.
    """
    _, *by_writers = leads(answer, candidates)
    return sum(
        not (view.exact or view.doubted) and lead >= 0 and nearly(wrote.get(name, ""), answer.words)
        for (name, view), lead in zip(answer.views.items(), by_writers, strict=True)
    )


def _together(heard: int, told: Sequence[float]) -> bool:
    """Whether ears that have heard an answer bear each other out, though no two of them heard it clearly."""
    if heard < 2 or min(told) < 0:
        return False
    return sorted(told)[-2] >= (TOGETHER if heard == len(told) else FAR)


def _in_poor_sound(everybody: bool, told: Sequence[float]) -> bool:
    """Whether the ears bear each other out by so much as beside noise, where they share mistakes."""
    least, *_ = ordered = sorted(told)
    return (everybody and least >= POOR_LEAST) or ordered[-2] >= POOR_FAR


def _has_more_of_it(written: str, answer: str) -> bool:
    """Whether an ear wrote the answer with more of its number between: an "oh" is lost more easily than made up.

    "Four two two two two eight nine" and "four two two two eight nine" were "four two two two oh eight nine".
    """
    more, said = as_words(written).split(), answer.split()
    return is_within(said, more) and (Counter(more) - Counter(said)).keys() <= NUMBER_WORDS


def leads(answer: Candidate, candidates: Sequence[Candidate]) -> tuple[float, ...]:
    """How far each ear, the phoneme ear first, puts ``answer`` before any other candidate, as far as it was asked.

    An ear that was asked about nothing else speaks for it, one that was asked only about others speaks against it.
    """
    others = [each for each in candidates if each is not answer]
    by_sound = min((answer.forward - other.forward for other in others), default=_MOST_LEAD)
    told = [_bounded(by_sound)]
    for name, view in answer.views.items():
        known = [other.views[name].known for other in others]
        best = max((each for each in known if each is not None), default=None)
        if view.known is None:
            told.append(0.0 if best is None else -_MOST_LEAD)
        else:
            told.append(_MOST_LEAD if best is None else _bounded(view.known - best))
    return tuple(told)


def _mistakable(answer: Candidate, candidates: Sequence[Candidate], expectation: Expectation) -> bool:
    """Whether it has a teen or a ten, and some ear finds the other of the two hardly less likely."""
    others = {meaning_key(interpret(words, expectation).meaning) for words in mistakable(answer.words)}
    rivals = [each for each in candidates if meaning_key(each.meaning) in others and each is not answer]
    told = [leads(answer, (answer, rival)) for rival in rivals]
    return any(min(each) < (CLEARLY if sum(each) >= TEENS_TOGETHER else TEENS_APART) for each in told)


def _bounded(lead: float) -> float:
    return max(-_MOST_LEAD, min(_MOST_LEAD, lead))


def is_babble(words: str) -> bool:
    """One word over and over: the ears make that of people who talk far away, and nobody answers so."""
    said = words.split()
    return len(said) > _MOST_ALIKE and len(set(said)) == 1


def plausible(meaning: Meaning, expectation: Expectation) -> bool:
    """Whether every reading in ``meaning`` lies within what instrument and place can give."""
    inner = meaning.meaning if isinstance(meaning, Correction) else meaning
    if not isinstance(inner, Readings) or expectation.reading is None:
        return True
    low, high = expectation.reading.plausible
    values = [value for item in inner.items for value in (item.value, *(item.span or ())) if value is not None]
    return all(low <= value <= high for value in values)


def _scores(candidates: Sequence[Candidate], expectation: Expectation) -> list[float]:
    totals = [SOUND * each for each in _within([candidate.forward for candidate in candidates])]
    for name in candidates[0].views:
        views = [candidate.views[name] for candidate in candidates]
        told = [view.known for view in views]
        known = [each for each in told if each is not None]
        if known:
            # A meaning of which an ear was not asked is taken to be as bad for it as the worst of which it was.
            worth = _within([min(known) if each is None else each for each in told])
            wrote = WROTE.get(name, min(WROTE.values()))
            totals = [
                total + WRITER * each + wrote * view.exact
                for total, each, view in zip(totals, worth, views, strict=True)
            ]
        else:
            totals = [total + _PROPOSED * (view.written is not None) for total, view in zip(totals, views, strict=True)]
    return [
        total
        + WORD * len(candidate.words.split())
        + UNIT * says_units(candidate.meaning)
        - ODD * oddities(candidate.words, candidate.meaning)
        - DOUBTFUL * bool(candidate.doubt)
        - OUTSIDE * (not plausible(candidate.meaning, expectation))
        for total, candidate in zip(totals, candidates, strict=True)
    ]


def _within(values: Sequence[float]) -> list[float]:
    best = max(values)
    return [max(value - best, -_MOST_LEAD) for value in values]


def _free_words(candidates: Sequence[Candidate], firsts: Sequence[Key | None]) -> Candidate | None:
    """The free words that a writing ear puts first, where no two ears agree on an answer of another kind.

    Only the writing ears can write free words, and the phoneme ear knows no sound of a name: they are always read back.
    """
    agreed = [first for first in firsts if first is not None and firsts.count(first) > 1]
    texts = {meaning_key(each.meaning): each for each in candidates if is_free_words(each.meaning)}
    if any(first not in texts for first in agreed):
        return None
    return next((texts[first] for first in (*agreed, *firsts) if first in texts), None)


def _is_sure_of_words(answer: Candidate, everybody: bool) -> bool:
    """Whether an ear that wrote it and nothing else was sure of its words, the end counted as one."""
    count = len(answer.words.split()) + 1
    for name, view in answer.views.items():
        least = FAINT if everybody else ALONE.get(name, max(ALONE.values()))
        if view.exact and view.written is not None and view.written / count >= least:
            return True
    return False


def is_free_words(meaning: Meaning) -> bool:
    """Whether it is a name or a note, which only a writing ear can hear."""
    if isinstance(meaning, LedgerSaid):
        return meaning.entry.what in FREE
    return isinstance(meaning.meaning if isinstance(meaning, Correction) else meaning, Text)


def _a_word(answer: Candidate) -> float:
    """The likeliest writing ear's log probability a word."""
    written = [view.written for view in answer.views.values() if view.written is not None]
    return max(written, default=0.0) / max(1, len(answer.words.split()))


def _log_odds(share: float) -> float:
    share = min(max(share, 1e-9), 1 - 1e-9)
    return math.log(share / (1 - share))


def _logistic(x: float) -> float:
    return 1 / (1 + math.exp(-max(-50.0, min(50.0, x))))
