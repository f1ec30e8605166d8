"""What the visit needs of a voice, whether it speaks into the air or into a file."""

from __future__ import annotations

from typing import Protocol


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
    """Says replies one after the other. ``pace`` is 1.0 normally, 0.8 when asked to go slower."""

    pace: float

    def say(self, text: str) -> Speech:
        """Begin to say ``text``, as written, after what is still being said; returns at once."""

    def close(self) -> None:
        """Finish with the device or file; nothing can be said afterwards."""
