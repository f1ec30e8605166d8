"""The small protocol that every ear fulfils."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol, runtime_checkable

from assistant.hearing.sound.audio import Audio
from assistant.language.state_grammar import StateGrammar


@dataclass(frozen=True)
class Hypothesis:
    """Words an ear proposes. ``log_probability`` is natural log, per the ear's own scale (see the ear).

    ``whole`` is False for words that were cut out of a longer text, their log probability being only a share of its.
    """

    words: str
    log_probability: float
    ear: str
    word_confidences: tuple[float, ...] = ()
    whole: bool = True


class Recognizer(Protocol):
    """An ear. One instance serves one stream; ``prepare`` is cheap enough to call at every question."""

    name: str

    def prepare(self, grammar: StateGrammar) -> None:
        """Listen for this state's words from now on."""

    def hear(self, audio: Audio) -> tuple[Hypothesis, ...]:
        """Ranked hypotheses for one whole utterance, best first; empty when nothing was said."""


@runtime_checkable
class WritingEar(Recognizer, Protocol):
    """An ear that writes free text and can also say how likely it finds any words for what it heard."""

    def listen(self, audio: Audio) -> Any:
        """The ear's own view of the utterance, for ``propose`` and ``score``."""

    def propose(self, spoken: Any) -> tuple[Hypothesis, ...]:
        """Ranked hypotheses, best first, for what ``listen`` gave."""

    def score(self, spoken: Any, strings: Sequence[str]) -> list[float]:
        """Log probability of each of ``strings`` (grammar words), on the scale of the hypotheses."""
