"""How loud speech and room are, what is wrong with the sound, and the gain that puts it right.

Levels are RMS in dB of full scale. The limits are our own, set on the synthetic noises of
``tests/benchmarks/endpointing.py``.
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from assistant.hearing.sound.audio import Audio

#: Speech is brought to this level before an ear hears it.
TARGET_DB = -24.0
_MOST_GAIN_DB = 40.0
#: Below this even good gain brings up the microphone's own noise.
_QUIET_DB = -58.0
#: Speech must stand this far above the room for its words to be trusted.
_NOISY_DB = 6.0
_FULL = 0.985

#: What may be wrong with the sound of an utterance.
Note = Literal["clipped", "noisy", "too quiet"]


def level_db(audio: Audio) -> float:
    """RMS level in dB of full scale; -120 for digital silence or no samples."""
    if not len(audio):
        return -120.0
    power = float(np.mean(np.square(audio, dtype=np.float64)))
    return 10 * float(np.log10(max(power, 1e-12)))


def clipped(audio: Audio) -> bool:
    """True when the tops are cut off: runs of equal samples at the highest value, more than 1 in 1000 samples."""
    if len(audio) < 2:
        return False
    top = float(np.abs(audio).max())
    if top < 0.25:
        return False
    # A converter that overdrives sticks at one value; where an earlier stage was cut, that value is below full scale.
    at_top = np.abs(audio) > (0.999 * top)
    runs = at_top[1:] & at_top[:-1]
    return bool(runs.mean() > (0.001 if top < _FULL else 0.0005))


def gain_for(speech_db: float) -> float:
    """The factor that brings speech of this level to TARGET_DB, never more than 40 dB up."""
    return float(10 ** (min(TARGET_DB - speech_db, _MOST_GAIN_DB) / 20))


def bring_to_level(audio: Audio, speech_db: float) -> Audio:
    """One gain for the whole utterance, so that nothing pumps, and a trace of dither against digital silence."""
    louder = np.clip(audio * gain_for(speech_db), -1.0, 1.0)
    # Same seed each time: the same sound in must give the same words out.
    dither = np.random.default_rng(1).standard_normal(len(audio)) * 1e-5
    return np.asarray(louder + dither, np.float32)


def notes(audio: Audio, speech_db: float, room_db: float) -> tuple[Note, ...]:
    """What is wrong with an utterance."""
    found: list[Note] = []
    if clipped(audio):
        found.append("clipped")
    if speech_db < _QUIET_DB:
        found.append("too quiet")
    elif speech_db - room_db < _NOISY_DB:
        found.append("noisy")
    return tuple(found)


def mean_db(frame_levels: list[float]) -> float:
    """The level of several frames together (the mean of their powers)."""
    return 10 * float(np.log10(np.mean(np.power(10.0, np.array(frame_levels) / 10))))


def above(both_db: float, room_db: float) -> float:
    """The level of a voice heard together with the room, without the room; at least 10 dB under what was heard."""
    voice = 10 ** (both_db / 10) - 10 ** (room_db / 10)
    return 10 * float(np.log10(max(voice, 10 ** (both_db / 10 - 1))))


class AutomaticGain:
    """Brings a quiet microphone up before anybody asks whether a voice is in it.

    The voice-activity model misses voices far below the level it was trained at. The gain follows the loudest
    sound of the last ten seconds or so, slowly, and never lifts the room by itself to the level of a voice.
    """

    def __init__(self) -> None:
        self._loud_db = TARGET_DB

    def apply(self, audio: Audio) -> Audio:
        """The frame with the present gain."""
        louder: Audio = np.clip(audio * np.float32(gain_for(self._loud_db)), -1.0, 1.0)
        return louder

    def feed(self, frame_db: float, voice: float) -> None:
        """Learn from one frame: up at once for loud sound, down by 3 dB a second in quiet."""
        if frame_db > self._loud_db:
            self._loud_db += (0.5 if voice > 0.5 else 0.1) * (frame_db - self._loud_db)
        else:
            self._loud_db = max(self._loud_db - 0.1, _QUIET_DB)


class RoomLevel:
    """The level of the room, without speech: a slow minimum that rises gently and falls at once.

    Feed it every frame; ``speech`` says that a voice was found in it, so the room is not raised by talk.
    """

    def __init__(self) -> None:
        self.db = -60.0
        self._fed = 0

    def feed(self, frame_db: float, speech: bool) -> float:
        """Take one frame's level; the room's level in dB."""
        if speech:
            return self.db
        self._fed += 1
        # At once at first, then with about two seconds up and half a second down.
        share = max(1 / self._fed, 0.06 if frame_db < self.db else 0.016)
        self.db += share * (max(frame_db, -100.0) - self.db)
        return self.db
