"""What the visit needs of a voice, whether it speaks into the air or into a file."""

from __future__ import annotations

from typing import Protocol

from assistant.speaking.clearly import Noise
from assistant.speaking.signs import Sign


class Speech(Protocol):
    """One reply being spoken."""

    text: str

    @property
    def done(self) -> bool:
        """True when it has been said to its end or stopped."""

    def stop(self) -> None:
        """Be silent at once; what was not said yet is never said."""

    def wait(self, timeout_s: float | None = None) -> bool:
        """Wait until it is done; True when it was said to its end."""


class Voice(Protocol):
    """Says replies one after the other. ``pace`` and ``volume`` are 1.0 normally, other shares when asked for.

    ``beside`` is the noise that it is heard beside (powers from 0 Hz to ``clearly.NOISE_TO_HZ``), None in the quiet.
    """

    pace: float
    volume: float
    beside: Noise | None

    def say(self, text: str) -> Speech:
        """Begin to say ``text``, as written, after what is still being said; returns at once."""

    def give_sign(self, sign: Sign) -> None:
        """Let a sign sound; it is no reply."""

    def close(self) -> None:
        """Finish with the device or file; nothing can be said afterwards."""


class VoiceToo:
    """Says everything through ``first`` and ``second``; goes on when the second has said it to its end."""

    def __init__(self, first: Voice, second: Voice) -> None:
        self._first, self._second = first, second
        self.pace, self.volume, self.beside = first.pace, first.volume, first.beside

    def say(self, text: str) -> Speech:
        """The speech of ``first``; that of ``second`` is over by then."""
        for each in (self._first, self._second):
            each.pace, each.volume, each.beside = self.pace, self.volume, self.beside
        speech = self._first.say(text)
        self._second.say(text).wait()
        return speech

    def give_sign(self, sign: Sign) -> None:
        """By both."""
        self._first.give_sign(sign)
        self._second.give_sign(sign)

    def close(self) -> None:
        """Finish with both."""
        self._first.close()
        self._second.close()
