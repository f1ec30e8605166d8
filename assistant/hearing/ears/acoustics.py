"""Phoneme posteriors from the acoustic model that the ``hama`` package carries.

The package's engine needs 0.12 s for each second of sound on one core. The same network takes a tenth of that through
numpy's matrix products (measured: 0.33 s against 0.037 s for 3 s of sound), so the weights are read from the package's
file and run here. A file that is not the known one is refused before anything reads it.

There is a second set of weights: the same network taught on synthetic voices, and a few people, in the noise of
machines and places, by ``grammars/teaching/learn_acoustics.py``. ``grammars/acoustics.npz`` holds what it learnt, as
differences from the package's.
"""

from __future__ import annotations

import struct
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from hama import _engine
from hama.vocab import Vocabulary
from threadpoolctl import threadpool_limits

from assistant.data import weights
from assistant.data.places import data_folder
from assistant.errors import LaddersideError
from assistant.hearing.ears.conformer import (
    WINDOW,
    Posteriors,
    Weights,
    conformer,
    log_mel,
)
from assistant.hearing.sound.audio import Audio

#: Samples between two frames of posteriors: 20 ms.
FRAME_SAMPLES = 320
_WEIGHTS = "asr_waveform.hama"
#: The file of what was learnt that belongs to this version.
LEARNT_SHA256 = "3f8a459c31a0462dbf33ac9633c6ec2fdf4b0be82a85f0c85cacb262ab52658e"

#: ``PhonemeModel.bonus`` of both sets of weights: only the first, which was not taught on sentences, drops words.
BONUS = 2.0
BONUS_LEARNT = 0.0
#: Differences that were learnt, in the data folder "grammars".
LEARNT = "acoustics.npz"
#: Weights of what comes before the network, which learn nothing.
FIXED = frozenset({"mel_fb", "stft_real_kernel", "stft_imag_kernel"})
#: Ending of the name of an array's steps: a value is so many of them.
STEPS = "|steps"


@dataclass(frozen=True)
class PhonemeModel:
    """Turns sound into log probabilities, shape (frames, len(tokens)), one frame every 20 ms.

    ``tokens`` names the columns; ``blank`` and ``boundary`` are the columns of CTC's blank and of the word boundary.
    ``bonus`` is the natural log that a search adds for each word, against dropped words.
    """

    tokens: tuple[str, ...]
    blank: int
    boundary: int
    bonus: float
    _run: Callable[[Audio], Posteriors]

    def posteriors(self, audio: Audio) -> Posteriors:
        """``audio`` is mono at 16 kHz, -1..1; sound shorter than one window of 25 ms gives no frames."""
        if len(audio) < WINDOW:
            return np.zeros((0, len(self.tokens)), dtype=np.float32)
        return self._run(np.ascontiguousarray(audio, dtype=np.float32))


class AcousticsError(LaddersideError):
    """What was learnt cannot be used; the text names the file and the remedy."""


def load() -> PhonemeModel:
    """The model inside the installed ``hama`` package. From then on numpy keeps to one core. Raises ModelError."""
    return _model(_network(packaged_weights()), BONUS)


def load_all(file: Path | None = None) -> tuple[PhonemeModel, ...]:
    """The package's model, then the one with what it learnt in ``file``, by default the one that Ladderside ships.

    The second is there twice, once hearing everything half a frame later: what it makes of a sound in noise depends on
    where its frames happen to fall, and two looks are surer than one. Raises AcousticsError and ModelError.
    """
    packaged = packaged_weights()
    if file is None:
        verify_learnt()
    network = _network(with_learnt(packaged, file or shipped()))
    return _model(_network(packaged), BONUS), _model(network, BONUS_LEARNT), _model(_later(network), BONUS_LEARNT)


def shipped() -> Path:
    """The file of what was learnt that comes with Ladderside."""
    return data_folder("grammars") / LEARNT


def verify_learnt() -> None:
    """Raises ModelError when the shipped file is not the one that belongs to this version."""
    weights.verify(shipped(), LEARNT_SHA256, "install Ladderside again")


def with_learnt(packaged: Weights, file: Path) -> Weights:
    """``packaged`` weights and the differences in ``file`` together, read without any code. Raises AcousticsError."""
    try:
        with np.load(file, allow_pickle=False) as learnt:
            differences = {name: learnt[name] * learnt[name + STEPS] for name in learnt if not name.endswith(STEPS)}
        return packaged | {name: packaged[name] + each for name, each in differences.items()}
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile, zlib.error) as error:
        raise AcousticsError(
            f"{file} does not fit the acoustic model ({error}); install Ladderside again, "
            "or learn the file again with learn_acoustics.py."
        ) from None


def packaged_weights() -> Weights:
    """The weights of the installed ``hama`` package. Raises ModelError when they are not the known ones."""
    threadpool_limits(1, user_api="blas")
    return read_weights((weights.folder_of(weights.PHONEME) / _WEIGHTS).read_bytes())


def features() -> Callable[[Audio], Posteriors]:
    """What the network hears with: sound in, log mel energies out, shape (samples // 160 + 1, 80)."""
    return _ear(packaged_weights())


def _network(arrays: Weights) -> Callable[[Audio], Posteriors]:
    """The network over these weights, run here."""
    hear = _ear(arrays)
    return lambda audio: conformer(hear(audio), arrays)


def _later(run: Callable[[Audio], Posteriors]) -> Callable[[Audio], Posteriors]:
    """``run`` with its frames falling half a frame later into the sound."""
    silence = np.zeros(FRAME_SAMPLES // 2, dtype=np.float32)
    return lambda audio: run(np.concatenate([silence, audio]))


def _ear(arrays: Weights) -> Callable[[Audio], Posteriors]:
    kernel = np.concatenate([arrays["stft_real_kernel"][:, 0], arrays["stft_imag_kernel"][:, 0]]).T.copy()
    return lambda audio: log_mel(audio, kernel, arrays["mel_fb"])


def _model(run: Callable[[Audio], Posteriors], bonus: float) -> PhonemeModel:
    tokens = (*Vocabulary.load(None).decoder, "<wb>", "<blank>")
    return PhonemeModel(tokens, tokens.index("<blank>"), tokens.index("<wb>"), bonus, run)


def engine(data: bytes) -> Callable[[Audio], Posteriors]:
    """The package's own engine over the weight file ``data``: what the network here is held to."""
    session = _engine.AsrSession(data)

    def run(audio: Audio) -> Posteriors:
        (log_probs,) = session.run(["log_probs"], {"waveform": audio})
        return np.asarray(log_probs[0], dtype=np.float32)

    return run


def read_weights(data: bytes) -> Weights:
    """The named arrays of a ``.hama`` file: magic and version, a table, then float32 or float16 values."""
    (count,) = struct.unpack_from("<I", data, 8)
    at = 12
    table = []
    for _ in range(count):
        (length,) = struct.unpack_from("<H", data, at)
        name = data[at + 2 : at + 2 + length].decode()
        kind, rank = data[at + 2 + length], data[at + 3 + length]
        at += 4 + length
        shape = struct.unpack_from(f"<{rank}I", data, at)
        offset, size = struct.unpack_from("<QQ", data, at + 4 * rank)
        at += 4 * rank + 16
        table.append((name, "<f4" if kind == 0 else "<f2", shape, offset, size))
    base = len(data) - max(offset + size for *_, offset, size in table)
    return {
        name: np.frombuffer(data, kind, int(np.prod(shape)), base + offset).reshape(shape).astype(np.float32)
        for name, kind, shape, offset, _ in table
    }
