"""Finding what was said: the best word strings of a network for given posteriors, and how likely a string is.

``best`` is a Viterbi search that keeps, for every frame, the ends of words that came near the best; an A* walk back
over these, whose estimate is the search's own exact score, then gives the strings in order. ``likelihoods`` sums over
all alignments and pronunciations (the CTC forward score), for many strings at once.

Both add ``bonus`` for every word entered: frames are scored one by one, so that long strings pay more often than
short ones, and without a bonus words are dropped (design, section 5).
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.ears.beam import Ends, forward
from assistant.hearing.ears.network import NEVER, Floats, Network

#: How many word ends may be looked at while walking back.
_STEPS = 3000
#: How often the same words may be walked back to the same node, at different times.
_REPEATS = 2


@dataclass(frozen=True)
class Found:
    """A word string, its score (natural log, bonus included) and the frame at which each word begins."""

    words: tuple[str, ...]
    score: float
    frames: tuple[int, ...]


def best(network: Network, extended: Floats, bonus: float, most: int, beam: float = 15.0) -> list[Found]:
    """Up to ``most`` different word strings, best first; none when no string of the network fits into the frames.

    Strings that score more than ``beam`` below the best, and states that ever do, are left out: 15 finds as much as 30,
    in a third of the time.
    """
    if not len(extended) or not len(network.entry):
        return []
    merged, firsts = merge_silence(extended)
    node, ends = forward(network, merged, bonus, beam)
    found = _walk_back(network, merged, node, ends, most, beam)
    return [Found(each.words, each.score, tuple(int(firsts[at]) for at in each.frames)) for each in found]


def merge_silence(extended: Floats, least: float = 0.99) -> tuple[Floats, NDArray[np.int64]]:
    """Runs of frames that are silence with a chance above ``least`` become one, and where each frame was before.

    Half of all frames are of that kind. A path that stays in one state over such a run scores as before, and no
    other path has a chance there.
    """
    silent = extended[:, -2] > np.log(least)
    keep = np.flatnonzero(~(silent & np.concatenate([[False], silent[:-1]])))
    return np.maximum(np.add.reduceat(extended, keep, axis=0), NEVER), keep


def likelihoods(network: Network, extended: Floats, bonus: float) -> NDArray[np.float64]:
    """Log likelihood of ending in each of ``network.finals``, summed over all ways to get there; NEVER if none."""
    if not len(extended) or not len(network.entry):
        return np.full(len(network.finals), float(NEVER))
    merged, _ = merge_silence(extended)
    top = merged[:, :-1].max(axis=1, keepdims=True)
    chance = np.exp(merged - top).astype(np.float64)
    skips = (network.skips[2:] == 0).astype(np.float64)
    enter = np.exp(network.weight.astype(np.float64) + bonus)
    state = np.zeros(len(network.symbol))
    node = np.zeros(network.nodes)
    node[network.start] = 1.0
    finished = np.zeros(len(network.finals), dtype=np.float64)
    log_scale = float(top.sum())
    for frame in chance:
        state[network.entry] = node[network.source] * enter
        reached = state.copy()
        reached[1:] += state[:-1]
        reached[2:] += state[:-2] * skips
        state = reached * frame[network.symbol]
        finished = (finished + node[network.finals]) * frame[-2]
        node = np.bincount(network.target, state[network.end], network.nodes).astype(np.float64)
        scale = max(state.max(), finished.max())
        if scale == 0:
            return np.full(len(network.finals), float(NEVER))
        state /= scale
        node /= scale
        finished /= scale
        log_scale += np.log(scale)
    total = finished + node[network.finals]
    with np.errstate(divide="ignore"):
        return np.maximum(np.log(total) + log_scale, float(NEVER))


def _walk_back(
    network: Network, extended: Floats, node: Floats, ends: Sequence[Ends], most: int, beam: float
) -> list[Found]:
    silence = extended[:, -2].astype(np.float64)
    tail = np.concatenate([np.cumsum(silence[::-1])[::-1], [0.0]])
    order = count()
    # (minus the whole path's score, tie-break, score of what follows, node, frame, words, frames)
    queue: list[tuple[float, int, float, int, int, tuple[str, ...], tuple[int, ...]]] = []
    closed = node[:, network.finals] + tail[:, None]
    least = float(closed.max()) - beam
    for frame, column in np.argwhere(closed > max(least, NEVER / 2)):
        whole, final = float(closed[frame, column]), int(network.finals[column])
        heapq.heappush(queue, (-whole, next(order), float(tail[frame]), final, int(frame), (), ()))
    found: list[Found] = []
    seen: dict[tuple[int, tuple[str, ...]], int] = {}
    steps = 0
    while queue and len(found) < most and steps < _STEPS:
        minus, _, after, at, frame, words, frames = heapq.heappop(queue)
        seen[at, words] = seen.get((at, words), 0) + 1
        if seen[at, words] > _REPEATS:
            continue
        if frame == 0:
            if at == network.start and words and all(words != other.words for other in found):
                found.append(Found(words, -minus, frames))
            continue
        end = ends[frame - 1]
        first, last = np.searchsorted(network.target[end.block], (at, at + 1))
        for index in range(first, last):
            steps += 1
            block = end.block[index]
            source, since = int(network.source[block]), int(end.began[index])
            whole = after + float(end.score[index])
            if whole < least:
                continue
            before = float(node[since, source])
            longer = (network.words[network.arc[block]], *words)
            heapq.heappush(queue, (-whole, next(order), whole - before, source, since, longer, (since, *frames)))
    return found
