"""One pass over the frames that steps only those blocks of a network that can still win.

A state of a question has some ten thousand blocks, of which a few hundred matter at any time: those near the best
score, and those that may be entered from a node near it. They are gathered into small arrays whenever a node comes
into reach, and every few frames to drop what fell behind.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.ears.network import (
    NEVER,
    Floats,
    Ints,
    Network,
)

_Indices = NDArray[np.int64]

#: Frames after which blocks that fell behind are dropped.
_TIDY = 6


@dataclass(frozen=True)
class Ends:
    """Word ends of one frame that are near the best: blocks (ascending), scores, and frames where they began."""

    block: _Indices
    score: Floats
    began: Ints


@dataclass(frozen=True)
class _Active:
    """The part of a network that is being stepped; ``entry`` and ``end`` count within its own states."""

    blocks: _Indices
    states: _Indices
    entry: _Indices
    end: _Indices
    symbol: Ints
    skips: Floats
    source: Ints
    enter: Floats
    groups: _Indices
    group_nodes: Ints


def forward(network: Network, extended: Floats, bonus: float, beam: float) -> tuple[Floats, list[Ends]]:
    """Scores of the nodes (row ``t`` before frame ``t``; one row more than frames) and the word ends of each frame."""
    score = np.full(len(network.symbol), NEVER, dtype=np.float32)
    began = np.zeros(len(network.symbol), dtype=np.int32)
    node = np.full((len(extended) + 1, network.nodes), NEVER, dtype=np.float32)
    node[0, network.start] = 0
    near = node[0] > NEVER / 2
    active = _gather(network, near[network.source], bonus)
    now, since = score[active.states], began[active.states]
    ends = []
    for frame, emission in enumerate(extended):
        now[active.entry] = node[frame, active.source] + active.enter
        since[active.entry] = frame
        now, since = _step(now, since, active.skips)
        now += emission[active.symbol]
        last = now[active.end]
        node[frame + 1, active.group_nodes] = np.maximum.reduceat(last, active.groups)
        least = now.max() - beam
        ending = np.flatnonzero(last > least)
        ends.append(Ends(active.blocks[ending], last[ending], since[active.end[ending]]))
        reached = node[frame + 1] > least
        if np.any(reached & ~near) or frame % _TIDY == _TIDY - 1:
            near = reached
            score[active.states], began[active.states] = now, since
            alive = near[network.source]
            alive[active.blocks] |= np.maximum.reduceat(now, active.entry) > least
            before = active.states
            active = _gather(network, alive, bonus)
            now, since = score[active.states], began[active.states]
            score[before] = NEVER
    return node, ends


def _gather(network: Network, alive: NDArray[np.bool_], bonus: float) -> _Active:
    blocks = np.flatnonzero(alive)
    sizes = (network.end - network.entry + 1)[blocks].astype(np.int64)
    end = np.cumsum(sizes) - 1
    entry = end - sizes + 1
    states = np.arange(int(sizes.sum())) + np.repeat(network.entry[blocks] - entry, sizes)
    target = network.target[blocks]
    groups = np.flatnonzero(np.diff(target, prepend=-1))
    return _Active(
        blocks=blocks,
        states=states,
        entry=entry,
        end=end,
        symbol=network.symbol[states],
        skips=network.skips[states],
        source=network.source[blocks],
        enter=network.weight[blocks] + np.float32(bonus),
        groups=groups,
        group_nodes=target[groups],
    )


def _step(score: Floats, began: Ints, skips: Floats) -> tuple[Floats, Ints]:
    """Each state takes the best of itself, the one before, and the one before that where it may be passed from."""
    reached, since = score.copy(), began.copy()
    better = score[:-1] > reached[1:]
    np.copyto(reached[1:], score[:-1], where=better)
    np.copyto(since[1:], began[:-1], where=better)
    passed = score[:-2] + skips[2:]
    better = passed > reached[2:]
    np.copyto(reached[2:], passed, where=better)
    np.copyto(since[2:], began[:-2], where=better)
    return reached, since
