"""Cautions: which are due for a step, how much of each is said, and when one counts as heard.

Whole at first; its order alone after a changeover or at another place; about three words within the same work at the
same place. A caution that must be acknowledged counts by its own acknowledgement and by nothing else; several that are
due together are said together and acknowledged once.
"""

from __future__ import annotations

from typing import Literal

from assistant.dialogue import facts as f
from assistant.dialogue.energy import place_key
from assistant.dialogue.proving import ground
from assistant.dialogue.state import Stage, VisitState
from assistant.dialogue.turn import Turn
from assistant.dialogue.way import way_to_check, way_to_repair
from assistant.library.demand import cautions_of
from assistant.library.models import Check, Precaution, Repair
from assistant.messages.message import known, listed

Length = Literal["say", "again", "short"]
#: So many words in one breath of cautions, then "understood" before the rest. Common practice, no source.
MOST_WORDS = 45
#: So many reminders in one breath stay under eight seconds.
MOST_AT_ONCE = 6


def caution(turn: Turn, step: Check | Repair) -> bool:
    """Speak the cautions of a step that are due; true when they wait to be acknowledged."""
    return speak(turn, cautions_of(step, turn.library), step_place(turn, step))


def step_place(turn: Turn, step: Check | Repair) -> str:
    """The place that a step's cautions are about: where a proof is made; a step anywhere is where the last one was."""
    if isinstance(step, Check) and step.proves is not None:
        return place_key(step.proves, turn.state.zone)
    if step.where == "anywhere" and turn.state.cautions:
        return turn.state.cautions[-1].place
    return place_key(step.where, turn.state.zone)


def speak(turn: Turn, wanted: tuple[str, ...], place: str) -> bool:
    """Speak those of the cautions ``wanted`` that are due at ``place``; true when they wait to be acknowledged."""
    if turn.state.acknowledging:
        return True
    due = [(turn.library.precautions[name], length) for name, length in _due(turn, wanted, place)]
    reminders = [precaution for precaution, length in due if length == "short"]
    words = 0
    for precaution, length in due:
        if length == "short":
            continue
        text = known("precautions", precaution.id, length if getattr(precaution, length) else "say")
        more = len((getattr(precaution, length) or precaution.say).split())
        if words and words + more > MOST_WORDS and turn.state.acknowledging:
            break
        words += more
        turn.tell(text, "caution")
        waits = precaution.acknowledge
        turn.emit(f.PrecautionGiven(precaution=precaution.id, waits=waits, place=place, length=length))
    if turn.state.acknowledging:
        turn.tell("say-understood", "question")
        return True
    _remind(turn, reminders, place)
    return False


def _due(turn: Turn, wanted: tuple[str, ...], place: str) -> list[tuple[str, Length]]:
    out: list[tuple[str, Length]] = []
    for name in wanted:
        precaution = turn.library.precautions[name]
        length = due(turn.state, precaution, place)
        if length is not None and concerns(turn, precaution):
            out.append((name, length))
    return out


def due(state: VisitState, precaution: Precaution, place: str) -> Length | None:
    """How much of a caution is to be said now; None when it has just been said, or need not be said again."""
    given = [item for item in state.cautions if item.precaution == precaution.id]
    if not given:
        return "say"
    if precaution.repeat == "visit" or precaution.id in _cautioned(state):
        return None
    here = any((item.changeovers, item.place) == (state.changeovers, place) for item in given)
    if precaution.repeat == "always" or not here:
        return "again"
    return "short" if precaution.short else None


def _cautioned(state: VisitState) -> tuple[str, ...]:
    """What was said within the step under way."""
    return state.run.cautioned if state.run is not None else state.repair_cautioned


def _remind(turn: Turn, reminders: list[Precaution], place: str) -> None:
    """What was said before in this work, in a few words each and a handful to a breath."""
    if not reminders:
        return
    for first in range(0, len(reminders), MOST_AT_ONCE):
        some = reminders[first : first + MOST_AT_ONCE]
        turn.tell("remember", "caution", list=listed([known("precautions", item.id, "short") for item in some]))
    for item in reminders:
        turn.emit(f.PrecautionGiven(precaution=item.id, place=place, length="short"))


def concerns(turn: Turn, precaution: Precaution) -> bool:
    """Whether the caution is about this unit as it stands. While the unit is not known, every one of its kind is."""
    if precaution.open not in (None, _stands_open(turn)):
        return False
    if turn.profile is None or (turn.profile.general and turn.state.note("refrigerant") is None):
        return True
    return turn.has(precaution.needs)


def _stands_open(turn: Turn) -> bool:
    things = turn.library.things
    return any(item.thing in things and things[item.thing].cover for item in turn.state.off)


def say_again(turn: Turn) -> None:
    """Speak again the cautions that wait, or those given for the step under way: the technician was elsewhere."""
    waiting = turn.state.acknowledging
    if waiting:
        for item in waiting:
            turn.tell(known("precautions", item.precaution, "say"), "caution")
        return
    step = step_under_way(turn)
    if step is None or not _may_go_on(turn, step):
        return
    for name in cautions_of(step, turn.library):
        precaution = turn.library.precautions[name]
        given = any(item.precaution == name for item in turn.state.cautions)
        if given and concerns(turn, precaution):
            turn.tell(known("precautions", name, "again" if precaution.again else "say"), "caution")


def say_anew(turn: Turn) -> None:
    """Speak the cautions of the step under way that wait no more and were never acknowledged, before it goes on."""
    step = step_under_way(turn)
    if step is not None and _may_go_on(turn, step):
        caution(turn, step)


def _may_go_on(turn: Turn, step: Check | Repair) -> bool:
    """Whether the way to the step is still open: the words before a barred one ("switch on") must not be said."""
    here = ground(turn)
    return (way_to_check(here, step) if isinstance(step, Check) else way_to_repair(here, step)).open


def step_under_way(turn: Turn) -> Check | Repair | None:
    """The check or the repair that the technician is at."""
    state = turn.state
    if state.run is not None:
        return turn.check(state.run.check)
    if state.stage is Stage.REPAIR and state.suspect:
        return turn.library.suspects[state.suspect].repair
    return None
