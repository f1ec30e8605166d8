"""A guard against a step of the dialogue that comes to no end."""

from __future__ import annotations

from assistant.dialogue.turn import Learnt
from assistant.job.memory import Memory
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.reasoning.belief import Belief
from assistant.reasoning.reasoner import Reasoner
from assistant.visit.session import Knowledgeable

#: A step looks knowledge up some eighty times at most (measured over five visits); one that never ends, for ever.
_MOST_ASKED = 5000


class NeverAnswers(RuntimeError):
    """One step of the dialogue came to no end."""


class Patient:
    """The dialogue's context, which gives up on a step that asks for knowledge without end.

    A count, not a clock: the same visit hangs in the same place on every machine.
    """

    def __init__(self, knows: Knowledgeable) -> None:
        self._knows = knows
        self._asked = 0

    def begin(self) -> None:
        """A new step begins."""
        self._asked = 0

    @property
    def library(self) -> Library:
        self._asked += 1
        if self._asked > _MOST_ASKED:
            raise NeverAnswers
        return self._knows.library

    @property
    def memory(self) -> Memory:
        return self._knows.memory

    def reasoner(self, profile: UnitProfile | None) -> Reasoner:
        return self._knows.reasoner(profile)

    def believe(self, profile: UnitProfile | None, symptoms: tuple[str, ...], learnt: tuple[Learnt, ...]) -> Belief:
        return self._knows.believe(profile, symptoms, learnt)
