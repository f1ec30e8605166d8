"""Two ears hear each utterance at the same time, on two cores; what they heard is judged together.

Both let go of Python's lock while they compute: CTranslate2 and numpy's matrix products run in their own code.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field, replace

from assistant.hearing.judgement import Candidate, Judgement, is_near, judge, worth_a_look
from assistant.hearing.network import Floats
from assistant.hearing.phoneme import PhonemeEar
from assistant.hearing.protocol import Audio, Hypothesis, Recognizer, Utterance
from assistant.hearing.whisper import WhisperEar
from assistant.language.compare import meaning_key
from assistant.language.grammar import compile_state
from assistant.language.interpret import best_parse, interpret
from assistant.language.meaning import Expectation, Heard, Interpretation
from assistant.language.normalise import spoken_forms

Key = tuple[object, ...]
#: Log probabilities of word strings, for the utterance that was heard.
Score = Callable[[Sequence[str]], list[float]]


@dataclass(frozen=True)
class Considered:
    """One utterance with all that led to the judgement: each ear's hypotheses and the meaning it puts first."""

    judgement: Judgement
    phoneme: tuple[Hypothesis, ...]
    other: tuple[Hypothesis, ...]
    candidates: tuple[Candidate, ...] = ()
    phoneme_first: Key | None = None
    other_first: Key | None = None


class TwoEars:
    """The ears of a dialogue: ``expect`` at every question, ``judge`` for every utterance, ``begin`` to be early.

    ``phoneme`` both proposes and scores; ``other`` is the second, independent ear (Whisper, or Vosk).
    """

    def __init__(self, phoneme: PhonemeEar, other: Recognizer) -> None:
        self.phoneme, self.other = phoneme, other
        self._expectation = Expectation(question="")
        self._beside = ThreadPoolExecutor(1, thread_name_prefix="other-ear")
        self._ahead = ThreadPoolExecutor(1, thread_name_prefix="ears")
        self._begun: tuple[Utterance, Future[Considered]] | None = None

    def expect(self, expectation: Expectation) -> None:
        """Listens for the answers to this question from now on."""
        grammar = compile_state(expectation)
        self._expectation = expectation
        self._begun = None
        self.phoneme.prepare(grammar)
        self.other.prepare(grammar)

    def begin(self, utterance: Utterance) -> None:
        """Starts on an utterance that is probably over; ``judge`` with the same samples then has little to wait for."""
        if self._begun is None or not _same(self._begun[0], utterance):
            self._begun = utterance, self._ahead.submit(self._consider, utterance)

    def judge(self, utterance: Utterance) -> Heard:
        """What was said, how far it may be trusted, and what each ear heard."""
        return self._heard(self.consider(utterance), utterance)

    def consider(self, utterance: Utterance) -> Considered:
        """As ``judge``, with all that led to it."""
        self.begin(utterance)
        assert self._begun is not None
        return self._begun[1].result()

    def _consider(self, utterance: Utterance) -> Considered:
        expectation = self._expectation
        beside = self._beside.submit(self._other_hears, utterance.audio)
        sounds = self.phoneme.listen(utterance.audio)
        found = self.phoneme.propose(sounds)
        written, score = beside.result()
        return self._weigh(sounds, found, written, score, expectation)

    def _other_hears(self, audio: Audio) -> tuple[tuple[Hypothesis, ...], Score | None]:
        """The other ear's hypotheses and, where it can do so, its way to score any words for this utterance."""
        if not isinstance(self.other, WhisperEar):
            return self.other.hear(audio), None
        whisper = self.other
        spoken = whisper.listen(audio)
        return whisper.propose(spoken), lambda strings: whisper.score(spoken, strings)

    def _weigh(
        self,
        sounds: Floats,
        found: tuple[Hypothesis, ...],
        written: tuple[Hypothesis, ...],
        score: Score | None,
        expectation: Expectation,
    ) -> Considered:
        proposals = _Proposals(expectation)
        for hypothesis in found:
            proposals.add_found(hypothesis)
        for hypothesis in written:
            proposals.add_written(hypothesis)
        strings = [words for each in proposals.by_meaning.values() for words in each.strings]
        forward = dict(zip(strings, self.phoneme.score_ways(sounds, strings), strict=True))
        candidates = {name: each.candidate(forward) for name, each in proposals.by_meaning.items()}
        own = [name for name in candidates if candidates[name].found]
        first = max(own, key=lambda name: candidates[name].forward, default=None)
        listed = tuple(candidates.values())
        agreed = first if first == proposals.written_first else None
        if score is not None and len(listed) > 1 and (agreed is None or is_near(listed, agreed)):
            listed = _second_look(listed, score)
        judgement = judge(listed, (first, proposals.written_first), expectation)
        return Considered(judgement, found, written, listed, first, proposals.written_first)

    def _heard(self, considered: Considered, utterance: Utterance) -> Heard:
        judgement = considered.judgement
        answer, runner_up = judgement.answer, judgement.runner_up
        ears = ((self.phoneme.name, considered.phoneme), (self.other.name, considered.other))
        return Heard(
            words=answer.words if answer else "",
            meaning=answer.meaning if answer else None,
            trust=judgement.trust,
            probability=judgement.chance,
            runner_up=runner_up.meaning if runner_up else None,
            doubt=judgement.doubt,
            ears=tuple((name, heard[0].words if heard else "") for name, heard in ears),
            start_s=utterance.start_s,
            end_s=utterance.end_s,
        )


def _second_look(candidates: tuple[Candidate, ...], score: Score) -> tuple[Candidate, ...]:
    """The other ear says how likely it finds the likeliest meanings that it did not write itself."""
    asked = worth_a_look(candidates)
    looked = dict(zip((id(each) for each in asked), score([each.as_written for each in asked]), strict=True))
    return tuple(replace(each, second=looked.get(id(each), each.second)) for each in candidates)


def _same(one: Utterance, other: Utterance) -> bool:
    return one.start_s == other.start_s and len(one.audio) == len(other.audio)


@dataclass
class _Meant:
    """One meaning and every word string proposed for it.

    ``written``: the writing ear's log probability, ``forms`` how its words may have been said; ``exact``: as
    ``written``, where it wrote nothing but words that mean this.
    """

    understood: Interpretation
    strings: dict[str, None] = field(default_factory=dict)
    found: bool = False
    written: float | None = None
    exact: float | None = None
    forms: dict[str, None] = field(default_factory=dict)

    def candidate(self, forward: dict[str, float]) -> Candidate:
        """``forward``: score of every string."""
        meaning = self.understood.meaning
        assert meaning is not None
        best = max(self.strings, key=lambda words: forward[words])
        return Candidate(
            meaning=meaning,
            words=best,
            as_written=max(self.forms or self.strings, key=lambda words: forward[words]),
            forward=forward[best],
            found=self.found,
            written=self.written,
            second=self.exact,
            exact=self.exact is not None,
            doubt=self.understood.doubt,
        )

    def wrote(self, hypothesis: Hypothesis, exactly: bool) -> None:
        """The writing ear proposed this meaning, ``exactly`` if it wrote its words and nothing else."""
        chance = hypothesis.log_probability
        self.written = chance if self.written is None else max(self.written, chance)
        if exactly:
            self.exact = chance if self.exact is None else max(self.exact, chance)


class _Proposals:
    """Proposed words gathered by what they mean."""

    def __init__(self, expectation: Expectation) -> None:
        self.by_meaning: dict[Key, _Meant] = {}
        self.written_first: Key | None = None
        self._expectation = expectation

    def add_found(self, hypothesis: Hypothesis) -> None:
        """A string of the grammar: its doubts are those of the words themselves."""
        understood = interpret(hypothesis.words, self._expectation)
        name = self._add(understood, [hypothesis.words])
        if name is not None:
            self.by_meaning[name].found = True

    def add_written(self, hypothesis: Hypothesis) -> None:
        """Free text, also read loosely: the sound says whether the reading is right, and then its doubt is gone."""
        words = hypothesis.words
        understood = interpret(words, self._expectation)
        strings: Sequence[str] = spoken_forms(words, self._expectation)
        loosely = understood.meaning is None
        if loosely:
            understood = interpret(words, self._expectation, loose=True)
            parse = best_parse(words, self._expectation, loose=True)
            strings = [parse.words] if parse else strings
        name = self._add(understood, strings)
        if name is None:
            return
        meant = self.by_meaning[name]
        meant.forms.update(dict.fromkeys(words for words in strings if words))
        meant.wrote(hypothesis, exactly=hypothesis.whole and not loosely)
        self.written_first = self.written_first or name

    def _add(self, understood: Interpretation, strings: Sequence[str]) -> Key | None:
        said = [words for words in strings if words]
        if understood.meaning is None or not said:
            return None
        name = meaning_key(understood.meaning)
        self.by_meaning.setdefault(name, _Meant(understood)).strings.update(dict.fromkeys(said))
        return name
