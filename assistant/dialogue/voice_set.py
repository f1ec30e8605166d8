"""What was said, once more; and how fast and how loud the voice speaks, set by words."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.questions import ask_again
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Command
from assistant.messages.message import Message, Why

#: How fast and how loud the voice may be set by words, as shares of the usual, one step a request. Louder than the last
#: its peaks would be bent so much that words suffer (``speaking/synthesis.py``).
PACES = (0.65, 0.8, 1.0, 1.2)


VOLUMES = (0.4, 0.65, 1.0, 1.6)


def set_voice(turn: Turn, command: Command) -> bool:
    """One step slower, faster, louder or quieter, and what was not followed is said again."""
    state, way = turn.state, command.name
    pace = _next(PACES, state.pace, up=way == "faster") if way in ("slower", "faster") else state.pace
    volume = _next(VOLUMES, state.volume, up=way == "louder") if way in ("louder", "quieter") else state.volume
    if (pace, volume) == (state.pace, state.volume):
        turn.tell("voice-at-its-end", "remark", way=way)
        ask_again(turn)
        return False
    turn.emit(f.VoiceSet(pace=pace, volume=volume))
    if way in ("slower", "louder"):
        return repeat(turn, command)
    turn.tell("voice-faster" if way == "faster" else "voice-quieter", "remark")
    ask_again(turn)
    return False


def _next(steps: tuple[float, ...], now: float, up: bool) -> float:
    """The step above or below ``now``, or ``now`` itself at the end of them."""
    if up:
        return min((step for step in steps if step > now), default=now)
    return max((step for step in steps if step < now), default=now)


def _of_the_voice(said: Why) -> bool:
    """ "Faster" is over with it, and would be told slowly after "slower"."""
    return isinstance(said, Message) and said.id in ("voice-faster", "voice-quieter", "voice-at-its-end")


def repeat(turn: Turn, command: Command) -> bool:
    # What was said last was an either-or that is settled now: then the question beneath it.
    settled = any(isinstance(fact, f.ConfirmationSettled) for fact in turn.facts)
    before = () if settled else tuple(each for each in turn.previous_words if not _of_the_voice(each))
    for each in before:
        turn.tell_why(each, "question" if each == before[-1] else "remark")
    if not before:
        ask_again(turn)
    return False
