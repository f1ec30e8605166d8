"""Where this very unit's profile says that probes go: terminals, plugs and what is read there."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.dialogue import phrases
from assistant.dialogue.turn import Turn
from assistant.library.models import Check, Question
from assistant.messages.message import Message, message


def tell_pins(turn: Turn, check: Check) -> None:
    """Behind the instruction of a check: which terminals or plug it is on this unit, where its profile names them."""
    for told in _pins(turn, check):
        turn.tell(told, "instruction")


def _pins(turn: Turn, check: Check) -> Iterator[Message]:
    profile = turn.profile
    if profile is None or profile.general or check.pins is None:
        return
    if check.pins == "signal":
        if (line := profile.signal) is not None:
            first, last = line.pair
            if check.energy == "live":
                low, high = (f"{volts:g}" for volts in (line.low_v, line.high_v))
                yield message("pins-signal-live", first=first, last=last, low=low, high=high)
            else:
                yield message("pins-signal", first=first, last=last)
    elif (sensor := profile.sensors.get(check.pins)) is not None and sensor.connector:
        yield message("pins-plug", plug=sensor.connector)


def tell_signal(turn: Turn, check: Check, question: Question) -> bool:
    """What a good signal shows, where that is asked: it moves, between the volts that the profile has."""
    if check.pins != "signal" or check.judge.by != "pulsing":
        return False
    line = turn.profile.signal if turn.profile is not None and not turn.profile.general else None
    if line is not None:
        turn.tell("expect-signal", "remark", low=f"{line.low_v:g}", high=f"{line.high_v:g}")
    elif any(choice.id == "jumping" for choice in question.choices):
        jumping = phrases.labels(check.id, question).choice("jumping")
        turn.tell("expect-answer", "remark", answer=jumping)
    else:
        return False
    return True
