"""Belief against a plain enumeration of every hypothesis."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.reasoning.belief import NONE_OF_THESE, NONE_SHARE, REPAIR_MISSED, TWO_FAULTS, TWO_SHARE, at_fault
from assistant.reasoning.errors import ReasoningError
from assistant.reasoning.likelihoods import ANSWER_ERROR
from assistant.reasoning.reasoner import Reasoner
from tests.reasoning.small import Small, profile, small

LIBRARY = small()
REASONER = Reasoner(LIBRARY, profile("pump"))
CHECKS = sorted(LIBRARY.checks)
Steps = list[tuple[str, float]]


def enumerated(library: Small, symptoms: list[str], steps: Steps) -> dict[tuple[str, ...], float]:
    """Chance of every hypothesis by multiplying out: () is none of these, one or two names the suspects."""
    names = sorted(library.suspects)
    total = sum(library.suspects[name].weight for name in names)
    share = {name: library.suspects[name].weight / total for name in names}
    both = sum(share[a] * share[b] for a, b in combinations(names, 2))
    chances: dict[tuple[str, ...], float] = {(name,): share[name] * (1 - NONE_SHARE - TWO_SHARE) for name in names}
    chances |= {(a, b): share[a] * share[b] / both * TWO_SHARE for a, b in combinations(names, 2)}
    chances[()] = NONE_SHARE
    for key in symptoms:
        symptom = library.symptoms[key]
        shown = {name: symptom.shown_by.get(name, symptom.otherwise) for name in names}
        for who in chances:
            if who == ():
                chances[who] *= sum(share[name] * shown[name] for name in names)
            else:
                chances[who] *= 1 - math.prod(1 - shown[name] for name in who)
    by_check: dict[str, dict[str, float]] = {}
    for key, bad in steps:
        slip = {o: (1 - ANSWER_ERROR) * c + ANSWER_ERROR / 2 for o, c in (("bad", bad), ("good", 1 - bad))}
        before = by_check.get(key, {"bad": 1.0, "good": 1.0})
        by_check[key] = {outcome: before[outcome] * slip[outcome] for outcome in slip}
    for key, answer in by_check.items():
        check = library.checks[key]
        for who in chances:
            told = [name for name in who if name in check.tells]
            columns = [check.tells[name] for name in told] or [check.otherwise]
            chances[who] *= sum(sum(answer[o] * column[o] for o in answer) for column in columns) / len(columns)
    whole = sum(chances.values())
    return {who: chance / whole for who, chance in chances.items()}


@given(
    st.lists(st.sampled_from(sorted(LIBRARY.symptoms)), unique=True),
    st.lists(st.tuples(st.sampled_from(CHECKS), st.floats(0, 1)), max_size=8),
)
@settings(max_examples=150, deadline=None)
def test_update_is_exact_whatever_was_answered_and_in_whatever_order(symptoms: list[str], steps: Steps) -> None:
    belief = REASONER.start(symptoms)
    for key, bad in steps:
        belief = REASONER.update(belief, key, {"bad": bad, "good": 1 - bad})
    expected = enumerated(LIBRARY, symptoms, steps)
    ranked = dict(REASONER.ranked(belief))
    for name in LIBRARY.suspects:
        assert ranked[name] == pytest.approx(expected[(name,)], rel=1e-9)
    assert ranked[NONE_OF_THESE] == pytest.approx(expected[()], rel=1e-9)
    assert ranked[TWO_FAULTS] == pytest.approx(sum(c for who, c in expected.items() if len(who) == 2), rel=1e-9)
    involved = {n: sum(c for who, c in expected.items() if n in who) for n in LIBRARY.suspects}
    assert at_fault(belief) == pytest.approx([involved[name] for name in REASONER.table.suspects], rel=1e-9)
    backwards = REASONER.start(symptoms)
    for key, bad in reversed(steps):
        backwards = REASONER.update(backwards, key, {"bad": bad, "good": 1 - bad})
    assert dict(REASONER.ranked(backwards)) == pytest.approx(ranked, rel=1e-9)


def test_ranked_is_sorted_and_sums_to_one() -> None:
    ranked = REASONER.ranked(REASONER.start(["weak"]))
    assert [chance for _, chance in ranked] == sorted((chance for _, chance in ranked), reverse=True)
    assert sum(chance for _, chance in ranked) == pytest.approx(1)
    assert ranked[0][0] == "filter"


def test_an_undecided_reading_does_not_move_belief() -> None:
    before = REASONER.start(["dead"])
    after = REASONER.update(before, "board-volts", {"bad": 0.5, "good": 0.5})
    assert dict(REASONER.ranked(after)) == pytest.approx(dict(REASONER.ranked(before)))


def test_suspects_without_their_feature_are_not_there() -> None:
    reasoner = Reasoner(LIBRARY, profile())
    assert "pump" not in dict(reasoner.ranked(reasoner.start([])))
    assert "pump-look" not in reasoner.table.checks
    belief = reasoner.start([])
    assert reasoner.update(belief, "pump-look", {"bad": 1.0}) is belief  # another unit's part teaches nothing


def test_what_is_not_in_the_library_is_refused_in_one_sentence() -> None:
    belief = REASONER.start([])
    with pytest.raises(ReasoningError, match="No symptom is called loud"):
        REASONER.start(["loud"])
    with pytest.raises(ReasoningError, match="No check of this unit is called lick"):
        REASONER.update(belief, "lick", {"bad": 1.0})
    with pytest.raises(ReasoningError, match="has no outcome purple"):
        REASONER.update(belief, "noise", {"purple": 1.0})
    with pytest.raises(ReasoningError, match="No suspect of this unit"):
        REASONER.after_repair(belief, "cat")


def test_two_faults_win_when_both_confirming_checks_and_more_point_at_two() -> None:
    belief = REASONER.start(["weak", "dead"])
    for key in ("filter-look", "board-volts", "fan-look", "filter-look", "board-volts"):
        belief = REASONER.update(belief, key, {"bad": 1.0})
    ranked = dict(REASONER.ranked(belief))
    assert ranked[TWO_FAULTS] > 0.4
    chances = dict(zip(REASONER.table.suspects, at_fault(belief), strict=True))
    assert min(chances["filter"], chances["board"]) > 0.3


def test_a_failed_repair_keeps_what_was_learnt_and_puts_the_mended_one_back() -> None:
    belief = REASONER.start(["weak"])
    belief = REASONER.update(belief, "filter-look", {"bad": 1.0})
    before = dict(REASONER.ranked(belief))
    after = REASONER.after_repair(belief, "filter")
    ranked = dict(REASONER.ranked(after))
    assert ranked["filter"] < before["filter"]
    # The pairs with the filter become their other half, so the fan gains on the board by what they showed together.
    expected = before["filter"] * REPAIR_MISSED
    assert ranked["filter"] / ranked[NONE_OF_THESE] == pytest.approx(expected / before[NONE_OF_THESE])
    assert after.mended == ("filter",)
    assert after.current == ()
    # The same check asked afresh is a new fact about the mended unit.
    fresh = REASONER.update(after, "filter-look", {"good": 1.0})
    assert dict(REASONER.ranked(fresh))["filter"] < ranked["filter"]


def test_beliefs_are_equal_when_the_same_was_learnt_and_cannot_be_changed() -> None:
    first = REASONER.update(REASONER.start(["weak"]), "noise", {"good": 1.0})
    second = REASONER.update(REASONER.start(["weak"]), "noise", {"good": 1.0})
    assert first == second
    with pytest.raises(ValueError, match="read-only"):
        first.weights.singles[0] = 1.0


def test_the_same_answer_after_a_repair_is_no_new_evidence_for_what_was_mended() -> None:
    reasoner = Reasoner(small(), profile("pump"))
    belief = reasoner.update(reasoner.start(["dead"]), "fan-look", {"bad": 1.0})
    mended = reasoner.after_repair(belief, "fan")
    again = reasoner.update(mended, "fan-look", {"bad": 1.0})
    was, is_now = (dict(reasoner.ranked(each))["fan"] for each in (mended, again))
    assert is_now < 1.2 * was  # the slip alone becomes less likely
    other = reasoner.update(mended, "fan-look", {"good": 1.0})
    assert dict(reasoner.ranked(other))["fan"] < 0.3 * was
