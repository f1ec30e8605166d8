"""What is believed of a visit: weights over what may be wrong, updated exactly by every answer.

The hypotheses are: suspect i alone (one for each suspect the unit can have); suspects i and j together (one for
each pair, called "two-faults" when summed); and "none-of-these", a fault that the library does not hold.

- Before anything is known, none-of-these has ``NONE_OF_THESE`` and two-faults ``TWO_FAULTS`` of the weight; single
  suspects share the rest by their library weight, pairs share theirs by the product of the two weights.
- A symptom multiplies each by the chance that it shows it. A pair shows what either shows; a fault that is not in
  the library is taken to show a symptom as often as the suspects do on average.
- An answer multiplies each by the chance of that answer. Of a pair, the one that the check names decides; when it
  names both, either may be the one seen. A check says of a fault not in the library what it says of those it does
  not name.
- The same check answered twice is one fact seen twice: the slips are independent, what they look at is not. After a
  repair it may look at something new; an answer that stays the same looks at what the repair left as it was.

An update costs suspects squared (the pairs), once an answer; the choice of a check costs checks x suspects.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

import numpy as np

from assistant.reasoning.errors import ReasoningError
from assistant.reasoning.likelihoods import Array, Knowledge, Table

NONE_OF_THESE = "none-of-these"
TWO_FAULTS = "two-faults"

#: Share of visits whose fault the library does not hold. Common practice, no source.
NONE_SHARE = 0.03
#: Share of visits with two independent faults. Common practice, no source.
TWO_SHARE = 0.03
#: Chance that a repair did not take (a part dead from the box, a slip in fitting). Common practice, no source.
REPAIR_MISSED = 0.1


@dataclass(frozen=True)
class Evidence:
    """One answered check: the chance of each outcome as the judge gave it."""

    check_id: str
    chances: tuple[tuple[str, float], ...]

    @cached_property
    def likeliest(self) -> str:
        """The outcome with the greatest chance."""
        return max(self.chances, key=lambda pair: pair[1])[0]


@dataclass(frozen=True, eq=False)
class Weights:
    """Chances of the hypotheses; all together sum to 1. ``pairs`` is symmetric with zero diagonal: each pair twice,
    half its chance in each place."""

    singles: Array
    pairs: Array
    none: float

    @cached_property
    def two(self) -> float:
        """Chance that two suspects are at fault together."""
        return float(self.pairs.sum())

    @cached_property
    def involved(self) -> Array:
        """Chance that each suspect is at fault in company, shape (S,)."""
        return np.asarray(2.0 * self.pairs.sum(axis=1))


@dataclass(frozen=True)
class Belief:
    """An immutable state of belief. Equal when the same things were learnt; the weights follow from them."""

    symptoms: tuple[str, ...]
    weights: Weights = field(compare=False, repr=False)
    evidence: tuple[Evidence, ...] = ()
    mended: tuple[str, ...] = ()
    #: how much of ``evidence`` belongs to the unit as it was before the last repair
    before_repair: int = 0
    #: the same by the library's own starting weights, where others are reckoned with
    plain: Weights | None = field(default=None, compare=False, repr=False)

    @property
    def current(self) -> tuple[Evidence, ...]:
        """The evidence about the unit as it is now."""
        return self.evidence[self.before_repair :]


def normalised(singles: Array, pairs: Array, none: float) -> Weights:
    """Weights scaled to sum to 1, arrays read-only."""
    total = float(singles.sum() + pairs.sum() + none)
    singles, pairs = singles / total, pairs / total
    singles.setflags(write=False)
    pairs.setflags(write=False)
    return Weights(singles, pairs, none / total)


def start(knowledge: Knowledge, table: Table, symptoms: Iterable[str]) -> Belief:
    """Belief from the library's weights and the symptoms seen; raises ReasoningError for an unknown symptom."""
    told = tuple(dict.fromkeys(symptoms))
    shown = [_shown(knowledge, table, key) for key in told]
    plain = None if table.library_weight is None else _at_start(table.library_weight, shown)
    return Belief(told, weights=_at_start(table.weight, shown), plain=plain)


def _at_start(weight: Array, symptoms: Sequence[Array]) -> Weights:
    """From starting weights and how often each suspect shows each of the symptoms."""
    singles = weight * (1 - NONE_SHARE - TWO_SHARE)
    pairs = np.outer(weight, weight)
    np.fill_diagonal(pairs, 0.0)
    pairs *= TWO_SHARE / pairs.sum() if pairs.any() else 0.0
    none = NONE_SHARE
    for shown in symptoms:
        hidden = 1 - shown
        none *= float(weight @ shown)
        singles = singles * shown
        pairs = pairs * (1 - np.outer(hidden, hidden))
    return normalised(singles, pairs, none)


def _shown(knowledge: Knowledge, table: Table, key: str) -> Array:
    symptom = knowledge.symptoms.get(key)
    if symptom is None:
        raise ReasoningError(f"No symptom is called {key}; `ladderside library` lists them.")
    return np.array([symptom.shown_by.get(suspect, symptom.otherwise) for suspect in table.suspects])


def update(table: Table, belief: Belief, check_id: str, chances: Mapping[str, float]) -> Belief:
    """Belief after an answer. ``chances``: of each outcome of the check, as a judge gives them.

    An answer to a check already answered is joined with the earlier one rather than counted anew; with one from before
    a repair when it is the same again.
    """
    check = known(table, check_id, chances)
    answer = table.answer(check, chances)
    new = Evidence(check_id, tuple(sorted(chances.items())))
    before = [item for item in belief.evidence[: belief.before_repair] if item.likeliest == new.likeliest]
    same = [item for item in (*before, *belief.current) if item.check_id == check_id]
    earlier = joined(table, same).get(check)
    learnt = changed(belief, lambda weights: normalised(*_multiplied(table, weights, check, answer, earlier)))
    return replace(learnt, evidence=(*belief.evidence, new))


def changed(belief: Belief, change: Callable[[Weights], Weights]) -> Belief:
    """The same done to the weights that are reckoned with and to the library's own."""
    plain = None if belief.plain is None else change(belief.plain)
    return replace(belief, weights=change(belief.weights), plain=plain)


def joined(table: Table, evidence: Iterable[Evidence]) -> dict[int, Array]:
    """The answers (see ``Table.answer``) by place of the check; those to the same check are multiplied."""
    found: dict[int, Array] = {}
    for item in evidence:
        check = table.check_at[item.check_id]
        answer = _answered(table, check, item.chances)
        found[check] = found.get(check, np.ones_like(answer)) * answer
    return found


@lru_cache(maxsize=256)
def _answered(table: Table, check: int, chances: tuple[tuple[str, float], ...]) -> Array:
    """What was answered once is joined again in every turn after it."""
    answer = table.answer(check, dict(chances))
    answer.setflags(write=False)
    return answer


def predicted(table: Table, weights: Weights, check: int, answer: Array) -> float:
    """Chance of an answer (see ``Table.answer``) under everything believed."""
    singles, pairs, none = _multiplied(table, weights, check, answer)
    return float(singles.sum() + pairs.sum() + none)


def _multiplied(
    table: Table, weights: Weights, check: int, answer: Array, earlier: Array | None = None
) -> tuple[Array, Array, float]:
    """Singles, pairs and none-of-these times the chance of the answer.

    ``earlier``: what the same check was answered before. That is taken out and put in again joined with ``answer``,
    for the two look at one thing; a slip keeps every chance above 0.
    """
    told = table.told_by[check]
    factor, of_both, unnamed = _factors(table, check, answer if earlier is None else earlier * answer)
    if earlier is not None:
        before = _factors(table, check, earlier)
        factor, of_both, unnamed = factor / before[0], of_both / before[1], unnamed / before[2]
    pairs = weights.pairs * unnamed
    both = np.ix_(told, told)
    among_told = weights.pairs[both] * of_both
    pairs[told, :] = weights.pairs[told, :] * factor[told, None]
    pairs[:, told] = weights.pairs[:, told] * factor[told]
    pairs[both] = among_told
    return weights.singles * factor, pairs, weights.none * unnamed


def _factors(table: Table, check: int, answer: Array) -> tuple[Array, Array, float]:
    """Chance of the answer under each suspect, under each pair of those that the check names, and under others.

    Of a pair the named one decides; of two named ones either may be the one seen: half the sum of both chances.
    """
    return _factors_of(table, check, answer.tobytes())


@lru_cache(maxsize=256)
def _factors_of(table: Table, check: int, answered: bytes) -> tuple[Array, Array, float]:
    """Kept: who tells a symptom more has all that was answered weighed anew."""
    likelihood = table.likelihood(check, np.frombuffer(answered))
    shown = likelihood[table.told_by[check]]
    both = (shown[:, None] + shown[None, :]) / 2
    for kept in (likelihood, both):
        kept.setflags(write=False)
    return likelihood[:-1], both, float(likelihood[-1])


def after_repair(table: Table, belief: Belief, suspect_id: str) -> Belief:
    """Belief after a suspect was mended and the trouble is still there.

    The mended one is left with the chance that the repair did not take; of a pair with it, the other one remains.
    Checks may then be asked afresh: the unit is no longer the one they looked at.
    """
    if suspect_id not in table.suspect_at:
        raise ReasoningError(f"No suspect of this unit is called {suspect_id}.")
    place = table.suspect_at[suspect_id]

    def missed(weights: Weights) -> Weights:
        singles = weights.singles + 2.0 * weights.pairs[place]
        singles[place] = weights.singles[place] * REPAIR_MISSED
        pairs = weights.pairs.copy()
        pairs[place, :] = pairs[:, place] = 0.0
        return normalised(singles, pairs, weights.none)

    mended = (*belief.mended, suspect_id)
    return replace(changed(belief, missed), mended=mended, before_repair=len(belief.evidence))


def known(table: Table, check_id: str, chances: Mapping[str, float]) -> int:
    """The place of a check in the table; raises ReasoningError for a check or an outcome that is not there."""
    if check_id not in table.check_at:
        raise ReasoningError(f"No check of this unit is called {check_id}.")
    place = table.check_at[check_id]
    strange = set(chances) - set(table.outcomes[place])
    if strange:
        raise ReasoningError(f"Check {check_id} has no outcome {', '.join(sorted(strange))}.")
    return place


def ranked(table: Table, belief: Belief) -> list[tuple[str, float]]:
    """Every single suspect, none-of-these and two-faults with its chance, most likely first; they sum to 1."""
    chances = dict(zip(table.suspects, belief.weights.singles.tolist(), strict=True))
    chances[NONE_OF_THESE] = belief.weights.none
    chances[TWO_FAULTS] = belief.weights.two
    return sorted(chances.items(), key=lambda item: -item[1])


def at_fault(belief: Belief) -> Array:
    """Chance that each suspect is at fault, alone or with another: shape (S,)."""
    return np.asarray(belief.weights.singles + belief.weights.involved)
