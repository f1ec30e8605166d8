"""The network that learns is the one that hears."""

from __future__ import annotations

import jax
import jax.numpy as jnp
import numpy as np

from assistant.hearing.ears import acoustics
from assistant.hearing.ears.conformer import conformer
from grammars.teaching import jax_conformer
from tests.hearing.speech import spoken


def test_sentences_of_two_lengths_come_out_as_each_alone() -> None:
    """Outside reference: the numpy network, which another test holds equal to the package's own engine."""
    weights, hear = acoustics.packaged_weights(), acoustics.features()
    mels = [hear(spoken(words)) for words in ("seven", "three hundred and twelve volts")]
    rows = max(map(len, mels)) + 50
    together = np.stack([np.pad(mel, ((0, rows - len(mel)), (0, 0)), constant_values=7.0) for mel in mels])
    given = jax_conformer.log_probabilities(
        {name: jnp.asarray(each) for name, each in weights.items()},
        jnp.asarray(together),
        jnp.asarray([len(mel) for mel in mels]),
        jax.random.PRNGKey(0),
        0.0,
    )
    for mel, learnt in zip(mels, given, strict=True):
        alone = conformer(mel, weights)
        assert np.abs(np.exp(alone) - np.exp(np.asarray(learnt[: len(alone)]))).max() < 1e-3
