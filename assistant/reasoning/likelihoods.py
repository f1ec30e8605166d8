"""The library seen as arrays: which suspects and checks a unit can have, and what each outcome says of each suspect.

Everything that a choice needs and that no answer changes is computed here once.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from assistant.library.models import AFTER_ANY_REPAIR, PROCEDURES, VISIT_STEPS, Check, Suspect, Symptom
from assistant.reasoning.effort import ENERGIES, WHERES
from assistant.reasoning.errors import ReasoningError

Array = NDArray[np.float64]

#: Chance that an answer, though recorded as certain, is wrong: a slip of eye, probe or tongue that was confirmed
#: by habit. Common practice, no source; the benchmark shows visits with 0, 2 and 5 %.
ANSWER_ERROR = 0.02


class Knowledge(Protocol):
    """The part of the loaded library that reasoning reads."""

    @property
    def suspects(self) -> Mapping[str, Suspect]: ...
    @property
    def checks(self) -> Mapping[str, Check]: ...
    @property
    def symptoms(self) -> Mapping[str, Symptom]: ...
    @property
    def system_of(self) -> Mapping[str, str]: ...


@dataclass(frozen=True, eq=False)
class Table:
    """Arrays over C checks, O outcomes (padded to the most any check has), S suspects and G gates.

    ``given[c, o, s]``: chance of outcome o of check c if suspect s alone is at fault; column S (the last) is the
    chance for a suspect that the check does not name. Padding is 0.
    What is seen is the same with the chance of a wrong answer mixed in. Checks name few suspects, so it is kept as
    ``unnamed_seen[c * O + o]`` for the others, and for the named one by one: ``told_seen`` at ``told_row`` (c * O + o)
    and ``told_suspect``. ``doubt[c, s]``: entropy of what is seen, in bits. ``named[c, s]``: 1 where the check names
    the suspect; ``told_by[c]``: the places of those.
    ``confirms[c, s]``: 1 where it confirms it; ``needed[c, s]``: 1 where it must be made before the suspect is named;
    ``split``: per suspect, the checks that must clear what would look the
    same before it is condemned, each with 1 for the outcomes that do.
    ``minutes``, ``energy`` (place in ENERGIES), ``where`` (place in WHERES): per check.
    ``after``: per check, all that must come before it, first to last; ``before[c, b]``: 1 where b must come before c.
    ``gate_check``, ``gate_on``, ``gate_allows[g, o]``: check ``gate_check[g]`` makes sense only
    if check ``gate_on[g]`` gave an outcome o with a 1. ``answered_by``: per symptom, the checks that it already answers
    and the outcomes; ``only_with``: the checks that are asked with some symptoms only, and those.
    ``cuts_power[c, o]``: after outcome o of check c the supply does not stay on, and the checks of ``wants_power`` make
    no sense. ``weight``: per suspect, sums to 1; ``library_weight``: the library's own where others are reckoned with,
    else None; ``mending``: minutes of its repair and of its own proof;
    ``condemns``: mending it throws a part away; ``part``: the same number for faults of the same component.
    """

    suspects: tuple[str, ...]
    checks: tuple[str, ...]
    suspect_at: Mapping[str, int]
    check_at: Mapping[str, int]
    outcomes: tuple[tuple[str, ...], ...]
    given: Array
    unnamed_seen: Array
    told_seen: Array
    told_row: NDArray[np.intp]
    told_suspect: NDArray[np.intp]
    named: Array
    told_by: tuple[NDArray[np.intp], ...]
    doubt: Array
    minutes: Array
    energy: NDArray[np.intp]
    where: NDArray[np.intp]
    confirms: Array
    needed: Array
    split: tuple[tuple[tuple[int, Array], ...], ...]
    after: tuple[tuple[int, ...], ...]
    before: Array
    gate_check: NDArray[np.intp]
    gate_on: NDArray[np.intp]
    gate_allows: Array
    answered_by: Mapping[str, tuple[tuple[int, int], ...]]
    only_with: tuple[tuple[int, frozenset[str]], ...]
    cuts_power: NDArray[np.bool_]
    wants_power: NDArray[np.bool_]
    mending: Array
    condemns: NDArray[np.bool_]
    part: NDArray[np.intp]
    weight: Array
    library_weight: Array | None

    def answer(self, check: int, chances: Mapping[str, float]) -> Array:
        """Chance of what was answered for each true outcome, shape (O,): soft evidence with the chance of a slip.

        An outcome that ``chances`` leaves out fits the reading not at all: only a slip explains it.
        """
        ids = self.outcomes[check]
        seen = np.array([chances.get(outcome, 0.0) for outcome in ids])
        answer = np.zeros(self.given.shape[1])
        answer[: len(ids)] = (1 - ANSWER_ERROR) * seen + ANSWER_ERROR / len(ids)
        return answer

    def likelihood(self, check: int, answer: Array) -> Array:
        """Chance of the answer under each suspect and, last, under one that the check does not name: shape (S + 1,)."""
        return np.asarray(answer @ self.given[check])


def entropy_bits(chances: Array, axis: int) -> Array:
    """Shannon entropy along ``axis`` in bits, with 0 log 0 = 0."""
    safe = np.where(chances > 0, chances, 1.0)
    return np.asarray(-(chances * np.log2(safe)).sum(axis=axis))


def _library_weight(suspects: Mapping[str, Suspect]) -> Array | None:
    """The library's own weights, sum 1, where any was changed."""
    if all(item.library_weight in (None, item.weight) for item in suspects.values()):
        return None
    own = np.array([item.library_weight or item.weight for item in suspects.values()])
    return _frozen(own / own.sum())


def table_of(knowledge: Knowledge, features: Collection[str]) -> Table:
    """The suspects and the checks that a unit with these features can have, as arrays.

    The safety procedures (checks that set the energy state) are left out: they are steps of the way, not evidence.
    So are the checks that follow any repair: they ask whether a unit is sound, which a search already knows.
    A check without chances tells nothing but may be a step before another.
    """
    has = frozenset(features)
    suspects = {key: item for key, item in knowledge.suspects.items() if has.issuperset(item.needs)}
    checks = {key: item for key, item in knowledge.checks.items() if _searches(knowledge, item, has)}
    suspect_at = {key: place for place, key in enumerate(suspects)}
    check_at = {key: place for place, key in enumerate(checks)}
    size = max((len(check.outcomes) for check in checks.values()), default=1)
    given = np.zeros((len(checks), size, len(suspects) + 1))
    named = np.zeros((len(checks), len(suspects)))
    seen = np.zeros_like(given)
    for place, check in enumerate(checks.values()):
        _fill(given[place], named[place], check, suspect_at)
        rows = len(check.outcomes)
        seen[place, :rows] = (1 - ANSWER_ERROR) * given[place, :rows] + ANSWER_ERROR / rows
    weight = np.array([suspect.weight for suspect in suspects.values()])
    after = tuple(tuple(check_at[key] for key in _before(check, checks, ())) for check in checks.values())
    before = np.zeros((len(checks), len(checks)))
    for place, earlier in enumerate(after):
        before[place, list(earlier)] = 1.0
    gate_check, gate_on, gate_allows = _gates(checks, check_at, size)
    told_check, told_outcome, told_suspect = np.nonzero((seen[:, :, :-1] > 0) & (named[:, None, :] > 0))
    return Table(
        suspects=tuple(suspects),
        checks=tuple(checks),
        suspect_at=suspect_at,
        check_at=check_at,
        outcomes=tuple(tuple(check.outcomes) for check in checks.values()),
        given=_frozen(given),
        unnamed_seen=_frozen(seen[:, :, -1].ravel()),
        told_seen=_frozen(seen[told_check, told_outcome, told_suspect]),
        told_row=told_check * size + told_outcome,
        told_suspect=told_suspect,
        named=_frozen(named),
        told_by=tuple(np.flatnonzero(row) for row in named),
        doubt=_frozen(entropy_bits(seen, axis=1)),
        minutes=_frozen(np.array([check.minutes for check in checks.values()])),
        energy=np.array([ENERGIES.index(check.energy) for check in checks.values()], dtype=np.intp),
        where=np.array([WHERES.index(check.where) for check in checks.values()], dtype=np.intp),
        confirms=_frozen(_confirms(suspects, check_at)),
        needed=_frozen(_needed(suspects, check_at)),
        split=tuple(_split(suspect, checks, check_at, size) for suspect in suspects.values()),
        after=after,
        before=_frozen(before),
        gate_check=gate_check,
        gate_on=gate_on,
        gate_allows=gate_allows,
        answered_by={key: _answers(symptom, checks, check_at) for key, symptom in knowledge.symptoms.items()},
        only_with=tuple(
            (check_at[key], _asked_with(check, knowledge)) for key, check in checks.items() if check.with_symptoms
        ),
        cuts_power=_cuts_power(checks, size),
        wants_power=np.array(
            [item.energy == "live" and item.where != "supply" for item in checks.values()], dtype=bool
        ),
        part=np.unique([suspect.component for suspect in suspects.values()], return_inverse=True)[1],
        mending=_frozen(np.array([_mending(knowledge, suspect) for suspect in suspects.values()])),
        condemns=np.array([suspect.condemn for suspect in suspects.values()], dtype=bool),
        weight=_frozen(weight / weight.sum()) if len(weight) else weight,
        library_weight=_library_weight(suspects),
    )


def _asked_with(check: Check, knowledge: Knowledge) -> frozenset[str]:
    """The symptoms with which the check is asked: its own, and those that may be one of them."""
    own = set(check.with_symptoms)
    return frozenset(own | {key for key, symptom in knowledge.symptoms.items() if not own.isdisjoint(symptom.one_of)})


def _mending(knowledge: Knowledge, suspect: Suspect) -> float:
    """Minutes of the repair and of the fault's own proof."""
    proof = sum(knowledge.checks[check].minutes for check in suspect.proof if check in knowledge.checks)
    return suspect.repair.minutes + proof


def _searches(knowledge: Knowledge, check: Check, has: frozenset[str]) -> bool:
    led_to = knowledge.system_of.get(check.id) in (AFTER_ANY_REPAIR, PROCEDURES, VISIT_STEPS)
    return has.issuperset(check.needs) and not led_to


def _fill(given: Array, named: Array, check: Check, suspect_at: Mapping[str, int]) -> None:
    rows = len(check.outcomes)
    given[:rows, :] = _column(check.otherwise, check)[:, None]
    for suspect, chances in check.tells.items():
        if suspect in suspect_at:
            given[:rows, suspect_at[suspect]] = _column(chances, check)
            named[suspect_at[suspect]] = 1.0


def _column(chances: Mapping[str, float], check: Check) -> Array:
    raw = np.array([chances.get(outcome, 0.0) if chances else 1.0 for outcome in check.outcomes])
    return np.asarray(raw / raw.sum())


def _before(check: Check, checks: Mapping[str, Check], behind: tuple[str, ...]) -> list[str]:
    """Every check that must come before ``check``, first to last; those that this unit has not are left out."""
    if check.id in behind:
        raise ReasoningError(
            f"Check {check.id} comes after itself: look at `after` and `only_if` in {' and '.join(behind)}."
        )
    found: list[str] = []
    for key in (*check.after, *check.only_if):
        if key in checks:
            found += [step for step in (*_before(checks[key], checks, (*behind, check.id)), key) if step not in found]
    return found


def _gates(
    checks: Mapping[str, Check], check_at: Mapping[str, int], size: int
) -> tuple[NDArray[np.intp], NDArray[np.intp], Array]:
    """Conditions on earlier outcomes; one on a check that this unit has not falls away."""
    gates = [(check, key) for check in checks.values() for key in check.only_if if key in checks]
    allows = np.zeros((len(gates), size))
    for row, (check, key) in enumerate(gates):
        for place, outcome in enumerate(checks[key].outcomes):
            allows[row, place] = float(outcome in check.only_if[key])
    behind = np.array([check_at[check.id] for check, _ in gates], dtype=np.intp)
    on = np.array([check_at[key] for _, key in gates], dtype=np.intp)
    return behind, on, _frozen(allows)


def _cuts_power(checks: Mapping[str, Check], size: int) -> NDArray[np.bool_]:
    rows = [[outcome.cuts_power for outcome in check.outcomes.values()] for check in checks.values()]
    padded = [row + [False] * (size - len(row)) for row in rows]
    return np.array(padded, dtype=bool).reshape(len(rows), size)


def _answers(symptom: Symptom, checks: Mapping[str, Check], check_at: Mapping[str, int]) -> tuple[tuple[int, int], ...]:
    """The checks that a symptom already answers, and the place of the outcome."""
    return tuple(
        (check_at[key], list(checks[key].outcomes).index(outcome))
        for key, outcome in symptom.answers.items()
        if key in checks
    )


def _confirms(suspects: Mapping[str, Suspect], check_at: Mapping[str, int]) -> Array:
    confirms = np.zeros((len(check_at), len(suspects)))
    for place, suspect in enumerate(suspects.values()):
        for check in suspect.confirm:
            if check in check_at:
                confirms[check_at[check], place] = 1.0
    return confirms


def _needed(suspects: Mapping[str, Suspect], check_at: Mapping[str, int]) -> Array:
    """What clears the rest before a part goes, and what confirms a suspect where it alone does."""
    needed = np.zeros((len(check_at), len(suspects)))
    for place, suspect in enumerate(suspects.values()):
        confirming = [check for check in suspect.confirm if check in check_at]
        for check in (*(confirming if len(confirming) == 1 else ()), *suspect.split):
            if check in check_at:
                needed[check_at[check], place] = 1.0
    return needed


def _split(
    suspect: Suspect, checks: Mapping[str, Check], check_at: Mapping[str, int], size: int
) -> tuple[tuple[int, Array], ...]:
    found = []
    for key, outcomes in suspect.split.items():
        if key in checks:
            clears = np.zeros(size)
            for place, outcome in enumerate(checks[key].outcomes):
                clears[place] = float(outcome in outcomes)
            found.append((check_at[key], _frozen(clears)))
    return tuple(found)


def _frozen(array: Array) -> Array:
    array.setflags(write=False)
    return array
