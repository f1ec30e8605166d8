"""Why this check, and which answers clash: what reasoning has to say."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message, known, message
from assistant.reasoning.belief import Belief, at_fault, joined, predicted
from assistant.reasoning.choice import Advice
from assistant.reasoning.conclusion import likeliest
from assistant.reasoning.likelihoods import Array, Knowledge, Table

#: An answer that everything believed gave less chance than this is asked again.
SURPRISE_CHANCE = 0.03
#: The earlier answer clashes when the new one would have been this many times likelier without it.
CLASH_FACTOR = 4.0
#: A suspect whose chance falls to under this share of what it was counts as ruled out.
RULED_OUT_SHARE = 0.2
#: Only suspects of at least this chance are worth naming in an explanation.
WORTH_NAMING = 0.03
#: A sentence that is spoken stays under 25 words.
LONGEST_SENTENCE = 24


def contradiction(table: Table, before: Belief, check: int, chances: Mapping[str, float]) -> str | None:
    """The earlier answer without which this one would not be a surprise, or None when it is none.

    Only answers about the unit as it is now can clash; an answer that is merely rare clashes with nothing.
    """
    answer = table.answer(check, chances)
    weights = before.weights
    if float(np.append(weights.singles, weights.none) @ table.likelihood(check, answer)) >= SURPRISE_CHANCE:
        return None  # no surprise even without the pairs, which are dearer to ask
    chance = predicted(table, weights, check, answer)
    if chance >= SURPRISE_CHANCE:
        return None
    earlier = joined(table, before.current)
    earlier.pop(check, None)
    without = {
        key: _without(table, before, table.likelihood(key, given), check, answer) for key, given in earlier.items()
    }
    if not without:
        return None
    clashing = max(sorted(without), key=lambda key: without[key])
    return table.checks[clashing] if without[clashing] >= CLASH_FACTOR * chance else None


def _without(table: Table, before: Belief, taken: Array, check: int, answer: Array) -> float:
    """Chance of an answer if an earlier one, of likelihood ``taken``, had not been given.

    Over single suspects and none-of-these, which is where an answer is expected from; a slip keeps ``taken`` above 0.
    """
    weights = np.append(before.weights.singles, before.weights.none) / taken
    return float(weights @ table.likelihood(check, answer) / weights.sum())


def why(knowledge: Knowledge, table: Table, belief: Belief, advice: Advice) -> Message:
    """What is most likely, what the check costs, and what it would settle, as a message of one sentence."""
    takes = message("a-minute-or-so", count=max(1, round(advice.minutes)))
    best = likeliest(table, belief)
    if best is None:
        return message("why-no-suspects", takes=takes)
    suspect = known("suspects", table.suspects[best[0]], "name")
    most = message("why-tells-most")
    for settled in (_settles(knowledge, table, belief, advice, best[0]), most):
        said = message("why", suspect=suspect, takes=takes, settles=settled)
        if len(catalogue().words(said, knowledge).split()) <= LONGEST_SENTENCE:
            return said
    return message("why-short", takes=takes, settles=most)


def _settles(knowledge: Knowledge, table: Table, belief: Belief, advice: Advice, best: int) -> Message:
    if advice.reason == "prepare":
        return message("why-must-come-before", check=known("checks", advice.towards, "title"))
    if advice.reason == "confirm":
        return message("why-confirms")
    if advice.reason == "make-sure":
        return message("why-makes-sure")
    excluded = _ruled_out(table, belief, table.check_at[advice.check_id])
    if excluded is None:
        return message("why-tells-most")
    if excluded == best:
        return message("why-could-rule-out")
    rival, leader = (knowledge.suspects[table.suspects[place]] for place in (excluded, best))
    if rival.component == leader.component:
        return message("why-same-part")
    return message("why-would-rule-out", component=known("suspects", rival.id, "component"))


def _ruled_out(table: Table, belief: Belief, check: int) -> int | None:
    """The suspect of which this check is expected to take most belief by ruling it out."""
    chances = at_fault(belief)
    best: tuple[float, int] | None = None
    for outcome in table.outcomes[check]:
        answer = table.answer(check, {outcome: 1.0})
        after = _chances_after(table, belief, check, answer)
        fallen = np.flatnonzero((chances >= WORTH_NAMING) & (after < RULED_OUT_SHARE * chances))
        expected = predicted(table, belief.weights, check, answer) if len(fallen) else 0.0  # the pairs are dear to ask
        for place in fallen:
            taken = expected * float(chances[place] - after[place])
            if best is None or taken > best[0]:
                best = taken, int(place)
    return None if best is None else best[1]


def _chances_after(table: Table, belief: Belief, check: int, answer: Array) -> Array:
    singles = belief.weights.singles * table.likelihood(check, answer)[:-1]
    return np.asarray(singles / max(float(singles.sum()), 1e-300))
