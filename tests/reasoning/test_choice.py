"""The next check: information by hand, the price of ways and energy states, and the order that safety asks for."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from assistant.library.loader import load
from assistant.reasoning.belief import Belief
from assistant.reasoning.choice import LEAST_GAIN_BITS, gains
from assistant.reasoning.effort import DEFAULT_WAIT_MIN, Effort, effort_of
from assistant.reasoning.errors import ReasoningError
from assistant.reasoning.likelihoods import ANSWER_ERROR
from assistant.reasoning.reasoner import Reasoner
from assistant.reasoning.waiting import wait_minutes
from tests.reasoning.small import check, profile, small

LIBRARY = small()
REASONER = Reasoner(LIBRARY, profile("pump"))


def bits(chances: list[float]) -> float:
    return -sum(chance * math.log2(chance) for chance in chances if chance > 0)


def by_hand(belief: Belief, key: str) -> float:
    """Mutual information between hypothesis and answer, pairs as one hypothesis by the check's own average of them."""
    item = LIBRARY.checks[key]

    def seen(name: str) -> list[float]:
        column = item.tells.get(name, item.otherwise)
        return [(1 - ANSWER_ERROR) * column[outcome] + ANSWER_ERROR / 2 for outcome in item.outcomes]

    ranked = dict(REASONER.ranked(belief))
    two = ranked.pop("two-faults")
    rows = {name: seen(name) for name in ranked}
    share = dict(zip(REASONER.table.suspects, belief.weights.involved / two, strict=True))
    reached = sum(share[name] for name in item.tells)
    named = np.sum([share[name] * np.array(seen(name)) for name in item.tells], axis=0)
    pair = named / max(reached, 1.0) + max(0.0, 1 - reached) * np.array(seen("-"))
    ranked["pair"], rows["pair"] = two, pair.tolist()
    outcome = [sum(ranked[name] * rows[name][place] for name in ranked) for place in (0, 1)]
    return bits(outcome) - sum(ranked[name] * bits(rows[name]) for name in ranked)


@pytest.mark.parametrize("symptoms", [[], ["weak"], ["dead"], ["weak", "dead"]])
def test_information_is_that_of_an_enumeration(symptoms: list[str]) -> None:
    belief = REASONER.update(REASONER.start(symptoms), "noise", {"bad": 0.9, "good": 0.1})
    gain, _ = gains(REASONER.table, belief)
    for place, key in enumerate(REASONER.table.checks):
        assert gain[place] == pytest.approx(by_hand(belief, key), abs=1e-12)


def test_the_cheap_look_that_may_settle_it_comes_first() -> None:
    advice = REASONER.next_check(REASONER.start(["weak"]))
    assert advice is not None
    assert (advice.check_id, advice.energy) == ("filter-look", "any")
    assert advice.minutes == 1
    assert advice.gain_bits > 0.3


def test_a_change_of_the_energy_state_costs_its_real_time() -> None:
    effort = Effort(lock_out_min=3, wait_min=6, prove_dead_min=4, restore_min=2, walk_min=2)
    assert effort.changeover("live", "proved-dead") == 13
    assert effort.changeover("live", "isolated") == 3
    assert effort.changeover("isolated", "proved-dead") == 10
    assert effort.changeover("proved-dead", "isolated") == 0
    assert effort.changeover("proved-dead", "live") == 2
    assert effort.changeover("proved-dead", "any") == 0
    belief = REASONER.update(REASONER.start(["dead"]), "board-volts", {"good": 1.0})
    live = REASONER.next_check(belief, energy="live", where="outdoor")
    dead = REASONER.next_check(belief, energy="proved-dead", where="outdoor")
    assert live is not None
    assert dead is not None
    assert (live.check_id, dead.check_id) == ("fan-look", "motor-ohms")
    assert dead.minutes == 6  # no changeover, no walk


def test_the_librarys_own_procedures_give_the_times() -> None:
    library = load()
    effort = effort_of(library.checks.values(), 7.0)
    assert effort.lock_out_min == library.checks["lock-out-power"].minutes
    mains, stored = library.checks["mains-dead-outdoor"], library.checks["prove-dead"]
    assert effort.prove_dead_min == mains.minutes + stored.minutes
    assert effort.restore_min == library.checks["restore-power"].minutes
    assert effort.wait_min == 7.0


def test_the_wait_is_computed_from_the_profiles_bus() -> None:
    solo = load().profiles["copper-wren-solo"]
    assert solo.bus is not None
    # t = 1.05 R · 1.2 C · ln(375 / 30), parts at the slow end of their tolerance
    slow = 1.05 * solo.bus.bleed_ohm * 1.2 * solo.bus.capacitance_uf * 1e-6
    assert wait_minutes(solo) == pytest.approx(slow * math.log(375 / 30) / 60)
    assert wait_minutes(solo.model_copy(update={"bus": None})) == DEFAULT_WAIT_MIN


def test_walking_is_charged() -> None:
    belief = REASONER.update(REASONER.start(["dead"]), "fan-look", {"good": 1.0})
    here = REASONER.next_check(belief, done=["noise", "filter-look"], where="outdoor")
    there = REASONER.next_check(belief, done=["noise", "filter-look"], where="indoor")
    assert here is not None
    assert there is not None
    assert here.check_id == there.check_id == "board-volts"
    assert there.minutes - here.minutes == REASONER.effort.walk_min


def test_what_must_come_before_is_advised_first() -> None:
    library = LIBRARY.but(check("filter-look", {"filter": (0.97, 0.03)}, energy="any", minutes=1, after=["fan-look"]))
    advice = Reasoner(library, profile("pump")).next_check(Reasoner(library, profile("pump")).start(["weak"]))
    assert advice is not None
    assert (advice.check_id, advice.reason, advice.towards) == ("fan-look", "prepare", "filter-look")


def test_what_was_skipped_closes_what_comes_after_it() -> None:
    library = LIBRARY.but(check("filter-look", {"filter": (0.97, 0.03)}, after=["fan-look"]))
    reasoner = Reasoner(library, profile("pump"))
    seen = set()
    skipped = ["fan-look"]
    belief = reasoner.start(["weak"])
    while (advice := reasoner.next_check(belief, skipped=skipped)) is not None:
        seen.add(advice.check_id)
        skipped.append(advice.check_id)
    assert not seen & {"fan-look", "filter-look"}


def test_a_check_that_makes_no_sense_after_an_outcome_is_not_asked() -> None:
    library = LIBRARY.but(check("motor-ohms", {"motor": (0.98, 0.02)}, only_if={"noise": ["bad"]}))
    reasoner = Reasoner(library, profile("pump"))
    belief = reasoner.start(["dead"])
    asked = []
    for _ in range(10):
        advice = reasoner.next_check(belief)
        if advice is None:
            break
        asked.append(advice.check_id)
        belief = reasoner.update(belief, advice.check_id, {"good": 1.0})
    assert "motor-ohms" not in asked
    sounding = reasoner.update(reasoner.start(["dead"]), "noise", {"bad": 1.0})
    assert any(
        advice.check_id == "motor-ohms"
        for advice in [reasoner.next_check(sounding, done=["fan-look", "board-volts", "filter-look", "pump-look"])]
        if advice
    )


def test_a_circle_of_checks_is_refused() -> None:
    library = LIBRARY.but(check("noise", {}, after=["fan-look"]), check("fan-look", {}, after=["noise"]))
    with pytest.raises(ReasoningError, match="comes after itself"):
        Reasoner(library, profile())


def test_safety_procedures_and_checks_after_a_repair_are_no_part_of_the_search() -> None:
    library = load()
    reasoner = Reasoner(library, library.general("single-phase-230"))
    assert not {"lock-out-power", "prove-dead", "restore-power"} & set(reasoner.table.checks)
    assert not [key for key in reasoner.table.checks if library.system_of[key] == "commissioning"]


def test_a_likely_suspect_is_confirmed_before_anything_else() -> None:
    belief = REASONER.start(["dead"])
    for key, outcome in (("motor-ohms", "good"), ("fan-look", "bad"), ("noise", "good"), ("filter-look", "good")):
        belief = REASONER.update(belief, key, {outcome: 1.0})
    for _ in range(3):  # the board shows itself only by its own check
        belief = REASONER.update(belief, "fan-look", {"bad": 1.0})
    forced = REASONER.update(belief, "pump-look", {"good": 1.0})
    advice = REASONER.next_check(forced, energy="proved-dead", where="indoor")
    assert advice is not None
    assert advice.check_id == "board-volts"


def test_a_doubtful_answer_is_asked_once_more_unless_that_was_skipped() -> None:
    belief = REASONER.start(["weak"])
    for key in LIBRARY.checks:
        belief = REASONER.update(belief, key, {"good": 1.0})
    advice = REASONER.next_check(belief)
    assert advice is not None
    assert advice.reason == "make-sure"
    assert advice.check_id == "filter-look"  # the likeliest suspect's own, and quickly done
    skipped: set[str] = set()
    while (more := REASONER.next_check(belief, skipped=skipped)) is not None:
        assert more.check_id not in skipped
        skipped.add(more.check_id)
    assert 0 < len(skipped) <= len(LIBRARY.checks)


def test_nothing_is_advised_when_nothing_tells() -> None:
    belief = REASONER.start(["weak"])
    for _ in range(2):
        for key in LIBRARY.checks:
            belief = REASONER.update(belief, key, {"good": 1.0})
    assert REASONER.next_check(belief) is None
    assert LEAST_GAIN_BITS > 0


def asked_along(reasoner: Reasoner, belief: Belief) -> list[str]:
    """The checks that a visit without any answer would be led through, were each answered by nothing new."""
    done: list[str] = []
    while (advice := reasoner.next_check(belief, done)) is not None and advice.check_id not in done:
        done.append(advice.check_id)
    return done


def test_a_check_is_asked_only_with_the_symptoms_it_belongs_to() -> None:
    noise = check("noise", {"motor": (0.6, 0.4), "fan": (0.5, 0.5)}, minutes=1, with_symptoms=["dead"])
    reasoner = Reasoner(LIBRARY.but(noise), profile("pump"))
    assert "noise" not in asked_along(reasoner, reasoner.start(["weak"]))
    assert "noise" in asked_along(reasoner, reasoner.start(["dead"]))
    assert "noise" in asked_along(reasoner, reasoner.start(["weak", "dead"]))


def test_what_a_symptom_answers_is_not_asked_and_counts_for_what_depends_on_it() -> None:
    behind = check("motor-ohms", {"motor": (0.98, 0.02)}, only_if={"noise": ["good"]})
    library = LIBRARY.but(behind)
    told = {
        outcome: {
            **library.symptoms,
            "dead": library.symptoms["dead"].model_copy(update={"answers": {"noise": outcome}}),
        }
        for outcome in ("good", "bad")
    }
    good, bad = (Reasoner(replace(library, symptoms=symptoms), profile("pump")) for symptoms in told.values())
    assert "noise" not in asked_along(good, good.start(["dead"]))
    assert "motor-ohms" in asked_along(good, good.start(["dead"]))
    assert "motor-ohms" not in asked_along(bad, bad.start(["dead"]))


def test_where_the_supply_does_not_stay_on_nothing_is_asked_of_a_live_unit() -> None:
    outcomes = {"bad": {"verdict": "fail", "cuts_power": True}, "good": {"verdict": "pass", "means": "it holds"}}
    breaker = check("breaker", {"board": (0.9, 0.1)}, energy="any", where="supply", outcomes=outcomes)
    at_supply = check("legs", {"board": (0.9, 0.1)}, where="supply")
    reasoner = Reasoner(LIBRARY.but(breaker, at_supply), profile("pump"))
    table, belief = reasoner.table, reasoner.start(["dead"])
    before = set(asked_along(reasoner, reasoner.update(belief, "breaker", {"good": 1.0})))
    after = set(asked_along(reasoner, reasoner.update(belief, "breaker", {"bad": 1.0})))
    assert {"fan-look", "board-volts", "noise"} <= before
    live = {key for key in after if LIBRARY.but(at_supply).checks.get(key, breaker).energy == "live"}
    assert live <= {"legs"}
    assert "motor-ohms" in after
    assert table.checks[table.check_at["legs"]] in after


def test_what_would_be_come_back_for_is_made_before_the_change() -> None:
    """Whether the board or the motor is at fault, the volts are needed: they are measured before the power goes."""
    base = small()
    motor = base.suspects["motor"].model_copy(update={"split": {"board-volts": ("good",)}})
    needed = Reasoner(replace(base, suspects={**base.suspects, "motor": motor}), profile("pump"))
    chosen = {}
    for name, reasoner in (("free", REASONER), ("needed", needed)):
        belief = reasoner.update(reasoner.start(["dead"]), "noise", {"bad": 1.0})
        belief = reasoner.update(belief, "fan-look", {"good": 1.0})
        advice = reasoner.next_check(belief, ["noise", "fan-look"], where="outdoor")
        assert advice is not None
        chosen[name] = advice.check_id
    assert chosen == {"free": "motor-ohms", "needed": "board-volts"}
