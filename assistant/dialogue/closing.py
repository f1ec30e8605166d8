"""How the unit is left, said and recorded first of all when a visit ends."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue import putting_back
from assistant.dialogue.courses import outcome_of
from assistant.dialogue.hazards import bars
from assistant.dialogue.proving import ground
from assistant.dialogue.running import blocked
from assistant.dialogue.safety import circuit_words
from assistant.dialogue.state import VisitState
from assistant.dialogue.turn import Turn
from assistant.dialogue.way import way_to_check
from assistant.library.loader import Library
from assistant.messages.message import Message, known, message


def left_as(state: VisitState, library: Library) -> tuple[Message, ...]:
    """What the next person must know before anything else: barred, locked and not proved dead, apart, circuit open."""
    out: list[Message] = [message("left-barred", hazard=_hazard(library, item.hazard)) for item in state.hazards]
    if state.power.locked:
        out.append(message("left-proved-dead" if state.power.dead else "left-not-proved"))
    elif state.hazards:
        out.append(message("left-not-locked"))
    elif state.power.left:
        out.append(message("left-lock-may-hang"))
    out += [message("left-off", things=things) for things in putting_back.names(state, library)]
    if state.circuit != ("charged",):
        out.append(message("left-circuit", circuit=circuit_words(state.circuit)))
    return tuple(out)


def _hazard(library: Library, hazard: str) -> Message | str:
    return message("knowledge", text=known("hazards", hazard, "name")) if hazard in library.hazards else hazard


def lead_closing(turn: Turn) -> bool:
    """Before the last question: what bars power is locked off, what is off goes back on, and a unit that was locked for
    work that is done is switched on again; true when one begins.

    At a unit that is taken away nothing goes back on. What was skipped or cannot be done is left so, and said so.
    """
    state, here = turn.state, ground(turn)
    wanted: list[str] = []
    if not state.power.locked and any("power" in bars(item, turn.library) for item in state.hazards):
        wanted.append(turn.library.doing("lock-out"))
    course = turn.library.courses.get(state.job.course)
    if state.off and not (course is not None and course.removes):
        wanted.append(turn.library.doing("put-all-back"))
    if _power_is_due(turn):
        wanted.append(turn.library.doing("restore"))
    for name in wanted:
        way = way_to_check(here, turn.check(name))
        if way.bar is None and not blocked(turn, way) and name not in state.skipped:
            first = (*way.steps, name)[0]
            turn.emit(f.CheckStarted(check=first, role="changeover", reason=message("reason-closing")))
            return True
    return False


def _power_is_due(turn: Turn) -> bool:
    """Whether the unit is still locked out and nothing is left to be done that it was locked for.

    A repair must be proved, and new pipes all tested. What ran before a round of upkeep or a search for leaks runs
    after it, unless something was found that bars it.
    """
    state = turn.state
    if not (state.power.locked or state.power.left) or state.hazards or state.circuit != ("charged",):
        return False
    course = turn.library.courses.get(state.job.course)
    if course is None:
        return state.proof == "proved"
    if course.removes:
        return False
    return course.circuit is None or outcome_of(turn) == course.ends


def close(turn: Turn, read_back: Message | None = None) -> None:
    """Close the visit; what it came to follows from its proof and repairs, how it is left comes first of all.

    ``read_back``: the last answer, said back after it.
    """
    state = turn.state
    left = left_as(state, turn.library)
    for each in left:
        turn.tell(each, "caution")
    if read_back is not None:
        turn.tell(read_back, "result")
    if state.job.course in turn.library.courses:
        outcome = outcome_of(turn)
        for point in state.job.points:
            turn.tell("points-left", "remark", point=point.says)
    elif state.proof == "proved" and not state.hazards:
        outcome = "mended"
    elif state.proof in ("proved", "not proved"):
        outcome = "repaired, not proved"
    else:
        outcome = "not mended" if state.results else "nothing found"
    turn.emit(f.VisitClosed(outcome=outcome, left=left))
    if state.job.course in turn.library.courses:
        turn.tell("course-closed", "result", outcome=outcome)
    else:
        turn.tell("visit-closed", "result", outcome=outcome.replace(",", "").replace(" ", "-"))
