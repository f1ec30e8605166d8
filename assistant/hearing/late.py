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
    from assistant.hearing.together import EarsTogether

#: What every other name is made of. The first three together are the default.
_KINDS = ("whisper", "moonshine", "phoneme", "vosk")
_TOGETHER = _KINDS[:3]
#: Both kinds of ear: those that write what they hear, and the one that weighs it by its sound.
DEFAULT = "both"


class EarError(LaddersideError):
    """There is no ear of that name."""


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
        from assistant.hearing.together import EarsTogether

        if isinstance(self.ears, EarsTogether):
            return self.ears.phoneme
        return self.ears.ear if isinstance(self.ears.ear, PhonemeEar) else PhonemeEar()


def parts(name: str) -> tuple[tuple[str, ...], Path | None]:
    """The kinds of ear in ``name``, the slowest first and the phoneme ear last, and the folder named for one of them.

    A name is "both" (all that are built in), one kind, several joined by "+" with the phoneme ear among them, or
    "vosk=FOLDER" (Vosk with the quick ones built in; without a folder, that of the environment). Raises EarError.
    """
    kind, _, folder = name.partition("=")
    named = Path(folder).expanduser() if folder else None
    if kind == DEFAULT:
        return _TOGETHER, None
    if kind == "vosk":
        return ("vosk", *_TOGETHER[1:]), named
    kinds = tuple(each for each in _KINDS if each in kind.split("+"))
    together = len(kinds) == 1 or "phoneme" in kinds
    if "+".join(sorted(kinds)) != "+".join(sorted(kind.split("+"))) or "vosk" in kinds or not together:
        raise EarError(
            f"There is no ear called “{name}”; choose {DEFAULT}, {', '.join(_TOGETHER)}, vosk=FOLDER, "
            "or some joined by + with phoneme among them."
        )
    return kinds, named


def _look(name: str) -> None:
    kinds, folder = parts(name)
    if "whisper" in kinds:
        models.folder_of(models.WHISPER, folder)
    if "moonshine" in kinds:
        models.folder_of(models.MOONSHINE, folder if "vosk" not in kinds else None)
    if "vosk" in kinds:
        models.vosk_folder(folder)
