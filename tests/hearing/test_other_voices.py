"""What the acoustic model is taught with besides noise: other vocal tracts."""

from __future__ import annotations

import jax
import jax.numpy as jnp
import numpy as np
import pytest

from grammars.teaching.other_voices import TRACTS, otherwise, warps

BANDS = 80


def hertz(band: float) -> float:
    """The middle of a band: 80 of them from 0 to 8 kHz, evenly spaced in mel (O'Shaughnessy's formula)."""
    top = 1127 * np.log1p(8000 / 700)
    return float(700 * np.expm1((band + 1) * top / (BANDS + 1) / 1127))


def test_the_voice_s_own_tract_changes_nothing() -> None:
    own = min(range(len(TRACTS)), key=lambda index: abs(TRACTS[index] - 1))
    assert np.allclose(warps()[own], np.eye(BANDS), atol=1e-6)


@pytest.mark.parametrize("band", [12, 30, 55])
def test_another_tract_moves_a_resonance_by_its_factor(band: int) -> None:
    mel = np.exp(-(((np.arange(BANDS) - band) / 3) ** 2))
    for tract, matrix in zip(TRACTS, warps(), strict=True):
        moved = mel @ matrix
        middle = float(np.sum(np.arange(BANDS) * moved) / np.sum(moved))
        assert hertz(middle) * tract == pytest.approx(hertz(band), rel=0.04)


def test_every_sound_keeps_its_shape_and_most_of_itself() -> None:
    mel = jax.random.normal(jax.random.PRNGKey(1), (16, 100, BANDS))
    changed = otherwise(mel, jnp.asarray(warps()), jax.random.PRNGKey(2))
    assert changed.shape == mel.shape
    assert np.isfinite(np.asarray(changed)).all()
    same = np.isclose(np.asarray(changed), np.asarray(mel)).mean(axis=(1, 2))
    assert same.max() > 0.8  # its own tract: at most a band and a moment are gone
    assert same.min() < 0.2  # another's
