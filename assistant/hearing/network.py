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

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.acoustics import PhonemeModel, Posteriors
from assistant.hearing.protocol import WordGraph

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
    blocks = sorted(
        (
            (target, source, arc, weight, phonemes)
            for arc, (source, word, target) in enumerate(graph.arcs)
            for weight, phonemes in pronounce(word)
        ),
        key=lambda block: block[0],
    )
    shapes = {phonemes: _states(phonemes, model) for *_, phonemes in blocks}
    sizes = np.array([len(shapes[phonemes][0]) for *_, phonemes in blocks], dtype=np.int32)
    end = np.cumsum(sizes, dtype=np.int32) - 1
    target = np.array([block[0] for block in blocks], dtype=np.int32)
    groups = np.flatnonzero(np.diff(target, prepend=-1)).astype(np.int32)
    return Network(
        nodes=graph.states,
        start=graph.start,
        finals=np.array(sorted(graph.finals), dtype=np.int32),
        words=tuple(word for _, word, _ in graph.arcs),
        arc=np.array([block[2] for block in blocks], dtype=np.int32),
        symbol=_joined([shapes[phonemes][0] for *_, phonemes in blocks], np.int32),
        skips=_joined([shapes[phonemes][1] for *_, phonemes in blocks], np.float32),
        entry=end - sizes + 1,
        end=end,
        source=np.array([block[1] for block in blocks], dtype=np.int32),
        target=target,
        weight=np.array([block[3] for block in blocks], dtype=np.float32),
        groups=groups,
        group_nodes=target[groups],
    )


def chains(strings: Sequence[Sequence[str]]) -> WordGraph:
    """Separate chains of words from one start; string ``i`` (not empty) ends in the ``i``-th of the final states."""
    arcs: list[tuple[int, str, int]] = []
    inner = 1 + len(strings)
    for index, words in enumerate(strings):
        states = [0, *range(inner, inner + len(words) - 1), 1 + index]
        inner += len(words) - 1
        arcs += zip(states, words, states[1:], strict=False)
    return WordGraph(inner, 0, frozenset(range(1, 1 + len(strings))), tuple(arcs))


def _joined(parts: list[NDArray[np.int32]] | list[Floats], kind: type) -> NDArray[np.int32]:
    return np.concatenate(parts) if parts else np.zeros(0, dtype=kind)


def _states(phonemes: tuple[int, ...], model: PhonemeModel) -> tuple[Ints, Floats]:
    """Symbols and skip marks of one block; see the module's text for the order of states."""
    silence, never = len(model.tokens), len(model.tokens) + 1
    symbols, skips = [never, silence, phonemes[0]], [NEVER, NEVER, 0.0]
    for before, phoneme in zip(phonemes, phonemes[1:], strict=False):
        symbols += [model.blank, phoneme]
        skips += [NEVER, NEVER if phoneme == before else 0.0]
    return np.array(symbols, dtype=np.int32), np.array(skips, dtype=np.float32)
