"""Visits that are no search: commissioning, maintenance, leak check, removal, each by its course in ``knowledge``.

A step is a check. One that passes is done; one that fails is put right and made again, looked into at once (the search
opens inside the visit and comes back here), or stays an open point. What stays open is the end of the visit.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.dialogue import facts as f
from assistant.dialogue.plates import begin_plate
from assistant.dialogue.questions import ask_again
from assistant.dialogue.running import start_or_change_over
from assistant.dialogue.state import Result, Stage, VisitState
from assistant.dialogue.turn import Turn
from assistant.dialogue.units import zone_name
from assistant.language.meaning import Command
from assistant.library.course_models import Course, CourseStep
from assistant.library.loader import Library
from assistant.messages.catalogue import catalogue
from assistant.messages.message import known, message

#: How often a step that shows unfinished work is made again before it stays open.
MOST_REPEATS = 3
#: The command that chooses what the visit is for begins so.
JOB = "job-"
#: What a visit may be for that has no course.
SEARCHES = ("repair", "return")

Key = tuple[str, str]


def set_kind(turn: Turn, command: Command) -> bool:
    """ "Commissioning", "yearly maintenance": what the visit is for, from the next step on."""
    if turn.state.acknowledging:
        turn.tell("understood-first", "question")
        return False
    kind = command.name.removeprefix(JOB)
    if turn.state.job.course and kind != turn.state.job.course:
        turn.tell("visit-follows", "remark", course=known("courses", turn.state.job.course, "name"))
        ask_again(turn)
        return False
    turn.emit(f.StepRemembered())
    turn.emit(f.JobSet(visit_kind=kind))
    turn.tell("visit-is", "result", kind=kind.replace("-", " "))
    early = (Stage.SITE, Stage.PROFILE, Stage.SUPPLY, Stage.REFRIGERANT, Stage.ZONE)
    if turn.state.stage not in early and turn.state.run is None:
        turn.emit(f.StageEntered(stage=Stage.INDICATION))
    return True


def kind_words(library: Library) -> dict[str, str]:
    """What an office's list of the day calls each kind of visit that has a course, with that kind."""
    return {word: course.id for course in library.courses.values() for word in course.listed}


def course_of(turn: Turn) -> Course | None:
    """The course that the visit follows or is to follow."""
    return turn.library.courses.get(turn.state.job.course or turn.state.job.visit_kind)


def begin_course(turn: Turn, course: Course) -> bool:
    """Begin it: its caution, the circuit as it is, the plate. True when something is asked first."""
    turn.emit(f.CourseBegun(course=course.id))
    turn.emit(f.StageEntered(stage=Stage.COURSE))
    turn.tell(known("courses", course.id, "begins"), "caution")
    if course.circuit is not None and turn.state.circuit == ("charged",):
        turn.emit(f.CircuitChanged(to=course.circuit, because=course.id))
    return course.plate and begin_plate(turn)


def lead_course(turn: Turn) -> bool:
    """The next step, or the end of the course. Never waits but for an aside."""
    course = course_of(turn)
    assert course is not None
    if turn.state.asked_for is not None:
        return start_or_change_over(turn, turn.state.asked_for, "asked", message("reason-asked"))
    for step, zone in _steps(turn, course):
        key = (step.check, zone)
        if turn.state.job.has_ended(*key):
            continue
        if step.check in turn.state.skipped:
            turn.emit(f.CourseStepEnded(check=step.check, zone=zone, how="skipped"))
            return False
        result = _newest(turn.state, key)
        if result is None:
            return _make(turn, step, zone)
        return _judged(turn, step, zone, result)
    turn.emit(f.StageEntered(stage=Stage.CUSTOMER_NOTE))
    return False


def _steps(turn: Turn, course: Course) -> Iterator[tuple[CourseStep, str]]:
    """The steps that this unit and this day have, each zone's together with the others of the step."""
    profile = turn.profile
    zones = [zone.id for zone in profile.zones] if profile else []
    for step in course.steps:
        if not turn.has(turn.check(step.check).needs) or not _is_due(turn.state, step):
            continue
        if step.each_zone and len(zones) > 1:
            yield from ((step, zone) for zone in zones)
        else:
            yield step, ""


def _is_due(state: VisitState, step: CourseStep) -> bool:
    """Whether the outcomes that it depends on have come; one that was never judged keeps it out."""
    for check, wanted in step.only_if.items():
        found = next((result for result in reversed(state.results) if result.check == check), None)
        if found is None or found.judgement.outcome not in wanted:
            return False
    return True


def _newest(state: VisitState, key: Key) -> Result | None:
    """The newest result of the step that has not been put right since."""
    mine = [r for r in state.results if r.role == "course" and r.check == key[0] and (not key[1] or r.zone == key[1])]
    repeats = state.job.repeats.count(key)
    return mine[-1] if len(mine) > repeats else None


def _make(turn: Turn, step: CourseStep, zone: str) -> bool:
    """Make the step; in another zone than before its name is said."""
    if zone and turn.state.zone != zone:
        turn.emit(f.Noted(topic="zone", value=zone))
        turn.tell("now-zone", "instruction", zone=zone_name(turn.profile, zone))
    for first in step.if_fails if (step.check, zone) in turn.state.job.repeats else ():
        after = _repeat_index(turn.state, (step.check, zone))
        made = any(r.check == first and r.role == "course" for r in turn.state.results[after:])
        if not made and first not in turn.state.skipped:
            return start_or_change_over(turn, first, "course", message("reason-where-to-mend"))
        last = next(r for r in reversed(turn.state.results) if r.check == step.check and r.role == "course")
        _tell_redo(turn, last)
    return start_or_change_over(turn, step.check, "course", message("reason-course"))


def _tell_redo(turn: Turn, result: Result) -> None:
    """How to put right what the step found."""
    outcome = turn.check(result.check).outcomes.get(result.judgement.outcome)
    if outcome is not None and outcome.redo:
        turn.tell(known("checks", result.check, f"outcomes.{result.judgement.outcome}.redo"), "instruction")


def _repeat_index(state: VisitState, key: Key) -> int:
    """Where in the results the last making of the step stands."""
    places = [at for at, r in enumerate(state.results) if r.check == key[0] and (not key[1] or r.zone == key[1])]
    return places[-1] + 1 if places else 0


def _judged(turn: Turn, step: CourseStep, zone: str, result: Result) -> bool:
    """What comes of a step that was made: done, made again, or asked about."""
    judgement = result.judgement
    if judgement.verdict != "fail":
        turn.emit(f.CourseStepEnded(check=step.check, zone=zone, how="done"))
        return False
    outcome = turn.check(step.check).outcomes.get(judgement.outcome)
    if outcome is not None and outcome.redo and turn.state.job.repeats.count((step.check, zone)) < MOST_REPEATS:
        if not step.if_fails:
            _tell_redo(turn, result)
        turn.emit(f.CourseStepRepeated(check=step.check, zone=zone))
        return False
    turn.emit(f.AsideAsked(topic=f"open-point:{step.check}/{zone}"))
    return False


def point_answered(turn: Turn, topic: str, choice: str) -> None:
    """What is to be done with a step that failed."""
    check, _, zone = topic.partition(":")[2].partition("/")
    if choice == "mended":
        turn.emit(f.CourseStepRepeated(check=check, zone=zone))
        turn.tell("made-again", "result")
    elif choice == "search":
        turn.emit(f.SearchOpened(check=check, zone=zone))
        symptom = _symptom(turn, check)
        if symptom and symptom not in turn.state.symptoms:
            turn.emit(f.IndicationNoted(symptom=symptom))
        turn.tell("search-inside", "result")
    else:
        _leave_open(turn, check, zone)


def _symptom(turn: Turn, check: str) -> str | None:
    course = course_of(turn)
    return next((step.symptom for step in course.steps if step.check == check), None) if course else None


def _leave_open(turn: Turn, check: str, zone: str) -> None:
    result = _newest(turn.state, (check, zone))
    says = catalogue().in_words(result.judgement.says, turn.library) if result else turn.check(check).title
    turn.emit(f.CourseStepEnded(check=check, zone=zone, how="open", says=says.split(". ")[0].rstrip(".")))
    turn.tell("point-open", "result", count=len(turn.state.job.points))


def come_back(turn: Turn) -> None:
    """The search inside the course is over: a mended step is made again, another stays an open point."""
    inside = turn.state.job.inside
    assert inside is not None
    mended = turn.state.proof == "proved"
    turn.emit(f.SearchClosed(mended=mended))
    proofs = [r for r in turn.state.results if r.role == "proof" and r.judgement.verdict == "pass"]
    shown = any(proof.check == inside[0] for proof in proofs)
    if mended and shown:  # the proof of the repair was the step itself
        turn.emit(f.CourseStepEnded(check=inside[0], zone=inside[1], how="done"))
    elif mended:
        turn.emit(f.CourseStepRepeated(check=inside[0], zone=inside[1]))
    else:
        _leave_open(turn, *inside)
    turn.tell("course-goes-on", "result")


def tell_what_is_left(turn: Turn) -> bool:
    """The next steps of a course; false where the visit follows none."""
    course = turn.library.courses.get(turn.state.job.course)
    if course is None or turn.state.job.inside is not None:
        return False
    run = turn.state.run
    left = [step.check for step, zone in _steps(turn, course) if not turn.state.job.has_ended(step.check, zone)]
    left = [check for check in left if run is None or check != run.check]
    if left:
        turn.tell("steps-left", "remark", check=known("checks", left[0], "title"), count=len(left) - 1)
    return bool(left)


def outcome_of(turn: Turn) -> str:
    """How a course ends: "commissioned", "maintained, two points open"."""
    course = turn.library.courses[turn.state.job.course]
    left = [key for key in ((s.check, z) for s, z in _steps(turn, course)) if not turn.state.job.has_ended(*key)]
    skipped = sum(end.how == "skipped" for end in turn.state.job.ended)
    points, undone = len(turn.state.job.points), len(left) + skipped
    parts = [course.ends if not points and not left else course.ends_open]
    told = [message("outcome-points", count=points)] if points else []
    told += [message("outcome-not-done", count=undone)] if undone else []
    return ", ".join([*parts, *(catalogue().phrase(each, turn.library) for each in told)])
