"""The voices: who speaks, by which engine, under which licence, and ``say``.

"natural" voices are made from recordings of a person (joined, modelled or learnt); "formant" voices by rule.
``shipped`` tells whether what the voice says may be committed here; README.md gives the reasons.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import soxr

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.measuring.noise import speech_level
from recordings_synthetic.engines import ENGINES, EngineError, Settings, spelled

#: Active speech level of everything that ``say`` gives: 26 dB below full scale, as ITU-T recommends for test speech.
SPEECH_LEVEL = 10 ** (-26 / 20)

_ESPEAK = "output of espeak-ng (GPL-3.0-or-later program; its output is free of it)"
_FLITE = "Flite, BSD-like (CMU)"
_FESTVOX = "Festvox, X11-like (University of Edinburgh, CMU)"
_JOE = "CC0 recordings, MIT package"
_HIBARI = "Apache-2.0"


@dataclass(frozen=True)
class Voice:
    """A voice. ``tract`` > 1 shortens the vocal tract: every resonance and the pitch are raised by that factor."""

    name: str
    engine: str
    setting: str
    style: Literal["natural", "formant"]
    sex: Literal["male", "female"]
    accent: str
    licence: str
    rate: float = 1.0
    pitch: int = 50
    tract: float = 1.0
    shipped: bool = True

    @property
    def manner(self) -> str:
        """How the speed is to be called: slow, usual or fast."""
        return "slow" if self.rate < 0.9 else "fast" if self.rate > 1.1 else "usual"


def _espeak(
    name: str, setting: str, sex: Literal["male", "female"], accent: str, rate: float = 1.0, pitch: int = 50
) -> Voice:
    return Voice(f"espeak-{name}", "espeak-ng", setting, "formant", sex, accent, _ESPEAK, rate, pitch)


VOICES: tuple[Voice, ...] = (
    Voice("hibari-heart", "hibari", "us", "natural", "female", "American", _HIBARI),
    Voice("hibari-heart-british", "hibari", "gb", "natural", "female", "British", _HIBARI),
    Voice("hibari-heart-fast", "hibari", "us", "natural", "female", "American", _HIBARI, rate=1.3),
    Voice("hibari-heart-low", "hibari", "us", "natural", "male", "American", _HIBARI, tract=0.84),
    Voice("piper-joe", "piper", "joe", "natural", "male", "American", _JOE, shipped=False),
    Voice("piper-joe-fast", "piper", "joe", "natural", "male", "American", _JOE, rate=1.25, shipped=False),
    Voice("piper-joe-slow", "piper", "joe", "natural", "male", "American", _JOE, rate=0.8, shipped=False),
    Voice("piper-joe-small", "piper", "joe", "natural", "male", "American", _JOE, tract=1.12, shipped=False),
    Voice("flite-rms", "flite", "rms", "natural", "male", "American", _FLITE),
    Voice("flite-awb", "flite", "awb", "natural", "male", "Scottish", _FLITE),
    Voice("flite-slt", "flite", "slt", "natural", "female", "American", _FLITE),
    Voice("flite-slt-slow", "flite", "slt", "natural", "female", "American", _FLITE, rate=0.8),
    Voice("flite-kal", "flite", "kal16", "natural", "male", "American", _FLITE),
    Voice("festival-kal", "festival", "voice_kal_diphone", "natural", "male", "American", _FESTVOX),
    Voice("festival-ked", "festival", "voice_ked_diphone", "natural", "male", "American", _FESTVOX),
    Voice("festival-slt", "festival", "voice_cmu_us_slt_arctic_hts", "natural", "female", "American", _FESTVOX),
    _espeak("american", "en-us", "male", "American"),
    _espeak("american-woman", "en-us+f3", "female", "American"),
    _espeak("british", "en-gb-x-rp+m7", "male", "British"),
    _espeak("british-woman", "en-gb+f2", "female", "British"),
    _espeak("scottish", "en-gb-scotland", "male", "Scottish"),
    _espeak("lancaster-woman", "en-gb-x-gbclan+Annie", "female", "Lancashire"),
    _espeak("midlands", "en-gb-x-gbcwmd+m3", "male", "West Midlands"),
    _espeak("caribbean", "en-029+m1", "male", "Caribbean"),
    _espeak("new-york-fast", "en-us-nyc+m3", "male", "New York", rate=1.3),
    _espeak("american-slow", "en-us+Gene", "male", "American", rate=0.72),
    _espeak("strained", "en-us+croak", "male", "American", pitch=70),
    _espeak("strained-woman", "en-us+f5", "female", "American", rate=1.1, pitch=75),
)

_BY_NAME = {voice.name: voice for voice in VOICES}


def voice_named(name: str) -> Voice:
    """The voice called ``name``; raises EngineError naming the voices there are."""
    if name not in _BY_NAME:
        raise EngineError(f"There is no voice called {name!r}; choose one of {', '.join(_BY_NAME)}.")
    return _BY_NAME[name]


def say(words: str, voice: str | Voice, rate: float = 1.0) -> Audio:
    """``words`` (lower case, no punctuation) spoken by ``voice``: mono float32 at SAMPLE_RATE, pauses trimmed.

    ``rate`` multiplies the voice's own speed. Raises EngineError when the engine is missing or says nothing.
    """
    return say_all([words], voice, rate)[0]


def say_all(texts: Sequence[str], voice: str | Voice, rate: float = 1.0) -> list[Audio]:
    """As ``say``, for many texts at once: faster for engines that are slow to start."""
    who = voice_named(voice) if isinstance(voice, str) else voice
    # Playing a longer tract's samples slower takes longer, so the engine speaks faster by as much.
    settings = Settings(who.setting, who.rate * rate / who.tract, who.pitch)
    raw = ENGINES[who.engine]([spelled(text, who.engine) for text in texts], settings)
    return [
        _finished(samples, sample_rate * who.tract, text, who)
        for (samples, sample_rate), text in zip(raw, texts, strict=True)
    ]


def _finished(samples: Audio, sample_rate: float, words: str, voice: Voice) -> Audio:
    resampled = soxr.resample(samples, sample_rate, SAMPLE_RATE, quality="HQ").astype(np.float32)
    level = speech_level(resampled)
    if level == 0:
        raise EngineError(f"{voice.name} said nothing for {words!r}.")
    return trimmed(resampled * np.float32(SPEECH_LEVEL / level))


def trimmed(audio: Audio, floor_db: float = -60.0, keep_s: float = 0.05) -> Audio:
    """``audio`` without the quiet before and after: below ``floor_db`` of its peak, ``keep_s`` left at each end."""
    loud = np.flatnonzero(np.abs(audio) > np.max(np.abs(audio)) * 10 ** (floor_db / 20))
    keep = int(keep_s * SAMPLE_RATE)
    return audio[max(0, loud[0] - keep) : loud[-1] + 1 + keep]
