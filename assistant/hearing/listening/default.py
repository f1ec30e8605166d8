"""The ears that a command line names."""

from __future__ import annotations

import ctypes
from pathlib import Path

from assistant.hearing.ears.phoneme import PhonemeEar
from assistant.hearing.ears.protocol import Recognizer
from assistant.hearing.listening.names import DEFAULT, EarError, parts
from assistant.hearing.listening.one_ear import OneEar
from assistant.hearing.listening.together import EarsTogether

#: From glibc's malloc.h: M_ARENA_MAX, M_TRIM_THRESHOLD and M_MMAP_THRESHOLD (bytes). The ears' larger arrays must stay
#: below the last: fetched from the machine anew each time they cost a sixth of all the time. With 4 MB an utterance
#: takes 34 ms of the system's time instead of 99 with 1 MB, in no more memory; 8 MB save 20 ms more and cost 11 MB.
_MALLOC = {-8: 2, -1: 4 << 20, -3: 4 << 20}

__all__ = ["EarError", "default_ears"]


def default_ears(name: str = DEFAULT) -> EarsTogether | OneEar:
    """The ears called ``name`` (see ``hearing.late.parts``).

    Raises EarError for another name and ModelError for a model that is missing.
    """
    kinds, folder = parts(name)
    if len(kinds) == 1:
        return OneEar(_ear(kinds[0], folder))
    _give_memory_back()
    *writers, _ = kinds
    # One after the other, the largest first: a model takes twice its memory while it is read.
    others = [_ear(kind, folder if kind == "vosk" else None) for kind in writers]
    return EarsTogether(PhonemeEar(), *others)


def _give_memory_back() -> None:
    """Has glibc give freed memory back to the machine instead of keeping it for each thread: 60 MB less in a visit.

    Elsewhere there is no ``mallopt`` and nothing is done.
    """
    try:
        mallopt = ctypes.CDLL(None).mallopt
    except (AttributeError, OSError, TypeError):
        return
    for parameter, value in _MALLOC.items():
        mallopt(parameter, value)


def _ear(kind: str, folder: Path | None) -> Recognizer:
    if kind == "phoneme":
        return PhonemeEar()
    if kind == "moonshine":
        from assistant.hearing.ears.moonshine import MoonshineEar

        return MoonshineEar(folder)
    if kind == "vosk":
        from assistant.hearing.ears.vosk import VoskEar

        return VoskEar(folder)
    from assistant.hearing.ears.whisper import WhisperEar

    return WhisperEar(folder)
