"""Models are found, checked by their hash, and missed with one clear sentence."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from assistant.data import weights

PACKAGED = pytest.mark.parametrize("model", [weights.WHISPER, weights.MOONSHINE], ids=lambda model: model.package)


@PACKAGED
def test_the_packaged_model_is_the_known_one(model: weights.Packaged) -> None:
    folder = weights.folder_of(model)
    hashes = {name: sha256 for name, sha256 in model.files.items() if sha256 is not None}
    assert hashes
    for name, sha256 in hashes.items():
        weights.verify(folder / name, sha256, "do something")


def test_an_altered_model_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "model.bin"
    file.write_bytes(b"something else")
    with pytest.raises(
        weights.ModelError, match=r"model.bin is not the model it should be \(SHA-256 .*\); load it again\."
    ):
        weights.verify(file, "0" * 64, "load it again")


@PACKAGED
def test_the_packaged_weights_are_checked(model: weights.Packaged, monkeypatch: pytest.MonkeyPatch) -> None:
    first = next(iter(model.files))
    monkeypatch.setitem(model.files, first, "0" * 64)
    with pytest.raises(weights.ModelError, match=rf"{first} is not .* install {model.package} {model.version} again"):
        weights.folder_of(model)


@PACKAGED
def test_the_user_may_name_another_folder(
    model: weights.Packaged, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(weights.ModelError, match=rf"holds no {model.name} \({', '.join(model.files)} missing\)"):
        weights.folder_of(model, tmp_path)
    for name in model.files:
        (tmp_path / name).touch()
    assert weights.folder_of(model, tmp_path) == tmp_path
    monkeypatch.setenv(model.variable, str(tmp_path))
    assert weights.folder_of(model) == tmp_path


def test_a_missing_package_is_one_sentence() -> None:
    gone = replace(weights.MOONSHINE, package="no-such-package")
    with pytest.raises(weights.ModelError, match=r"^The Moonshine model is not installed; .* no-such-package 0"):
        weights.folder_of(gone)


def test_no_vosk_model_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(weights.VOSK_VARIABLE, raising=False)
    with pytest.raises(weights.ModelError, match=r"^No Vosk model is set up; .* LADDERSIDE_VOSK\.$"):
        weights.vosk_folder()
