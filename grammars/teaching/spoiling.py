"""Sounds for the acoustic model without end: each time another lesson, in another room, noise and microphone.

Other processes make them, as many as there are cores, while the model learns from those that are there. The model hears
each a few times, which ``other_voices.py`` makes different, before it is replaced.
"""

from __future__ import annotations

import multiprocessing
import os
import queue
from collections.abc import Iterator, Sequence
from multiprocessing.context import ForkProcess
from multiprocessing.queues import Queue
from random import Random
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.ears import acoustics
from assistant.hearing.ears.phoneme import cleared
from assistant.hearing.sound.audio import Audio
from assistant.measuring.noise import NoiseError
from grammars.teaching.alignment import SILENCE
from recordings_synthetic.lessons import spoiled

#: Sounds at hand at most, and waiting; those that are taken up between two steps.
_MOST, _WAITING, _TAKEN = 60_000, 2_000, 200
#: What lengths in rows of features are rounded up to: each is compiled.
_LENGTHS = 256
#: Sounds in one step at least.
_LEAST = 8
#: Share of human speech where there is any.
_HUMAN = 0.06


class Page(NamedTuple):
    """A lesson in quiet. ``audio``: int16; ``labels``: (frames,), a column of the posteriors or SILENCE;
    ``boundary``: (frames,), the share of a silent frame that is the word boundary and not blank."""

    audio: NDArray[np.int16]
    labels: NDArray[np.int16]
    boundary: NDArray[np.float16]
    weight: float
    human: bool


class Example(NamedTuple):
    """``mel``: (rows, bands), half precision; the rest as in Page."""

    mel: NDArray[np.float16]
    labels: NDArray[np.int16]
    boundary: NDArray[np.float16]
    weight: float


#: mel (size, rows, bands), lengths (size,), labels, boundary and worth (size, frames).
Batch = tuple[NDArray[np.generic], ...]


def batches(pages: Sequence[Page], recorded: Sequence[Audio], seed: int, first: int, rows: int) -> Iterator[Batch]:
    """For ever: examples of like length together, drawn from those at hand. ``recorded``: noises of places.

    ``first``: sounds at hand before the first step; ``rows``: rows of features in one step. The makers are forked here
    and now, before JAX has done anything, and never call it: what JAX warns of at a fork does not concern them.
    """
    around = multiprocessing.get_context("fork")
    made: Queue[Example] = around.Queue(_WAITING)
    makers = [
        around.Process(target=_make, args=(pages, recorded, seed + number, made), daemon=True)
        for number in range(max(1, (os.cpu_count() or 2) - 1))
    ]
    for maker in makers:
        maker.start()
    return _drawn_from(made, makers, Random(seed), first, rows)


def _drawn_from(
    made: Queue[Example], makers: Sequence[ForkProcess], draw: Random, first: int, rows: int
) -> Iterator[Batch]:
    at_hand: dict[int, list[Example]] = {}
    taken = 0
    try:
        while True:
            for number in range(_TAKEN):
                try:
                    example = made.get(block=taken < first or number == 0)
                except queue.Empty:
                    break
                alike = at_hand.setdefault(-(-len(example.mel) // _LENGTHS) * _LENGTHS, [])
                if taken < _MOST or not alike:
                    alike.append(example)
                else:
                    alike[draw.randrange(len(alike))] = example
                taken += 1
            if taken >= first:
                yield _drawn(at_hand, draw, rows)
    finally:
        for maker in makers:
            maker.kill()


def _drawn(at_hand: dict[int, list[Example]], draw: Random, a_step: int) -> Batch:
    (rows,) = draw.choices(list(at_hand), [rows * len(alike) for rows, alike in at_hand.items()])
    size = 1 << (max(_LEAST, a_step // rows).bit_length() - 1)
    return _batch(rows, draw.choices(at_hand[rows], k=size))


def _batch(rows: int, some: Sequence[Example]) -> Batch:
    frames = (rows - 1) // 2 + 1
    mel = np.zeros((len(some), rows, some[0].mel.shape[1]), dtype=np.float16)
    lengths = np.ones(len(some), dtype=np.int32)
    labels = np.zeros((len(some), frames), dtype=np.int32)
    boundary = np.zeros((len(some), frames), dtype=np.float16)
    worth = np.zeros((len(some), frames), dtype=np.float32)
    for index, each in enumerate(some):
        count = len(each.labels)
        mel[index, : len(each.mel)], lengths[index] = each.mel, len(each.mel)
        labels[index, :count], boundary[index, :count] = each.labels, each.boundary
        worth[index, :count] = each.weight
    return mel, lengths, labels, boundary, worth


def _make(pages: Sequence[Page], recorded: Sequence[Audio], seed: int, made: Queue[Example]) -> None:
    os.nice(15)  # whoever learns comes first
    draw, hear = Random(seed), acoustics.features()
    synthetic = [page for page in pages if not page.human]
    human = [page for page in pages if page.human]
    others = [_sound(page) for page in draw.sample(synthetic, min(200, len(synthetic)))]
    while True:
        page = draw.choice(human) if human and draw.random() < _HUMAN else draw.choice(synthetic)
        try:
            audio, before = spoiled(_sound(page), others, draw, recorded)
        except NoiseError:  # a piece of a recording in which there is none
            continue
        made.put(_example(page, hear(cleared(audio)), before))


def _sound(page: Page) -> Audio:
    return page.audio.astype(np.float32) / np.float32(32768)


def _example(page: Page, mel: NDArray[np.float32], before: int) -> Example:
    frames = (len(mel) - 1) // 2 + 1
    count = min(len(page.labels), frames - before)
    labels = np.full(frames, SILENCE, dtype=np.int16)
    labels[before : before + count] = page.labels[:count]
    boundary = np.zeros(frames, dtype=np.float16)
    boundary[before : before + count] = page.boundary[:count]
    return Example(mel.astype(np.float16), labels, boundary, page.weight)
