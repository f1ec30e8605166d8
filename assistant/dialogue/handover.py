"""A colleague takes over: the record shows who did what, and the next hands hear how the unit stands."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.breaks import begin_anew
from assistant.dialogue.energy import PLACES
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Command
from assistant.messages.message import Message, message

#: So many places are told in one breath.
_MOST_PLACES = 4


def ask_who(turn: Turn, command: Command) -> bool:
    """ "I take over": who?"""
    if turn.state.acknowledging:
        turn.tell("understood-first", "question")
        return False
    turn.emit(f.AsideAsked(topic="take-over"))
    return True


def take_over(turn: Turn, name: str) -> bool:
    """From here on what is done is done by ``name``. What was measured by another is measured again before hands go in:
    a lock is one's own (29 CFR 1910.147(f)(3)(ii)(D): each employee affixes a personal lock). An order to
    lock and a caution that another heard are said to ``name`` as well, so a step under way is led to anew.

    True when the visit is to be led on from there.
    """
    before = turn.state.technician
    if name == before:
        return False
    turn.emit(f.TakenOver(technician=name, before=before))
    turn.tell("taken-over", "result", name=name)
    state = turn.state
    if state.power.locked:
        tell_energy(turn)
        turn.tell("own-lock", "caution")
    if not (state.power.locked or state.run or state.cautions or state.acknowledging):
        return False
    return begin_anew(turn, message("reason-taken-over", name=name))


def tell_energy(turn: Turn) -> None:
    """The power at each place that was shown anything of."""
    for each in energy_by_place(turn):
        turn.tell(each, "caution")


def energy_by_place(turn: Turn) -> tuple[Message, ...]:
    """How the power of a locked unit stands, place by place."""
    power = turn.state.power
    dead = [at for at in PLACES if any(place.partition("/")[0] == at for place in power.dead)]
    told = [message("place-dead", place=at) for at in dead[:_MOST_PLACES]]
    return (message("locked-out-now"), *told)
