"""Own signs by sound: it listens, it has heard, it has not. Short, and told apart in the noise of a fan.

Each is a figure of notes that differs from the others in number, direction and height, in the octaves where a fan is
weak and an old ear still good (500 to 3000 Hz).
"""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from assistant.speaking.clearly import LOUD

Sound = NDArray[np.float32]
Sign = Literal["listening", "heard", "not heard"]

#: Notes as (Hz, seconds); Hz 0 is a rest.
_FIGURES: dict[Sign, tuple[tuple[float, float], ...]] = {
    "listening": ((784, 0.09), (1175, 0.14)),
    "heard": ((1568, 0.07),),
    "not heard": ((659, 0.1), (0, 0.03), (494, 0.1), (0, 0.03), (494, 0.14)),
}
_FADE_S = 0.008
#: Strength of the note and its overtones: a pure tone is hard to place, and may fall into a hum.
_OVERTONES = (1.0, 0.5, 0.25)


@lru_cache(maxsize=8)
def sound_of(sign: Sign, rate: int) -> Sound:
    """The sound of ``sign`` at ``rate`` Hz, mono, as loud as a reply beside noise."""
    whole = np.concatenate([_note(hertz, seconds, rate) for hertz, seconds in _FIGURES[sign]])
    sound: Sound = (whole * LOUD / np.sqrt(np.mean(whole[whole != 0] ** 2))).astype(np.float32)
    sound.setflags(write=False)
    return sound


def _note(hertz: float, seconds: float, rate: int) -> NDArray[np.float64]:
    time_s = np.arange(round(seconds * rate)) / rate
    if not hertz:
        return np.zeros(len(time_s))
    tone = sum(
        strength * np.sin(2 * np.pi * order * hertz * time_s) for order, strength in enumerate(_OVERTONES, start=1)
    )
    edge = np.clip(np.minimum(time_s, time_s[-1] - time_s) / _FADE_S, 0, 1)
    return np.asarray(tone * edge, np.float64)
