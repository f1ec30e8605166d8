"""Several ears hear each utterance at the same time, on two cores; what they heard is judged together.

The slow ear has one core, the phoneme ear and the quick ones the other; what there is to ask at the end they share. All
let go of Python's lock while they compute: CTranslate2, ONNX Runtime and numpy's matrix products run in their own code.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any

from assistant.hearing.judgement import Candidate, Judgement, View, is_free_words, judge, rank
from assistant.hearing.phoneme import PhonemeEar, Sounds
from assistant.hearing.protocol import Audio, Hypothesis, Recognizer, Utterance, WritingEar
from assistant.language.compare import meaning_key
from assistant.language.grammar import compile_state
from assistant.language.interpret import best_parse, interpret
from assistant.language.meaning import Expectation, Heard, Interpretation
from assistant.language.normalise import spoken_forms
from assistant.language.teens import mistakable

Key = tuple[object, ...]
#: Log probabilities of word strings, for the utterance that was heard.
Score = Callable[[Sequence[str]], list[float]]

#: Meanings that a quick ear is asked about, and the slow one, which takes as long for one as the other for four.
_QUICK_LOOKS = 5
_SLOW_LOOKS = 3
#: What an ear finds so much less likely than its own first text, whatever that means, it has not heard: "I met four" at
#: -1 is no "i meant four" at -5.
_MOST_BEHIND = 3.0
#: With this chance by what is known already, the slow ear is not asked about what it did not write.
_CLEAR = 0.98


@dataclass(frozen=True)
class _Writing:
    """What one writing ear made of an utterance, and its way to score any words for it where it has one."""

    ear: str
    hypotheses: tuple[Hypothesis, ...]
    score: Score | None


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
        listening = [self._beside.submit(_listen, ear, audio) for ear in self.quick]
        beside = self._beside.submit(lambda: _write(self.slow, _listen(self.slow, audio)))
        sounds = self.phoneme.listen(audio)
        found = self.phoneme.propose(sounds)
        proposals = _Proposals(expectation, self.phoneme, sounds)
        for hypothesis in found:
            proposals.add_found(hypothesis)
        quick = [_write(ear, spoken.result()) for ear, spoken in zip(self.quick, listening, strict=True)]
        for writing in quick:
            proposals.add_writing(writing)
        proposals.add_mistakable()
        for writing in quick:
            self._ask(proposals.questions(writing, _QUICK_LOOKS), aside=beside.done())
        slow = beside.result()
        proposals.add_writing(slow)
        by_slow = proposals.questions(slow, _SLOW_LOOKS if proposals.best_chance() < _CLEAR else 0)
        telling = self._beside.submit(by_slow.answers)
        for writing in quick:
            self._ask(proposals.questions(writing, _QUICK_LOOKS))
        by_slow.take(telling.result())
        candidates = proposals.candidates()
        firsts = (proposals.first_found(), *(proposals.firsts.get(each.ear) for each in (slow, *quick)))
        heard = {self.phoneme.name: found} | {each.ear: each.hypotheses for each in (slow, *quick)}
        return Considered(judge(candidates, firsts, expectation), heard, candidates, firsts)

    def _ask(self, asked: _Questions, aside: bool = False) -> None:
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


def _write(ear: Recognizer, spoken: Any) -> _Writing:
    if not isinstance(ear, WritingEar):
        return _Writing(ear.name, ear.hear(spoken), None)
    return _Writing(ear.name, ear.propose(spoken), lambda strings: ear.score(spoken, strings))


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
        start_s=utterance.start_s,
        end_s=utterance.end_s,
    )


def _same(one: Utterance, other: Utterance) -> bool:
    return one.start_s == other.start_s and len(one.audio) == len(other.audio)


@dataclass
class _Writings:
    """What one writing ear has to do with one meaning.

    ``written``: its log probability, ``exact`` that where it wrote nothing else, ``doubted``: it did but language has a
    doubt; ``forms`` how its words may have been said; ``second``: its log probability of the likeliest form when asked.
    """

    written: float | None = None
    exact: float | None = None
    doubted: bool = False
    forms: dict[str, None] = field(default_factory=dict)
    second: float | None = None

    def view(self) -> View:
        if self.exact is not None:
            return View(self.exact, True, self.second)
        return View(self.written, False, self.second, self.doubted)


@dataclass
class _Meant:
    """One meaning and every word string proposed for it."""

    understood: Interpretation
    strings: dict[str, None] = field(default_factory=dict)
    found: bool = False
    writings: dict[str, _Writings] = field(default_factory=dict)

    def by(self, ear: str) -> _Writings:
        return self.writings.setdefault(ear, _Writings())


@dataclass(frozen=True)
class _Questions:
    """What an ear is asked about: ``strings``, one for each of ``about``. Its answers may be had in another thread."""

    score: Score | None
    about: tuple[_Writings, ...]
    strings: tuple[str, ...]

    def halves(self) -> tuple[_Questions, _Questions]:
        """The same in two parts."""
        parts = (slice(0, None, 2), slice(1, None, 2))
        one, other = (_Questions(self.score, self.about[part], self.strings[part]) for part in parts)
        return one, other

    def answers(self) -> list[float]:
        """The ear's log probability of each string."""
        return self.score(self.strings) if self.score is not None and self.strings else []

    def take(self, answers: Sequence[float]) -> None:
        """Writes the answers down."""
        for told, chance in zip(self.about, answers, strict=True):
            told.second = chance


class _Proposals:
    """Proposed words gathered by what they mean, with each ear's opinion as far as it is known."""

    def __init__(self, expectation: Expectation, phoneme: PhonemeEar, sounds: Sounds) -> None:
        self.firsts: dict[str, Key] = {}
        self._meant: dict[Key, _Meant] = {}
        self._forward: dict[str, float] = {}
        self._ears: list[str] = []
        self._expectation, self._phoneme, self._sounds = expectation, phoneme, sounds

    def add_found(self, hypothesis: Hypothesis) -> None:
        """A string of the grammar: its doubts are those of the words themselves. As free words it means nothing."""
        understood = interpret(hypothesis.words, self._expectation)
        if understood.meaning is None or is_free_words(understood.meaning):
            return
        name = self._add(understood, [hypothesis.words])
        if name is not None:
            self._meant[name].found = True

    def add_writing(self, writing: _Writing) -> None:
        """Free text, also read loosely: the sound says whether the reading is right, and then its doubt is gone."""
        self._ears.append(writing.ear)
        for hypothesis in writing.hypotheses:
            words = hypothesis.words
            understood = interpret(words, self._expectation)
            strings: Sequence[str] = spoken_forms(words, self._expectation)
            behind = writing.hypotheses[0].log_probability - hypothesis.log_probability
            wholly = hypothesis.whole and understood.meaning is not None and behind <= _MOST_BEHIND
            if understood.meaning is not None and best_parse(words, self._expectation) is None:
                wholly = False
                strings = self._grammar_words(understood) or strings
            elif understood.meaning is None:
                understood = interpret(words, self._expectation, loose=True)
                parse = best_parse(words, self._expectation, loose=True)
                strings = [parse.words] if parse else strings
            name = self._add(understood, strings)
            if name is None:
                continue
            self.firsts.setdefault(writing.ear, name)
            told = self._meant[name].by(writing.ear)
            told.forms.update(dict.fromkeys(words for words in strings if words))
            told.written = _most(told.written, hypothesis.log_probability)
            told.doubted |= wholly and bool(understood.doubt)
            if wholly and not understood.doubt:
                told.exact = _most(told.exact, hypothesis.log_probability)

    def add_mistakable(self) -> None:
        """Puts thirteen beside thirty where the likeliest answer has one of them, for every ear to choose."""
        ranked = rank(self.candidates(), self._expectation)
        for words in mistakable(ranked[0][0].words) if ranked else ():
            self._add(interpret(words, self._expectation), [words])

    def questions(self, writing: _Writing, most: int) -> _Questions:
        """The likeliest meanings that an ear has not told of; that first which it wrote in part or loosely."""
        if writing.score is None or not most:
            return _Questions(None, (), ())
        forward = self._scored()
        ranked = [meaning_key(each.meaning) for each, _ in rank(self.candidates(), self._expectation)]
        unknown = [name for name in ranked[: most + 1] if self._meant[name].by(writing.ear).view().known is None]
        partly = [name for name in unknown if self._meant[name].by(writing.ear).written is not None]
        asked = [self._meant[name] for name in list(dict.fromkeys([*partly[:1], *unknown]))[:most]]
        strings = [max(meant.by(writing.ear).forms or meant.strings, key=forward.__getitem__) for meant in asked]
        return _Questions(writing.score, tuple(meant.by(writing.ear) for meant in asked), tuple(strings))

    def best_chance(self) -> float:
        """The chance of the likeliest meaning by what is known."""
        ranked = rank(self.candidates(), self._expectation)
        return ranked[0][1] if ranked else 0.0

    def candidates(self) -> tuple[Candidate, ...]:
        """Every meaning that was proposed, in the order in which they came."""
        forward = self._scored()
        told = []
        for meant in self._meant.values():
            assert meant.understood.meaning is not None
            best = max(meant.strings, key=forward.__getitem__)
            told.append(
                Candidate(
                    meaning=meant.understood.meaning,
                    words=best,
                    forward=forward[best],
                    found=meant.found,
                    views={ear: meant.by(ear).view() for ear in self._ears},
                    doubt=meant.understood.doubt,
                )
            )
        return tuple(told)

    def first_found(self) -> Key | None:
        """What the phoneme ear finds likeliest of what it found itself."""
        found = [each for each in self.candidates() if each.found]
        return meaning_key(max(found, key=lambda each: each.forward).meaning) if found else None

    def _grammar_words(self, understood: Interpretation) -> list[str]:
        """How the grammar says what was only nearly written ("feeled by itself"), where another ear found that."""
        known = self._meant.get(meaning_key(understood.meaning))
        return list(known.strings) if known is not None and known.found else []

    def _scored(self) -> dict[str, float]:
        """Forward log likelihood of every string, those that are new computed together."""
        new = [words for meant in self._meant.values() for words in meant.strings if words not in self._forward]
        if new:
            self._forward.update(zip(new, self._phoneme.score_ways(self._sounds, new), strict=True))
        return self._forward

    def _add(self, understood: Interpretation, strings: Sequence[str]) -> Key | None:
        said = [words for words in strings if words]
        if understood.meaning is None or not said:
            return None
        name = meaning_key(understood.meaning)
        self._meant.setdefault(name, _Meant(understood)).strings.update(dict.fromkeys(said))
        return name


def _most(one: float | None, other: float) -> float:
    return other if one is None else max(one, other)
