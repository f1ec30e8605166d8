"""Phoneme posteriors from the acoustic model that the ``hama`` package carries.

The package's engine needs 0.12 s for each second of sound on one core. The same network, a conformer of four blocks
of width 144 (Gulati et al., "Conformer", Interspeech 2020), takes a tenth of that through numpy's matrix products
(measured: 0.33 s against 0.037 s for 3 s of sound), so the weights are read from the package's file and run here.
``tests/hearing/test_acoustics.py`` holds it equal to the engine. A weight file that is not the known one goes through
the engine, which is slower and right whatever the network's shape.
"""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Callable
from dataclasses import dataclass
from importlib import resources

import numpy as np
from hama import _engine
from hama.vocab import Vocabulary
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from assistant.hearing.protocol import Audio

Posteriors = NDArray[np.float32]

#: Samples between two frames of posteriors: 20 ms.
FRAME_SAMPLES = 320
KNOWN_SHA256 = "a9fcfe73e179ca48e399cd76a90a6b3e1887bf5037ecc52b778d13a149563328"

_WINDOW = 400
_HOP = 160
_HEADS = 4
_BLOCKS = 4
#: Names that the package's converter gave to the weights of each block, in the order used below.
_MATRICES = (
    (829, 830, 831, 835, 836, 837),
    (838, 839, 840, 844, 845, 846),
    (847, 848, 849, 853, 854, 855),
    (856, 857, 858, 862, 863, 864),
)
_DEPTHWISE = ((804, 805), (807, 808), (810, 811), (813, 814))

_Weights = dict[str, NDArray[np.float32]]


@dataclass(frozen=True)
class PhonemeModel:
    """Turns sound into log probabilities, shape (frames, len(tokens)), one frame every 20 ms.

    ``tokens`` names the columns; ``blank`` and ``boundary`` are the columns of CTC's blank and of the word boundary.
    """

    tokens: tuple[str, ...]
    blank: int
    boundary: int
    _run: Callable[[Audio], Posteriors]

    def posteriors(self, audio: Audio) -> Posteriors:
        """``audio`` is mono at 16 kHz, -1..1; sound shorter than one window of 25 ms gives no frames."""
        if len(audio) < _WINDOW:
            return np.zeros((0, len(self.tokens)), dtype=np.float32)
        return self._run(np.ascontiguousarray(audio, dtype=np.float32))


def load() -> PhonemeModel:
    """The model inside the installed ``hama`` package. From then on numpy keeps to one core."""
    threadpool_limits(1, user_api="blas")
    tokens = (*Vocabulary.load(None).decoder, "<wb>", "<blank>")
    data = resources.files("hama.assets").joinpath("asr_waveform.hama").read_bytes()
    run: Callable[[Audio], Posteriors]
    if hashlib.sha256(data).hexdigest() == KNOWN_SHA256:
        weights = read_weights(data)
        kernel = np.concatenate([weights["stft_real_kernel"][:, 0], weights["stft_imag_kernel"][:, 0]]).T.copy()

        def run(audio: Audio) -> Posteriors:
            return _conformer(_log_mel(audio, kernel, weights["mel_fb"]), weights)
    else:
        run = engine(data)
    return PhonemeModel(tokens, tokens.index("<blank>"), tokens.index("<wb>"), run)


def engine(data: bytes) -> Callable[[Audio], Posteriors]:
    """The package's own engine over the weight file ``data``."""
    session = _engine.AsrSession(data)

    def run(audio: Audio) -> Posteriors:
        (log_probs,) = session.run(["log_probs"], {"waveform": audio})
        return np.asarray(log_probs[0], dtype=np.float32)

    return run


def read_weights(data: bytes) -> _Weights:
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


def _log_mel(audio: Audio, kernel: Posteriors, mel: Posteriors) -> Posteriors:
    """Log mel energies, shape (samples // 160 + 1, 80)."""
    padded = np.pad(audio, _WINDOW // 2, mode="reflect")
    frames = np.lib.stride_tricks.sliding_window_view(padded, _WINDOW)[::_HOP]
    spectrum = frames @ kernel
    half = spectrum.shape[1] // 2
    power = spectrum[:, :half] ** 2 + spectrum[:, half:] ** 2
    return np.log(np.maximum(power @ mel, 1e-10))


def _conformer(mel: Posteriors, weights: _Weights) -> Posteriors:
    frames = (len(mel) - 1) // 2 + 1
    padded = np.pad(mel, ((1, 1), (0, 0)))
    triples = np.concatenate([padded[k : k + 2 * frames - 1 : 2] for k in range(3)], axis=1)
    stem = weights["onnx::Conv_801"].transpose(2, 1, 0).reshape(3 * mel.shape[1], -1)
    hidden = _gelu(triples @ stem + weights["onnx::Conv_802"])
    for index in range(_BLOCKS):
        hidden = _block(hidden, index, weights)
    scores = hidden @ weights["acoustic_model.model.proj.weight"][:, :, 0].T + weights["acoustic_model.model.proj.bias"]
    scores -= scores.max(axis=1, keepdims=True)
    return np.asarray(scores - np.log(np.exp(scores).sum(axis=1, keepdims=True)), dtype=np.float32)


def _block(hidden: Posteriors, index: int, weights: _Weights) -> Posteriors:
    """Half feed-forward, attention, convolution, half feed-forward, norm; each with its residual."""
    part = f"acoustic_model.model.blocks.{index}."
    first_in, first_out, attend_in, attend_out, last_in, last_out = (
        weights[f"onnx::MatMul_{number}"] for number in _MATRICES[index]
    )

    def normed(name: str) -> Posteriors:
        return _norm(hidden, weights[part + name + ".weight"], weights[part + name + ".bias"])

    def forward(name: str, inward: Posteriors, outward: Posteriors) -> Posteriors:
        wide = _silu(normed(name + ".norm") @ inward + weights[part + name + ".fc1.bias"])
        return hidden + 0.5 * (wide @ outward + weights[part + name + ".fc2.bias"])

    hidden = forward("ffn1", first_in, first_out)
    mixed = _attention(normed("attn_norm") @ attend_in + weights[part + "attn.in_proj_bias"])
    hidden = hidden + mixed @ attend_out + weights[part + "attn.out_proj.bias"]
    hidden = hidden + _convolution(normed("conv.norm"), part + "conv.", _DEPTHWISE[index], weights)
    hidden = forward("ffn2", last_in, last_out)
    return normed("norm")


def _attention(joined: Posteriors) -> Posteriors:
    frames, width = joined.shape[0], joined.shape[1] // 3
    query, key, value = joined.reshape(frames, 3, _HEADS, width // _HEADS).transpose(1, 2, 0, 3)
    scores = query @ key.transpose(0, 2, 1) / np.float32(np.sqrt(width // _HEADS))
    scores = np.exp(scores - scores.max(axis=-1, keepdims=True))
    scores /= scores.sum(axis=-1, keepdims=True)
    return np.asarray((scores @ value).transpose(1, 0, 2).reshape(frames, width))


def _convolution(x: Posteriors, part: str, depthwise: tuple[int, int], weights: _Weights) -> Posteriors:
    x = x @ weights[part + "pointwise1.weight"][:, :, 0].T + weights[part + "pointwise1.bias"]
    width = x.shape[1] // 2
    gated = x[:, :width] / (1 + np.exp(-x[:, width:]))
    kernel = weights[f"onnx::Conv_{depthwise[0]}"][:, 0]
    reach = kernel.shape[1] // 2
    padded = np.pad(gated, ((reach, reach), (0, 0)))
    mixed = np.zeros_like(gated)
    for step in range(kernel.shape[1]):
        mixed += padded[step : step + len(gated)] * kernel[:, step]
    mixed = _silu(mixed + weights[f"onnx::Conv_{depthwise[1]}"])
    return np.asarray(mixed @ weights[part + "pointwise2.weight"][:, :, 0].T + weights[part + "pointwise2.bias"])


def _norm(x: Posteriors, weight: Posteriors, bias: Posteriors) -> Posteriors:
    centred = x - x.mean(axis=1, keepdims=True)
    return np.asarray(centred / np.sqrt((centred**2).mean(axis=1, keepdims=True) + 1e-5) * weight + bias)


def _silu(x: Posteriors) -> Posteriors:
    return np.asarray(x / (1 + np.exp(-x)))


def _gelu(x: Posteriors) -> Posteriors:
    """With erf after Abramowitz and Stegun 7.1.26 (error below 1.5e-7): numpy has none, scipy is not needed for one."""
    z = np.abs(x) / np.float32(np.sqrt(2))
    t = 1 / (1 + np.float32(0.3275911) * z)
    poly = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))))
    return np.asarray(0.5 * x * (1 + np.sign(x) * (1 - poly * np.exp(-(z**2)))), dtype=np.float32)
