"""What all of hearing works on: mono samples at one rate, and stretches of speech cut out of them."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

#: Everything inside hearing is mono float32 in -1..1 at this rate.
SAMPLE_RATE = 16_000

Audio = NDArray[np.float32]


@dataclass(frozen=True)
class Utterance:
    """A stretch of speech between two pauses: samples at SAMPLE_RATE and its place in the stream.

    ``audio`` has been brought to a common level; ``level_db`` is how loud the voice came in (RMS, dB of full scale,
    without the room's noise), None when it was not measured.
    """

    audio: Audio
    start_s: float
    end_s: float
    notes: tuple[str, ...] = field(default=())  # e.g. "clipped", "too quiet"
    level_db: float | None = None
