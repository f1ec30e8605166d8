"""The net: ranks what a clause may mean by how near it lies to clauses whose meaning is known."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from assistant.data.places import data_folder
from assistant.language.net import exemplars
from assistant.language.net.encoder import Encoder, Vectors
from assistant.language.net.hashes import SHA256
from assistant.language.net.protocol import ANY, NONE, TALK, Ranked

_KEPT = 256


class SentenceNet:
    """Ranks with the sentence model. Deterministic; about 3 ms a clause."""

    def __init__(self, encoder: Encoder, known: exemplars.Exemplars) -> None:
        self._encoder = encoder
        self._known = known
        self._vector = lru_cache(maxsize=_KEPT)(self._encode)

    def _encode(self, question: str, words: str) -> Vectors:
        vector: Vectors = self._encoder.encode([(question, words)])[0]
        return vector

    def knows(self, key: str) -> bool:
        """Whether any clause is known that means this."""
        return key in self._known.rows

    def rank(self, words: str, candidates: Sequence[str], scope: str = ANY) -> tuple[Ranked, ...]:
        """See ``protocol.Net``. Candidates that answer another question are compared without the open question."""
        keys = [key for key in candidates if self.knows(key) and key != TALK]
        if not words.strip() or not keys:
            return (Ranked(NONE, 1.0),)
        question = self._known.questions.get(scope, "")
        here = [key for key in keys if not _of_another(key, scope)]
        there = [key for key in keys if _of_another(key, scope)]
        scored = self._scores(self._vector(question, words), [*here, TALK])
        if there:
            scored |= self._scores(self._vector("", words), there)
        scored[NONE] = np.logaddexp(self._known.weights["none"], scored.pop(TALK))
        top = max(scored.values())
        raw = {key: float(np.exp(score - top)) for key, score in scored.items()}
        total = sum(raw.values())
        return tuple(sorted((Ranked(key, value / total) for key, value in raw.items()), key=lambda one: -one.chance))

    def _scores(self, vector: Vectors, keys: list[str]) -> dict[str, float]:
        weights = self._known.weights
        alike = self._known.likeness(vector, keys)
        scores = alike @ np.array([weights["nearest"], weights["near"]], np.float32)
        return {key: float(score) + weights[_kind(key)] for key, score in zip(keys, scores, strict=True)}


def _of_another(key: str, scope: str) -> bool:
    """Whether the key answers a question that is not open."""
    return "=" in key and key.split("=", 1)[0] != scope


def _kind(key: str) -> str:
    return "choice" if "=" in key else key.split(":", 1)[0]


@lru_cache(maxsize=1)
def sentence_net() -> SentenceNet:
    """The shipped net, loaded once. Raises NetError when its files are missing or altered."""
    folder = data_folder("grammars") / "meanings"
    return SentenceNet(Encoder(folder, SHA256), exemplars.load(folder))
