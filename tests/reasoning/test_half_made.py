"""A check that is left half made is judged by what it has: whatever that is, there is a judgement."""

from collections.abc import Iterator

import pytest

from assistant.dialogue.asking import reading_expectation
from assistant.language.meaning import Finding, Reading, Readings
from assistant.library.loader import load
from assistant.library.models import Question
from assistant.reasoning.judges import judge


def answers(question: Question) -> Iterator[Readings | Finding]:
    """Each choice; the least, a middle and the most that can be read, and an open line, at the first places."""
    yield from (Finding(choice=choice.id) for choice in question.choices)
    if question.reading is None:
        return
    wanted = reading_expectation(question.reading)
    low, high = wanted.plausible
    places: list[str | None] = [place.id for place in wanted.places] or [None]
    for value in (low, (low + high) / 2, high, *((None,) if wanted.open_line else ())):
        read = Reading(quantity=wanted.quantity, value=value, spoken_value=value, spoken_unit=wanted.unit)
        if value is None:
            read = read.model_copy(update={"spoken_unit": "", "special": "open_line"})
        for many in range(1, len(places) + 1):
            yield Readings(items=tuple(read.model_copy(update={"place": place}) for place in places[:many]))


@pytest.mark.parametrize("profile", [None, "copper-wren-solo"])
def test_any_one_answer_has_a_judgement(profile: str | None) -> None:
    library = load()
    unit = library.profiles[profile] if profile else None
    for check in library.checks.values():
        for question in check.ask:
            for answer in answers(question):
                found = judge(check, {question.key: answer}, library, unit, 0.0)
                assert found.outcome in check.outcomes or found.verdict == "undecided", (check.id, question.key, answer)
