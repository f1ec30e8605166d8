"""Which state of the words each frame of an utterance belongs to, the words being known: for learning from them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.ears.network import NEVER, Floats, Network

#: The label of a frame in which nothing is said: blank and word boundary alike.
SILENCE = -1


def align(network: Network, extended: Floats, bonus: float) -> NDArray[np.int16] | None:
    """The likeliest column of the posteriors for each frame, SILENCE between words; None when the words do not fit.

    ``network`` has one final state, as ``chains`` of one string has; ``extended`` as ``network.extend`` makes it.
    """
    silence = extended.shape[1] - 2
    state = np.full(len(network.symbol), NEVER, dtype=np.float64)
    node = np.full((len(extended) + 1, network.nodes), NEVER, dtype=np.float64)
    node[0, network.start] = 0
    arrived = np.zeros((len(extended) + 1, network.nodes), dtype=np.int64)
    came = np.zeros((len(extended), len(network.symbol)), dtype=np.int8)
    (final,) = network.finals
    ended, ended_at, ends_at = float(NEVER), 0, []
    for frame, emission in enumerate(extended):
        state[network.entry] = node[frame, network.source] + network.weight + bonus
        state, came[frame] = _step(state, network.skips)
        state += emission[network.symbol]
        if node[frame, final] > ended:
            ended, ended_at = float(node[frame, final]), frame
        ended += float(emission[silence])
        ends_at.append(ended_at)
        reached = state[network.end]
        for block in np.argsort(reached):  # the best comes last and stays
            node[frame + 1, network.target[block]] = reached[block]
            arrived[frame + 1, network.target[block]] = block
    whole = float(node[-1, final])
    if max(ended, whole) < NEVER / 2:
        return None
    labels = np.full(len(extended), SILENCE, dtype=np.int16)
    _walk_back(network, came, arrived, labels, len(extended) if whole >= ended else ends_at[-1])
    labels[labels == silence] = SILENCE
    return labels


def _step(state: NDArray[np.float64], skips: Floats) -> tuple[NDArray[np.float64], NDArray[np.int8]]:
    """Each state from the best of itself, the one before and the one before that, and how far back that was."""
    one, two = np.full_like(state, NEVER), np.full_like(state, NEVER)
    one[1:] = state[:-1]
    two[2:] = state[:-2] + skips[2:]
    choices = np.stack([state, one, two])
    back = choices.argmax(axis=0).astype(np.int8)
    return choices.max(axis=0), back


def _walk_back(
    network: Network,
    came: NDArray[np.int8],
    arrived: NDArray[np.int64],
    labels: NDArray[np.int16],
    end: int,
) -> None:
    entries = frozenset(network.entry.tolist())
    at, node = end, int(network.finals[0])
    while at > 0:
        block = int(arrived[at, node])
        state, frame = int(network.end[block]), at - 1
        while state not in entries:
            labels[frame] = network.symbol[state]
            state -= int(came[frame, state])
            frame -= state not in entries
        at, node = frame, int(network.source[block])
