"""Which answer is worth asking once more, since it may have been a slip: before a part is thrown away on one answer
alone, and when nothing new tells any more.

Looking again at the same thing tells nothing new of the unit, only whether the first answer was right; that is
computed exactly. A check answered twice is not asked a third time.
"""

from __future__ import annotations

from collections import Counter
from functools import lru_cache

import numpy as np

from assistant.reasoning.belief import Belief, joined
from assistant.reasoning.likelihoods import ANSWER_ERROR, Array, Table, entropy_bits

#: Answers to one check after which it is believed or left.
MOST_ANSWERS = 2
#: A part is thrown away only if it would still be this likely without any one answer, or that answer was given twice.
#: Chosen by the simulated visits: it halves the good parts renewed when one answer in twenty is wrong.
WITNESS_CHANCE = 0.5


def repeat_gains(table: Table, belief: Belief) -> dict[int, float]:
    """Expected information in bits of asking each answered check once more, by its place in the table.

    Over single suspects and none-of-these. Cost: answered checks x suspects.
    """
    times = Counter(table.check_at[item.check_id] for item in belief.current)
    weights = np.append(belief.weights.singles, belief.weights.none)
    weights = weights / weights.sum()
    return {
        check: _gain(table, check, answer, weights)
        for check, answer in joined(table, belief.current).items()
        if times[check] < MOST_ANSWERS
    }


def lone_witness(table: Table, belief: Belief, suspect: int) -> int | None:
    """The check, answered once, without whose answer the suspect would not be likely; None when there is none.

    Taking an answer back divides by its likelihood, over single suspects and none-of-these.
    """
    times = Counter(table.check_at[item.check_id] for item in belief.current)
    weights = np.append(belief.weights.singles, belief.weights.none)
    left: dict[int, float] = {}
    for check, answer in joined(table, belief.current).items():
        if times[check] < MOST_ANSWERS:
            without = weights / table.likelihood(check, answer)
            left[check] = float(without[suspect] / without.sum())
    if not left:
        return None
    alone = min(sorted(left), key=lambda check: left[check])
    return alone if left[alone] < WITNESS_CHANCE else None


def _gain(table: Table, check: int, answer: Array, weights: Array) -> float:
    heard, doubt = _heard_again(table, check, answer.tobytes())
    return float(entropy_bits(heard @ weights, axis=0) - doubt @ weights)


@lru_cache(maxsize=256)
def _heard_again(table: Table, check: int, answered: bytes) -> tuple[Array, Array]:
    """How likely each outcome is to be heard after an answer under each suspect, (O, S + 1), and its entropy: kept, for
    what was answered once is weighed again in every turn after it."""
    answer = np.frombuffer(answered)
    rows = len(table.outcomes[check])
    truth = table.given[check, :rows] * answer[:rows, None]
    truth = truth / truth.sum(axis=0)  # chance of each true outcome under each suspect, after the first answer
    heard = (1 - ANSWER_ERROR) * truth + ANSWER_ERROR / rows
    return heard, entropy_bits(heard, axis=0)
