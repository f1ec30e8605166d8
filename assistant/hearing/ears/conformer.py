"""The acoustic model's network through numpy: log mel energies, and a conformer of four blocks of width 144.

After Gulati et al., "Conformer", Interspeech 2020; ``tests/hearing/test_acoustics.py`` holds it equal to the engine of
the ``hama`` package. ``grammars/teaching/jax_conformer.py`` is the same in JAX, which can learn.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.sound.audio import Audio

Posteriors = NDArray[np.float32]
Weights = dict[str, NDArray[np.float32]]

WINDOW = 400
_HOP = 160
HEADS = 4
BLOCKS = 4
#: Names that the package's converter gave to the weights of each block, in the order used below.
MATRICES = (
    (829, 830, 831, 835, 836, 837),
    (838, 839, 840, 844, 845, 846),
    (847, 848, 849, 853, 854, 855),
    (856, 857, 858, 862, 863, 864),
)
DEPTHWISE = ((804, 805), (807, 808), (810, 811), (813, 814))


def log_mel(audio: Audio, kernel: Posteriors, mel: Posteriors) -> Posteriors:
    """Log mel energies, shape (samples // 160 + 1, 80), by a ``kernel`` of sines and cosines and ``mel``, its bands."""
    padded = np.pad(audio, WINDOW // 2, mode="reflect")
    frames = np.lib.stride_tricks.sliding_window_view(padded, WINDOW)[::_HOP]
    spectrum = frames @ kernel
    half = spectrum.shape[1] // 2
    power = spectrum[:, :half] ** 2 + spectrum[:, half:] ** 2
    return np.log(np.maximum(power @ mel, 1e-10))


def conformer(mel: Posteriors, weights: Weights) -> Posteriors:
    """Log probabilities, shape (frames, tokens), a frame for every second row of ``mel``."""
    frames = (len(mel) - 1) // 2 + 1
    padded = np.pad(mel, ((1, 1), (0, 0)))
    triples = np.concatenate([padded[k : k + 2 * frames - 1 : 2] for k in range(3)], axis=1)
    stem = weights["onnx::Conv_801"].transpose(2, 1, 0).reshape(3 * mel.shape[1], -1)
    hidden = _gelu(triples @ stem + weights["onnx::Conv_802"])
    for index in range(BLOCKS):
        hidden = _block(hidden, index, weights)
    scores = hidden @ weights["acoustic_model.model.proj.weight"][:, :, 0].T + weights["acoustic_model.model.proj.bias"]
    scores -= scores.max(axis=1, keepdims=True)
    return np.asarray(scores - np.log(np.exp(scores).sum(axis=1, keepdims=True)), dtype=np.float32)


def _block(hidden: Posteriors, index: int, weights: Weights) -> Posteriors:
    """Half feed-forward, attention, convolution, half feed-forward, norm; each with its residual."""
    part = f"acoustic_model.model.blocks.{index}."
    first_in, first_out, attend_in, attend_out, last_in, last_out = (
        weights[f"onnx::MatMul_{number}"] for number in MATRICES[index]
    )

    def normed(name: str) -> Posteriors:
        return _norm(hidden, weights[part + name + ".weight"], weights[part + name + ".bias"])

    def forward(name: str, inward: Posteriors, outward: Posteriors) -> Posteriors:
        wide = _silu(normed(name + ".norm") @ inward + weights[part + name + ".fc1.bias"])
        return hidden + 0.5 * (wide @ outward + weights[part + name + ".fc2.bias"])

    hidden = forward("ffn1", first_in, first_out)
    mixed = _attention(normed("attn_norm") @ attend_in + weights[part + "attn.in_proj_bias"])
    hidden = hidden + mixed @ attend_out + weights[part + "attn.out_proj.bias"]
    hidden = hidden + _convolution(normed("conv.norm"), part + "conv.", DEPTHWISE[index], weights)
    hidden = forward("ffn2", last_in, last_out)
    return normed("norm")


def _attention(joined: Posteriors) -> Posteriors:
    frames, width = joined.shape[0], joined.shape[1] // 3
    query, key, value = joined.reshape(frames, 3, HEADS, width // HEADS).transpose(1, 2, 0, 3)
    scores = query @ key.transpose(0, 2, 1) / np.float32(np.sqrt(width // HEADS))
    scores = np.exp(scores - scores.max(axis=-1, keepdims=True))
    scores /= scores.sum(axis=-1, keepdims=True)
    return np.asarray((scores @ value).transpose(1, 0, 2).reshape(frames, width))


def _convolution(x: Posteriors, part: str, depthwise: tuple[int, int], weights: Weights) -> Posteriors:
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
    under = np.exp(-x)
    under += 1
    return np.divide(x, under, out=under)


def _gelu(x: Posteriors) -> Posteriors:
    """With erf after Abramowitz and Stegun 7.1.26 (error below 1.5e-7): numpy has none, scipy is not needed for one."""
    z = np.abs(x) / np.float32(np.sqrt(2))
    t = 1 / (1 + np.float32(0.3275911) * z)
    poly = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))))
    return np.asarray(0.5 * x * (1 + np.sign(x) * (1 - poly * np.exp(-(z**2)))), dtype=np.float32)
