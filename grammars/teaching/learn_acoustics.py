"""Learns ``acoustics.npz`` again: what the acoustic model lacks for machine noise and for voices unlike its teachers.

    python -m grammars.teaching.learn_acoustics WORK_FOLDER [--lessons N] [--steps N] [--from FILE] [--halfway]

Synthetic voices say the lessons (``recordings_synthetic/lessons.py``), human speech is never used: it is for measuring.
Each is aligned with its words by the model as it is packaged, in quiet; then the model is taught to give the same
labels for the same words in noise, in rooms and through poor microphones. So it keeps its own phonemes, and the
pronunciations stay right. Plain sentences, whose words have no learnt pronunciation, teach by what the model itself
makes of them in quiet. WORK_FOLDER keeps the examples (some 0.05 MB each). Needs the extras "recordings" and
"learning". The shipped file is from 16,000 lessons and 14,600 steps in four goes, each from the one before (--from):
the first with noise alone, the others with rooms, microphones and knocks too, the third at 3 to 15 dB, the last mostly
at 0 to 12 dB and halfway.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from random import Random
from typing import NamedTuple

import jax
import jax.numpy as jnp
import numpy as np
import optax
from numpy.typing import NDArray

from assistant.hearing.ears import acoustics, network, pronunciation
from assistant.hearing.ears.conformer import Posteriors, Weights
from assistant.hearing.ears.phoneme import cleared
from assistant.hearing.sound.audio import SAMPLE_RATE
from grammars.teaching.alignment import SILENCE, align
from grammars.teaching.jax_conformer import log_probabilities
from recordings_synthetic.lessons import Lesson, lessons, spoiled

#: Times that each lesson is heard spoilt, besides once in quiet.
_SPOILT = 2
#: A formant voice's lesson counts this much: nobody talks like them.
_FORMANT = 0.5
_LONGEST_S = 9.0
_ROWS_A_STEP = 3000
_LENGTHS = 64
_RATE, _WARM_UP, _DROPOUT, _CLIP = 3e-4, 100, 0.1, 1.0
#: Silence that the model itself finds is this many blanks, or a word boundary.
_PAUSE = 12
#: Widest band of frequencies that is blotted out, of 80.
_BLOTTED = 8

#: Weights while they learn.
Learning = dict[str, jax.Array]


class Example(NamedTuple):
    """``mel``: (rows, bands), half precision; ``labels``: (frames,), a column of the posteriors or SILENCE;
    ``boundary``: (frames,), the share of a silent frame that is the word boundary and not blank."""

    mel: NDArray[np.float16]
    labels: NDArray[np.int16]
    boundary: NDArray[np.float16]
    weight: float


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, metavar="WORK_FOLDER")
    parser.add_argument("--lessons", type=int, default=10_000)
    parser.add_argument("--steps", type=int, default=5_000)
    parser.add_argument("--from", dest="start", type=Path, help="go on from what was learnt in this file")
    parser.add_argument("--halfway", action="store_true", help="keep the mean of its beginning and its end")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(arguments)
    kept = options.folder / f"examples-{options.lessons}-{options.seed}.npz"
    if not kept.exists():
        options.folder.mkdir(parents=True, exist_ok=True)
        _keep(kept, list(_examples(lessons(options.lessons, options.seed), Random(options.seed))))
    examples = _kept(kept)
    print(f"learning from {len(examples)} examples", file=sys.stderr)
    packaged = acoustics.packaged_weights()
    begun = acoustics.with_learnt(packaged, options.start) if options.start else packaged
    learnt = _taught(begun, examples, options.steps, Random(options.seed))
    if options.halfway:
        learnt = {name: ((begun[name] + learnt[name]) / 2).astype(np.float32) for name in learnt}
    _write(packaged, learnt)
    return 0


def _keep(file: Path, examples: Sequence[Example]) -> None:
    """All examples end to end, as plain arrays: what is read again must not be able to run anything."""
    parts = zip(*examples, strict=True)
    rows = np.array([len(example.mel) for example in examples])
    frames = np.array([len(example.labels) for example in examples])
    mel, labels, boundary, weight = (list(part) for part in parts)
    np.savez(file, mel=np.concatenate(mel), labels=np.concatenate(labels), boundary=np.concatenate(boundary),
             weight=np.array(weight), rows=rows, frames=frames)  # fmt: skip


def _kept(file: Path) -> list[Example]:
    with np.load(file, allow_pickle=False) as arrays:
        mel = np.split(arrays["mel"], np.cumsum(arrays["rows"])[:-1])
        labels, boundary = (np.split(arrays[name], np.cumsum(arrays["frames"])[:-1]) for name in ("labels", "boundary"))
        return [Example(*each) for each in zip(mel, labels, boundary, arrays["weight"].tolist(), strict=True)]


def _examples(said: Iterator[Lesson], draw: Random) -> Iterator[Example]:
    model, features = acoustics.load(), acoustics.features()
    lexicon = pronunciation.load(model)
    usual = [lesson for lesson in said if len(lesson.audio) < _LONGEST_S * SAMPLE_RATE]
    others = [lesson.audio for lesson in draw.sample(usual, min(40, len(usual)))]
    for lesson in usual:
        posteriors = model.posteriors(cleared(lesson.audio))
        labels = _labels(lesson, posteriors, model, lexicon)
        if labels is None:
            continue
        silent = posteriors[:, [model.blank, model.boundary]]
        boundary = np.exp(silent[:, 1] - np.logaddexp(silent[:, 0], silent[:, 1]))
        weight = _FORMANT if lesson.voice.style == "formant" else 1.0
        heard = [(lesson.audio, 0), *(spoiled(lesson.audio, others, draw) for _ in range(_SPOILT))]
        for audio, before in heard:
            mel = features(cleared(audio))
            frames = (len(mel) - 1) // 2 + 1
            count = min(len(labels), frames - before)
            there = np.full(frames, SILENCE, dtype=np.int16)
            there[before : before + count] = labels[:count]
            share = np.zeros(frames)
            share[before : before + count] = boundary[:count]
            yield Example(mel.astype(np.float16), there, share.astype(np.float16), weight)


def _labels(
    lesson: Lesson, posteriors: Posteriors, model: acoustics.PhonemeModel, lexicon: pronunciation.Lexicon
) -> NDArray[np.int16] | None:
    if lesson.known:
        chain = network.build(network.chains([lesson.words.split()]), lexicon.pronounce, model)
        return align(chain, network.extend(posteriors, model), model.bonus)
    labels: NDArray[np.int16] = posteriors.argmax(axis=1).astype(np.int16)
    quiet = np.isin(labels, (model.blank, model.boundary))
    borders = np.flatnonzero(np.diff(quiet, prepend=~quiet[:1], append=~quiet[-1:]))
    for first, last in pairwise(borders):
        at_an_end = first == 0 or last == len(labels)
        pause = last - first >= _PAUSE or (labels[first:last] == model.boundary).any()
        if quiet[first] and (at_an_end or pause):
            labels[first:last] = SILENCE
    return labels


def _taught(begun: Weights, examples: Sequence[Example], steps: int, draw: Random) -> Weights:
    """The weights after ``steps`` steps of gradient descent (Adam, cosine schedule)."""
    model = acoustics.load()
    learning = {name: jnp.asarray(each) for name, each in begun.items() if name not in acoustics.FIXED}
    schedule = optax.warmup_cosine_decay_schedule(0, _RATE, min(_WARM_UP, steps // 2), steps, _RATE / 20)
    descent = optax.chain(optax.clip_by_global_norm(_CLIP), optax.adam(schedule))

    def loss(weights: Learning, batch: tuple[jax.Array, ...], key: jax.Array) -> jax.Array:
        mel, lengths, labels, boundary, worth = batch
        logs = log_probabilities(weights, mel, lengths, key, _DROPOUT)
        silent = (1 - boundary) * logs[..., model.blank] + boundary * logs[..., model.boundary]
        spoken = jnp.take_along_axis(logs, jnp.maximum(labels, 0)[..., None], axis=-1)[..., 0]
        return -(jnp.where(labels == SILENCE, silent, spoken) * worth).sum() / worth.sum()

    @jax.jit
    def step(
        weights: Learning, state: optax.OptState, batch: tuple[jax.Array, ...], key: jax.Array
    ) -> tuple[Learning, optax.OptState, jax.Array]:
        lost, slope = jax.value_and_grad(loss)(weights, batch, key)
        change, state = descent.update(slope, state)
        return optax.apply_updates(weights, change), state, lost

    state = descent.init(learning)
    key = jax.random.PRNGKey(draw.randrange(1 << 30))
    for number, batch in zip(range(steps), _batches(examples, draw), strict=False):
        learning, state, lost = step(learning, state, batch, jax.random.fold_in(key, number))
        if number % 200 == 0:
            print(f"step {number} of {steps}: loss {float(lost):.3f}", file=sys.stderr)
    return begun | {name: np.asarray(each) for name, each in learning.items()}


def _batches(examples: Sequence[Example], draw: Random) -> Iterator[tuple[NDArray[np.generic], ...]]:
    """For ever: examples of like length together, each time in another order, a band of each second one blotted out."""
    by_length: dict[int, list[Example]] = {}
    for example in examples:
        by_length.setdefault(-(-len(example.mel) // _LENGTHS) * _LENGTHS, []).append(example)
    while True:
        groups = []
        for rows, alike in by_length.items():
            draw.shuffle(alike)
            size = 1 << (max(1, _ROWS_A_STEP // rows).bit_length() - 1)  # few sizes: each is compiled
            groups += [(rows, size, alike[at : at + size]) for at in range(0, len(alike), size)]
        draw.shuffle(groups)
        for rows, size, some in groups:
            yield _batch(rows, size, some, draw)


def _batch(rows: int, size: int, some: Sequence[Example], draw: Random) -> tuple[NDArray[np.generic], ...]:
    frames = (rows - 1) // 2 + 1
    mel = np.zeros((size, rows, some[0].mel.shape[1]), dtype=np.float32)
    lengths = np.ones(size, dtype=np.int32)
    labels = np.zeros((size, frames), dtype=np.int32)
    boundary = np.zeros((size, frames), dtype=np.float32)
    worth = np.zeros((size, frames), dtype=np.float32)
    for index, each in enumerate(some):
        sound, count = each.mel.astype(np.float32), len(each.labels)
        if draw.random() < 0.5:
            band = draw.randrange(sound.shape[1] - _BLOTTED)
            sound[:, band : band + draw.randint(1, _BLOTTED)] = sound.mean()
        mel[index, : len(sound)], lengths[index] = sound, len(sound)
        labels[index, :count], boundary[index, :count] = each.labels, each.boundary
        worth[index, :count] = each.weight
    return mel, lengths, labels, boundary, worth


def _write(packaged: Weights, learnt: Weights) -> None:
    """Differences in 127 steps either way, as wide as the largest difference of the row needs."""
    arrays: dict[str, NDArray[np.generic]] = {}
    for name in packaged.keys() - acoustics.FIXED:
        difference = learnt[name] - packaged[name]
        across = tuple(range(1, difference.ndim)) or None
        steps = np.maximum(np.abs(difference).max(axis=across, keepdims=True) / 127, 1e-12).astype(np.float32)
        arrays[name] = np.round(difference / steps).astype(np.int8)
        arrays[name + acoustics.STEPS] = steps
    np.savez_compressed(acoustics.shipped(), allow_pickle=False, **arrays)
    checksum = hashlib.sha256(acoustics.shipped().read_bytes()).hexdigest()
    print(f'LEARNT_SHA256 = "{checksum}" belongs into assistant/hearing/ears/acoustics.py', file=sys.stderr)


if __name__ == "__main__":
    sys.exit(main())
