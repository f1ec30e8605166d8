"""Two ears hear each utterance at the same time; what they heard is judged together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from assistant.hearing.judgement import Candidate, Judgement, judge, key
from assistant.hearing.network import Floats
from assistant.hearing.phoneme import PhonemeEar
from assistant.hearing.protocol import Hypothesis, Recognizer, StateGrammar, Utterance
from assistant.language import grammar as state_grammar
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, Heard, Interpretation
from assistant.language.normalise import normalise


@dataclass(frozen=True)
class Language:
    """What the ears need of language; tests put in a small one of their own."""

    compile_state: Callable[[Expectation], StateGrammar] = state_grammar.compile_state
    normalise: Callable[[str, Expectation], str] = normalise
    interpret: Callable[[str, Expectation], Interpretation] = interpret


class TwoEars:
    """The ear of the dialogue: ``expect`` at every question, ``judge`` for every utterance.

    ``phoneme`` both proposes and scores; ``other`` is the second, independent ear (Whisper, or Vosk).
    """

    def __init__(self, phoneme: PhonemeEar, other: Recognizer, language: Language | None = None) -> None:
        self.phoneme, self.other = phoneme, other
        self._language = language or Language()
        self._expectation = Expectation(question="")
        self._beside = ThreadPoolExecutor(1, thread_name_prefix="other ear")

    def expect(self, expectation: Expectation) -> None:
        """Listens for the answers to this question from now on."""
        grammar = self._language.compile_state(expectation)
        self._expectation = expectation
        self.phoneme.prepare(grammar)
        self.other.prepare(grammar)

    def judge(self, utterance: Utterance) -> Heard:
        """What was said, how far it may be trusted, and what each ear heard."""
        beside = self._beside.submit(self.other.hear, utterance.audio)
        sounds = self.phoneme.listen(utterance.audio)
        found = self.phoneme.propose(sounds)
        written = beside.result()
        judgement = self._judgement(sounds, found, written)
        return self._heard(judgement, utterance, found, written)

    def _judgement(self, sounds: Floats, found: Sequence[Hypothesis], written: Sequence[Hypothesis]) -> Judgement:
        proposals = _Proposals(self._language, self._expectation)
        for hypothesis in found:
            proposals.add(hypothesis.words, None)
        for hypothesis in written:
            words = self._language.normalise(hypothesis.words, self._expectation)
            proposals.add(words, hypothesis.log_probability)
        strings = [words for each in proposals.by_meaning.values() for words in each.strings]
        scores = dict(zip(strings, self.phoneme.score_ways(sounds, strings), strict=True))
        candidates = {name: each.candidate(scores) for name, each in proposals.by_meaning.items()}
        own = [name for name in candidates if candidates[name].phoneme]
        first = max(own, key=lambda name: candidates[name].forward, default=None)
        return judge(tuple(candidates.values()), (first, proposals.written_first), self._expectation)

    def _heard(
        self, judgement: Judgement, utterance: Utterance, found: Sequence[Hypothesis], written: Sequence[Hypothesis]
    ) -> Heard:
        answer, runner_up = judgement.answer, judgement.runner_up
        ears = ((self.phoneme.name, found), (self.other.name, written))
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


class _Proposals:
    """Proposed words gathered by what they mean."""

    def __init__(self, language: Language, expectation: Expectation) -> None:
        self.by_meaning: dict[str, _Meant] = {}
        self.written_first: str | None = None
        self._language, self._expectation = language, expectation

    def add(self, words: str, written: float | None) -> None:
        """``written`` is the writing ear's log probability, None when the phoneme ear proposes."""
        understood = self._language.interpret(words, self._expectation) if words else None
        if understood is None or understood.meaning is None or not words:
            return
        name = key(understood.meaning)
        meant = self.by_meaning.setdefault(name, _Meant(understood))
        meant.strings.setdefault(words)
        if written is None:
            meant.found = True
            return
        meant.written = written if meant.written is None else max(written, meant.written)
        self.written_first = self.written_first or name


class _Meant:
    """One meaning and every word string proposed for it."""

    def __init__(self, understood: Interpretation) -> None:
        self.understood = understood
        self.strings: dict[str, None] = {}
        self.found = False
        self.written: float | None = None

    def candidate(self, scores: dict[str, float]) -> Candidate:
        best = max(self.strings, key=lambda words: scores[words])
        meaning = self.understood.meaning
        assert meaning is not None
        return Candidate(
            meaning=meaning,
            words=best,
            forward=scores[best],
            phoneme=self.found,
            whisper=self.written,
            doubt=self.understood.doubt,
        )
