"""What speech goes through before a microphone gives it: a room, noise recorded or made, a narrow telephone band.

Everything is mono float32 at ``SAMPLE_RATE`` and a pure function of the utterance's seed, so that a set measured twice
is the same set.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Literal

import numpy as np
import soxr
from numpy.typing import NDArray

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.files import load
from assistant.measuring.noise import KINDS, NoiseError, mix, noise

Band = Literal["wide", "narrow"]

#: Kinds of sound file that are looked for in a folder of noises.
_SOUNDS = (".flac", ".wav", ".ogg", ".mp3")
#: The telephone band (ITU-T G.712, from memory) and its companding (ITU-T G.711, mu-law).
_NARROW_HZ = (300.0, 3400.0)
_NARROW_RATE = 8_000
_MU = 255.0
#: A room of a house, 4 by 3.5 by 2.5 m; who talks stands 0.5 m from the microphone (common practice, no source).
_ROOM_M = (4.0, 3.5, 2.5)
_MICROPHONE_M = (1.7, 1.5, 1.3)
_MOUTH_M = 0.5
#: Longer tails than this no room of that size has.
LONGEST_TAIL_S = 1.5


@dataclass(frozen=True)
class Place:
    """Where it is heard. ``snr_db`` None: no noise; ``recordings``: files of noise, used in the place of ``kind``."""

    snr_db: float | None = None
    kind: str = "fan"
    recordings: tuple[Path, ...] = ()
    tail_s: float = 0.0
    band: Band = "wide"

    def heard(self, audio: Audio, seed: int) -> Audio:
        """``audio`` as it is heard there, same length."""
        if self.tail_s:
            audio = in_room(audio, self.tail_s, seed)
        if self.snr_db is not None:
            audio = mix(audio, self._noise(seed, len(audio)), self.snr_db)
        return narrowed(audio) if self.band == "narrow" else audio

    def _noise(self, seed: int, count: int) -> Audio:
        if self.recordings:
            return _piece(self.recordings[seed % len(self.recordings)], seed, count)
        return noise(self.kind, seed, 0, count)


def recordings(named: str) -> tuple[Path, ...]:
    """The sound files that ``named`` is or holds, none for the name of a made noise; NoiseError says what to do."""
    if named in KINDS:
        return ()
    path = Path(named)
    try:
        found = [path] if path.is_file() else sorted(file for file in path.iterdir() if file.suffix in _SOUNDS)
    except (OSError, ValueError):
        raise NoiseError(
            f"There is no noise called “{named}”, and no file or folder either; choose one of {', '.join(KINDS)}, "
            "or name sound files of your own."
        ) from None
    if not found:
        raise NoiseError(f"The folder {path} holds no sound file ({', '.join(_SOUNDS)}); name one that does.")
    return tuple(found)


def in_room(dry: Audio, tail_s: float, seed: int) -> Audio:
    """``dry`` in a room whose sound dies away by 60 dB in ``tail_s``, same length, direct sound first.

    Image sources in a box (pyroomacoustics). Raises NoiseError for a time that such a room cannot have.
    """
    try:
        impulse = _impulse(tail_s, seed % 16)
    except ValueError:
        raise NoiseError(
            f"A room of this size cannot have a reverberation of {tail_s:g} s; give 0.1 to {LONGEST_TAIL_S:g} s."
        ) from None
    count = len(dry) + len(impulse)
    wet = np.fft.irfft(np.fft.rfft(dry, count) * np.fft.rfft(impulse, count), count)
    return wet[: len(dry)].astype(np.float32)


@lru_cache(maxsize=16)
def _impulse(tail_s: float, seat: int) -> NDArray[np.float64]:
    """The room's answer to a click, its direct sound at 1 and at the start; ``seat`` turns who talks about."""
    try:
        import pyroomacoustics as rooms
    except ImportError:
        raise NoiseError("Rooms need the package pyroomacoustics: pip install 'ladderside[measuring]'.") from None
    if not 0 < tail_s <= LONGEST_TAIL_S:
        raise ValueError(tail_s)
    absorption, order = rooms.inverse_sabine(tail_s, _ROOM_M)
    box = rooms.ShoeBox(
        _ROOM_M, fs=SAMPLE_RATE, materials=rooms.Material(absorption), max_order=min(order, 40), air_absorption=True
    )
    angle = 2 * np.pi * seat / 16
    mouth = np.asarray(_MICROPHONE_M) + _MOUTH_M * np.array([np.cos(angle), np.sin(angle), 0.2])
    box.add_source(mouth)
    box.add_microphone(np.asarray(_MICROPHONE_M))
    box.compute_rir()
    answer = np.asarray(box.rir[0][0], dtype=np.float64)
    direct = int(np.argmax(np.abs(answer)))
    return np.asarray(answer[direct:] / answer[direct])


def narrowed(audio: Audio) -> Audio:
    """``audio`` through a telephone-band headset: 300 to 3400 Hz, 8 kHz, eight bits a sample companded; same length."""
    slow = soxr.resample(audio, SAMPLE_RATE, _NARROW_RATE)
    spectrum = np.fft.rfft(slow)
    hertz = np.fft.rfftfreq(len(slow), 1 / _NARROW_RATE)
    spectrum[(hertz < _NARROW_HZ[0]) | (hertz > _NARROW_HZ[1])] = 0
    banded = np.fft.irfft(spectrum, len(slow))
    top = max(float(np.abs(banded).max(initial=0.0)), 1e-9)
    companded = np.sign(banded) * np.log1p(_MU * np.abs(banded) / top) / np.log1p(_MU)
    coded = np.round(companded * 127) / 127
    decoded = np.sign(coded) * top * np.expm1(np.abs(coded) * np.log1p(_MU)) / _MU
    wide = soxr.resample(decoded, _NARROW_RATE, SAMPLE_RATE)[: len(audio)]
    return np.pad(wide, (0, len(audio) - len(wide))).astype(np.float32)


def _piece(file: Path, seed: int, count: int) -> Audio:
    """``count`` samples of a recording from a place chosen by ``seed``, going round at its end."""
    whole = _whole(file)
    start = np.random.default_rng([seed, 103]).integers(len(whole))
    piece: Audio = np.take(whole, np.arange(start, start + count), mode="wrap")
    return piece


@lru_cache(maxsize=32)
def _whole(file: Path) -> Audio:
    return load(file)
