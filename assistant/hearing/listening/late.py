"""Ears that load while the first sentence is said: models take a second, and the first words need no ears."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor
from functools import cached_property
from typing import TYPE_CHECKING

from assistant.data import weights
from assistant.hearing.listening.names import DEFAULT, parts
from assistant.hearing.sound.audio import Audio, Utterance
from assistant.language.meaning import Expectation, Heard

if TYPE_CHECKING:
    from assistant.hearing.ears.phoneme import PhonemeEar
    from assistant.hearing.listening.keywords import KeywordSpotter
    from assistant.hearing.listening.one_ear import OneEar
    from assistant.hearing.listening.together import EarsTogether


class LateEars:
    """The ears called ``name`` (see ``hearing.default``), and what decides quickly on one of them.

    That its models are there and whole is looked at aside from the first; ``ensure`` raises EarError or ModelError.
    """

    def __init__(self, name: str = DEFAULT) -> None:
        self._name = name
        aside = ThreadPoolExecutor(1)
        self._looked: Future[None] = aside.submit(_look, name)
        aside.shutdown(wait=False)

    def ensure(self) -> None:
        """Nothing, or a clear sentence about what is missing; before anything is begun that needs ears."""
        self._looked.result()

    @cached_property
    def ears(self) -> EarsTogether | OneEar:
        """Loaded when first asked for."""
        from assistant.hearing.listening.default import default_ears

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
        from assistant.hearing.listening.keywords import KeywordSpotter

        return KeywordSpotter(self._phoneme)

    @cached_property
    def _calls(self) -> KeywordSpotter:
        from assistant.hearing.listening.keywords import WAKE_WORST, KeywordSpotter, wake_phrases

        return KeywordSpotter(self._phoneme, wake_phrases(), WAKE_WORST)

    @cached_property
    def _phoneme(self) -> PhonemeEar:
        """The phoneme ear among the ears, or one of its own beside a single other ear."""
        from assistant.hearing.ears.phoneme import PhonemeEar
        from assistant.hearing.listening.together import EarsTogether

        if isinstance(self.ears, EarsTogether):
            return self.ears.phoneme
        return self.ears.ear if isinstance(self.ears.ear, PhonemeEar) else PhonemeEar()


def _look(name: str) -> None:
    kinds, folder = parts(name)
    weights.folder_of(weights.VOICE_ACTIVITY)
    from assistant.hearing.ears.acoustics import verify_learnt

    weights.folder_of(weights.PHONEME)  # it notices cries, whatever else listens
    verify_learnt()
    if "whisper" in kinds:
        weights.folder_of(weights.WHISPER, folder)
    if "moonshine" in kinds:
        weights.folder_of(weights.MOONSHINE, folder if "vosk" not in kinds else None)
    if "vosk" in kinds:
        weights.vosk_folder(folder)
