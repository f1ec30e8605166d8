"""What was taken off goes back on: before the power returns, and before the visit ends."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.state import Run, VisitState
from assistant.dialogue.turn import Turn
from assistant.library.loader import Library
from assistant.messages.message import Ref, Value, known, listed

#: So many words of names, with what joins them, make a sentence that is easily followed. Common practice, no source.
MOST_WORDS = 18


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


def names(state: VisitState, library: Library) -> list[Value]:
    """What is off, in lists that can each be said in one breath."""
    breaths: list[list[str]] = [[]]
    words = 0
    for item in state.off:
        more = len(library.things[item.thing].name.split()) if item.thing in library.things else 1
        if breaths[-1] and words + more > MOST_WORDS:
            breaths.append([])
            words = 0
        breaths[-1].append(item.thing)
        words += more
    return [listed([_name(thing, library) for thing in breath]) for breath in breaths if breath]


def _name(thing: str, library: Library) -> Ref | str:
    return known("things", thing, "name") if thing in library.things else thing
