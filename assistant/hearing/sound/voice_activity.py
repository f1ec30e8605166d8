"""Is somebody talking in this frame? Silero's model (MIT, Silero Team), run frame by frame with its state kept."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from assistant.data import weights
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.frames import FRAME

if TYPE_CHECKING:
    import onnxruntime

_CONTEXT = 64
_RATE = np.array(SAMPLE_RATE, np.int64)
#: After so many frames in a row without a voice (4 s) the model begins afresh: in a minute and a half of nothing
#: but a fan its memory drifts so far that it takes the next words for noise too.
_FORGET_AFTER = 125
_NO_VOICE = 0.15


@lru_cache(maxsize=1)
def _session() -> onnxruntime.InferenceSession:
    # Not before the first frame: the first words are spoken without it, and its libraries take a third of a second.
    import onnxruntime

    file = weights.folder_of(weights.VOICE_ACTIVITY) / next(iter(weights.VOICE_ACTIVITY.files))
    options = onnxruntime.SessionOptions()
    # One small matrix a frame: more threads cost more than they save, and the ears need the cores.
    options.inter_op_num_threads = 1
    options.intra_op_num_threads = 1
    options.enable_cpu_mem_arena = False
    options.log_severity_level = 4
    return onnxruntime.InferenceSession(str(file), options, providers=["CPUExecutionProvider"])


class VoiceActivity:
    """One stream's detector; half a millisecond a frame."""

    def __init__(self) -> None:
        self._state: NDArray[np.float32] = np.zeros((2, 1, 128), np.float32)
        self._before: Audio = np.zeros(_CONTEXT, np.float32)
        self._without = 0

    def feed(self, audio: Audio) -> float:
        """The chance, 0..1, that a voice is in these FRAME samples. ValueError for another number of samples."""
        if audio.shape != (FRAME,):
            raise ValueError(f"a frame has {FRAME} samples, not {audio.shape}")
        window = np.concatenate([self._before, audio])[np.newaxis]
        chance, self._state = _session().run(None, {"input": window, "state": self._state, "sr": _RATE})
        self._before = audio[-_CONTEXT:]
        voice = float(np.ravel(chance)[0])
        self._without = self._without + 1 if voice < _NO_VOICE else 0
        if self._without >= _FORGET_AFTER:
            self._state, self._without = np.zeros_like(self._state), 0
        return voice
