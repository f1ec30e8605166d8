"""The net: ranks what a clause may mean by how near it lies to clauses whose meaning is known, and by its hints."""

from __future__ import annotations

import heapq
from collections import OrderedDict
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from assistant.data.places import data_folder
from assistant.language.net import exemplars
from assistant.language.net.encoder import Encoder, Vectors
from assistant.language.net.hashes import LEARNT, SHA256
from assistant.language.net.protocol import ANY, NONE, TALK, Hint, Hints, Ranked, no_hints

#: Clauses, each with its question, of which the vector is kept.
_KEPT = 256
Likeness = NDArray[np.float32]
#: So many facts of other questions are ranked: the nearest ones. Measured: more change nothing.
_TOLD = 8
#: Sorts of keys, each with a weight of its own.
KINDS = ("own", "shown", "command", "cannot", "ask", "emergency", "told", "told-shown", "talk")
#: What a key is weighed by, before its sort.
FEATURES = (
    *("nearest", "near", "counted", "counted-told", "sign"),
    *("covered-told", "named-told", "unnamed-told", "covered-own", "unnamed-own", "elsewhere-own"),
)
#: Makes hints about as large as likeness, so that all weights are of one size.
_COUNTED, _NAMED = 0.1, 0.2


class SentenceNet:
    """Ranks with the sentence model. Deterministic; about 6 ms a clause."""

    def __init__(self, encoder: Encoder, known: exemplars.Exemplars, weights: dict[str, float]) -> None:
        self._encoder = encoder
        self._known = known
        self._weights = np.array([weights[name] for name in (*FEATURES, *KINDS)], np.float64)
        self._none = weights[NONE]
        self._said: OrderedDict[tuple[str, str], tuple[Vectors, Likeness]] = OrderedDict()

    def knows(self, key: str) -> bool:
        """Whether any clause is known that means this."""
        return key in self._known.keys

    def expect(self, clauses: Sequence[str], scope: str = ANY) -> None:
        """See ``protocol.Net``: all are held against what is known in one product."""
        question = self._known.questions.get(scope, "")
        said = [(asked, words) for words in clauses if words.strip() for asked in dict.fromkeys((question, ""))]
        new = [pair for pair in dict.fromkeys(said) if pair not in self._said]
        if not new:
            return
        vectors = self._encoder.encode(new)
        for pair, vector, alike in zip(new, vectors, self._known.likeness(vectors), strict=True):
            self._said[pair] = vector, alike
        while len(self._said) > max(_KEPT, len(said)):
            self._said.popitem(last=False)

    def rank(
        self, words: str, candidates: Sequence[str], scope: str = ANY, told: Sequence[str] = (), hints: Hints = no_hints
    ) -> tuple[Ranked, ...]:
        """See ``protocol.Net``. Facts that nobody asked for are compared without the open question."""
        if not words.strip() or not any(self.knows(key) for key in (*candidates, *told) if key != TALK):
            return (Ranked(NONE, 1.0),)
        keys, rows = self.features(words, candidates, scope, told, hints)
        scores = np.append(rows @ self._weights, self._none)
        chances = np.exp(scores - scores.max())
        chances /= chances.sum()
        found = dict(zip([*keys, NONE], chances.tolist(), strict=True))
        found[NONE] += found.pop(TALK, 0.0)
        return tuple(sorted((Ranked(key, chance) for key, chance in found.items()), key=lambda one: -one.chance))

    def features(
        self,
        words: str,
        candidates: Sequence[str],
        scope: str,
        told: Sequence[str],
        hints: Hints,
        apart: Sequence[int] = (),
    ) -> tuple[list[str], NDArray[np.float64]]:
        """The keys that are ranked and, (keys, features and sorts), what each is weighed by.

        ``apart``: exemplars that do not count, for fitting.
        """
        question = self._known.questions.get(scope, "")
        self.expect((words,), scope)
        here, there = (self._alike(asked, words, apart) for asked in (question, ""))
        own = [key for key in dict.fromkeys((*candidates, TALK)) if self.knows(key)]
        others = self._nearest([key for key in told if self.knows(key) and key not in own], there)
        hint = hints([*own, *others])
        rows = [self._row(key, here, hint.get(key, Hint()), told=False) for key in own]
        rows += [self._row(key, there, hint.get(key, Hint()), told=True) for key in others]
        return [*own, *others], np.array(rows, np.float64)

    def _alike(self, question: str, words: str, apart: Sequence[int]) -> Likeness:
        vector, alike = self._said[question, words]
        return self._known.likeness(vector[None], apart)[0] if len(apart) else alike

    def _nearest(self, keys: list[str], alike: NDArray[np.float32]) -> list[str]:
        likest = alike.sum(1).tolist()
        return heapq.nlargest(_TOLD, keys, key=lambda key: likest[self._known.keys[key]])

    def _row(self, key: str, alike: NDArray[np.float32], hint: Hint, told: bool) -> list[float]:
        nearest, near = alike[self._known.keys[key]]
        counted, covered = _COUNTED * hint.counted, hint.covered
        named, unnamed = _NAMED * hint.named, _NAMED * hint.unnamed
        kind = _kind(key, told)
        elsewhere = float(unnamed > 0 and not covered)  # something else is named, and nothing that was asked about
        about = (covered, named, unnamed, 0.0, 0.0, 0.0) if told else (0.0, 0.0, 0.0, covered, unnamed, elsewhere)
        sorts = (float(kind == one) for one in KINDS)
        return [nearest, near, counted, counted if told else 0.0, hint.sign, *about, *sorts]


def _kind(key: str, told: bool) -> str:
    if key == TALK:
        return key
    if "=" in key:
        return "told" if told else "own"
    sort = key.split(":", 1)[0]
    return ("told-shown" if told else "shown") if sort == "indication" else sort


@lru_cache(maxsize=1)
def sentence_net() -> SentenceNet:
    """The shipped net, loaded once. Raises NetError when its files are missing or altered."""
    # Products of this size are slower on several threads, many times so where the other cores are busy.
    threadpool_limits(1, user_api="blas")
    folder = data_folder("grammars") / "meanings"
    return SentenceNet(
        Encoder(folder, SHA256),
        exemplars.load(folder, LEARNT[exemplars.FILE]),
        exemplars.weights(folder, LEARNT[exemplars.WEIGHTS]),
    )
