"""The one good answer of a question, which "all good" and "looks fine" mean."""

from __future__ import annotations

from assistant.library.models import Check, Question


def good_choice(check: Check, question: Question) -> str:
    """The id of the only choice that passes the check; "" when none or several do, or it takes more than a choice."""
    if check.judge.by != "finding" or check.judge.inputs.get("choice") != question.key:
        return ""
    mapping = check.judge.options.get("map", {})
    passing = [
        choice.id
        for choice in question.choices
        if (outcome := check.outcomes.get(str(mapping.get(choice.id, choice.id)))) and outcome.verdict == "pass"
    ]
    return passing[0] if len(passing) == 1 else ""
