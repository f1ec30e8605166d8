"""The acoustic model's network in JAX, so that it can learn: the sums of ``assistant/hearing/ears/conformer.py``.

Sentences of like length are computed together; what lies behind a shorter one's end is kept out of attention and
convolution, so that each comes out as it would alone.
"""

from __future__ import annotations

from collections.abc import Callable

import jax
import jax.numpy as jnp
import numpy as np

from assistant.hearing.ears.conformer import (
    BLOCKS,
    DEPTHWISE,
    HEADS,
    MATRICES,
)

Weights = dict[str, jax.Array]


def log_probabilities(
    weights: Weights, mel: jax.Array, lengths: jax.Array, key: jax.Array, dropout: float
) -> jax.Array:
    """Log probabilities, shape (batch, frames, tokens), of log mel energies, shape (batch, 2 * frames, bands).

    ``lengths``: rows of ``mel`` that are sound; ``dropout``: share of what each layer adds that is left out.
    """
    rows = mel.shape[1]
    frames = (rows - 1) // 2 + 1
    mel = mel * (jnp.arange(rows) < lengths[:, None])[..., None]
    inside = jnp.arange(frames) < ((lengths - 1) // 2 + 1)[:, None]
    padded = jnp.pad(mel, ((0, 0), (1, 2), (0, 0)))
    triples = jnp.concatenate([padded[:, k : k + 2 * frames - 1 : 2] for k in range(3)], axis=-1)
    stem = weights["onnx::Conv_801"].transpose(2, 1, 0).reshape(3 * mel.shape[2], -1)
    hidden = jax.nn.gelu(triples @ stem + weights["onnx::Conv_802"], approximate=False)
    for index in range(BLOCKS):
        hidden = _block(hidden, inside, index, weights, _Dropping(jax.random.fold_in(key, index), dropout))
    scores = hidden @ weights["acoustic_model.model.proj.weight"][:, :, 0].T + weights["acoustic_model.model.proj.bias"]
    return jax.nn.log_softmax(scores, axis=-1)


class _Dropping:
    """Leaves a random share out of what it is called with, another one at each call."""

    def __init__(self, key: jax.Array, share: float) -> None:
        self._key, self._share, self._calls = key, share, 0

    def __call__(self, x: jax.Array) -> jax.Array:
        self._calls += 1
        kept = jax.random.bernoulli(jax.random.fold_in(self._key, self._calls), 1 - self._share, x.shape)
        return x * kept / (1 - self._share)


def _block(
    hidden: jax.Array, inside: jax.Array, index: int, weights: Weights, drop: Callable[[jax.Array], jax.Array]
) -> jax.Array:
    part = f"acoustic_model.model.blocks.{index}."
    first_in, first_out, attend_in, attend_out, last_in, last_out = (
        weights[f"onnx::MatMul_{number}"] for number in MATRICES[index]
    )

    def normed(name: str, x: jax.Array) -> jax.Array:
        centred = x - x.mean(axis=-1, keepdims=True)
        spread = jnp.sqrt((centred**2).mean(axis=-1, keepdims=True) + 1e-5)
        return centred / spread * weights[part + name + ".weight"] + weights[part + name + ".bias"]

    def forward(name: str, x: jax.Array, inward: jax.Array, outward: jax.Array) -> jax.Array:
        wide = jax.nn.silu(normed(name + ".norm", x) @ inward + weights[part + name + ".fc1.bias"])
        return x + 0.5 * drop(wide @ outward + weights[part + name + ".fc2.bias"])

    hidden = forward("ffn1", hidden, first_in, first_out)
    mixed = _attention(normed("attn_norm", hidden) @ attend_in + weights[part + "attn.in_proj_bias"], inside)
    hidden = hidden + drop(mixed @ attend_out + weights[part + "attn.out_proj.bias"])
    hidden = hidden + drop(_convolution(normed("conv.norm", hidden), inside, part + "conv.", index, weights))
    hidden = forward("ffn2", hidden, last_in, last_out)
    return normed("norm", hidden)


def _attention(joined: jax.Array, inside: jax.Array) -> jax.Array:
    batch, frames, width = joined.shape[0], joined.shape[1], joined.shape[2] // 3
    query, key, value = joined.reshape(batch, frames, 3, HEADS, width // HEADS).transpose(2, 0, 3, 1, 4)
    scores = query @ key.swapaxes(-1, -2) / np.sqrt(width // HEADS)
    shares = jax.nn.softmax(jnp.where(inside[:, None, None], scores, -1e9), axis=-1)
    attended: jax.Array = (shares @ value).transpose(0, 2, 1, 3).reshape(batch, frames, width)
    return attended


def _convolution(x: jax.Array, inside: jax.Array, part: str, index: int, weights: Weights) -> jax.Array:
    x = x @ weights[part + "pointwise1.weight"][:, :, 0].T + weights[part + "pointwise1.bias"]
    width = x.shape[-1] // 2
    gated = x[..., :width] * jax.nn.sigmoid(x[..., width:]) * inside[..., None]
    kernel, bias = (weights[f"onnx::Conv_{number}"] for number in DEPTHWISE[index])
    mixed = jax.lax.conv_general_dilated(
        gated,
        kernel[:, 0].T[:, None],
        window_strides=(1,),
        padding="SAME",
        dimension_numbers=("NWC", "WIO", "NWC"),
        feature_group_count=width,
    )
    return (
        jax.nn.silu(mixed + bias) @ weights[part + "pointwise2.weight"][:, :, 0].T + weights[part + "pointwise2.bias"]
    )
