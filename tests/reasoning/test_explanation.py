"""Why a check, in one sentence; and answers that clash."""

from __future__ import annotations

import pytest

from assistant.library.loader import load
from assistant.messages.catalogue import catalogue
from assistant.reasoning.belief import Belief
from assistant.reasoning.choice import Advice
from assistant.reasoning.reasoner import Reasoner
from tests.reasoning.small import check, profile, small

SMALL = Reasoner(small(), profile("pump"))
LIBRARY = load()


def why(reasoner: Reasoner, belief: Belief, advice: Advice) -> str:
    return catalogue().words(reasoner.why(belief, advice), reasoner.library)


def test_why_names_the_likeliest_the_time_and_what_it_would_rule_out() -> None:
    belief = SMALL.start(["dead"])
    advice = Advice("board-volts", 8.0, 0.5, "live", "most-information")
    assert why(SMALL, belief, advice) == (
        "Most likely the board is broken; this takes 8 minutes and could rule it out."
    )
    motor = Advice("motor-ohms", 15.0, 0.5, "proved-dead", "most-information")
    assert why(SMALL, belief, motor).endswith("this takes 15 minutes and would rule out the motor.")


@pytest.mark.parametrize(
    ("reason", "words"), [("confirm", "would confirm it"), ("make-sure", "makes sure"), ("prepare", "must come before")]
)
def test_why_tells_other_motives(reason: str, words: str) -> None:
    advice = Advice("fan-look", 2.0, 0.1, "live", reason, "board-volts")  # type: ignore[arg-type]
    assert words in why(SMALL, SMALL.start(["dead"]), advice)


@pytest.mark.parametrize("supply", ["single-phase-230", "three-phase-400"])
def test_every_why_is_one_sentence_under_25_words(supply: str) -> None:
    reasoner = Reasoner(LIBRARY, LIBRARY.general(supply))
    for symptom in LIBRARY.symptoms:
        belief = reasoner.start([symptom])
        for key in list(reasoner.table.checks)[::7]:
            said = why(reasoner, belief, Advice(key, 12.0, 0.1, "live", "most-information"))
            assert len(said.split()) < 25, said
            assert said.endswith(".")
            assert said.count(".") == 1


def test_an_answer_that_fits_clashes_with_nothing() -> None:
    belief = SMALL.update(SMALL.start(["weak"]), "filter-look", {"bad": 1.0})
    assert SMALL.contradiction(belief, "fan-look", {"good": 1.0}) is None


def test_a_rare_answer_without_an_earlier_one_clashes_with_nothing() -> None:
    assert SMALL.contradiction(SMALL.start(["weak"]), "motor-ohms", {"bad": 1.0}) is None


def test_an_answer_against_all_that_was_believed_names_the_earlier_one() -> None:
    sharp = check("motor-ohms", {"motor": (0.99, 0.01)}, otherwise=(0.001, 0.999))
    ring = check("ring", {"motor": (0.999, 0.001)}, otherwise=(0.01, 0.99))
    reasoner = Reasoner(small().but(sharp, ring), profile("pump"))
    belief = reasoner.start(["dead"])
    for key, outcome in (("motor-ohms", "bad"), ("motor-ohms", "bad"), ("noise", "bad")):
        belief = reasoner.update(belief, key, {outcome: 1.0})
    assert reasoner.contradiction(belief, "ring", {"good": 1.0}) == "motor-ohms"
    assert reasoner.contradiction(belief, "ring", {"bad": 1.0}) is None
    assert reasoner.contradiction(belief, "ring", {"bad": 0.5, "good": 0.5}) is None
