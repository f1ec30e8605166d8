"""Sound files of any usual kind as frames: mono, 16 kHz, checked before the first frame is given.

Stereo and every rate from 8 kHz up are converted; what cannot be heard is refused with one sentence.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soundfile as sf
import soxr
from numpy.typing import NDArray

from assistant.devices import quiet_stderr
from assistant.errors import LaddersideError
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.frames import Frame, Framer

#: A visit in one file is at most this long; one answer's clip is far shorter. Our own limit.
LONGEST_S = 30 * 60.0
#: Shorter than this there is no word in it.
SHORTEST_S = 0.1
#: A peak below this (-80 dB of full scale) is a dead microphone, not a quiet talker.
SILENT_PEAK = 1e-4
#: Below this rate consonants are lost; telephones use it.
LOWEST_RATE = 8_000
_BLOCK = 1 << 16


class SoundFileError(LaddersideError):
    """The file cannot be heard; the text says why and what to do."""


@dataclass(frozen=True)
class SoundFile:
    """A checked file. ``channel`` is the one to hear, or None for the mean of all."""

    path: Path
    rate: int
    channels: int
    seconds: float
    channel: int | None


def check(path: Path, longest_s: float = LONGEST_S) -> SoundFile:
    """Read ``path`` through once, in blocks. SoundFileError when it cannot be heard."""
    with _open(path) as file:
        rate, channels = file.samplerate, file.channels
        if rate < LOWEST_RATE:
            raise SoundFileError(
                f"{path}: its rate of {rate} Hz is too low for speech; record it again at 16000 Hz or more."
            )
        # A damaged header may promise any length, so the true one is counted below.
        if 0 < file.frames < 1 << 48 and file.frames / rate > longest_s:
            raise too_long(path, file.frames / rate, longest_s)
        count, peak, energy, mixed = 0, 0.0, np.zeros(channels), 0.0
        for block in _blocks(path, file):
            if not np.isfinite(block).all():
                raise SoundFileError(
                    f"{path}: holds samples that are not numbers; export it again as 16-bit WAV or FLAC."
                )
            count += len(block)
            if count / rate > longest_s:
                raise too_long(path, count / rate, longest_s)
            peak = max(peak, float(np.abs(block).max(initial=0.0)))
            energy += np.square(block, dtype=np.float64).sum(axis=0)
            mixed += float(np.square(block.mean(axis=1), dtype=np.float64).sum())
    _refuse_nothing(path, count / rate, peak)
    # Two channels wired against each other cancel in the mean; then the louder one alone is heard.
    cancels = mixed < 0.25 * float(energy.max())
    return SoundFile(path, rate, channels, count / rate, int(energy.argmax()) if cancels else None)


def _refuse_nothing(path: Path, seconds: float, peak: float) -> None:
    if seconds == 0:
        raise SoundFileError(f"{path}: holds no sound at all; record it again.")
    if seconds < SHORTEST_S:
        raise SoundFileError(f"{path}: lasts only {seconds * 1000:.0f} ms, too short for a word; record it again.")
    if peak < SILENT_PEAK:
        raise SoundFileError(
            f"{path}: is silent from end to end; check that the microphone was on, then record it again."
        )


def too_long(path: Path, seconds: float, longest_s: float) -> SoundFileError:
    return SoundFileError(
        f"{path}: lasts {_length(seconds)}, more than the {_length(longest_s)} allowed; "
        "cut it into shorter files and replay them one after the other."
    )


def _length(seconds: float) -> str:
    return f"{seconds / 60:.0f} minutes" if seconds >= 120 else f"{seconds:.0f} seconds"


class FileFrames:
    """The frames of one sound file, converted block by block, so that memory does not grow with its length."""

    def __init__(self, path: Path, longest_s: float = LONGEST_S) -> None:
        self.sound = check(path, longest_s)

    def __iter__(self) -> Iterator[Frame]:
        framer = Framer()
        for piece in _converted(self.sound):
            yield from framer.cut(piece)
        yield from framer.finish()

    def close(self) -> None:
        """Nothing is held open between iterations."""


def load(path: Path, longest_s: float = LONGEST_S) -> Audio:
    """The whole file as mono float32 at SAMPLE_RATE. SoundFileError when it cannot be heard."""
    return np.concatenate(list(_converted(check(path, longest_s))))


def _converted(sound: SoundFile) -> Iterator[Audio]:
    convert = soxr.ResampleStream(sound.rate, SAMPLE_RATE, 1, dtype="float32")
    with _open(sound.path) as file:
        for block in _blocks(sound.path, file):
            mono = block.mean(axis=1) if sound.channel is None else block[:, sound.channel]
            yield _resample(convert, sound.rate, mono.astype(np.float32), last=False)
    if sound.rate != SAMPLE_RATE:
        yield _resample(convert, sound.rate, np.zeros(0, np.float32), last=True)


def _resample(convert: soxr.ResampleStream, rate: int, mono: Audio, last: bool) -> Audio:
    if rate == SAMPLE_RATE:
        return mono
    converted: Audio = convert.resample_chunk(mono, last=last)
    return converted


@contextlib.contextmanager
def _open(path: Path) -> Iterator[sf.SoundFile]:
    if not path.exists():
        raise SoundFileError(f"{path}: there is no such file; check the name.")
    if path.is_dir():
        raise SoundFileError(f"{path}: is a folder, not a sound file; name one file in it.")
    if path.stat().st_size == 0:
        raise SoundFileError(f"{path}: the file is empty; record it again.")
    try:
        with quiet_stderr():  # libmpg123 tells the terminal of every bit that it does not like
            file = sf.SoundFile(path)
    except (sf.LibsndfileError, OSError, TypeError, ValueError) as error:  # a name that ends in .raw tells no rate
        raise _unreadable(path) from error
    with file:
        yield file


def _blocks(path: Path, file: sf.SoundFile) -> Iterator[NDArray[np.float32]]:
    """Blocks of shape (samples, channels)."""
    try:
        while len(block := _block(file)):
            yield block
    except sf.LibsndfileError as error:
        raise _unreadable(path) from error


def _block(file: sf.SoundFile) -> NDArray[np.float32]:
    with quiet_stderr():
        block: NDArray[np.float32] = file.read(_BLOCK, dtype="float32", always_2d=True)
    return block


def _unreadable(path: Path) -> SoundFileError:
    return SoundFileError(
        f"{path}: cannot be read as sound; save it as WAV or FLAC, for example with: ffmpeg -i FILE new.wav"
    )
