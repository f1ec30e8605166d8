"""How good the sound of one utterance is: how far the voice stands above the noise, and how wide its band is.

Measured on the utterance itself, so that a recording and a microphone are judged alike. The endpointing leaves quiet
frames before and behind the words; in them the noise is heard alone.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio

_FRAME, _HOP = 320, 160
#: Where voices are strong.
_VOICE_HZ = (200.0, 4000.0)
#: A telephone passes nothing above this.
_NARROW_HZ = 3800.0
#: Share of frames taken for noise, and for voice.
_QUIETEST, _LOUDEST = 0.1, 0.25
#: The quietest frames are quieter than the noise is on average.
_MEAN_OVER_QUIETEST = 1.3
#: Speech 10 dB above steady noise (ITU-T P.56 level against RMS) measures 12 to 17 dB here, 15 dB 17 to 22, clean
#: recordings 29 and more; in noise that comes and goes anything above its steady part. From 15 dB on the ears shared
#: no mistake in the measuring sets.
NOISY_DB = 18.5
#: So much of the energy lies above _NARROW_HZ in the dullest clean recordings (-35 dB); behind a telephone band -55.
_NARROW_DB = -45.0


@dataclass(frozen=True)
class Quality:
    """``snr_db``: voice above noise; ``top_db``: energy above the telephone band against that within it."""

    snr_db: float
    top_db: float

    @property
    def poor(self) -> bool:
        """Whether what was heard needs more proof than in the clear."""
        return self.snr_db < NOISY_DB or self.top_db < _NARROW_DB


def quality(audio: Audio) -> Quality:
    """The quality of an utterance (mono, SAMPLE_RATE); of too short or silent a sound the worst."""
    if len(audio) < 4 * _FRAME or not np.any(audio):
        return Quality(0.0, 0.0)
    frames = np.lib.stride_tricks.sliding_window_view(audio, _FRAME)[::_HOP].astype(np.float64)
    power = np.abs(np.fft.rfft(frames * np.hanning(_FRAME), axis=1)) ** 2
    hertz = np.fft.rfftfreq(_FRAME, 1 / SAMPLE_RATE)
    levels = np.sort(power[:, (hertz > _VOICE_HZ[0]) & (hertz < _VOICE_HZ[1])].sum(axis=1))
    noise = float(levels[: max(3, int(len(levels) * _QUIETEST))].mean()) * _MEAN_OVER_QUIETEST
    voice = float(levels[-max(3, int(len(levels) * _LOUDEST)) :].mean())
    mean = power.mean(axis=0)
    above = float(mean[hertz > _NARROW_HZ].sum())
    within = float(mean[(hertz > _VOICE_HZ[0]) & (hertz <= _NARROW_HZ)].sum())
    return Quality(_db(max(voice - noise, 0.0), noise), _db(above, within))


def _db(one: float, other: float) -> float:
    return 10 * float(np.log10((one + 1e-12) / (other + 1e-12)))
