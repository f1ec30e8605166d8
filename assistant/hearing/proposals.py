"""What the ears propose for one utterance, gathered by what it means, and what is still to be asked of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from assistant.hearing import saying
from assistant.hearing.judgement import Candidate, Key, View, is_free_words, rank
from assistant.hearing.phoneme import PhonemeEar, Sounds
from assistant.hearing.protocol import Hypothesis
from assistant.language.compare import meaning_key
from assistant.language.interpret import best_parse, interpret
from assistant.language.meaning import Correction, Expectation, Interpretation, Readings, Text
from assistant.language.normalise import spoken_forms
from assistant.language.teens import mistakable
from assistant.language.written import as_words

#: Log probabilities of word strings, for the utterance that was heard.
Score = Callable[[Sequence[str]], list[float]]

#: What an ear finds so much less likely than its own first text, whatever that means, it has not heard: "I met four" at
#: -1 is no "i meant four" at -5.
_MOST_BEHIND = 3.0
#: Strings that the sound found in which numbers are exchanged, and texts from which they are taken.
_MENDED = 2


@dataclass(frozen=True)
class Writing:
    """What one writing ear made of an utterance, and its way to score any words for it where it has one."""

    ear: str
    hypotheses: tuple[Hypothesis, ...]
    score: Score | None


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
class Questions:
    """What an ear is asked about: ``strings``, one for each of ``about``. Its answers may be had in another thread."""

    score: Score | None
    about: tuple[_Writings, ...]
    strings: tuple[str, ...]

    def halves(self) -> tuple[Questions, Questions]:
        """The same in two parts."""
        parts = (slice(0, None, 2), slice(1, None, 2))
        one, other = (Questions(self.score, self.about[part], self.strings[part]) for part in parts)
        return one, other

    def answers(self) -> list[float]:
        """The ear's log probability of each string."""
        return self.score(self.strings) if self.score is not None and self.strings else []

    def take(self, answers: Sequence[float]) -> None:
        """Writes the answers down."""
        for told, chance in zip(self.about, answers, strict=True):
            told.second = chance


class Proposals:
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

    def add_writing(self, writing: Writing) -> None:
        """Free text, also read loosely: the sound says whether the reading is right, and then its doubt is gone."""
        self._ears.append(writing.ear)
        for hypothesis in writing.hypotheses:
            words = self._said_twice(hypothesis.words)
            understood = interpret(words, self._expectation)
            strings: Sequence[str] = spoken_forms(words, self._expectation)
            behind = writing.hypotheses[0].log_probability - hypothesis.log_probability
            wholly = hypothesis.whole and understood.meaning is not None and behind <= _MOST_BEHIND
            wholly = wholly and not any(_is_begun(hypothesis, other) for other in writing.hypotheses)
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

    def add_mended(self, writing: Writing) -> None:
        """What the sound found likeliest, with the numbers that were written in the places of its own.

        In a row of readings each ear may have another number wrong, and what stands around the numbers an ear that
        writes free text has often misheard ("that shows" for "it shows").
        """
        found = [words for meant in self._meant.values() if meant.found for words in meant.strings]
        forward = self._scored()
        best = sorted(found, key=lambda words: -forward[words])[:_MENDED]
        for hypothesis in writing.hypotheses[:_MENDED]:
            for words in best:
                for mended in saying.exchanged(words, as_words(hypothesis.words)):
                    understood = interpret(mended, self._expectation)
                    name = self._add(understood, [mended])
                    if name is not None and not understood.doubt:
                        self._meant[name].understood = understood

    def add_mistakable(self) -> None:
        """Puts thirteen beside thirty where the likeliest answer has one of them, for every ear to choose."""
        ranked = rank(self.candidates(), self._expectation)
        for words in mistakable(ranked[0][0].words) if ranked else ():
            self._add(interpret(words, self._expectation), [words])

    def questions(self, writing: Writing, most: int) -> Questions:
        """The likeliest meanings that an ear has not told of; that first which it wrote in part or loosely."""
        if writing.score is None or not most:
            return Questions(None, (), ())
        forward = self._scored()
        ranked = [meaning_key(each.meaning) for each, _ in rank(self.candidates(), self._expectation)]
        unknown = [name for name in ranked[: most + 1] if self._meant[name].by(writing.ear).view().known is None]
        partly = [name for name in unknown if self._meant[name].by(writing.ear).written is not None]
        by_sound = [name for name in self._favourite() if self._meant[name].by(writing.ear).view().known is None]
        asked = [self._meant[name] for name in list(dict.fromkeys([*partly[:1], *by_sound, *unknown]))[:most]]
        strings = [max(meant.by(writing.ear).forms or meant.strings, key=forward.__getitem__) for meant in asked]
        return Questions(writing.score, tuple(meant.by(writing.ear) for meant in asked), tuple(strings))

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

    def _favourite(self) -> list[Key]:
        """What the sound alone finds likeliest, if anything was proposed."""
        forward = self._scored()
        best = {name: max(forward[words] for words in meant.strings) for name, meant in self._meant.items()}
        return sorted(best, key=lambda name: -best[name])[:1]

    def _said_twice(self, words: str) -> str:
        """A phrase that was written twice, once ("Help, help."); where it is a number the two rounds are its digits."""
        said = as_words(words).split()
        half = len(said) // 2
        if not said or said[:half] != said[half:]:
            return words
        once = interpret(" ".join(said[:half]), self._expectation).meaning
        return words if once is None or isinstance(once, (Correction, Readings, Text)) else " ".join(said[:half])

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


def _is_begun(hypothesis: Hypothesis, other: Hypothesis) -> bool:
    """Whether ``other`` is likelier and says more behind the same words: that may be what was not understood.

    "Four point seventy one" is not heard where "four point seventy one dollars" is likelier. The same words once more
    are a circle.
    """
    if other.log_probability <= hypothesis.log_probability:
        return False
    words, more = as_words(hypothesis.words), as_words(other.words)
    return more.startswith(f"{words} ") and bool(more.replace(words, "").strip())


def _most(one: float | None, other: float) -> float:
    return other if one is None else max(one, other)
