"""Starting weights of the suspects re-estimated from confirmed repairs, as a file that a person reviews first.

The shares of the suspects are drawn to the library's own: with n confirmed repairs in all, n_i of suspect i, library
share p_i and strength k, the new share is (n_i + k p_i) / (n + k), the mean of a Dirichlet distribution with parameters
n_i + k p_i. How many repairs the library's opinion is worth, the strength k, nobody knows: every k of a logarithmic
scale from ``LEAST_STRENGTH`` counts by how likely it makes the counts (Dirichlet-multinomial likelihood; Minka,
"Estimating a Dirichlet distribution", from memory). So a few repairs move little, a suspect that was never seen keeps a
weight, and the intervals know that the strength is not known.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.data import yaml_lines
from assistant.errors import LaddersideError

#: The library's opinion is worth at least so many repairs. Common practice, no source.
LEAST_STRENGTH = 30.0
#: Strengths that count, from there to a hundred times as much.
_STRENGTHS = tuple(LEAST_STRENGTH * 10 ** (step / 8) for step in range(17))
_DRAWS, _SEED = 20_000, 1


class LearningError(LaddersideError):
    """There is nothing to learn from."""


@dataclass(frozen=True)
class Weight:
    """One suspect: its share before and after (the whole library 1), how often confirmed, and 95 % of the new share."""

    suspect: str
    before: float
    after: float
    confirmed: int
    low: float
    high: float


@dataclass(frozen=True)
class Learnt:
    """All weights with what they were made from; ``strength`` is the mean one (geometric)."""

    weights: tuple[Weight, ...]
    repairs: int
    strength: float


def learn(library: Mapping[str, float], confirmed: Mapping[str, int]) -> Learnt:
    """New shares from library weights (any scale, > 0) and confirmed repairs. Raises LearningError without any repair.

    Repairs of suspects that the library has no more are left out.
    """
    names = sorted(library)
    counts = np.array([confirmed.get(name, 0) for name in names], dtype=float)
    total = float(counts.sum())
    if total == 0:
        raise LearningError("No proved repair was exported yet, so there is nothing to learn from.")
    shares = np.array([library[name] for name in names])
    shares = shares / shares.sum()
    fits = np.array([_likelihood(counts, shares, k) for k in _STRENGTHS])
    chances = np.exp(fits - fits.max())
    chances /= chances.sum()
    strengths = np.array(_STRENGTHS)
    strength = float(np.exp(chances @ np.log(strengths)))
    rng = np.random.default_rng(_SEED)
    drawn_strengths = rng.choice(strengths, size=_DRAWS, p=chances)
    drawn = rng.standard_gamma(counts + drawn_strengths[:, None] * shares)
    drawn /= drawn.sum(axis=1, keepdims=True)
    low, high = np.quantile(drawn, [0.025, 0.975], axis=0)
    after = chances @ ((counts + strengths[:, None] * shares) / (total + strengths[:, None]))
    weights = tuple(
        Weight(name, float(shares[at]), float(after[at]), int(counts[at]), float(low[at]), float(high[at]))
        for at, name in enumerate(names)
    )
    return Learnt(weights, int(total), strength)


def _likelihood(counts: NDArray[np.float64], shares: NDArray[np.float64], strength: float) -> float:
    """Logarithm of the Dirichlet-multinomial likelihood, without what does not depend on the strength."""
    total = float(counts.sum())
    seen = counts > 0
    inner = sum(
        math.lgamma(n + strength * p) - math.lgamma(strength * p)
        for n, p in zip(counts[seen].tolist(), shares[seen].tolist(), strict=True)
    )
    return math.lgamma(strength) - math.lgamma(total + strength) + inner


def written(learnt: Learnt) -> str:
    """The file to be reviewed: the greatest changes first. It counts for nothing until ``reviewed_by`` is filled in."""
    order = sorted(learnt.weights, key=lambda w: -abs(math.log(w.after / w.before)))
    body = {
        "reviewed_by": "",
        "made_from": {"proved_repairs": learnt.repairs, "library_worth_repairs": round(learnt.strength, 1)},
        "weights": [
            {
                "suspect": w.suspect,
                "before": round(w.before, 6),
                "after": round(w.after, 6),
                "confirmed": w.confirmed,
                "interval_95": [round(w.low, 6), round(w.high, 6)],
            }
            for w in order
        ],
    }
    head = (
        "# Starting weights of the suspects, re-estimated from proved repairs. Look through the changes, the greatest\n"
        "# first; strike out what you do not believe, write your name after reviewed_by, and put the file into your\n"
        "# data folder as weights.yaml. Without a name it is not used.\n"
    )
    return head + yaml_lines.written(body)
