"""Several ears hear each utterance at the same time, on two cores; what they heard is judged together.

The slow ear has one core, the phoneme ear and the quick ones the other; what there is to ask at the end they share. All
let go of Python's lock while they compute: CTranslate2, ONNX Runtime and numpy's matrix products run in their own code.
"""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Any

from assistant.hearing.ears.phoneme import PhonemeEar
from assistant.hearing.ears.protocol import Hypothesis, Recognizer, WritingEar
from assistant.hearing.listening.judgement import (
    Candidate,
    Judgement,
    Key,
    judge,
)
from assistant.hearing.listening.proposals import Proposals, Questions, Writing
from assistant.hearing.sound.audio import Audio, Utterance
from assistant.hearing.sound.quality import quality
from assistant.language.grammar import compile_state
from assistant.language.meaning import Expectation, Heard

#: Nobody says more in one utterance, characters: an ear that writes more babbles.
_LONGEST = 1000
#: Meanings that an ear is asked about at a time. The slow one, which takes as long for one as a quick one for four, is
#: asked only where the answer is not sure without it.
_LOOKS = 3


@dataclass(frozen=True)
class Considered:
    """One utterance with all that led to the judgement.

    ``heard``: each ear's hypotheses, the phoneme ear's first; ``firsts``: the meaning that each puts first.
    """

    judgement: Judgement
    heard: dict[str, tuple[Hypothesis, ...]]
    candidates: tuple[Candidate, ...]
    firsts: tuple[Key | None, ...]


class EarsTogether:
    """The ears of a dialogue: ``expect`` at every question, ``judge`` for every utterance, ``begin`` to be early.

    ``phoneme`` both proposes and scores; ``slow`` and ``quick`` are independent ears that write free text.
    """

    def __init__(self, phoneme: PhonemeEar, slow: Recognizer, *quick: Recognizer) -> None:
        self.phoneme, self.slow, self.quick = phoneme, slow, quick
        self._expectation = Expectation(question="")
        self._beside = ThreadPoolExecutor(1, thread_name_prefix="slow-ear")
        self._ahead = ThreadPoolExecutor(1, thread_name_prefix="ears")
        self._begun: tuple[Utterance, Future[Considered]] | None = None

    def expect(self, expectation: Expectation) -> None:
        """Listens for the answers to this question from now on."""
        grammar = compile_state(expectation)
        self._expectation = expectation
        self._begun = None
        for ear in (self.phoneme, self.slow, *self.quick):
            ear.prepare(grammar)

    def begin(self, utterance: Utterance) -> None:
        """Starts on an utterance that is probably over; ``judge`` with the same samples then has little to wait for."""
        if self._begun is None or not _same(self._begun[0], utterance):
            self._begun = utterance, self._ahead.submit(self._consider, utterance)

    def judge(self, utterance: Utterance) -> Heard:
        """What was said, how far it may be trusted, and what each ear heard."""
        return _heard(self.consider(utterance), utterance)

    def consider(self, utterance: Utterance) -> Considered:
        """As ``judge``, with all that led to it."""
        self.begin(utterance)
        assert self._begun is not None
        return self._begun[1].result()

    def _consider(self, utterance: Utterance) -> Considered:
        expectation, audio = self._expectation, utterance.audio
        poor = quality(audio).poor
        listening = [self._beside.submit(_listen, ear, audio) for ear in self.quick]
        beside = self._beside.submit(lambda: _write(self.slow, _listen(self.slow, audio)))
        sounds = self.phoneme.listen(audio)
        found = self.phoneme.propose(sounds)
        proposals = Proposals(expectation, self.phoneme, sounds)
        for hypothesis in found:
            proposals.add_found(hypothesis)
        quick = [_write(ear, spoken.result()) for ear, spoken in zip(self.quick, listening, strict=True)]
        for writing in quick:
            proposals.add_writing(writing)
            proposals.add_mended(writing)
        proposals.add_mistakable()
        looks = max(_LOOKS, proposals.add_rivals()) if poor else _LOOKS
        for writing in quick:
            self._ask(proposals.questions(writing, looks), aside=beside.done())
        slow = beside.result()
        proposals.add_writing(slow)
        proposals.add_mended(slow)
        heard = {self.phoneme.name: found} | {each.ear: each.hypotheses for each in (slow, *quick)}
        wrote = {name: told[0].words for name, told in heard.items() if told}

        def judged() -> Considered:
            candidates = proposals.candidates()
            firsts = (proposals.first_found(), *(proposals.firsts.get(each.ear) for each in (slow, *quick)))
            return Considered(judge(candidates, firsts, expectation, wrote, poor), heard, candidates, firsts)

        considered = judged()  # to ask more changed no count on the measuring sets, and takes time
        if considered.judgement.trust == "sure":
            return considered
        by_slow = proposals.questions(slow, looks)
        telling = self._beside.submit(by_slow.answers)
        for writing in quick:
            self._ask(proposals.questions(writing, looks))
        by_slow.take(telling.result())
        return judged()

    def _ask(self, asked: Questions, aside: bool = False) -> None:
        """Has an ear tell what it is asked, half of it ``aside`` on the slow ear's core where that is free.

        In two parts whether or not: what is computed together changes the last digits, and the same sound must give
        the same journal, however busy the machine is.
        """
        here, there = asked.halves()
        telling = self._beside.submit(there.answers) if aside else None
        here.take(here.answers())
        there.take(telling.result() if telling is not None else there.answers())


def _listen(ear: Recognizer, audio: Audio) -> Any:
    """What ``_write`` needs of the sound."""
    return ear.listen(audio) if isinstance(ear, WritingEar) else audio


def _write(ear: Recognizer, spoken: Any) -> Writing:
    if not isinstance(ear, WritingEar):
        return Writing(ear.name, _said(ear.hear(spoken)), None)
    return Writing(ear.name, _said(ear.propose(spoken)), lambda strings: ear.score(spoken, strings))


def _said(hypotheses: tuple[Hypothesis, ...]) -> tuple[Hypothesis, ...]:
    """Those that somebody may have said, in signs that can be kept: half a pair of UTF-16 cannot."""
    return tuple(
        replace(each, words=each.words.encode("utf-8", "replace").decode("utf-8"))
        for each in hypotheses
        if len(each.words) <= _LONGEST
    )


def _heard(considered: Considered, utterance: Utterance) -> Heard:
    judgement = considered.judgement
    answer, runner_up = judgement.answer, judgement.runner_up
    return Heard(
        words=answer.words if answer else "",
        meaning=answer.meaning if answer else None,
        trust=judgement.trust,
        probability=judgement.chance,
        runner_up=runner_up.meaning if runner_up else None,
        doubt=judgement.doubt,
        ears=tuple((name, heard[0].words if heard else "") for name, heard in considered.heard.items()),
        poor_sound=quality(utterance.audio).poor,
        start_s=utterance.start_s,
        end_s=utterance.end_s,
    )


def _same(one: Utterance, other: Utterance) -> bool:
    return one.start_s == other.start_s and len(one.audio) == len(other.audio)
