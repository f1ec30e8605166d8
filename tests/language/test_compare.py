"""Two ears agree when they say the same about the unit, however they worded it."""

from __future__ import annotations

import pytest

from assistant.language.compare import same_meaning
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Emergency,
    Finding,
    Heard,
    Indication,
    Meaning,
    Told,
    ToldAnswer,
)
from tests.language.states import STATES


@pytest.mark.parametrize(
    ("name", "one", "other", "same"),
    [
        ("bus", "two forty", "240 volts", True),
        ("bus", "two forty", "two point four", False),
        ("sensor", "nineteen k", "19,000 ohms", True),
        ("suction", "one hundred psi", "100 pounds", True),
        ("windings", "u to v four", "v to w four", False),
        ("windings", "u to v open line", "u to v OL", True),
        ("windings", "u to v open line", "u to v no reading", False),
        ("bus", "between four and five", "it jumps from 4 to 5 volts", True),
        ("bus", "no four", "four", False),
        ("yes-no", "yep", "yes", True),
        ("yes-no", "yes", "why", False),
        ("note", "New  float switch", "new float switch", True),
        ("bus", "superheat line 52", "superheat, line fifty two", True),
        ("bus", "mumble", "4", False),
    ],
)
def test_same_meaning(name: str, one: str, other: str, same: bool) -> None:
    state = STATES[name]
    assert same_meaning(interpret(one, state).meaning, interpret(other, state).meaning) is same


def test_facts_told_in_another_order_are_the_same_facts() -> None:
    filter_clean = ToldAnswer(question="filter-look.filter", answer=Finding(choice="clear"))
    ice = Indication(choice="ice-on-line")
    assert same_meaning(Told(facts=(filter_clean, ice)), Told(facts=(ice, filter_clean)))
    assert not same_meaning(Told(facts=(filter_clean,)), Told(facts=(filter_clean, ice)))
    assert not same_meaning(Told(facts=(ice,)), ice)


@pytest.mark.parametrize(
    "meaning",
    [
        Cannot(reason="cant-see"),
        BackQuestion(topic="what-did-i-say", argument="u-v"),
        Emergency(what="shock"),
        Told(answer=Finding(choice="yes"), facts=(Indication(choice="ice-on-line"),)),
    ],
)
def test_every_meaning_can_be_journalled(meaning: Meaning) -> None:
    heard = Heard(words="", meaning=meaning, trust="confirm", options=(meaning, Cannot(reason="not-now")))
    assert Heard.model_validate_json(heard.model_dump_json()) == heard
