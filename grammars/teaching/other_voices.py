"""What is done to log mel energies while the acoustic model learns: other vocal tracts, bands and moments blotted out.

Cheap on the machine that learns, and other at every step, so that the same spoilt sound may be heard many times.
"""

from __future__ import annotations

import jax
import jax.numpy as jnp
import numpy as np
from numpy.typing import NDArray

#: Bands of the features (80 from 0 to 8 kHz, evenly spaced in mel), and the vocal tracts that are tried: how far every
#: resonance is moved. The middle one is the voice's own.
_BANDS, _TOP_HZ = 80, 8_000.0
TRACTS = tuple(float(each) for each in np.linspace(0.88, 1.14, 27))
_OWN = TRACTS.index(min(TRACTS, key=lambda each: abs(each - 1)))
#: Share of the sounds that get another tract, and that lose a moment of so many rows; the widest band that is lost.
_OTHER, _SHORT, _MOMENT, _WIDEST = 0.6, 0.5, 8, 8


def warps() -> NDArray[np.float32]:
    """A matrix for each of TRACTS, shape (tracts, bands, bands): ``mel @ matrix`` is as another tract says it."""
    centres = np.linspace(0, _mel(_TOP_HZ), _BANDS + 2)[1:-1]
    made = np.zeros((len(TRACTS), _BANDS, _BANDS), dtype=np.float32)
    for matrix, tract in zip(made, TRACTS, strict=True):
        wanted = _mel(np.clip(_hertz(centres) * (1.0 if tract == TRACTS[_OWN] else tract), 0, _TOP_HZ - 100))
        at = np.interp(wanted, centres, np.arange(_BANDS))
        below = np.clip(np.floor(at).astype(int), 0, _BANDS - 2)
        matrix[below, np.arange(_BANDS)] = 1 - (at - below)
        matrix[below + 1, np.arange(_BANDS)] = at - below
    return made


def otherwise(mel: jax.Array, matrices: jax.Array, key: jax.Array) -> jax.Array:
    """``mel``, shape (batch, rows, bands), each sound changed by chance."""
    batch, rows, bands = mel.shape
    keys = jax.random.split(key, 6)
    tract = jax.random.randint(keys[0], (batch,), 0, len(TRACTS))
    tract = jnp.where(jax.random.uniform(keys[1], (batch,)) < _OTHER, tract, _OWN)
    own = (tract == _OWN)[:, None, None]
    mel = jnp.where(own, mel, jnp.einsum("brk,bkj->brj", mel, matrices[tract]))
    mean = mel.mean(axis=(1, 2), keepdims=True)
    low = jax.random.randint(keys[2], (batch, 1), 0, bands - _WIDEST)
    width = jax.random.randint(keys[3], (batch, 1), 0, _WIDEST + 1)
    at = jnp.arange(bands)[None]
    mel = jnp.where(((at >= low) & (at < low + width))[:, None, :], mean, mel)
    begin = jax.random.randint(keys[4], (batch, 1), 0, rows)
    length = jnp.where(jax.random.uniform(keys[5], (batch, 1)) < _SHORT, _MOMENT, 0)
    when = jnp.arange(rows)[None]
    return jnp.where(((when >= begin) & (when < begin + length))[:, :, None], mean, mel)


def _mel(hertz: float | NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(1127 * np.log1p(np.asarray(hertz) / 700))


def _hertz(mel: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(700 * np.expm1(mel / 1127))
