"""Lessons for the acoustic model: who teaches, and what a room may do to what is said."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from recordings_synthetic.lessons import HELD_BACK, spoiled, teachers
from recordings_synthetic.voices import VOICES, voice_named

FRAME = 320


def tone(seconds: float, hertz: float) -> Audio:
    return np.sin(2 * np.pi * hertz * np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE).astype(np.float32)


def test_nobody_who_is_measured_as_a_stranger_teaches() -> None:
    taught = teachers(Random(1))
    settings = {(voice.engine, voice.setting) for voice in taught}
    for name in HELD_BACK:
        assert (voice_named(name).engine, voice_named(name).setting) not in settings
    measured = {voice.setting for voice in VOICES if voice.style == "formant"}
    assert measured.isdisjoint(voice.setting for voice in taught)
    assert len({voice.name for voice in taught}) == len(taught)


@pytest.mark.parametrize("seed", range(12))
def test_what_was_said_stays_where_it_is_told_to_be(seed: int) -> None:
    """Whatever room, noise and knocks are added: the tone still begins where ``before`` says."""
    audio = np.concatenate([np.zeros(8 * FRAME, np.float32), tone(0.5, 900.0), np.zeros(8 * FRAME, np.float32)])
    others = [tone(0.3, 200.0 + 10 * number) for number in range(8)]
    heard, before = spoiled(audio, others, Random(seed))
    assert len(heard) >= len(audio) + before * FRAME
    start = (before + 8) * FRAME
    wave = np.exp(-2j * np.pi * 900 * np.arange(FRAME * 8) / SAMPLE_RATE)
    inside = abs(heard[start : start + FRAME * 8] @ wave)
    outside = abs(heard[start - FRAME * 8 : start] @ wave)
    assert inside > 3 * outside


def test_recorded_noise_stands_under_what_was_said() -> None:
    """A hum that no noise of ours has is in nearly half of what is heard, and nowhere without the recording."""
    audio, others = tone(1.0, 500.0), [tone(0.3, 300.0)] * 6
    hum = tone(2.0, 2222.0)
    wave = np.exp(-2j * np.pi * 2222 * np.arange(SAMPLE_RATE // 2) / SAMPLE_RATE)

    def hums(recorded: list[Audio]) -> int:
        heard = (spoiled(audio, others, Random(seed), recorded)[0] for seed in range(30))
        return sum(abs(each[: len(wave)] @ wave) > 0.02 * len(wave) * np.std(each) for each in heard)

    assert 5 <= hums([hum]) <= 20
    assert hums([]) <= 2


def test_the_same_seed_spoils_alike() -> None:
    audio, others = tone(0.4, 500.0), [tone(0.3, 300.0)] * 6
    first, again = (spoiled(audio, others, Random(5))[0] for _ in range(2))
    assert np.array_equal(first, again)
