"""The acoustic model run through numpy is the package's own."""

from __future__ import annotations

from importlib import resources

import numpy as np
import pytest

from assistant.hearing import acoustics
from tests.hearing.speech import spoken


@pytest.fixture(scope="module")
def model() -> acoustics.PhonemeModel:
    return acoustics.load()


def test_posteriors_equal_those_of_the_engine(model: acoustics.PhonemeModel) -> None:
    """Outside reference: hama's own engine over the same weights, on speech of a man and a woman."""
    engine = acoustics.engine(resources.files("hama.assets").joinpath("asr_waveform.hama").read_bytes())
    for voice in ("flite-rms", "flite-slt"):
        audio = spoken("one two three four point five", voice)
        ours, theirs = model.posteriors(audio), engine(audio)
        assert ours.shape == theirs.shape
        assert np.abs(np.exp(ours) - np.exp(theirs)).max() < 2e-3
        assert (ours.argmax(axis=1) == theirs.argmax(axis=1)).mean() > 0.99


def test_every_frame_is_a_distribution(model: acoustics.PhonemeModel) -> None:
    posteriors = model.posteriors(spoken("yes"))
    assert posteriors.shape[1] == len(model.tokens)
    assert np.allclose(np.exp(posteriors).sum(axis=1), 1, atol=1e-3)


def test_too_short_a_sound_has_no_frames(model: acoustics.PhonemeModel) -> None:
    assert model.posteriors(np.zeros(100, dtype=np.float32)).shape == (0, len(model.tokens))


def test_unknown_weights_go_through_the_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(acoustics, "KNOWN_SHA256", "of another version")
    audio = spoken("stop")
    slow = acoustics.load().posteriors(audio)
    monkeypatch.undo()
    fast = acoustics.load().posteriors(audio)
    assert np.abs(np.exp(slow) - np.exp(fast)).max() < 2e-3
