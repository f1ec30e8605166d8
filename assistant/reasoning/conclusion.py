"""When a visit may stop: one suspect above a stated chance and confirmed, or nothing left that tells."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from assistant.reasoning.belief import Belief, at_fault, joined, ranked
from assistant.reasoning.likelihoods import Array, Table, entropy_bits
from assistant.reasoning.repeats import lone_witness

#: A suspect is named when its chance is at least this, and its confirming check was done. One wrong name in twenty
#: would already be too many for a part that is thrown away; the confirming check brings it under one in a hundred
#: (tests/benchmarks/reasoning.py prints the share), and a higher bar only adds minutes.
FOUND_CHANCE = 0.95
#: When no check is left that tells, a suspect whose repair throws nothing away is named from this chance on: trying the
#: repair, with its proof after it, is then the next check. Common practice, no source.
HARMLESS_CHANCE = 0.8
#: A part that is thrown away is named from this chance on when a check spoke for it and each of its split cleared what
#: would look the same, or its own test showed it outright: what remains is chiefly the fault that no library holds, and
#: unrelated checks never take that away. Measured on both simulators. Common practice, no source.
CLEARED_CHANCE = 0.8
#: From this chance on what the likeliest suspect still lacks is measured before the rest of the house is searched; from
#: the lower one only what is open as things now are.
PURSUE_CHANCE, PURSUE_HERE_CHANCE = 0.65, 0.5
#: While more can be asked, nothing is mended below this chance unless what is left to ask is poor.
EARLY_CHANCE = 0.88
#: Minutes of one more check with its share of the way: what going on costs at the least. Common practice, no source.
NEXT_CHECK_MIN = 8.0
#: From this chance on a harmless repair is weighed as a test of its own against the best check that is left.
MEND_CHANCE = 0.7
#: A defect that was seen outright is mended at once from this chance on: cheap and certain, the search goes on only if
#: the complaint stays. Common practice, no source.
SEEN_CHANCE = 0.3
#: Seen outright: the answer is so many times likelier with the defect than with a fault that the check does not name.
SEEN_TIMES = 12.0
#: What is mended at sight takes no longer than this, its own proof included.
LONGEST_AT_SIGHT_MIN = 45.0
#: A check longer than this is not asked a second time before a part is condemned on it. Common practice, no source.
LONGEST_AGAIN_MIN = 20.0
#: A hypothesis under this chance is not spoken of when saying what remains.
REMAINS_CHANCE = 0.05


@dataclass(frozen=True)
class Conclusion:
    """Where the search stands.

    kind "found": ``suspect`` may be named and mended. "go-on": there is a check worth doing. "exhausted": there is
    none; ``remaining`` holds what is still possible, most likely first. ``suspect`` is the likeliest single suspect
    in every case (None without suspects) and ``probability`` the chance that it is at fault, alone or with another.
    ``missing_confirm``: the checks of which one must still confirm it, or confirm it again, when only that is lacking.
    """

    kind: Literal["found", "go-on", "exhausted"]
    suspect: str | None
    probability: float
    missing_confirm: tuple[str, ...] = ()
    remaining: tuple[tuple[str, float], ...] = ()


def likeliest(table: Table, belief: Belief) -> tuple[int, float] | None:
    """The suspect most likely at fault, alone or with another, and that chance; None when a unit has no suspects."""
    if not table.suspects:
        return None
    chances = at_fault(belief)
    best = int(np.argmax(chances))
    return best, float(chances[best])


@dataclass(frozen=True)
class Lacking:
    """What a likely suspect still lacks before it may be named: one of the ``checks``, by place in the table.

    ``again``: they were answered, but a part would be thrown away on one answer alone, so it is asked once more.
    """

    suspect: int
    checks: tuple[int, ...]
    again: bool


def lacking(
    table: Table,
    belief: Belief,
    done: Collection[str],
    skipped: Collection[str],
    least: float = FOUND_CHANCE,
    away: Collection[str] = (),
) -> Lacking | None:
    """What the likeliest suspect lacks, when it has the ``least`` chance to be named; None when it has not, or lacks
    nothing.

    Who will not confirm a single answer by a second one (``skipped``) is taken at his word, and so is whoever would
    have to change over for it (``away``: the checks that need a change now): the meter is on the spot as it is read.
    """
    best = likeliest(table, belief)
    if best is None or best[1] < least:
        return None
    suspect = best[0]
    confirming = np.flatnonzero(table.confirms[:, suspect])
    answers = joined(table, belief.current)
    answered = {table.check_at[check] for check in done if check in table.check_at} | answers.keys()
    if not table.condemns[suspect]:
        if len(confirming) and not any(check in answered for check in confirming):
            return Lacking(suspect, tuple(int(check) for check in confirming), again=False)
        return None
    if len(confirming) and not any(_speaks_for(table, int(check), answers, suspect) for check in confirming):
        return Lacking(suspect, tuple(int(check) for check in confirming if check not in answers), again=False)
    unsplit = _unsplit(table, answers, suspect, skipped)
    if unsplit is not None:
        return Lacking(suspect, unsplit, again=False)
    witness = lone_witness(table, belief, suspect)
    if (
        witness is not None
        and table.checks[witness] not in (*skipped, *away)
        and table.minutes[witness] <= LONGEST_AGAIN_MIN
    ):
        return Lacking(suspect, (witness,), again=True)
    return None


def wanted_next(
    table: Table, belief: Belief, done: Collection[str], skipped: Collection[str], away: Collection[str] = ()
) -> Lacking | None:
    """What the likeliest suspect lacks and is worth pursuing: a check from ``PURSUE_HERE_CHANCE`` on, the same check
    once more only where nothing but that is in the way of naming it."""
    lack = lacking(table, belief, done, skipped, PURSUE_HERE_CHANCE, away)
    if lack is None or not lack.again:
        return lack
    return lacking(table, belief, done, skipped, _least_to_condemn(table, belief, lack.suspect), away)


def proved_apart(table: Table, belief: Belief, suspect: int, unable: Collection[str] = ()) -> bool:
    """Whether nothing dear is thrown away, or a check spoke for the suspect and those of its split cleared the rest.

    ``unable``: checks that cannot be made on this visit; they are not waited for.
    """
    if not table.condemns[suspect]:
        return True
    answers = joined(table, belief.current)
    confirming = np.flatnonzero(table.confirms[:, suspect])
    spoken = not len(confirming) or any(_speaks_for(table, int(check), answers, suspect) for check in confirming)
    left = _unsplit(table, answers, suspect, unable)
    return spoken and (left is None or (len(left) > 0 and all(table.checks[check] in unable for check in left)))


def _speaks_for(table: Table, check: int, answers: Mapping[int, Array], suspect: int) -> bool:
    """Whether a confirming check was answered, and its answer is likelier with this suspect than with others."""
    if check not in answers:
        return False
    likelihood = table.likelihood(check, answers[check])
    return bool(likelihood[suspect] > likelihood[-1])


def _unsplit(
    table: Table, answers: Mapping[int, Array], suspect: int, skipped: Collection[str] = ()
) -> tuple[int, ...] | None:
    """The checks that must still clear what would look the same, those that were skipped only where no other is left;
    empty when one did not; None when all did. One that an outcome speaks against (a run capacitor of a motor without
    one) is not waited for."""
    left = []
    for check, clears in table.split[suspect]:
        if check not in answers:
            if _makes_sense(table, answers, check):
                left.append(check)
        elif not clears[int(np.argmax(answers[check]))]:
            return ()
    return tuple(check for check in left if table.checks[check] not in skipped) or tuple(left) or None


def _makes_sense(table: Table, answers: Mapping[int, Array], check: int) -> bool:
    """Whether no answer speaks against making this check, or what must come before it."""
    steps = (*table.after[check], check)
    return not any(
        on in answers and not allows[int(np.argmax(answers[on]))]
        for of, on, allows in zip(table.gate_check, table.gate_on, table.gate_allows, strict=True)
        if of in steps
    )


def named(
    table: Table,
    belief: Belief,
    done: Collection[str],
    skipped: Collection[str],
    more: bool = True,
    ahead: float | None = None,
    away: Collection[str] = (),
) -> tuple[str, float] | None:
    """The suspect that may be named, likely enough and lacking nothing, with its chance; None while there is none.

    ``more``: some check is still worth doing. A repair that throws nothing away is tried once that costs less than
    going on: what it and its proof take, times the chance that it is in vain, against one more check; or when it would
    settle more bits a minute than the best check that is left (``ahead``, None when not known). A part may be
    renewed when it is sure that the part is at fault, though not in which way (a winding on the shell or leaking to
    it: the compressor is renewed either way). Weights that were learnt from repairs order the checks, but condemn no
    part alone: the same must follow from the library's own.
    """
    best = likeliest(table, belief)
    if best is None:
        return None
    suspect, chance = best
    if table.condemns[suspect]:
        if belief.plain is not None:
            by_library = replace(belief, weights=belief.plain, plain=None)
            agreed = named(table, by_library, done, skipped, more, ahead, away)
            if agreed is None or agreed[0] != table.suspects[suspect]:
                return None
        least = _least_to_condemn(table, belief, suspect)
    else:
        least = _least_to_mend(table, suspect) if more else HARMLESS_CHANCE
        if ahead is not None and chance * _unknown_bits(belief) / table.mending[suspect] > ahead:
            least = min(least, MEND_CHANCE)
        if _seen(table, belief, suspect):
            least = min(least, SEEN_CHANCE)
    if chance < least or lacking(table, belief, done, skipped, least, away) is not None:
        return None
    return table.suspects[suspect], chance


def _seen(table: Table, belief: Belief, suspect: int) -> bool:
    """Whether a confirming check saw the defect itself, which is soon mended."""
    return float(table.mending[suspect]) <= LONGEST_AT_SIGHT_MIN and _outright(table, belief, suspect)


def _outright(table: Table, belief: Belief, suspect: int) -> bool:
    """Whether the answer to a confirming check is many times likelier with this defect than with another."""
    answers = joined(table, belief.current)
    seen = (
        table.likelihood(check, answers[check])
        for check in map(int, np.flatnonzero(table.confirms[:, suspect]))
        if check in answers
    )
    return any(float(likelihood[suspect]) >= SEEN_TIMES * float(likelihood[-1]) for likelihood in seen)


def _unknown_bits(belief: Belief) -> float:
    """The entropy over single suspects, none-of-these and two faults."""
    weights = belief.weights
    return float(entropy_bits(np.append(weights.singles, (weights.none, weights.two)), axis=0))


def _least_to_mend(table: Table, suspect: int) -> float:
    """The chance from which mending and proving costs less than one more check, between the harmless and the sure."""
    return float(np.clip(1 - NEXT_CHECK_MIN / table.mending[suspect], EARLY_CHANCE, FOUND_CHANCE))


def _least_to_condemn(table: Table, belief: Belief, suspect: int) -> float:
    """The chance from which a part may be thrown away, lacking nothing: lower where its split proves it apart from what
    would look the same, or its own test showed it outright, and where another fault of the same part takes the rest."""
    same = table.part == table.part[suspect]
    others = float(belief.weights.singles[same].sum() - belief.weights.singles[suspect])
    apart = bool(table.split[suspect]) or _outright(table, belief, suspect)
    return (CLEARED_CHANCE if apart else FOUND_CHANCE) - others


def conclude(table: Table, belief: Belief, done: Collection[str], skipped: Collection[str], more: bool) -> Conclusion:
    """The conclusion; ``more``: some check is still worth doing."""
    best = likeliest(table, belief)
    remaining = tuple(item for item in ranked(table, belief) if item[1] >= REMAINS_CHANCE)
    if best is None:
        return Conclusion("exhausted", None, 0.0, remaining=remaining)
    suspect, chance = table.suspects[best[0]], best[1]
    if named(table, belief, done, skipped, more) is not None:
        return Conclusion("found", suspect, chance, remaining=remaining)
    lack = lacking(table, belief, done, skipped)
    missing = tuple(table.checks[check] for check in lack.checks) if lack else ()
    return Conclusion("go-on" if more else "exhausted", suspect, chance, missing, remaining)
