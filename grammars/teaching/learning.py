"""Learns how words sound to the acoustic model by listening to transcribed speech.

Each utterance is aligned with its known words; what the model itself makes of each word's frames becomes a candidate;
of all candidates of a word, those few are kept that together make its utterances likeliest, with their shares as
weights. Two or three rounds of this settle. ``grammars/teaching/learn_pronunciations.py`` runs it.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.ears import network, search
from assistant.hearing.ears.acoustics import PhonemeModel
from assistant.hearing.ears.conformer import Posteriors
from assistant.hearing.ears.network import Floats, Pronunciations
from assistant.hearing.ears.pronunciation import Lexicon

Phonemes = tuple[int, ...]

#: Candidates looked at, ways kept, and occurrences listened to, for one word.
_CANDIDATES = 40
_WAYS = 6
_OCCURRENCES = 300
#: A further way must make the word's occurrences this much likelier on average (natural log).
_WORTH = 0.15
#: Occurrences that no way explains count as this far below the best candidate.
_LOST = 15.0
#: Posteriors are surer of themselves than they are right: shares are taken from scores scaled by this.
_SCALE = 0.5


@dataclass(frozen=True)
class Lesson:
    """An utterance to learn from: its words, its posteriors, and how much it counts (formant voices less)."""

    words: tuple[str, ...]
    posteriors: Posteriors
    weight: float = 1.0


@dataclass(frozen=True)
class _Occurrence:
    """The frames of one word in one utterance."""

    frames: Floats
    heard: Phonemes
    weight: float


def learn(
    model: PhonemeModel, lessons: Sequence[Lesson], lexicon: Lexicon, rounds: int = 2
) -> dict[str, Pronunciations]:
    """Ways to say every word of ``lessons``. ``lexicon`` is where the first alignment takes its ways from."""
    ways: dict[str, Pronunciations] = {}
    for _ in range(rounds):
        occurrences = _occurrences(model, lessons, lexicon)
        ways = {
            word: _kept(model, found, [phonemes for _, phonemes in lexicon.pronounce(word)])
            for word, found in sorted(occurrences.items())
        }
        lexicon = Lexicon(model, ways)
    return ways


def _occurrences(model: PhonemeModel, lessons: Iterable[Lesson], lexicon: Lexicon) -> dict[str, list[_Occurrence]]:
    found: dict[str, list[_Occurrence]] = defaultdict(list)
    for lesson in lessons:
        extended = network.extend(lesson.posteriors, model)
        chain = network.build(network.chains([lesson.words]), lexicon.pronounce, model)
        aligned = search.best(chain, extended, bonus=0.0, most=1, beam=1e9)
        if not aligned:
            continue
        borders = [*aligned[0].frames, len(extended)]
        for word, begin, end in zip(lesson.words, borders, borders[1:], strict=False):
            if end - begin > 1 and len(found[word]) < _OCCURRENCES:
                heard = collapsed(model, lesson.posteriors[begin:end])
                found[word].append(_Occurrence(extended[begin:end], heard, lesson.weight))
    return {word: each for word, each in found.items() if each}


def collapsed(model: PhonemeModel, posteriors: Posteriors) -> Phonemes:
    """The likeliest phonemes frame by frame, repeats and blanks taken out."""
    best = posteriors.argmax(axis=1)
    changed = np.flatnonzero(np.diff(best, prepend=-1))
    return tuple(int(best[at]) for at in changed if best[at] not in (model.blank, model.boundary))


def _kept(model: PhonemeModel, occurrences: Sequence[_Occurrence], known: Sequence[Phonemes]) -> Pronunciations:
    """The ways that explain a word's occurrences best, the likeliest with weight 0."""
    counted: Counter[Phonemes] = Counter()
    for each in occurrences:
        if each.heard:
            counted[each.heard] += each.weight  # type: ignore[assignment]
    candidates = list(dict.fromkeys([*(way for way, _ in counted.most_common(_CANDIDATES)), *known]))
    names = {str(index): ((0.0, way),) for index, way in enumerate(candidates)}
    laid_out = network.build(network.chains([[name] for name in names]), names.__getitem__, model)
    scores = np.array([search.likelihoods(laid_out, each.frames, 0.0) for each in occurrences])
    weights = np.array([each.weight for each in occurrences])
    chosen = _chosen(scores, weights)
    shares = _shares(scores[:, chosen], weights)
    return tuple(
        sorted(
            ((round(float(share), 2), candidates[at]) for share, at in zip(shares, chosen, strict=True)), reverse=True
        )
    )


def _chosen(scores: NDArray[np.float64], weights: NDArray[np.float64]) -> list[int]:
    """Greedily, the column that helps most, while it helps enough. Shape of ``scores``: (occurrences, candidates)."""
    reached = scores.max(axis=1) - _LOST
    chosen: list[int] = []
    while len(chosen) < min(_WAYS, scores.shape[1]):
        gains = weights @ (np.maximum(scores, reached[:, None]) - reached[:, None])
        best = int(np.argmax(gains))
        if chosen and gains[best] < _WORTH * weights.sum():
            break
        chosen.append(best)
        reached = np.maximum(reached, scores[:, best])
    return chosen


def _shares(scores: NDArray[np.float64], weights: NDArray[np.float64]) -> NDArray[np.float64]:
    """Log shares of the columns by expectation-maximisation, the largest 0; half an occurrence each to begin with."""
    shares = np.full(scores.shape[1], 1 / scores.shape[1])
    for _ in range(20):
        joint = _SCALE * scores + np.log(shares)
        joint = np.exp(joint - joint.max(axis=1, keepdims=True))
        counts = weights @ (joint / joint.sum(axis=1, keepdims=True)) + 0.5
        shares = counts / counts.sum()
    return np.asarray(np.log(shares / shares.max()))
