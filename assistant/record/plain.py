"""The customer's page: what was wrong, what was done, before and after, what to watch, what is open, in plain words.

No verdict of a check is told here, no figure without need: those stand in the technical appendix.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.dialogue.state import VisitState
from assistant.library.loader import Library
from assistant.record.course import Course
from assistant.record.model import (
    AnswerLine,
    CheckLine,
    DutyLine,
    FaultLine,
    Left,
    NotChecked,
    Pair,
    RepairLine,
    Summary,
)
from assistant.record.wording import sentence

_PROOF = {
    "proved": "Measurements after the repair show that the fault is gone.",
    "failed": "Measurements after the repair show that the trouble is still there.",
    "not proved": "The repair has not been proved by measurement.",
}


def summary(
    course: Course,
    left: Left,
    faults: Sequence[FaultLine],
    repairs: Sequence[RepairLine],
    answers: Sequence[AnswerLine],
    checks: Sequence[CheckLine],
    not_checked: Sequence[NotChecked],
    duties: Sequence[DutyLine],
    library: Library,
) -> Summary:
    """The lines of the first page."""
    state = course.state
    return Summary(
        wrong=tuple(_wrong(faults, repairs)),
        done=tuple(_done(repairs, state, library)),
        pairs=tuple(pairs(checks, answers, library)),
        watch=tuple(filter(None, [sentence(state.note("customer") or "")])),
        open=(
            *_open(left, faults, repairs, not_checked, state.closing is not None),
            *(sentence(point.says or point.check.replace("-", " ")) for point in state.job.points),
        ),
        next_due=tuple(duty.what for duty in duties if duty.due),
    )


def _wrong(faults: Sequence[FaultLine], repairs: Sequence[RepairLine]) -> list[str]:
    """What was found at fault: what was mended for good, and what was named last."""
    named = [repair.name for repair in repairs if repair.proof == "proved"]
    if faults and faults[-1].suspect:
        named.append(faults[-1].name)
    found = [sentence(name) for name in dict.fromkeys(named)]
    return found or (["The cause was not found in this visit."] if faults else ["No fault was found."])


def _done(repairs: Sequence[RepairLine], state: VisitState, library: Library) -> list[str]:
    """The course that was followed; each repair in the technician's words, with what showed that it holds."""
    out = []
    if state.job.course in library.courses:
        done = sum(step.how == "done" for step in state.job.ended)
        out.append(
            sentence(f"{library.courses[state.job.course].name}: {done} {'step' if done == 1 else 'steps'} done")
        )
    for repair in repairs:
        if repair.done:
            out.append(sentence(repair.words or f"the {repair.component} was mended"))
            out.append(_PROOF.get(repair.proof, ""))
    return [line for line in out if line] or ["Nothing was repaired."]


def _open(
    left: Left,
    faults: Sequence[FaultLine],
    repairs: Sequence[RepairLine],
    not_checked: Sequence[NotChecked],
    closed: bool,
) -> list[str]:
    out = list(left.sentences)
    if not closed:
        out.append("The visit has not been closed.")
    if faults and not faults[-1].suspect:
        out.append("The fault still has to be found.")
    elif faults and not any(repair.done and repair.suspect == faults[-1].suspect for repair in repairs):
        out.append("The fault has been found and still has to be repaired.")
    if repairs and repairs[-1].proof != "proved":
        out.append(_PROOF.get(repairs[-1].proof, ""))
    missing = [line for line in not_checked if line.reason not in ("skipped", "this unit has no such part")]
    if missing:
        out.append(f"Not checked: {', '.join(f'{line.title} ({line.reason})' for line in missing)}.")
    return list(dict.fromkeys(filter(None, out)))


def pairs(checks: Sequence[CheckLine], answers: Sequence[AnswerLine], library: Library) -> list[Pair]:
    """What was measured or looked at before a repair and again after it: the last of each. What was good both times
    tells a customer nothing of the repair."""
    by_number = {line.number: line for line in answers}
    before = {line.id: line for line in checks if line.repairs == 0 and line.role != "changeover"}
    after = {line.id: line for line in checks if line.repairs > 0 and line.standing and line.role != "changeover"}
    out = []
    for check, first in before.items():
        last = after.get(check)
        if last is not None and (first.verdict, last.verdict) != ("pass", "pass"):
            ones, twos = ([by_number[n] for n in line.answers if n in by_number] for line in (first, last))
            for one in ones:
                if _is_condition(check, one, library):
                    continue
                two = next((x for x in twos if (x.question, x.place_id) == (one.question, one.place_id)), None)
                if two is not None:
                    out.append(_pair(first, one, last, two))
    return out


def _is_condition(check: str, line: AnswerLine, library: Library) -> bool:
    """Under which something was measured, not what was: the temperature at which a sensor is read."""
    judge = library.checks[check].judge if check in library.checks else None
    if judge is None or judge.by != "thermistor":
        return False
    return line.question.partition(".")[2] == judge.inputs.get("temperature")


def _pair(first: CheckLine, one: AnswerLine, last: CheckLine, two: AnswerLine) -> Pair:
    numbers = one.value is not None and two.value is not None and one.unit == two.unit
    return Pair(
        what=f"{first.title}{', ' + one.place if one.place else ''}",
        before=one.said,
        before_verdict=first.verdict,
        after=two.said,
        after_verdict=last.verdict,
        quantity=one.quantity if numbers else "",
        unit=one.unit if numbers else "",
        before_value=one.value if numbers else None,
        after_value=two.value if numbers else None,
    )
