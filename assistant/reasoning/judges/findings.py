"""The judge of answers that are not numbers."""

from __future__ import annotations

from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case
from assistant.reasoning.judges.registry import register


@register("finding", inputs={"choice": "choice"}, options=("map",), outcomes=())
def finding(case: Case) -> Judgement:
    """A choice is its own outcome, or the one that option ``map`` gives it; it says what the outcome means."""
    choice = case.choice("choice")
    if choice is None:
        return case.unknown("That was not answered.", "Look once more.")
    outcome = str(case.option("map", {}).get(choice, choice))
    means = case.check.outcomes[outcome].means if case.lists(outcome) else ""
    says = means.rstrip(".") or f"Noted, {outcome.replace('-', ' ')}"
    return case.judged({outcome: 1.0}, f"{says[:1].upper()}{says[1:]}.")
