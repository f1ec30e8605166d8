"""The small protocol that every ear fulfils, and the word graph that it listens for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol, runtime_checkable

import numpy as np
from numpy.typing import NDArray

#: Everything inside hearing is mono float32 in -1..1 at this rate.
SAMPLE_RATE = 16_000

Audio = NDArray[np.float32]


@dataclass(frozen=True)
class WordGraph:
    """An acceptor of the word strings allowed in a state: ``arcs`` are (from, word, to), no empty words."""

    states: int
    start: int
    finals: frozenset[int]
    arcs: tuple[tuple[int, str, int], ...]


@dataclass(frozen=True)
class StateGrammar:
    """One state's language, compiled from ``grammars/`` and the expectation, for every kind of ear.

    ``graph`` for a searching ear, ``prompt`` for a free-text ear, ``phrases`` the closed phrases that can be
    scored whole (findings and commands), ``words`` the vocabulary of a phrase-list ear.
    """

    name: str
    graph: WordGraph
    prompt: str
    phrases: tuple[str, ...]
    words: frozenset[str]


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


@dataclass(frozen=True)
class Utterance:
    """A stretch of speech between two pauses: samples at SAMPLE_RATE and its place in the stream.

    ``audio`` has been brought to a common level; ``level_db`` is how loud the voice came in (RMS, dB of full scale,
    without the room's noise), None when it was not measured.
    """

    audio: Audio
    start_s: float
    end_s: float
    notes: tuple[str, ...] = field(default=())  # e.g. "clipped", "too quiet"
    level_db: float | None = None


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
