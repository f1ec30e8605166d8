"""The customer's page: what was wrong, what was done, before and after, what to watch, what is open, in plain words.

No verdict of a check is told here, no figure without need: those stand in the technical appendix.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.dialogue import facts as f
from assistant.dialogue.state import VisitState
from assistant.library.loader import Library
from assistant.record.course import Course
from assistant.record.job_lines import DutyLine
from assistant.record.lines import indications
from assistant.record.model import AnswerLine, CheckLine, FaultLine, Left, NotChecked, Pair, RepairLine, Summary
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
    removed = state.job.course in library.courses and library.courses[state.job.course].removes
    return Summary(
        wrong=() if removed and not faults else tuple(_wrong(faults, repairs, checks, state)),
        done=tuple(_done(repairs, state, library)),
        pairs=tuple(pairs(checks, answers, library)),
        watch=tuple(filter(None, [sentence(state.note("customer") or "")])),
        open=(
            *_open(left, faults, repairs, not_checked, state, library),
            *(sentence(point.says or point.check.replace("-", " ")) for point in state.job.points),
        ),
        next_due=tuple(duty.what for duty in duties if duty.due),
    )


def _wrong(
    faults: Sequence[FaultLine], repairs: Sequence[RepairLine], checks: Sequence[CheckLine], state: VisitState
) -> list[str]:
    """What was found at fault: what was mended for good, what was named last, and what was told on the way."""
    told = _told(checks, faults)
    if state.closing is None and not faults:
        return told or ["Nothing has been found yet."]
    named = [repair.name for repair in repairs if repair.proof == "proved"]
    if faults and faults[-1].suspect:
        named.append(faults[-1].name)
    if not named and (faults or _reported(state)):
        return ["The cause was not found in this visit.", *told]
    return [*(sentence(name) for name in dict.fromkeys(named)), *told] or ["No fault was found."]


def _told(checks: Sequence[CheckLine], faults: Sequence[FaultLine]) -> list[str]:
    """What the technician told unasked and was wrong, unless a fault was named for it, or a look before any repair
    found it right after all."""
    named = {fault.reason for fault in faults if fault.suspect}
    out: list[str] = []
    for place, check in enumerate(checks):
        if check.role != "told" or check.verdict != "fail" or not check.standing or check.says in named:
            continue
        again = (each for each in checks[place + 1 :] if each.id == check.id and each.standing)
        if not any(each.verdict == "pass" and each.repairs == check.repairs for each in again):
            out.append(f"Also noticed: {_within(check.says)}")
    return list(dict.fromkeys(out))


def _within(text: str) -> str:
    """A sentence after a colon; "U to V" keeps its capital."""
    return text[0].lower() + text[1:] if text[1:2].islower() else text


def _reported(state: VisitState) -> bool:
    """Whether the visit began with something that the unit does wrong."""
    return any(isinstance(fact, f.IndicationNoted) for fact in state.course)


def _done(repairs: Sequence[RepairLine], state: VisitState, library: Library) -> list[str]:
    """The course that was followed; each repair in the technician's words, with what showed that it holds."""
    out = []
    if state.job.course in library.courses:
        done = sum(step.how == "done" for step in state.job.ended)
        out.append(
            sentence(f"{library.courses[state.job.course].name}: {done} {'step' if done == 1 else 'steps'} done")
        )
        out += _put_right(state, library)
    for repair in repairs:
        if repair.done:
            out.append(_repaired(repair))
            out.append(_PROOF.get(repair.proof, ""))
    nothing = "Nothing was repaired." if state.closing is not None else "Nothing has been repaired yet."
    return [line for line in out if line] or [nothing]


def _repaired(repair: RepairLine) -> str:
    """The technician's own words; with the part where they do not name it ("mended it")."""
    part = repair.component.removeprefix("the ")
    named = any(word in repair.words.lower() for word in part.lower().split() if len(word) > 3)
    if repair.words and (named or not part):
        return sentence(repair.words)
    return sentence(f"{part}: {repair.words or 'mended'}")


def _put_right(state: VisitState, library: Library) -> list[str]:
    """Steps of the course that failed and passed when they were made again."""
    out: list[str] = []
    failed: set[tuple[str, str | None]] = set()
    for result in state.results:
        key = (result.check, result.zone)
        if result.role != "course" or result.check not in library.checks:
            continue
        if result.judgement.verdict == "fail":
            failed.add(key)
        elif result.judgement.verdict == "pass" and key in failed:
            failed.remove(key)
            out.append(sentence(f"Put right on the way, then good: {library.checks[result.check].title}"))
    return out


def _open(
    left: Left,
    faults: Sequence[FaultLine],
    repairs: Sequence[RepairLine],
    not_checked: Sequence[NotChecked],
    state: VisitState,
    library: Library,
) -> list[str]:
    out = list(left.sentences)
    if state.closing is None:
        out.append("The visit has not been closed.")
    if faults and not faults[-1].suspect:
        out.append("The fault still has to be found.")
    elif not faults and _reported(state):
        reported = "; ".join(indications(state, library))
        out.append(sentence(f"The cause still has to be found of this: {reported}"))
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
    # "No" says nothing without its question: what was looked at is told by its verdict.
    looked = not one.quantity and not two.quantity and bool(first.says and last.says)
    return Pair(
        what=f"{first.title}{', ' + one.place if one.place else ''}",
        before=first.says.removesuffix(".") if looked else one.said,
        before_verdict=first.verdict,
        after=last.says.removesuffix(".") if looked else two.said,
        after_verdict=last.verdict,
        quantity=one.quantity if numbers else "",
        unit=one.unit if numbers else "",
        before_value=one.value if numbers else None,
        after_value=two.value if numbers else None,
    )
