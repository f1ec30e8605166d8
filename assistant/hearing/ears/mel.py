"""What Whisper is shown: the logarithmic mel spectrum of a sound, as its authors make it (Radford and others, 2022).

Windows of 25 ms every 10 ms; bands of equal width on Slaney's mel scale (Auditory Toolbox, 1998), which is linear
below 1 kHz and logarithmic above, each band's triangle of equal area; no value more than 8 (80 dB) under the loudest.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio

_Array = NDArray[np.float32]
_WINDOW, _HOP = 400, 160
#: Slaney's scale: so many hertz a mel below ``_BEND_HZ``; above, ``_MELS`` for each factor ``_FACTOR``.
_HZ_A_MEL, _BEND_HZ, _MELS, _FACTOR = 200 / 3, 1000.0, 27, 6.4
_LEAST_POWER, _SPAN = 1e-10, 8.0


def log_mel(audio: Audio, bands: int) -> _Array:
    """Features of shape (bands, frames), one frame for each whole 10 ms, scaled to about -1..1.

    ``audio`` is longer than half a window (200 samples); ValueError otherwise.
    """
    if len(audio) <= _WINDOW // 2:
        raise ValueError(f"{len(audio)} samples are no sound to look at")
    padded = np.pad(audio.astype(np.float32, copy=False), _WINDOW // 2, mode="reflect")
    frames = np.lib.stride_tricks.sliding_window_view(padded, _WINDOW)[::_HOP][:-1]
    window = np.hanning(_WINDOW + 1)[:-1].astype(np.float32)
    power = np.abs(np.fft.rfft(frames * window, axis=1).astype(np.complex64)) ** 2
    level = np.log10(np.maximum(_filters(bands) @ power.T, _LEAST_POWER))
    return np.asarray((np.maximum(level, level.max() - _SPAN) + 4.0) / 4.0, dtype=np.float32)


@lru_cache(maxsize=2)
def _filters(bands: int) -> _Array:
    """Triangles of shape (bands, frequencies) over the window's spectrum."""
    highest = _mel(SAMPLE_RATE / 2)
    edges = _hertz(np.linspace(0, highest, bands + 2))
    frequency = np.fft.rfftfreq(_WINDOW, 1 / SAMPLE_RATE)
    low, middle, high = edges[:-2, None], edges[1:-1, None], edges[2:, None]
    rising, falling = (frequency - low) / (middle - low), (high - frequency) / (high - middle)
    triangles = np.maximum(0, np.minimum(rising, falling)) * (2 / (high - low))
    return np.asarray(triangles, dtype=np.float32)


def _mel(hertz: float) -> float:
    bend = _BEND_HZ / _HZ_A_MEL
    return hertz / _HZ_A_MEL if hertz < _BEND_HZ else bend + _MELS * float(np.log(hertz / _BEND_HZ) / np.log(_FACTOR))


def _hertz(mel: NDArray[np.float64]) -> NDArray[np.float64]:
    bend = _BEND_HZ / _HZ_A_MEL
    return np.where(mel < bend, mel * _HZ_A_MEL, _BEND_HZ * _FACTOR ** ((mel - bend) / _MELS))
