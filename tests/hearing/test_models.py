"""Models are found, checked by their hash, and missed with one clear sentence."""

from __future__ import annotations

import hashlib
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.data import weights
from assistant.hearing.listening.late import LateEars

ALL = [weights.WHISPER, weights.MOONSHINE, weights.PHONEME, weights.VOICE_ACTIVITY]
PACKAGED = pytest.mark.parametrize("model", ALL, ids=lambda model: model.package)
ELSEWHERE = pytest.mark.parametrize("model", ALL[:2], ids=lambda model: model.package)


@PACKAGED
def test_the_packaged_model_is_the_known_one(model: weights.Packaged) -> None:
    folder = weights.folder_of(model)
    for name, sha256 in model.files.items():
        weights.verify(folder / name, sha256, "do something")


def test_an_altered_model_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "model.bin"
    file.write_bytes(b"something else")
    with pytest.raises(
        weights.ModelError, match=r"model.bin is not the model it should be \(SHA-256 .*\); load it again\."
    ):
        weights.verify(file, "0" * 64, "load it again")


@pytest.mark.parametrize(
    ("model", "name"),
    [(model, name) for model in ALL for name in model.files],
    ids=lambda each: getattr(each, "package", each),
)
def test_a_flipped_bit_in_any_file_is_noticed_at_the_start(
    model: weights.Packaged, name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every file that the ears read, vocabularies and settings as well, by the look that a visit begins with."""
    folder = weights.folder_of(model)
    package = tmp_path / model.package.replace("-", "_")
    (package / model.place).mkdir(parents=True)
    (package / "__init__.py").touch()
    for file in model.files:
        (package / model.place / file).symlink_to(folder / file)
    data = bytearray((folder / name).read_bytes())
    data[len(data) // 2] ^= 1
    (package / model.place / name).unlink()
    (package / model.place / name).write_bytes(data)
    monkeypatch.syspath_prepend(str(tmp_path))
    monkeypatch.delitem(sys.modules, package.name, raising=False)
    with pytest.raises(weights.ModelError, match=rf"{name} is not .* install {model.package} {model.version} again"):
        LateEars().ensure()


def test_a_file_that_cannot_be_read_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(weights.ModelError, match=r"cannot be read \(No such file or directory\); do something\."):
        weights.verify(tmp_path / "gone", "0" * 64, "do something")


def test_a_file_that_changed_is_looked_at_again(tmp_path: Path) -> None:
    file = tmp_path / "model.bin"
    file.write_bytes(b"one")
    weights.verify(file, hashlib.sha256(b"one").hexdigest(), "")
    file.write_bytes(b"two, longer")
    with pytest.raises(weights.ModelError):
        weights.verify(file, hashlib.sha256(b"one").hexdigest(), "")


@ELSEWHERE
def test_the_user_may_name_another_folder(
    model: weights.Packaged, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    needed = ", ".join(name for name in model.files if name not in model.spare)
    with pytest.raises(weights.ModelError, match=rf"holds no {model.name} \({needed} missing\)"):
        weights.folder_of(model, tmp_path)
    for name in set(model.files) - model.spare:
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
