"""Is the technician talking to the assistant? A small state machine; time and sound stay outside.

Three ways to work, as the technician likes it: always listening; a push button (any key, or one of a headset or
pedal that types a key); or a wake phrase for places where people talk. In each, a hold keeps talk with the customer
from being taken for answers. "Stop" and "wait" are heard always: they can do no harm, and missing them can.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

#: How long the assistant listens after it was called, and after each turn of the talk that follows.
OPEN_S = 15.0
#: Heard in every state.
ALWAYS = frozenset({"stop", "wait"})
#: What ends a hold by voice.
RELEASES = frozenset({"resume", "ready", "done"})


class Mode(StrEnum):
    """When speech is for the assistant."""

    ALWAYS = "always"
    BUTTON = "button"
    PHRASE = "phrase"


@dataclass(frozen=True)
class Attention:
    """What the assistant attends to. ``open_until_s``: called or pressed, it listens until then (stream time)."""

    mode: Mode = Mode.ALWAYS
    held: bool = False
    open_until_s: float = 0.0

    def pressed(self, now_s: float) -> Attention:
        """The button: releases a hold; otherwise opens the ears, or closes them if they were open.

        Where the ears are always open, it holds.
        """
        if self.held:
            return self._opened(replace(self, held=False), now_s)
        if self.mode is Mode.ALWAYS:
            return replace(self, held=True)
        if now_s < self.open_until_s:
            return replace(self, open_until_s=now_s)
        return self._opened(self, now_s)

    def called(self, now_s: float) -> Attention:
        """The wake phrase was heard: it opens the ears and releases a hold, whatever the mode."""
        return self._opened(replace(self, held=False), now_s)

    def turned(self, now_s: float) -> Attention:
        """A turn is over at ``now_s``: an answer was taken, or a reply said to its end.

        With a phrase the talk goes on without calling again; each press is good for one answer.
        """
        if self.mode is Mode.PHRASE and self.open_until_s > 0:
            return self._opened(self, now_s)
        return self

    def answered(self, now_s: float) -> Attention:
        """An utterance was taken for an answer."""
        if self.mode is Mode.BUTTON:
            return replace(self, open_until_s=0.0)
        return self.turned(now_s)

    def commanded(self, command: str) -> Attention:
        """A command was understood: "wait" and "stop" hold, "carry on" releases."""
        if command in ALWAYS:
            return replace(self, held=True)
        return replace(self, held=False) if command in RELEASES else self

    def takes(self, start_s: float, command: str = "") -> bool:
        """Whether an utterance that began at ``start_s`` is for the assistant; ``command`` is what it means, if any."""
        if command in ALWAYS:
            return True
        if self.held:
            return command in RELEASES
        return self.mode is Mode.ALWAYS or start_s < self.open_until_s

    def _opened(self, attention: Attention, now_s: float) -> Attention:
        return replace(attention, open_until_s=now_s + OPEN_S)
