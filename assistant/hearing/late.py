"""Ears that load while the first sentence is said: models take a second, and the first words need no ears."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.errors import LaddersideError
from assistant.hearing import models
from assistant.hearing.protocol import Audio, Utterance
from assistant.language.meaning import Expectation, Heard

if TYPE_CHECKING:
    from assistant.hearing.keywords import KeywordSpotter
    from assistant.hearing.one_ear import OneEar
    from assistant.hearing.phoneme import PhonemeEar
    from assistant.hearing.two_ears import TwoEars

_KINDS = ("both", "whisper", "phoneme", "vosk")


class EarError(LaddersideError):
    """There is no ear of that name."""


class LateEars:
    """The ears called ``name`` (see ``hearing.default``), and what decides quickly on one of them.

    That its models are there and whole is looked at aside from the first; ``ensure`` raises EarError or ModelError.
    """

    def __init__(self, name: str = "both") -> None:
        self._name = name
        aside = ThreadPoolExecutor(1)
        self._looked: Future[None] = aside.submit(_look, name)
        aside.shutdown(wait=False)

    def ensure(self) -> None:
        """Nothing, or a clear sentence about what is missing; before anything is begun that needs ears."""
        self._looked.result()

    @cached_property
    def ears(self) -> TwoEars | OneEar:
        """Loaded when first asked for."""
        from assistant.hearing.default import default_ears

        return default_ears(self._name)

    def expect(self, expectation: Expectation) -> None:
        """Listens for the answers to this question from now on."""
        self.ears.expect(expectation)

    def begin(self, utterance: Utterance) -> None:
        """Starts on an utterance that is probably over."""
        self.ears.begin(utterance)

    def judge(self, utterance: Utterance) -> Heard:
        """What was said and how far it may be trusted."""
        return self.ears.judge(utterance)

    def cry(self, audio: Audio) -> str | None:
        """ "stop" or "wait", when it is one of them; for ``BargeIn``."""
        return self._cries(audio)

    def is_call(self, audio: Audio) -> bool:
        """Whether this is the wake phrase."""
        return self._calls(audio) is not None

    @cached_property
    def _cries(self) -> KeywordSpotter:
        from assistant.hearing.keywords import KeywordSpotter

        return KeywordSpotter(self._phoneme)

    @cached_property
    def _calls(self) -> KeywordSpotter:
        from assistant.hearing.keywords import WAKE_WORST, KeywordSpotter, wake_phrases

        return KeywordSpotter(self._phoneme, wake_phrases(), WAKE_WORST)

    @cached_property
    def _phoneme(self) -> PhonemeEar:
        """The phoneme ear among the ears, or one of its own beside a single other ear."""
        from assistant.hearing.phoneme import PhonemeEar
        from assistant.hearing.two_ears import TwoEars

        if isinstance(self.ears, TwoEars):
            return self.ears.phoneme
        return self.ears.ear if isinstance(self.ears.ear, PhonemeEar) else PhonemeEar()


def kind_and_folder(name: str) -> tuple[str, Path | None]:
    """``vosk=FOLDER`` taken apart. Raises EarError for a kind that there is not."""
    kind, _, folder = name.partition("=")
    if kind not in _KINDS:
        raise EarError(f"There is no ear called “{name}”; choose both, whisper, phoneme, or vosk=FOLDER.")
    return kind, Path(folder).expanduser() if folder else None


def _look(name: str) -> None:
    kind, folder = kind_and_folder(name)
    if kind in ("both", "whisper"):
        models.whisper_folder(folder)
    elif kind == "vosk":
        models.vosk_folder(folder)
