"""The acoustic model run through numpy is the package's own."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from assistant.data import weights
from assistant.hearing.ears import acoustics
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


def test_unknown_weights_are_refused_before_anything_reads_them(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(weights.PHONEME.files, "asr_waveform.hama", "0" * 64)
    monkeypatch.setattr(acoustics, "read_weights", lambda data: pytest.fail("it was read"))
    for load in (acoustics.load, acoustics.load_all):
        with pytest.raises(weights.ModelError, match=r"asr_waveform\.hama is not .* install hama 1\.7\.0 again"):
            load()


def test_what_was_learnt_belongs_to_this_version(monkeypatch: pytest.MonkeyPatch) -> None:
    acoustics.verify_learnt()
    monkeypatch.setattr(acoustics, "LEARNT_SHA256", "0" * 64)
    with pytest.raises(weights.ModelError, match=r"acoustics\.npz is not .* install Ladderside again"):
        acoustics.load_all()


def test_what_was_learnt_changes_what_is_heard(model: acoustics.PhonemeModel) -> None:
    _, learnt, _ = acoustics.load_all()
    audio = spoken("seven point five")
    ours, packaged = learnt.posteriors(audio), model.posteriors(audio)
    assert ours.shape == packaged.shape
    assert np.allclose(np.exp(ours).sum(axis=1), 1, atol=1e-3)
    assert np.abs(np.exp(ours) - np.exp(packaged)).max() > 0.1


def test_the_second_look_has_its_frames_half_a_frame_later() -> None:
    _, learnt, later = acoustics.load_all()
    audio = spoken("seven point five")
    half = np.zeros(acoustics.FRAME_SAMPLES // 2, dtype=np.float32)
    assert np.array_equal(later.posteriors(audio), learnt.posteriors(np.concatenate([half, audio])))
    assert not np.allclose(later.posteriors(audio)[:20], learnt.posteriors(audio)[:20], atol=0.1)


def test_nothing_learnt_changes_nothing(model: acoustics.PhonemeModel, tmp_path: Path) -> None:
    np.savez(tmp_path / "none.npz")
    _, learnt, _ = acoustics.load_all(tmp_path / "none.npz")
    assert np.array_equal(learnt.posteriors(spoken("seven")), model.posteriors(spoken("seven")))


@pytest.mark.parametrize("arrays", [{"unknown": [1], "unknown|steps": [1]}, {"mel_fb": [1, 2, 3], "mel_fb|steps": [1]}])
def test_a_file_that_does_not_fit_is_refused(arrays: dict[str, list[int]], tmp_path: Path) -> None:
    file = tmp_path / "other.npz"
    np.savez(file, allow_pickle=False, **{name: np.array(each) for name, each in arrays.items()})
    with pytest.raises(acoustics.AcousticsError, match=r"other\.npz"):
        acoustics.load_all(file)
    file.write_bytes(b"no archive")
    with pytest.raises(acoustics.AcousticsError, match="learn_acoustics"):
        acoustics.load_all(file)


@pytest.mark.parametrize("harm", ["cut short", "altered"])
def test_a_damaged_file_is_refused(harm: str, tmp_path: Path) -> None:
    data = bytearray(acoustics.shipped().read_bytes())
    if harm == "altered":
        data[len(data) // 2 : len(data) // 2 + 1000] = bytes(1000)
    else:
        del data[len(data) // 2 :]
    file = tmp_path / "damaged.npz"
    file.write_bytes(data)
    with pytest.raises(acoustics.AcousticsError, match="damaged"):
        acoustics.load_all(file)
