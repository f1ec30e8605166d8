"""Clauses of which the meaning is known, as vectors: what a new clause is held against."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.language.net.encoder import NetError, Vectors

FILE = "exemplars.npz"
#: How many of a meaning's nearest exemplars are averaged.
NEAREST = 3


@dataclass(frozen=True)
class Exemplars:
    """``vectors``, (n, 384), and for each meaning the rows that mean it; ``questions`` are the words of each question.

    ``weights`` turn likeness into chances: the calibration that was fitted on clauses kept apart.
    """

    vectors: Vectors
    rows: dict[str, NDArray[np.int32]]
    questions: dict[str, str]
    weights: dict[str, float]

    def likeness(self, vector: Vectors, keys: list[str]) -> NDArray[np.float32]:
        """(len(keys), 2): the greatest likeness of each meaning, and the mean of its nearest exemplars."""
        alike = self.vectors @ vector
        out = np.zeros((len(keys), 2), np.float32)
        for at, key in enumerate(keys):
            mine = alike[self.rows[key]]
            top = np.sort(mine)[::-1][:NEAREST]
            out[at] = top[0], top.mean()
        return out


def load(folder: Path) -> Exemplars:
    """The exemplars that ``grammars/teaching`` wrote. Raises NetError when they cannot be read."""
    try:
        with np.load(folder / FILE, allow_pickle=False) as stored:
            vectors = stored["vectors"].astype(np.float32)
            told = json.loads(str(stored["told"]))
            meanings = stored["meanings"]
            places = stored["places"]
    except (OSError, ValueError, KeyError) as error:
        raise NetError(f"{folder / FILE} cannot be read ({error}); install Ladderside again.") from error
    rows: dict[str, NDArray[np.int32]] = {}
    for number, key in enumerate(told["keys"]):
        rows[key] = np.asarray(places[meanings == number], np.int32)
    return Exemplars(vectors, rows, told["questions"], told["weights"])
