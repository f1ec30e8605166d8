"""The sound of the place where a recorded visit goes on: one room without a break, silence and clips in it.

A recorder would hear the room between two answers too. The ears must, or endpointing would be given edges that no
microphone gives.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import soundfile

from assistant.hearing.protocol import SAMPLE_RATE, Audio
from assistant.visit.recording import RecordingError
from assistant.visit.responder import Clip

#: Length of the fade from room to clip and back; also of the seam where the room's recording starts again.
_FADE = SAMPLE_RATE // 20
#: Silence is given in pieces of at most this length, so that half an hour of it needs no memory.
_PIECE = SAMPLE_RATE


def read_clip(path: Path) -> Audio:
    """A clip's samples, float32. Raises RecordingError when it is no mono sound file at SAMPLE_RATE."""
    try:
        samples, rate = soundfile.read(path, dtype="float32", always_2d=True)
    except (soundfile.LibsndfileError, OSError):
        raise RecordingError(f"The clip {path} cannot be read as sound; record or make it again.") from None
    if rate != SAMPLE_RATE or samples.shape[1] != 1:
        raise RecordingError(
            f"The clip {path} has {samples.shape[1]} channels at {rate} Hz; clips are mono at {SAMPLE_RATE} Hz."
        )
    return np.ascontiguousarray(samples[:, 0])


class Room:
    """An endless room made from some seconds of it. Positions go on from call to call."""

    def __init__(self, tone: Audio) -> None:
        """``tone``: at least half a second of the place without words."""
        if len(tone) < SAMPLE_RATE // 2:
            raise RecordingError("The room's recording must be at least half a second long.")
        rise, fall = _fades(_FADE)
        loop = tone[: len(tone) - _FADE].copy()
        loop[:_FADE] = loop[:_FADE] * rise + tone[len(loop) :] * fall
        self._loop = loop
        self._at = 0

    @classmethod
    def of(cls, path: Path) -> Room:
        """The room recorded in ``path``."""
        return cls(read_clip(path))

    def silence(self, seconds: float) -> Iterator[Audio]:
        """The room alone for ``seconds``, in pieces."""
        left = round(seconds * SAMPLE_RATE)
        while left > 0:
            piece = self._next(min(left, _PIECE))
            left -= len(piece)
            yield piece

    def play(self, clip: Clip) -> Iterator[Audio]:
        """The clip's wait, then the clip, faded into the room at both ends; in pieces."""
        yield from self.silence(clip.wait_s)
        if clip.path is not None:
            yield self.blend(read_clip(clip.path))

    def blend(self, recorded: Audio) -> Audio:
        """``recorded`` (with the room in it) faded over from the room and back; same length."""
        fade = min(_FADE, len(recorded) // 2)
        around = self._next(len(recorded))
        if fade == 0:
            return around
        rise, fall = _fades(fade)
        out = recorded.copy()
        out[:fade] = recorded[:fade] * rise + around[:fade] * fall
        out[-fade:] = recorded[-fade:] * fall + around[-fade:] * rise
        return out

    def _next(self, count: int) -> Audio:
        taken = np.take(self._loop, np.arange(self._at, self._at + count), mode="wrap")
        self._at = (self._at + count) % len(self._loop)
        return taken


def _fades(count: int) -> tuple[Audio, Audio]:
    """Rise and fall of equal power: two noises that are not the same keep their level."""
    angle = np.linspace(0, np.pi / 2, count, endpoint=False)
    return np.sin(angle).astype(np.float32), np.cos(angle).astype(np.float32)
