"""What is remembered of a unit: told in a breath at arrival, whole on request; trends; repairs that come again."""

from __future__ import annotations

from typing import cast

from assistant.dialogue import facts as f
from assistant.dialogue import hazards, putting_back
from assistant.dialogue.questions import ask_again
from assistant.dialogue.turn import Turn
from assistant.job.memory import PastVisit, spoken_day
from assistant.language.meaning import Command
from assistant.library.kinds import Circuit
from assistant.messages.message import Message, known, message

#: So many visits are told on request, the newest first, and so many readings of a trend.
_MOST_VISITS, _MOST_READINGS = 4, 4


def tell_at_arrival(turn: Turn) -> None:
    """ "Last time: ..." in one breath, what stayed open, and a repair that was made more than once."""
    unit = turn.state.job.unit
    if unit is None or not unit.past:
        return
    _as_it_was_left(turn, unit.past[0])
    _tell(turn, unit.past[0], "last-time")
    for point in unit.past[0].points[:2]:
        turn.tell("stayed-open", "remark", point=point)
    for suspect, count in repeated(unit.past).items():
        if suspect in turn.library.suspects:
            turn.tell("mended-before", "remark", suspect=known("suspects", suspect, "name"), count=count)
    if any(turn.library.suspects[name].roots for name in turn.state.job.mended_lately if name in turn.library.suspects):
        turn.tell("roots-weigh", "remark")


def _as_it_was_left(turn: Turn, last: PastVisit) -> None:
    """What bars the unit bars it still, what is off is off, the circuit holds what it held: told before all else."""
    for left in last.hazards:
        hazard = _as_met(turn, left.hazard)
        if hazard not in turn.library.hazards:
            continue
        again = hazard == left.hazard
        turn.tell("left-barred-then", "caution", hazard=known("hazards", left.hazard, "name"))
        hazards.raise_hazard(turn, hazard, left.by if again else "", dict(left.cleared_by) if again else None)
    if last.off:
        for item in last.off:
            turn.emit(f.TakenOff(things=(item.thing,), places=item.places, by=last.visit))
        for things in putting_back.names(turn.state, turn.library):
            turn.tell("left-off-then", "caution", things=things)
    if last.circuit != ("charged",):
        for number, held in enumerate(last.circuit):
            turn.emit(f.CircuitChanged(to=cast(Circuit, held), because=last.visit, certain=number == 0))
        turn.tell("left-circuit-then", "caution", circuit=" or ".join(last.circuit).replace("-", " "))


def _as_met(turn: Turn, left: str) -> str:
    """What ended a visit is met by the next one as what may have caused it."""
    hazard = turn.library.hazards.get(left)
    return left if hazard is None or hazard.left_as is None else hazard.left_as


def last_time(turn: Turn, command: Command) -> bool:
    """All that is remembered of the unit."""
    unit = turn.state.job.unit
    visits = unit.past[:_MOST_VISITS] if unit else ()
    for place, visit in enumerate(visits):
        _tell(turn, visit, "last-time" if place == 0 else "before-that")
        for point in visit.points[:2]:
            turn.tell("stayed-open", "remark", point=point)
    if not visits:
        turn.tell("no-past", "remark")
    ask_again(turn)
    return False


def _tell(turn: Turn, visit: PastVisit, how: str) -> None:
    turn.tell(message(how, day=spoken_day(visit.on), what=_came_to(turn, visit)), "remark")


def _came_to(turn: Turn, visit: PastVisit) -> Message | str:
    mended = next((name for name in reversed(visit.mended) if name in turn.library.suspects), None)
    if mended:
        return message("past-mended", suspect=known("suspects", mended, "name"), outcome=visit.outcome)
    if visit.fault:
        return message("past-fault", fault=visit.fault, outcome=visit.outcome)
    return visit.outcome


def repeated(past: tuple[PastVisit, ...]) -> dict[str, int]:
    """Suspects that were mended at more than one visit, with how often."""
    counts: dict[str, int] = {}
    for visit in past:
        for suspect in set(visit.mended):
            counts[suspect] = counts.get(suspect, 0) + 1
    return {suspect: count for suspect, count in counts.items() if count > 1}


def point_out_repeat(turn: Turn, suspect: str) -> None:
    """A fault that was mended here before has a cause of its own."""
    day = turn.state.job.mended_lately.get(suspect)
    if day:
        turn.tell("mended-lately", "result", day=spoken_day(day))


def trend(turn: Turn, check: str, question: str, place: str, zone: str) -> Message | None:
    """What the same reading was before, oldest first; None when there is none."""
    unit = turn.state.job.unit
    key = f"{check}.{question}"
    before = [
        (visit.on, item.said)
        for visit in (unit.past if unit else ())
        for item in visit.measured
        if (item.key, item.place, item.zone) == (key, place, zone)
    ][:_MOST_READINGS]
    if not before:
        return None
    return message("trend", list=", ".join(f"{spoken_day(on)} {said}" for on, said in reversed(before)))
