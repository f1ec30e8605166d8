"""Frames are given to the words that were said in them."""

from __future__ import annotations

import numpy as np

from assistant.hearing.ears import acoustics, network, pronunciation
from assistant.hearing.ears.network import chains
from grammars.teaching.alignment import SILENCE, align
from tests.hearing.speech import spoken

MODEL = acoustics.load()
LEXICON = pronunciation.load(MODEL)


def aligned(words: str, said: str) -> np.ndarray | None:
    extended = network.extend(MODEL.posteriors(spoken(said)), MODEL)
    return align(network.build(chains([words.split()]), LEXICON.pronounce, MODEL), extended, MODEL.bonus)


def test_the_labels_spell_a_way_to_say_the_words() -> None:
    labels = aligned("four point two volts", "four point two volts")
    assert labels is not None
    said = [int(label) for label in labels if label not in (SILENCE, MODEL.blank)]
    phonemes = [phoneme for phoneme, before in zip(said, [SILENCE, *said], strict=False) if phoneme != before]
    ways: list[tuple[int, ...]] = [()]
    for word in ("four", "point", "two", "volts"):
        ways = [(*way, *more) for way in ways for _, more in LEXICON.pronounce(word)]
    assert tuple(phonemes) in {tuple(p for p, b in zip(way, (None, *way), strict=False) if p != b) for way in ways}


def test_the_frames_before_and_behind_the_words_are_silence() -> None:
    labels = aligned("two", "two")
    assert labels is not None
    assert labels[0] == labels[-1] == SILENCE
    assert (labels != SILENCE).any()


def test_words_that_do_not_fit_into_the_sound_have_no_alignment() -> None:
    assert aligned("one two three four five six seven eight nine ten eleven twelve " * 4, "two") is None
