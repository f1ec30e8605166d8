"""The ears that a command line names."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from assistant.hearing.late import EarError, kind_and_folder
from assistant.hearing.one_ear import OneEar
from assistant.hearing.phoneme import PhonemeEar
from assistant.hearing.protocol import Recognizer
from assistant.hearing.two_ears import TwoEars

__all__ = ["EarError", "default_ears"]


def default_ears(name: str = "both") -> TwoEars | OneEar:
    """``both``, ``whisper``, ``phoneme``, ``vosk=FOLDER`` (Vosk beside the phoneme ear) or ``vosk`` (folder from the
    environment). Models load side by side. Raises EarError for another name and ModelError for a model that is missing.
    """
    kind, folder = kind_and_folder(name)
    if kind == "phoneme":
        return OneEar(PhonemeEar())
    if kind == "whisper":
        return OneEar(_other(kind, folder))
    with ThreadPoolExecutor(1) as beside:
        other = beside.submit(_other, kind, folder)
        phoneme = PhonemeEar()
        return TwoEars(phoneme, other.result())


def _other(kind: str, folder: Path | None) -> Recognizer:
    if kind == "vosk":
        from assistant.hearing.vosk import VoskEar

        return VoskEar(folder)
    from assistant.hearing.whisper import WhisperEar

    return WhisperEar(folder)
