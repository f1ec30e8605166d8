"""What keeps a judge from working is found before a visit."""

from __future__ import annotations

import pytest

from assistant.reasoning.errors import ReasoningError
from assistant.reasoning.judges import judge, judge_problems, names
from assistant.reasoning.judges.registry import spec
from tests.reasoning.asking import asked, heard, library, profile

RANGE = asked("range", {"value": "voltage_ac"}, {"low": (207, "V"), "high": (253, "V")})


def problems(**changes: object) -> str:
    changed = RANGE.judge.model_copy(update=changes)
    return " ".join(judge_problems(RANGE.model_copy(update={"judge": changed}), library()))


def test_every_check_of_the_shipped_knowledge_can_be_judged() -> None:
    found = {check.id: judge_problems(check, library()) for check in library().checks.values()}
    assert {key: problem for key, problem in found.items() if problem} == {}


def test_every_judge_is_used_or_meant_for_users() -> None:
    assert {check.judge.by for check in library().checks.values()} <= set(names())


def test_problems_are_named() -> None:
    assert problems() == ""
    assert "no judge called oracle" in problems(by="oracle")
    assert "needs an input value" in problems(inputs={})
    assert "knows no input colour" in problems(inputs={"value": "value", "colour": "value"})
    assert "question volts, which the check does not ask" in problems(inputs={"value": "volts"})
    assert "knows no limit middle" in problems(limits={**RANGE.judge.limits, "middle": RANGE.judge.limits["low"]})
    assert "needs a limit low or high" in problems(limits={})
    assert "knows no option mood" in problems(options={"mood": "good"})
    ohms = RANGE.judge.limits["low"].model_copy(update={"unit": "ohm"})
    assert "“ohm” is not a unit of AC voltage" in problems(limits={"low": ohms})


def test_outcomes_that_can_come_but_are_not_listed_and_the_other_way_round() -> None:
    few = RANGE.model_copy(update={"outcomes": {"ok": RANGE.outcomes["ok"], "odd": RANGE.outcomes["low"]}})
    found = " ".join(judge_problems(few, library()))
    assert "may answer low, which the check does not list" in found
    assert "Outcome odd is listed, but judge range never gives it" in found
    with pytest.raises(ReasoningError, match="may answer high"):
        judge(few, heard(few, {"value": 400.0}), library(), profile())


def test_an_optional_outcome_folds_into_its_neighbour() -> None:
    closed = asked(
        "range", {"value": "resistance"}, {"low": (10, "ohm"), "high": (50, "ohm")}, outcomes=("low", "ok", "high")
    )
    assert judge_problems(closed, library()) == []
    assert judge(closed, heard(closed, {"value": None}), library(), profile()).outcome == "high"


def test_an_unknown_judge_is_refused() -> None:
    with pytest.raises(ReasoningError, match="no judge called oracle"):
        spec("oracle")
