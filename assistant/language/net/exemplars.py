"""Clauses of which the meaning is known, as vectors: what a new clause is held against."""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.language.net.encoder import Vectors, verified

FILE, WEIGHTS = "exemplars.npz", "weights.json"
#: How many of a meaning's nearest exemplars are averaged.
NEAREST = 3
#: The likeness of a meaning that has no exemplar, and of what is no exemplar.
_UNLIKE, _NO = -0.2, -2.0


@dataclass(frozen=True)
class Exemplars:
    """``vectors``, (384, m), in the order of the ``keys`` that they mean, those of key ``i`` from ``starts[i]`` on;
    ``places``, (m,), are their rows in the file. ``questions`` are the words of each question.
    """

    vectors: Vectors
    keys: dict[str, int]
    places: NDArray[np.int32]
    starts: NDArray[np.int64]
    questions: dict[str, str]

    def likeness(self, vectors: Vectors, apart: Sequence[int] = ()) -> NDArray[np.float32]:
        """(n, keys, 2) for (n, 384): the greatest likeness of each meaning, and the mean of its nearest exemplars.

        ``apart``: rows of the file that do not count.
        """
        mine = vectors @ self.vectors
        if len(apart):
            mine[:, np.isin(self.places, apart)] = _NO
        lengths = np.diff(np.append(self.starts, len(self.places)))
        nearest = np.full((NEAREST, len(mine), len(self.starts)), _NO, np.float32)
        for turn in range(NEAREST):
            nearest[turn] = top = np.maximum.reduceat(mine, self.starts, axis=1)
            mine[mine == np.repeat(top, lengths, axis=1)] = _NO
        there = nearest > _NO
        mean = np.where(there, nearest, 0).sum(0) / np.maximum(there.sum(0), 1)
        return np.stack([np.maximum(nearest[0], _UNLIKE), np.where(there.any(0), mean, _UNLIKE)], axis=2)


def load(folder: Path, sha256: str) -> Exemplars:
    """The exemplars that ``grammars/teaching`` wrote, held to their hash; raises NetError when they are others."""
    held = verified(folder / FILE, sha256)
    with np.load(io.BytesIO(held), allow_pickle=False) as stored:
        vectors, meanings, places = stored["vectors"], stored["meanings"], stored["places"]
        told = json.loads(str(stored["told"]))
    order = np.argsort(meanings, kind="stable")
    starts = np.searchsorted(meanings[order], np.arange(len(told["keys"])))
    keys = {key: number for number, key in enumerate(told["keys"])}
    places = places[order].astype(np.int32)
    return Exemplars(vectors[places].T.astype(np.float32, order="C"), keys, places, starts, told["questions"])


def weights(folder: Path, sha256: str) -> dict[str, float]:
    """What turns likeness and hints into chances: fitted on clauses kept apart, held to its hash. Raises NetError."""
    held = verified(folder / WEIGHTS, sha256)
    return {str(name): float(weight) for name, weight in json.loads(held).items()}
