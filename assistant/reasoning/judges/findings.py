"""The judge of answers that are not numbers."""

from __future__ import annotations

from assistant.library.models import Check
from assistant.messages.message import known, message
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case
from assistant.reasoning.judges.registry import register


def _outcomes(check: Check) -> set[str]:
    mapping = check.judge.options.get("map", {})
    key = check.judge.inputs.get("choice")
    choices = [choice.id for question in check.ask if question.key == key for choice in question.choices]
    return {str(mapping.get(choice, choice)) for choice in choices}


@register("finding", inputs={"choice": "choice"}, options=("map",), outcomes_of=_outcomes)
def finding(case: Case) -> Judgement:
    """A choice is its own outcome, or the one that option ``map`` gives it; it says what the outcome means."""
    choice = case.choice("choice")
    if choice is None:
        return case.unknown(message("not-answered"), message("look-once-more"))
    outcome = str(case.option("map", {}).get(choice, choice))
    if case.lists(outcome) and case.check.outcomes[outcome].means:
        says = message("knowledge", text=known("checks", case.check.id, f"outcomes.{outcome}.means"))
    else:
        says = message("noted", words=outcome.replace("-", " "))
    return case.judged({outcome: 1.0}, says)
