"""When a suspect may be named, and what is said when none may."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from assistant.reasoning.belief import Belief
from assistant.reasoning.conclusion import FOUND_CHANCE, HARMLESS_CHANCE, lacking, named
from assistant.reasoning.reasoner import Reasoner
from tests.reasoning.small import check, profile, small

REASONER = Reasoner(small(), profile("pump"))


def test_a_harmless_repair_needs_its_chance_and_its_confirming_check() -> None:
    belief = REASONER.start(["weak"])
    belief = REASONER.update(belief, "fan-look", {"good": 1.0})
    belief = REASONER.update(belief, "noise", {"good": 1.0})
    before = REASONER.conclusion(belief)
    assert before.kind == "go-on"
    assert before.suspect == "filter"
    belief = REASONER.update(belief, "filter-look", {"bad": 1.0})
    found = REASONER.conclusion(belief)
    assert (found.kind, found.suspect) == ("found", "filter")
    assert found.probability >= FOUND_CHANCE


def sharp() -> Reasoner:
    """The same unit with a winding check that hardly ever errs, so that one answer can carry a verdict."""
    ohms = check("motor-ohms", {"motor": (0.98, 0.02)}, otherwise=(0.001, 0.999))
    return Reasoner(small().but(ohms), profile("pump"))


def test_a_part_is_not_thrown_away_on_one_answer_alone() -> None:
    reasoner = sharp()
    belief = reasoner.update(reasoner.start(["dead"]), "motor-ohms", {"bad": 1.0})
    first = reasoner.conclusion(belief)
    assert first.probability >= FOUND_CHANCE
    assert (first.kind, first.missing_confirm) == ("go-on", ("motor-ohms",))
    advice = reasoner.next_check(belief)
    assert advice is not None
    assert (advice.check_id, advice.reason, advice.towards) == ("motor-ohms", "make-sure", "motor")
    again = reasoner.update(belief, "motor-ohms", {"bad": 1.0})
    assert reasoner.conclusion(again).kind == "found"
    # Who skips the second answer is taken at his word.
    assert reasoner.conclusion(belief, skipped=["motor-ohms"]).kind == "found"
    # An answer that agrees with what was known before needs no second one.
    backed = reasoner.update(reasoner.start(["dead"]), "board-volts", {"good": 1.0})
    backed = reasoner.update(reasoner.update(backed, "fan-look", {"good": 1.0}), "motor-ohms", {"bad": 1.0})
    assert reasoner.conclusion(backed).kind == "found"


def test_a_second_answer_that_differs_takes_the_part_off_the_hook() -> None:
    reasoner = sharp()
    belief = reasoner.update(reasoner.start(["dead"]), "motor-ohms", {"bad": 1.0})
    belief = reasoner.update(belief, "motor-ohms", {"good": 1.0})
    assert reasoner.conclusion(belief).kind == "go-on"
    assert reasoner.conclusion(belief).probability < 0.6


def test_exhausted_says_what_remains() -> None:
    belief = REASONER.start(["dead"])
    skipped = list(REASONER.table.checks)
    conclusion = REASONER.conclusion(belief, skipped=skipped)
    assert conclusion.kind == "exhausted"
    assert {name for name, _ in conclusion.remaining} >= {"board", "motor"}
    assert all(chance >= 0.05 for _, chance in conclusion.remaining)


def test_a_confirming_check_that_was_skipped_is_named_as_missing() -> None:
    belief = REASONER.start(["weak"])
    for _ in range(2):
        for key in ("fan-look", "noise", "board-volts", "motor-ohms", "pump-look"):
            belief = REASONER.update(belief, key, {"good": 1.0})
    conclusion = REASONER.conclusion(belief, skipped=["filter-look"])
    if conclusion.probability < FOUND_CHANCE:
        pytest.fail("this belief should leave only the filter")
    assert conclusion.kind == "exhausted"
    assert conclusion.missing_confirm == ("filter-look",)


def test_a_unit_without_suspects_is_exhausted_at_once() -> None:
    library = small()
    empty = type(library)({}, library.checks, library.symptoms)
    reasoner = Reasoner(empty, profile())
    conclusion = reasoner.conclusion(reasoner.start([]))
    assert (conclusion.kind, conclusion.suspect) == ("exhausted", None)


def unsure(harmless: bool) -> tuple[Reasoner, Belief]:
    """Nothing more to ask, and one suspect at some nine in ten; its confirming check was done."""
    library = small()
    leader = library.suspects["board"].model_copy(update={"condemn": not harmless})
    reasoner = Reasoner(replace(library, suspects={**library.suspects, "board": leader}), profile("pump"))
    belief = reasoner.start(["dead"])
    for key, chances in (("board-volts", {"bad": 0.9, "good": 0.1}), ("motor-ohms", {"bad": 0.2, "good": 0.8})):
        belief = reasoner.update(belief, key, chances)
    return reasoner, belief


def test_with_nothing_left_to_ask_a_harmless_repair_is_named_on_less_and_a_part_is_not() -> None:
    for harmless, kind in ((True, "found"), (False, "exhausted")):
        reasoner, belief = unsure(harmless)
        everything = list(reasoner.table.checks)
        conclusion = reasoner.conclusion(belief, done=everything, skipped=everything)
        assert HARMLESS_CHANCE <= conclusion.probability < FOUND_CHANCE
        assert (conclusion.kind, conclusion.suspect) == (kind, "board")


def test_while_more_can_be_asked_only_a_repair_that_is_sooner_made_than_the_next_check_is_named() -> None:
    reasoner, belief = unsure(harmless=True)
    everything = list(reasoner.table.checks)
    quick = replace(reasoner.table, mending=np.full(len(reasoner.table.suspects), 10.0))
    long = replace(reasoner.table, mending=np.full(len(reasoner.table.suspects), 300.0))
    assert named(quick, belief, everything, everything) is not None
    assert named(long, belief, everything, everything) is None
    # A poor check ahead, at a ten-thousandth of a bit a minute, is no reason to go on.
    assert named(long, belief, everything, everything, ahead=0.0001) is not None


def a_board_that_is_split_by(*checks: str) -> tuple[Reasoner, Belief]:
    """A board twice found bad, which these checks must clear before it goes."""
    library = small()
    leader = library.suspects["board"].model_copy(update={"split": dict.fromkeys(checks, ("good",))})
    reasoner = Reasoner(replace(library, suspects={**library.suspects, "board": leader}), profile("pump"))
    belief = reasoner.start(["dead"])
    for _ in range(2):
        belief = reasoner.update(belief, "board-volts", {"bad": 1.0})
    return reasoner, belief


def test_a_part_is_condemned_only_when_its_split_is_clear() -> None:
    reasoner, belief = a_board_that_is_split_by("motor-ohms")
    unsplit = lacking(reasoner.table, belief, (), (), least=0.5)
    assert unsplit is not None
    assert [reasoner.table.checks[check] for check in unsplit.checks] == ["motor-ohms"]
    assert not reasoner.proved_apart(belief, "board")
    assert reasoner.proved_apart(reasoner.update(belief, "motor-ohms", {"good": 1.0}), "board")
    assert not reasoner.proved_apart(reasoner.update(belief, "motor-ohms", {"bad": 1.0}), "board")


def test_a_part_is_named_when_only_the_way_it_failed_is_open() -> None:
    library = small()
    other = library.suspects["motor"].model_copy(update={"component": "board"})
    apart, same = (
        Reasoner(replace(library, suspects={**library.suspects, "motor": item}), profile("pump"))
        for item in (library.suspects["motor"], other)
    )
    kinds = []
    for reasoner in (apart, same):
        belief = reasoner.start(["dead"])
        belief = reasoner.update(belief, "board-volts", {"bad": 0.97, "good": 0.03})
        belief = reasoner.update(belief, "fan-look", {"bad": 0.2, "good": 0.8})
        everything = list(reasoner.table.checks)
        conclusion = reasoner.conclusion(belief, done=everything, skipped=everything)
        assert conclusion.suspect == "board"
        assert conclusion.probability < FOUND_CHANCE
        kinds.append(conclusion.kind)
    assert kinds == ["exhausted", "found"]


def learnt(weight: float, library_weight: float | None) -> Reasoner:
    """The unit with another starting weight of the motor."""
    knowledge = small()
    motor = knowledge.suspects["motor"].model_copy(update={"weight": weight, "library_weight": library_weight})
    return Reasoner(replace(knowledge, suspects={**knowledge.suspects, "motor": motor}), profile("pump"))


def test_learnt_weights_alone_condemn_no_part() -> None:
    for weight, own, kind in ((300.0, None, "found"), (300.0, 0.3, "go-on"), (300.0, 300.0, "found")):
        reasoner = learnt(weight, own)
        belief = reasoner.update(reasoner.start(["dead"]), "motor-ohms", {"bad": 1.0})
        found = reasoner.conclusion(belief, skipped=["motor-ohms"])
        assert (found.suspect, found.kind) == ("motor", kind), (weight, own)
        assert found.probability >= FOUND_CHANCE


def test_the_librarys_own_belief_is_what_it_were_without_learnt_weights() -> None:
    with_learnt, without = learnt(300.0, 1.0), REASONER
    beliefs = []
    for reasoner in (with_learnt, without):
        belief = reasoner.recurring(reasoner.start(["dead"]), ["fan"])
        belief = reasoner.update(reasoner.update(belief, "noise", {"bad": 0.8, "good": 0.2}), "fan-look", {"bad": 1.0})
        belief = reasoner.after_repair(belief, "fan")
        beliefs.append(reasoner.update(belief, "board-volts", {"good": 1.0}))
    plain, own = beliefs[0].plain, beliefs[1].weights
    assert plain is not None
    assert beliefs[1].plain is None
    np.testing.assert_allclose(plain.singles, own.singles)
    np.testing.assert_allclose(plain.pairs, own.pairs)
    assert plain.none == pytest.approx(own.none)
    assert not np.allclose(beliefs[0].weights.singles, own.singles)


def test_a_split_that_an_answer_speaks_against_is_not_waited_for() -> None:
    """A motor without a run capacitor is condemned without its capacitor being measured."""
    kind = check("kind", {}, otherwise=(0.5, 0.5), minutes=1)
    capacitor = check("capacitor", {"motor": (0.02, 0.98)}, otherwise=(0.5, 0.5), only_if={"kind": ["bad"]})
    base = small().but(kind, capacitor)
    motor = base.suspects["motor"].model_copy(update={"split": {"capacitor": ("good",)}})
    reasoner = Reasoner(replace(base, suspects={**base.suspects, "motor": motor}), profile("pump"))
    belief = reasoner.update(reasoner.start(["dead"]), "motor-ohms", {"bad": 1.0})
    belief = reasoner.update(belief, "kind", {"bad": 1.0})
    assert not reasoner.proved_apart(belief, "motor")
    other = reasoner.update(reasoner.start(["dead"]), "motor-ohms", {"bad": 1.0})
    assert reasoner.proved_apart(reasoner.update(other, "kind", {"good": 1.0}), "motor")


def test_a_defect_that_is_seen_and_soon_mended_is_mended_at_once() -> None:
    """Seen crooked, it is seated, though as much speaks for something else; who only thinks it likely looks on."""
    seen = check("filter-look", {"filter": (0.97, 0.03)}, otherwise=(0.01, 0.99), energy="any", minutes=1)
    reasoner = Reasoner(small().but(seen), profile("pump"))
    belief = reasoner.start(["dead"])
    assert reasoner.named(belief) is None
    belief = reasoner.update(belief, "filter-look", {"bad": 1.0})
    assert dict(reasoner.ranked(belief))["filter"] < HARMLESS_CHANCE
    named_now = reasoner.named(belief)
    assert named_now is not None
    assert named_now[0] == "filter"


def test_what_a_split_still_lacks_is_told_whole_so_that_the_nearest_may_be_made() -> None:
    reasoner, belief = a_board_that_is_split_by("motor-ohms", "noise")
    unsplit = lacking(reasoner.table, belief, (), (), least=0.5)
    assert unsplit is not None
    assert [reasoner.table.checks[check] for check in unsplit.checks] == ["motor-ohms", "noise"]
    advice = reasoner.next_check(belief, where="outdoor")
    assert advice is not None
    assert (advice.check_id, advice.reason) == ("noise", "confirm")


def test_nobody_changes_over_to_hear_the_same_answer_again() -> None:
    """Measured once and switched on again, the motor goes on that answer; at the motor it is measured once more."""
    sure = check("motor-ohms", {"motor": (0.98, 0.02)}, otherwise=(0.001, 0.999), energy="proved-dead", where="outdoor")
    reasoner = Reasoner(small().but(sure), profile("pump"))
    belief = reasoner.update(reasoner.start(["dead"]), "motor-ohms", {"bad": 1.0})
    assert reasoner.named(belief, ["motor-ohms"]) is None
    named_away = reasoner.named(belief, ["motor-ohms"], away=["motor-ohms"])
    assert named_away is not None
    assert named_away[0] == "motor"
