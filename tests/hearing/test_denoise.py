"""Steady noise is taken out, and speech and silence stay what they are."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.hearing.sound.denoise import denoise
from assistant.measuring.noise import mix, noise, speech_level
from tests.hearing.speech import spoken


@pytest.mark.parametrize("kind", ["fan", "white", "pump"])
def test_the_noise_around_the_words_falls_and_the_words_stay(kind: str) -> None:
    clean = np.pad(spoken("five five one two"), SAMPLE_RATE // 2)
    noisy = mix(clean, noise(kind, 4, 0, len(clean)), 10)
    cleaned = denoise(noisy)
    assert cleaned.shape == noisy.shape
    pause = slice(SAMPLE_RATE // 8, SAMPLE_RATE // 2)
    assert np.std(cleaned[pause]) < 0.5 * np.std(noisy[pause])
    assert speech_level(cleaned) == pytest.approx(speech_level(clean), rel=0.15)
    error, before = np.std(cleaned - clean), np.std(noisy - clean)
    assert error < 0.8 * before


def test_clean_speech_is_hardly_touched() -> None:
    clean = spoken("five five one two")
    assert np.std(denoise(clean) - clean) < 0.1 * np.std(clean)


def test_silence_and_very_short_sounds_are_left() -> None:
    assert not denoise(np.zeros(SAMPLE_RATE, dtype=np.float32)).any()
    click = np.ones(100, dtype=np.float32)
    assert np.array_equal(denoise(click), click)
