"""The sound of the place where a recorded visit goes on: one room without a break, silence and clips in it.

A recorder would hear the room between two answers too. The ears must, or endpointing would be given edges that no
microphone gives.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import chain
from pathlib import Path

import numpy as np

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.files import load
from assistant.hearing.sound.frames import Frame, Framer
from assistant.visit.recording import RecordingError
from assistant.visit.responder import Clip

#: Length of the fade from room to clip and back; also of the seam where the room's recording starts again.
_FADE = SAMPLE_RATE // 20
#: Silence is given in pieces of at most this length, so that half an hour of it needs no memory.
_PIECE = SAMPLE_RATE
#: Of a long wait the last seconds are heard whole, as before any words, and before them one second in ten: its
#: minutes pass for the clock, and a replay of forty minutes of work takes one.
_WHOLE_S, _EACH_S, _OF_S = 6.0, 1.0, 10.0


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
        """The room recorded in ``path``. SoundFileError when it cannot be heard."""
        return cls(load(path))

    def silence(self, seconds: float) -> Iterator[Audio]:
        """The room alone for ``seconds``, in pieces."""
        left = round(seconds * SAMPLE_RATE)
        while left > 0:
            piece = self._next(min(left, _PIECE))
            left -= len(piece)
            yield piece

    def play(self, clip: Clip) -> Iterator[Audio]:
        """The clip without its wait, faded into the room at both ends. SoundFileError as above."""
        if clip.path is not None:
            yield self.blend(load(clip.path))

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


class RoomFrames:
    """One endless-sounding stream of frames for a recorded visit; a ``FrameSource``.

    ``next_clip`` is asked whenever the clip before is over and ``gap_s`` of room has followed it (so that the
    endpointing has closed its utterance); ``None`` ends the stream.
    """

    def __init__(self, room: Room, next_clip: Callable[[], Clip | None], gap_s: float = 1.0) -> None:
        self._room = room
        self._next_clip = next_clip
        self._gap_s = gap_s

    def __iter__(self) -> Iterator[Frame]:
        framer = Framer()
        while (clip := self._next_clip()) is not None:
            left = clip.wait_s
            while left >= _OF_S + _WHOLE_S:
                yield from self._cut(framer, self._room.silence(_EACH_S))
                left -= _EACH_S + framer.skip(_OF_S - _EACH_S)
            sound = chain(self._room.silence(left), self._room.play(clip), self._room.silence(self._gap_s))
            yield from self._cut(framer, sound)
        yield from framer.finish()

    @staticmethod
    def _cut(framer: Framer, pieces: Iterable[Audio]) -> Iterator[Frame]:
        for piece in pieces:
            yield from framer.cut(piece)

    def close(self) -> None:
        """Nothing is held open."""


def _fades(count: int) -> tuple[Audio, Audio]:
    """Rise and fall of equal power: two noises that are not the same keep their level."""
    angle = np.linspace(0, np.pi / 2, count, endpoint=False)
    return np.sin(angle).astype(np.float32), np.cos(angle).astype(np.float32)
