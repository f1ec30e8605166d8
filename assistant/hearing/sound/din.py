"""What the place sounds like when nobody talks: the noise that our own voice must be understood beside."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.sound.frames import FRAME, Frame

#: Power by frequency, FRAME // 2 + 1 values from 0 Hz to half of SAMPLE_RATE.
Spectrum = NDArray[np.float64]

#: Beside a voice that stands this far above the room, ours is understood as it is (common practice, no source).
QUIET_DB = 18.0
#: About four seconds are remembered.
_SHARE = 0.008
_FEWEST = 30


class Din:
    """The mean spectrum of the frames in which nobody talks, neither they nor we."""

    def __init__(self) -> None:
        self._mean: Spectrum = np.zeros(FRAME // 2 + 1)
        self._window = np.hanning(FRAME)
        self._fed = 0

    def feed(self, frame: Frame, talk: bool) -> None:
        """Take one frame; ``talk`` says that a voice is in it."""
        if talk or frame.over_reply:
            return
        self._fed += 1
        power = np.abs(np.fft.rfft(frame.audio * self._window)) ** 2
        self._mean += max(1 / self._fed, _SHARE) * (power - self._mean)

    def spectrum(self) -> Spectrum | None:
        """Power by frequency; None before a second was heard."""
        return self._mean.copy() if self._fed >= _FEWEST else None
