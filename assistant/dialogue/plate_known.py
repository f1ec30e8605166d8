"""What plate and checks know of each other: a measured length is kept, and one that is kept is not asked."""

from __future__ import annotations

from collections.abc import Iterable

from assistant.dialogue import facts as f
from assistant.dialogue.asking import reading_expectation
from assistant.dialogue.state import Given
from assistant.dialogue.turn import Turn
from assistant.job.plate import Plate, unit_id
from assistant.language.meaning import Reading
from assistant.language.measured_in import in_system
from assistant.language.units import from_canonical
from assistant.library.models import Check, Question
from assistant.messages.catalogue import number
from assistant.quantities.table import sign


def answer_from_plate(turn: Turn, check: Check) -> None:
    """Answer what the plate knows of a check that has just begun, and say so; a correction is of that."""
    for question in check.ask:
        if question.known_as is None or question.reading is None:
            continue
        value = getattr(turn.state.job.plate, question.known_as)
        if value is None:
            continue
        reading = _reading(turn, question, value)
        turn.tell(f"known-{question.known_as.replace('_', '-')}", "remark", value=reading.words)
        turn.emit(
            f.AnswerGiven(
                number=turn.state.answers + 1,
                check=check.id,
                question=question.key,
                place=None,
                answer=reading,
                how="from the plate",
                words=reading.words,
                probability=1.0,
            )
        )


def _reading(turn: Turn, question: Question, value: float) -> Reading:
    """``value``, in the quantity's own unit, as the technician reads such a quantity."""
    assert question.reading is not None
    wanted = in_system(reading_expectation(question.reading), turn.state.system)
    spoken = from_canonical(value, wanted.unit, wanted.quantity)
    words = f"{number(spoken)} {sign(wanted.unit)}"
    return Reading(quantity=wanted.quantity, value=value, spoken_value=spoken, spoken_unit=wanted.unit, words=words)


def keep(turn: Turn, plate: Plate, words: str = "") -> None:
    """Keep the plate. Its id is given with what is known first, and stays."""
    turn.emit(f.PlateKept(plate=plate if plate.id else plate.model_copy(update={"id": unit_id(plate)}), words=words))


def keep_measured(turn: Turn, check: Check, given: Iterable[Given]) -> None:
    """Keep on the plate what a check measured of it."""
    fields = {question.key: question.keeps for question in check.ask if question.keeps}
    plate = turn.state.job.plate
    measured: dict[str, object] = {}
    for each in given:
        field, answer = fields.get(each.question), each.answer
        if field and not each.replaced and isinstance(answer, Reading) and answer.value is not None:
            measured[field] = answer.value
    if any(getattr(plate, field) != value for field, value in measured.items()):
        unsaid = tuple(field for field in plate.unsaid if field not in measured)
        keep(turn, plate.model_copy(update={**measured, "unsaid": unsaid}), check.title)


def measured_later(turn: Turn) -> set[str]:
    """The fields of the plate that the course of this visit has yet to measure: nobody is asked for them before."""
    course = turn.library.courses.get(turn.state.job.course)
    steps = (turn.check(step.check) for step in course.steps) if course else ()
    return {
        question.keeps
        for check in steps
        if turn.has(check.needs) and check.id not in turn.state.skipped
        for question in check.ask
        if question.keeps
    }
