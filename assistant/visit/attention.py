"""Is the technician talking to the assistant? A small state machine; sound and devices stay outside.

Three ways to work, as the technician likes it: always listening; a push button (any key, or one of a headset or
pedal that types a key); or a wake phrase for places where people talk. In each, a hold keeps talk with the customer
from being taken for answers: whether the visit is held, the dialogue says, and this is told. "Stop" and "wait" are
heard whenever it is not held, "the power is back" always: they can do no harm, and missing them can.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from assistant.dialogue.commands import ALARMS, HOLDS, RELEASES

#: How long the assistant listens after it was called or pressed, and after each reply of the talk that follows.
OPEN_S = 15.0
#: Who presses has often begun to talk; an utterance also begins with a little sound from before its first word.
_BEFORE_S = 1.0


class Mode(StrEnum):
    """When speech is for the assistant."""

    ALWAYS = "always"
    BUTTON = "button"
    PHRASE = "phrase"


@dataclass(frozen=True)
class Attention:
    """What the assistant attends to. Called or pressed, it listens from ``from_s`` to ``until_s`` (stream time)."""

    mode: Mode = Mode.ALWAYS
    from_s: float = 0.0
    until_s: float = 0.0

    def pressed(self, now_s: float) -> Attention:
        """The button: opens the ears, or closes them if they were open."""
        return self._closed() if now_s < self.until_s else self.called(now_s)

    def called(self, now_s: float) -> Attention:
        """The wake phrase was heard, or a hold was ended: it listens from now on, whatever the mode."""
        return replace(self, from_s=now_s, until_s=now_s + OPEN_S)

    def answered(self, now_s: float, asked_back: bool = False) -> Attention:
        """An utterance was taken. ``asked_back``: it has to be said again or confirmed.

        With a phrase the talk goes on without calling again; each press is good for one answer that is settled.
        """
        if self.mode is Mode.BUTTON and not asked_back:
            return self._closed()
        return replace(self, until_s=now_s + OPEN_S)

    def talking(self, now_s: float) -> Attention:
        """The assistant is talking: its reply does not use up the time to answer, and does not open the ears either."""
        return replace(self, until_s=now_s + OPEN_S) if now_s < self.until_s else self

    def takes(self, start_s: float, command: str = "", held: bool = False) -> bool:
        """Whether an utterance that began at ``start_s`` is for the assistant; ``command`` is what it means, if any."""
        if held:
            return command in RELEASES | ALARMS
        if command in HOLDS | ALARMS:
            return True
        return self.mode is Mode.ALWAYS or self.from_s - _BEFORE_S <= start_s < self.until_s

    def _closed(self) -> Attention:
        return replace(self, until_s=0.0)
