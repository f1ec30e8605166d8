"""What the ears propose for one utterance, gathered by what it means, and what is still to be asked of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from assistant.hearing.ears.phoneme import PhonemeEar, Sounds
from assistant.hearing.ears.protocol import Hypothesis
from assistant.hearing.listening.judgement import (
    Candidate,
    Key,
    View,
    is_free_words,
    rank,
)
from assistant.hearing.listening.nearly import is_within
from assistant.language import saying
from assistant.language.compare import meaning_key
from assistant.language.interpret import best_parse, interpret
from assistant.language.lattice import NOT_UNDERSTOOD
from assistant.language.meaning import Correction, Expectation, Interpretation, Readings, Text
from assistant.language.normalise import spoken_forms
from assistant.language.teens import mistakable
from assistant.language.written import as_words

#: Log probabilities of word strings, for the utterance that was heard.
Score = Callable[[Sequence[str]], list[float]]

#: What an ear finds so much less likely than its own first text, whatever that means, it has not heard: "I met four" at
#: -1 is no "i meant four" at -5.
_MOST_BEHIND = 3.0
#: So often a phrase may be written and have been said once; more is babble.
_MOST_ROUNDS = 3
#: Words of one or two syllables on which much hangs, in any state that takes them.
DECIDING = ("yes", "yeah", "no", "nope", "help", "stop", "wait", "done", "ready", "repeat", "skip", "locked")
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
    doubt (and passed over no word: "one one and one meg" may have been "one one oh one"); ``forms`` how its words may
    have been said; ``second``: its log probability of the likeliest form when asked.
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
        self._understood: dict[tuple[str, bool], Interpretation] = {}
        self._ears: list[str] = []
        self._expectation, self._phoneme, self._sounds = expectation, phoneme, sounds

    def add_found(self, hypothesis: Hypothesis) -> None:
        """A string of the grammar: its doubts are those of the words themselves. As free words it means nothing."""
        understood = self._interpret(hypothesis.words)
        if understood.meaning is None or is_free_words(understood.meaning):
            return
        name = self._add(understood, [hypothesis.words])
        if name is not None:
            self._meant[name].found = True

    def add_writing(self, writing: Writing) -> None:
        """Free text, also read loosely: the sound says whether the reading is right, and then its doubt is gone."""
        self._ears.append(writing.ear)
        for hypothesis in writing.hypotheses:
            words, rounds = self._said_once(hypothesis.words)
            understood = self._interpret(words)
            strings: Sequence[str] = spoken_forms(words, self._expectation)
            behind = writing.hypotheses[0].log_probability - hypothesis.log_probability
            wholly = hypothesis.whole and understood.meaning is not None and behind <= _MOST_BEHIND
            wholly = wholly and not _says_more(hypothesis, writing.hypotheses)
            if understood.meaning is not None and best_parse(words, self._expectation) is None:
                wholly = False
                strings = self._grammar_words(understood) or strings
            elif understood.meaning is None:
                understood = self._interpret(words, loose=True)
                parse = best_parse(words, self._expectation, loose=True)
                strings = [parse.words] if parse else strings
            name = self._add(understood, strings)
            if name is None:
                continue
            self.firsts.setdefault(writing.ear, name)
            told = self._meant[name].by(writing.ear)
            told.forms.update(dict.fromkeys(words for words in strings if words))
            told.written = _most(told.written, hypothesis.log_probability / rounds)
            told.doubted |= wholly and bool(understood.doubt) and NOT_UNDERSTOOD not in understood.doubt
            if wholly and not understood.doubt:
                told.exact = _most(told.exact, hypothesis.log_probability / rounds)

    def add_mended(self, writing: Writing) -> None:
        """What the sound found likeliest, with the numbers that were written in the places of its own.

        In a row of readings each ear may have another number wrong, and what stands around the numbers an ear that
        writes free text has often misheard ("that shows" for "it shows").
        """
        found = [words for meant in self._meant.values() if meant.found for words in meant.strings]
        forward = self._scored()
        best = sorted(found, key=lambda words: -forward[words])[:_MENDED]
        texts = dict.fromkeys(as_words(hypothesis.words) for hypothesis in writing.hypotheses[:_MENDED])
        for mended in dict.fromkeys(each for text in texts for words in best for each in saying.exchanged(words, text)):
            understood = self._interpret(mended)
            name = self._add(understood, [mended])
            if name is not None and not understood.doubt:
                self._meant[name].understood = understood

    def add_mistakable(self) -> None:
        """Puts thirteen beside thirty where the likeliest answer has one of them, for every ear to choose."""
        ranked = rank(self.candidates(), self._expectation)
        for words in mistakable(ranked[0][0].words) if ranked else ():
            self._add(self._interpret(words), [words])

    def add_rivals(self) -> int:
        """Puts the other short words that decide beside the likeliest answer where it is one; how many there are.

        Beside noise "yeah" is near "no", and an ear that was asked about nothing else would speak for either.
        """
        ranked = rank(self.candidates(), self._expectation)
        if not ranked or len(ranked[0][0].words.split()) > 1:
            return 0
        rivals = [word for word in DECIDING if self._add(self._interpret(word), [word]) is not None]
        return len(rivals)

    def questions(self, writing: Writing, most: int) -> Questions:
        """The likeliest meanings that an ear has not told of.

        That first which it wrote in part or loosely, then what the sound alone finds likeliest.
        """
        if writing.score is None:
            return Questions(None, (), ())
        forward = self._scored()
        candidates = self.candidates()
        ranked = [meaning_key(each.meaning) for each, _ in rank(candidates, self._expectation)]
        by_ear = {name: meant.by(writing.ear) for name, meant in self._meant.items()}
        partly = [name for name in ranked[: most + 1] if by_ear[name].written is not None and _is_unknown(by_ear[name])]
        order = dict.fromkeys([*partly[:1], *_by_sound(candidates)[:1], *ranked[: most + 1]])
        asked = [name for name in order if _is_unknown(by_ear[name])][:most]
        strings = [max(by_ear[name].forms or self._meant[name].strings, key=forward.__getitem__) for name in asked]
        return Questions(writing.score, tuple(by_ear[name] for name in asked), tuple(strings))

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
        return next(iter(_by_sound([each for each in self.candidates() if each.found])), None)

    def _said_once(self, words: str) -> tuple[str, int]:
        """A phrase that was written in rounds ("Help. Help. Help."), once, and the number of rounds.

        Where it is a number the rounds are its digits.
        """
        said = as_words(words).split()
        for rounds in range(2, _MOST_ROUNDS + 1):
            once = said[: len(said) // rounds]
            if once and said == once * rounds:
                meaning = self._interpret(" ".join(once)).meaning
                if meaning is not None and not isinstance(meaning, (Correction, Readings, Text)):
                    return " ".join(once), rounds
        return words, 1

    def _grammar_words(self, understood: Interpretation) -> list[str]:
        """How the grammar says what was only nearly written ("feeled by itself"), where another ear found that."""
        known = self._meant.get(meaning_key(understood.meaning))
        return list(known.strings) if known is not None and known.found else []

    def _interpret(self, words: str, loose: bool = False) -> Interpretation:
        """What words mean here; the ears often propose the same."""
        if (words, loose) not in self._understood:
            self._understood[words, loose] = interpret(words, self._expectation, loose)
        return self._understood[words, loose]

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


def _is_unknown(told: _Writings) -> bool:
    """Whether the ear has not told what it thinks of that meaning."""
    return told.view().known is None


def _by_sound(candidates: Sequence[Candidate]) -> list[Key]:
    """Their meanings, that first which the sound alone finds likeliest."""
    return [meaning_key(each.meaning) for each in sorted(candidates, key=lambda each: -each.forward)]


def _says_more(hypothesis: Hypothesis, hypotheses: Sequence[Hypothesis]) -> bool:
    """Whether a likelier text has other words beside or between the same ones: they may be what was not understood.

    "Four point seventy one" is not heard where "four point seventy one dollars" is likelier, and "four three" not where
    "four or three" is: that was "four oh three". The same words once more are a circle.
    """
    said = as_words(hypothesis.words).split()
    for other in hypotheses:
        more = as_words(other.words).split()
        within = bool(said) and is_within(said, more)
        circle = within and more == said * (len(more) // len(said))
        if other.whole and within and not circle and other.log_probability > hypothesis.log_probability:
            return True
    return False


def _most(one: float | None, other: float) -> float:
    return other if one is None else max(one, other)
