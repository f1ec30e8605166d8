"""Models are found, checked by their hash, and missed with one clear sentence."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from assistant.hearing import models

PACKAGED = pytest.mark.parametrize("model", [models.WHISPER, models.MOONSHINE], ids=lambda model: model.package)


@PACKAGED
def test_the_packaged_model_is_the_known_one(model: models.Packaged) -> None:
    folder = models.folder_of(model)
    hashes = {name: sha256 for name, sha256 in model.files.items() if sha256 is not None}
    assert hashes
    for name, sha256 in hashes.items():
        models.verify(folder / name, sha256, "do something")


def test_an_altered_model_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "model.bin"
    file.write_bytes(b"something else")
    with pytest.raises(
        models.ModelError, match=r"model.bin is not the model it should be \(SHA-256 .*\); load it again\."
    ):
        models.verify(file, "0" * 64, "load it again")


@PACKAGED
def test_the_packaged_weights_are_checked(model: models.Packaged, monkeypatch: pytest.MonkeyPatch) -> None:
    first = next(iter(model.files))
    monkeypatch.setitem(model.files, first, "0" * 64)
    with pytest.raises(models.ModelError, match=rf"{first} is not .* install {model.package} {model.version} again"):
        models.folder_of(model)


@PACKAGED
def test_the_user_may_name_another_folder(
    model: models.Packaged, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(models.ModelError, match=rf"holds no {model.name} \({', '.join(model.files)} missing\)"):
        models.folder_of(model, tmp_path)
    for name in model.files:
        (tmp_path / name).touch()
    assert models.folder_of(model, tmp_path) == tmp_path
    monkeypatch.setenv(model.variable, str(tmp_path))
    assert models.folder_of(model) == tmp_path


def test_a_missing_package_is_one_sentence() -> None:
    gone = replace(models.MOONSHINE, package="no-such-package")
    with pytest.raises(models.ModelError, match=r"^The Moonshine model is not installed; install .* no-such-package 0"):
        models.folder_of(gone)


def test_no_vosk_model_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(models.VOSK_VARIABLE, raising=False)
    with pytest.raises(models.ModelError, match=r"^No Vosk model is set up; .* LADDERSIDE_VOSK\.$"):
        models.vosk_folder()
