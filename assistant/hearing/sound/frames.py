"""Fixed-size frames of sound with their place in the stream: what a microphone and a file both give."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio

#: Samples in a frame: 32 ms, the window that the voice-activity model was made for.
FRAME = 512
FRAME_S = FRAME / SAMPLE_RATE


@dataclass(frozen=True)
class Frame:
    """``audio`` is FRAME mono float32 samples at SAMPLE_RATE; ``start_s`` counts from the stream's first sample.

    ``in_air_s`` is when its first sample was in the air by the sound devices' clock; None for what comes from a file.
    ``over_reply``: our own voice was in the air with it.
    """

    audio: Audio
    start_s: float
    in_air_s: float | None = None
    over_reply: bool = False

    @property
    def end_s(self) -> float:
        return self.start_s + FRAME_S


class FrameSource(Protocol):
    """A stream of frames. It ends with the file, or never for a microphone; ``close`` may be called twice."""

    def __iter__(self) -> Iterator[Frame]: ...

    def close(self) -> None: ...


class Framer:
    """Cuts pieces of any length into frames and numbers them; keeps the remainder for the next piece."""

    def __init__(self) -> None:
        self._rest = np.zeros(0, np.float32)
        self._given = 0

    def cut(self, piece: Audio) -> Iterator[Frame]:
        """The frames that ``piece`` completes."""
        waiting = np.concatenate([self._rest, piece])
        whole = len(waiting) // FRAME * FRAME
        self._rest = waiting[whole:]
        for first in range(0, whole, FRAME):
            yield self._number(waiting[first : first + FRAME])

    def finish(self) -> Iterator[Frame]:
        """The last, part-filled frame, made whole with silence; nothing when there is no remainder."""
        if len(self._rest):
            last = np.pad(self._rest, (0, FRAME - len(self._rest)))
            self._rest = self._rest[:0]
            yield self._number(last)

    def skip(self, seconds: float) -> float:
        """So much of the stream goes by and is not given: later frames are numbered as if it had been.

        Whole frames: returns how many seconds it was.
        """
        frames = round(seconds / FRAME_S)
        self._given += frames
        return frames * FRAME_S

    def _number(self, audio: Audio) -> Frame:
        frame = Frame(audio, self._given * FRAME / SAMPLE_RATE)
        self._given += 1
        return frame


class AudioFrames:
    """Frames of samples that are in memory already."""

    def __init__(self, audio: Audio) -> None:
        self._audio = audio

    def __iter__(self) -> Iterator[Frame]:
        framer = Framer()
        yield from framer.cut(self._audio)
        yield from framer.finish()

    def close(self) -> None:
        """Nothing is held open."""


def room_noise(samples: int, level_db: float = -75.0) -> Audio:
    """Faint noise of a fixed seed, in dB below full scale (RMS): silence as a microphone has it."""
    noise = np.random.default_rng(20_000).standard_normal(samples)
    return (noise * 10 ** (level_db / 20)).astype(np.float32)
