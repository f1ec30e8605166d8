"""What was taken off goes back on: before the power returns, and before the visit ends."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.state import Run, VisitState
from assistant.dialogue.turn import Turn
from assistant.library.loader import Library
from assistant.messages.message import Value, known, listed


def to_order(turn: Turn, run: Run) -> tuple[str, ...]:
    """The things that a putting back asks for: all that is off but what the next check needs off, last off first."""
    towards = turn.library.checks.get(run.towards)
    stays = towards.with_off if towards else ()
    return tuple(item.thing for item in reversed(turn.state.off) if item.thing not in stays)


def order_back(turn: Turn, run: Run) -> None:
    """Say of each thing how it goes back."""
    things = to_order(turn, run)
    turn.emit(f.PutBackOrdered(things=things))
    for thing in things:
        if thing in turn.library.things:
            turn.tell(known("things", thing, "say"), "instruction")
        else:
            turn.tell("put-back-thing", "instruction", thing=thing.replace("-", " "))


def names(state: VisitState, library: Library) -> Value:
    """What is off, as it is said in one breath."""
    things = library.things
    return listed([known("things", item.thing, "name") if item.thing in things else item.thing for item in state.off])
