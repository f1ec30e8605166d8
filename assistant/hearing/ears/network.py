"""The CTC states of a word graph, laid out flat so that numpy steps all of them at once.

Every way to say the word of an arc is one *block* of states:

    entry, silence, first phoneme, blank, second phoneme, ..., last phoneme

A state is reached from itself, from the one before, and from the one before that where CTC lets a blank be passed
over (Graves et al., "Connectionist Temporal Classification", ICML 2006). ``silence`` takes blanks and the acoustic
model's word boundary alike. The last phoneme ends the word: its score goes to the arc's target node, and from there,
one frame later, into the entries of all blocks that leave that node. Two words that meet in the same phoneme may
share it ("six seven" is mostly said with one s), which plain CTC forbids.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.ears.acoustics import PhonemeModel
from assistant.hearing.ears.conformer import Posteriors
from assistant.language.state_grammar import WordGraph

Ints = NDArray[np.int32]
Floats = NDArray[np.float32]
#: Ways to say a word: each a log weight (0 for the likeliest) and its phonemes as columns of the posteriors.
Pronunciations = Sequence[tuple[float, tuple[int, ...]]]

#: Minus infinity for sums that must stay numbers.
NEVER = np.float32(-1e30)


@dataclass(frozen=True)
class Network:
    """Flat CTC states. Blocks are sorted by target node; ``arc`` says which arc of the graph each block says.

    ``symbol`` (per state): column of the extended posteriors. ``skips`` (per state): 0 where the state before the
    last may be passed from, NEVER where not. ``entry`` and ``end`` (per block): its first and last state.
    ``source``, ``target``, ``weight`` (per block): nodes, and the log weight of entering it, without any bonus.
    ``groups`` and ``group_nodes``: where each target node's blocks begin, and which node that is.
    """

    nodes: int
    start: int
    finals: Ints
    words: tuple[str, ...]
    arc: Ints
    symbol: Ints
    skips: Floats
    entry: Ints
    end: Ints
    source: Ints
    target: Ints
    weight: Floats
    groups: Ints
    group_nodes: Ints


def extend(posteriors: Posteriors, model: PhonemeModel) -> Floats:
    """Posteriors with two more columns: silence (blank or word boundary) and one that never happens."""
    silence = np.logaddexp(posteriors[:, model.blank], posteriors[:, model.boundary])
    never = np.full(len(posteriors), NEVER, dtype=np.float32)
    return np.column_stack([posteriors, silence, never])


def build(graph: WordGraph, pronounce: Callable[[str], Pronunciations], model: PhonemeModel) -> Network:
    """Lays ``graph`` out; ``pronounce`` gives the ways to say a word (at least one, none of them empty)."""
    words = {word: index for index, word in enumerate(dict.fromkeys(word for _, word, _ in graph.arcs))}
    said = _Said(words, pronounce, model)
    arcs = np.array([(source, words[word], target) for source, word, target in graph.arcs], dtype=np.int64)
    arcs = arcs.reshape(-1, 3)
    arc = np.repeat(np.arange(len(arcs)), said.ways[arcs[:, 1]])
    way = said.first[arcs[arc, 1]] + _counted(said.ways[arcs[:, 1]])
    order = np.argsort(arcs[arc, 2], kind="stable")
    arc, way = arc[order], way[order]
    sizes = said.sizes[way]
    end = np.cumsum(sizes) - 1
    states = np.repeat(said.offsets[way], sizes) + _counted(sizes)
    target = arcs[arc, 2]
    groups = np.flatnonzero(np.diff(target, prepend=-1))
    return Network(
        nodes=graph.states,
        start=graph.start,
        finals=np.array(sorted(graph.finals), dtype=np.int32),
        words=tuple(word for _, word, _ in graph.arcs),
        arc=arc.astype(np.int32),
        symbol=said.symbols[states],
        skips=said.skips[states],
        entry=(end - sizes + 1).astype(np.int32),
        end=end.astype(np.int32),
        source=arcs[arc, 0].astype(np.int32),
        target=target.astype(np.int32),
        weight=said.weights[way],
        groups=groups.astype(np.int32),
        group_nodes=target[groups].astype(np.int32),
    )


class _Said:
    """The ways to say each of some words, as flat arrays.

    ``first`` and ``ways`` (per word): its first way and how many there are. ``weights``, ``sizes``, ``offsets`` (per
    way): log weight, number of states, and where these begin in ``symbols`` and ``skips``.
    """

    def __init__(self, words: Iterable[str], pronounce: Callable[[str], Pronunciations], model: PhonemeModel) -> None:
        each = [pronounce(word) for word in words]
        flat = [way for ways in each for way in ways]
        states = [_states(phonemes, model) for _, phonemes in flat]
        self.ways = np.array([len(ways) for ways in each], dtype=np.int64)
        self.first = np.cumsum(self.ways) - self.ways
        self.weights = np.array([weight for weight, _ in flat], dtype=np.float32)
        self.sizes = np.array([len(symbols) for symbols, _ in states], dtype=np.int64)
        self.offsets = np.cumsum(self.sizes) - self.sizes
        self.symbols = np.array([symbol for symbols, _ in states for symbol in symbols], dtype=np.int32)
        self.skips = np.array([skip for _, skips in states for skip in skips], dtype=np.float32)


def _counted(sizes: NDArray[np.int64]) -> NDArray[np.int64]:
    """0, 1, ... up to each size, one after the other."""
    return np.arange(int(sizes.sum())) - np.repeat(np.cumsum(sizes) - sizes, sizes)


def chains(strings: Sequence[Sequence[str]]) -> WordGraph:
    """Separate chains of words from one start; string ``i`` (not empty) ends in the ``i``-th of the final states."""
    arcs: list[tuple[int, str, int]] = []
    inner = 1 + len(strings)
    for index, words in enumerate(strings):
        states = [0, *range(inner, inner + len(words) - 1), 1 + index]
        inner += len(words) - 1
        arcs += zip(states, words, states[1:], strict=False)
    return WordGraph(inner, 0, frozenset(range(1, 1 + len(strings))), tuple(arcs))


def _states(phonemes: tuple[int, ...], model: PhonemeModel) -> tuple[list[int], list[float]]:
    """Symbols and skip marks of one block; see the module's text for the order of states."""
    never = float(NEVER)
    silence, impossible = len(model.tokens), len(model.tokens) + 1
    symbols, skips = [impossible, silence, phonemes[0]], [never, never, 0.0]
    for before, phoneme in pairwise(phonemes):
        symbols += [model.blank, phoneme]
        skips += [never, never if phoneme == before else 0.0]
    return symbols, skips
