"""Finding what was said: the best word strings of a network for given posteriors, and how likely a string is.

``best`` is a Viterbi search over all states at once that keeps, for every frame, the ends of words that came near the
best; an A* walk back over these, whose estimate is the search's own exact score, then gives the strings in order.
``likelihoods`` sums over all alignments and pronunciations (the CTC forward score), for many strings at once.

Both add ``bonus`` for every word entered: frames are scored one by one, so that long strings pay more often than
short ones, and without a bonus words are dropped (design, section 5).
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from itertools import count

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.network import NEVER, Floats, Ints, Network

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


@dataclass(frozen=True)
class _Ends:
    """Word ends of one frame that are near the best: blocks (ascending), scores, and frames where they began."""

    block: NDArray[np.int64]
    score: Floats
    began: Ints


def best(network: Network, extended: Floats, bonus: float, most: int, beam: float = 40.0) -> list[Found]:
    """Up to ``most`` different word strings, best first; none when no string of the network fits into the frames.

    Strings that score more than ``beam`` below the best, and words that end so far below, are left out.
    """
    if not len(extended) or not len(network.entry):
        return []
    node, ends = _forward(network, extended, bonus, beam)
    return _walk_back(network, extended, node, ends, most, beam)


def likelihoods(network: Network, extended: Floats, bonus: float) -> NDArray[np.float64]:
    """Log likelihood of ending in each of ``network.finals``, summed over all ways to get there; NEVER if none."""
    if not len(extended) or not len(network.entry):
        return np.full(len(network.finals), float(NEVER))
    top = extended[:, :-1].max(axis=1, keepdims=True)
    chance = np.exp(extended - top).astype(np.float64)
    skips = (network.skips[2:] == 0).astype(np.float64)
    enter = np.exp(network.weight.astype(np.float64) + bonus)
    state = np.zeros(len(network.symbol))
    node = np.zeros(network.nodes)
    node[network.start] = 1.0
    finished = np.zeros(len(network.finals))
    log_scale = float(top.sum())
    for frame in chance:
        state[network.entry] = node[network.source] * enter
        reached = state.copy()
        reached[1:] += state[:-1]
        reached[2:] += state[:-2] * skips
        state = reached * frame[network.symbol]
        finished = (finished + node[network.finals]) * frame[-2]
        node = np.bincount(network.target, state[network.end], network.nodes)
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


def _forward(network: Network, extended: Floats, bonus: float, beam: float) -> tuple[Floats, list[_Ends]]:
    """Scores of the nodes (row ``t`` before frame ``t``; one row more than frames) and the word ends of each frame."""
    states = len(network.symbol)
    score = np.full(states, NEVER, dtype=np.float32)
    began = np.zeros(states, dtype=np.int32)
    node = np.full((len(extended) + 1, network.nodes), NEVER, dtype=np.float32)
    node[0, network.start] = 0
    enter = network.weight + np.float32(bonus)
    ends = []
    for frame, emission in enumerate(extended):
        score[network.entry] = node[frame, network.source] + enter
        began[network.entry] = frame
        score, began = _step(score, began, network.skips)
        score += emission[network.symbol]
        last = score[network.end]
        node[frame + 1, network.group_nodes] = np.maximum.reduceat(last, network.groups)
        near = np.flatnonzero(last > score.max() - beam)
        ends.append(_Ends(near, last[near], began[network.end[near]]))
    return node, ends


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


def _walk_back(
    network: Network, extended: Floats, node: Floats, ends: list[_Ends], most: int, beam: float
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
