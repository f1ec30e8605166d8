"""A single ear: for measuring what each is worth alone, and for a machine on which only one works.

Nobody else agrees with it, so nothing it hears is ever "sure" unless ``trusting`` says so, which only measuring does.
"""

from __future__ import annotations

from assistant.hearing.ears.protocol import Recognizer
from assistant.hearing.listening.judgement import Trust, plausible
from assistant.hearing.sound.audio import Utterance
from assistant.language.grammar import compile_state
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, Heard, Interpretation


class OneEar:
    """The same contract as EarsTogether over one Recognizer."""

    def __init__(self, ear: Recognizer, trusting: bool = False) -> None:
        self.ear, self._trusting = ear, trusting
        self._expectation = Expectation(question="")

    def expect(self, expectation: Expectation) -> None:
        """Listens for the answers to this question from now on."""
        self._expectation = expectation
        self.ear.prepare(compile_state(expectation))

    def begin(self, utterance: Utterance) -> None:
        """Nothing is done ahead."""

    def judge(self, utterance: Utterance) -> Heard:
        """The first hypothesis that means anything; to be confirmed, unless this ear is trusted."""
        heard = self.ear.hear(utterance.audio)
        understood = [interpret(each.words, self._expectation) for each in heard]
        meant = [each for each in understood if each.meaning is not None]
        ears = ((self.ear.name, heard[0].words if heard else ""),)
        first = meant[0] if meant else Interpretation(words="", meaning=None)
        return Heard(
            words=first.words,
            meaning=first.meaning,
            trust=self._trust(first),
            probability=0.5 if meant else 0.0,
            runner_up=meant[1].meaning if len(meant) > 1 else None,
            doubt=first.doubt,
            ears=ears,
            start_s=utterance.start_s,
            end_s=utterance.end_s,
        )

    def _trust(self, understood: Interpretation) -> Trust:
        if understood.meaning is None:
            return "again"
        plain = self._trusting and not understood.doubt and plausible(understood.meaning, self._expectation)
        return "sure" if plain else "confirm"
