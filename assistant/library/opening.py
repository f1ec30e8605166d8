"""The first minutes of a repair, and checks that see what another sees: what the loader makes of both."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, model_validator

from assistant.data import yaml_lines
from assistant.data.errors import LibraryError
from assistant.library.kinds import Slug
from assistant.library.models import Check
from assistant.model import Model

FILE = "opening.yaml"
#: Of one complaint no more is asked than this before the search begins.
MOST_QUESTIONS = 5


class OpeningQuestion(Model):
    """One question of the first minutes: a check, a field of the plate, or what the unit reports; one of the three.

    ``of`` are the complaints for which it matters. It is asked before anything is opened, in the order of the file,
    and only while its answer is not known and would still tell something; one that ``decides`` how the rest is measured
    and proved is asked though it tells little of the fault.
    """

    check: Slug | None = None
    plate: Literal["breaker_a"] | None = None
    reports: bool = False
    decides: bool = False
    of: Annotated[tuple[Slug, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _one_kind(self) -> OpeningQuestion:
        if (self.check is not None) + (self.plate is not None) + self.reports != 1:
            raise ValueError("one of check, plate and reports is to be given")
        return self


class Opening(Model):
    """``opening.yaml``: what is asked first of which complaint."""

    questions: tuple[OpeningQuestion, ...]


def questions_of(
    content: Opening, file: Path, checks: Collection[str], symptoms: Collection[str]
) -> tuple[OpeningQuestion, ...]:
    """The questions; raises ``LibraryError`` for one that names what is not there, or more than five of a complaint."""
    asked: dict[str, int] = {}
    for number, question in enumerate(content.questions):
        line = yaml_lines.line_of(file, ("questions", number))
        if question.check is not None and question.check not in checks:
            raise LibraryError(file, line, f"there is no check “{question.check}”", "correct the id or write the check")
        for symptom in question.of:
            if symptom not in symptoms:
                raise LibraryError(file, line, f"there is no symptom “{symptom}”", "correct the id")
            asked[symptom] = asked.get(symptom, 0) + 1
            if asked[symptom] > MOST_QUESTIONS:
                what = f"more than {MOST_QUESTIONS} questions of “{symptom}”"
                raise LibraryError(file, line, what, "leave out the one that tells least")
    return content.questions


def told_alike(check: Check, checks: Mapping[str, Check], file: Path) -> Check:
    """``check`` with what the check ``tells_as`` tells of the suspects, but for what it says itself."""
    if check.tells_as is None:
        return check
    other = checks.get(check.tells_as)
    if other is None or set(other.outcomes) != set(check.outcomes):
        written = yaml_lines.Written(file)
        line = written.line(written.item("checks", check.id) or ())
        raise LibraryError(file, line, f"“{check.tells_as}” is no check with the same outcomes", "correct tells_as")
    return check.model_copy(
        update={"tells": {**other.tells, **check.tells}, "otherwise": check.otherwise or other.otherwise}
    )
