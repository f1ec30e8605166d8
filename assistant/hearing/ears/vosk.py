"""The streaming ear: Vosk with any model folder that the user has put down.

It hears while the person still speaks (``stream``), only the words of the state's grammar, and says how sure it is of
each word. Vosk is imported only here, when asked for: it is an optional dependency.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from assistant.data import weights
from assistant.hearing.ears.protocol import Hypothesis
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.language.state_grammar import StateGrammar

#: Alternatives asked of a whole utterance.
_NBEST = 5
#: What Vosk writes for sounds that are none of the grammar's words.
_UNKNOWN = "[unk]"
#: Smallest word confidence taken, so that its logarithm is a number.
_LEAST = 1e-3


class VoskEar:
    """A Recognizer. ``log_probability`` of its hypotheses is the sum of the logs of the word confidences.

    Sound may be fed in pieces of any length: ``stream`` returns the words so far, ``finish`` the hypotheses.
    """

    name = "vosk"

    def __init__(self, folder: Path | None = None) -> None:
        found = weights.vosk_folder(folder)  # before the import: it brings an HTTP client that looks at sockets
        try:
            import vosk
        except ModuleNotFoundError:
            raise weights.ModelError(
                "Vosk is not installed; install Ladderside with its extra “vosk” to use a Vosk model."
            ) from None
        vosk.SetLogLevel(-1)
        self._model = vosk.Model(str(found))
        self._recognizer = vosk.KaldiRecognizer(self._model, SAMPLE_RATE)
        self._recognizer.SetWords(True)
        self._recognizer.SetPartialWords(False)

    def prepare(self, grammar: StateGrammar) -> None:
        """Listens for the phrases and words of the grammar alone; an empty grammar is free speech."""
        phrases = sorted({*grammar.phrases, *grammar.words})
        if phrases:
            self._recognizer.SetGrammar(json.dumps([*phrases, _UNKNOWN], ensure_ascii=False))
        else:
            self._recognizer.SetGrammar("[]")
        self._recognizer.Reset()

    def hear(self, audio: Audio) -> tuple[Hypothesis, ...]:
        """Hypotheses for one whole utterance, best first."""
        self._recognizer.Reset()
        self.stream(audio)
        return self.finish()

    def stream(self, audio: Audio) -> str:
        """Takes the next piece of sound; returns the words heard so far."""
        samples = (np.clip(audio, -1, 1) * 32767).astype("<i2").tobytes()
        self._recognizer.AcceptWaveform(samples)
        partial: str = json.loads(self._recognizer.PartialResult()).get("partial", "")
        return _known(partial)

    def finish(self) -> tuple[Hypothesis, ...]:
        """Ends the utterance and returns what was heard in it."""
        return _hypotheses(json.loads(self._recognizer.FinalResult()), self.name)


def _hypotheses(result: dict[str, Any], ear: str) -> tuple[Hypothesis, ...]:
    words = [word for word in result.get("result", []) if word["word"] != _UNKNOWN]
    if not words:
        return ()
    confidences = tuple(float(word["conf"]) for word in words)
    total = float(np.sum(np.log(np.maximum(confidences, _LEAST))))
    return (Hypothesis(" ".join(word["word"] for word in words), total, ear, confidences),)


def _known(text: str) -> str:
    return " ".join(word for word in text.split() if word != _UNKNOWN)
