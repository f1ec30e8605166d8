"""Text to sound through pyttsx3 and espeak-ng.

pyttsx3 (2.99) is the way to the voice, but its espeak driver is not used to play: it writes a temporary file and
runs ``aplay`` inside a callback, which nothing can interrupt. Lines are rendered with ``save_to_file`` and played
by our own stream. Measured over 900 lines in a row, ``save_to_file`` alone left an empty file 3 times and gave
45 lines of 100 the pace of the line before; with what follows, 0 in 1,000 either way:

- Each run ends with the driver calling espeak's Cancel when espeak still seems busy, even with no more than the
  change of a property; that flushes the property or the line. So espeak is let to finish (Synchronize) after a
  property is set, and before each run.
- ``runAndWait`` returns before the file is written. The finished-utterance event comes after it, so it is waited for.
- A dropped engine is still called by espeak's thread, which ends in a segmentation fault: the engine lives for ever.
- The driver prints a line for every file, which would spoil ``--json``.
"""

from __future__ import annotations

import os
import re
import shutil
import tempfile
import threading
from pathlib import Path
from typing import Any

import numpy as np
import soundfile as sf
from numpy.typing import NDArray

from assistant.errors import LaddersideError
from assistant.speaking.clearly import NOISE_PACE, Noise, clearly
from assistant.speaking.text import WORDS_PER_MINUTE, seconds, spoken

Sound = NDArray[np.float32]

#: espeak-ng's rate; the driver writes it into every file.
RATE = 22_050
DEFAULT_VOICE = "gmw/en-us"
#: Folders of spoken lines carry the number of their program.
_PREFIX_OF_ALL = "ladderside-voice-"
_PREFIX = f"{_PREFIX_OF_ALL}{os.getpid()}-"
_TRIES = 3
_LONGEST_WAIT_S = 20.0
#: Below this (peak) a sample is silence before or after the words.
_SILENCE = 0.003
#: Every line comes out equally loud (RMS): as loud as speech can be before its peaks, which are three to four times
#: as high, bend much.
_LEVEL = 0.16
#: Above this a peak is bent, not cut.
_KNEE = 0.6


class SpeechError(LaddersideError):
    """The voice cannot be had; the text says what to do."""


class Synthesizer:
    """espeak-ng behind pyttsx3. One for the process (``synthesizer()``): espeak has only one state."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._finished = threading.Event()
        self._folder = tempfile.TemporaryDirectory(prefix=_PREFIX, dir=_in_memory())
        _sweep(Path(self._folder.name).parent)
        self._settings: dict[str, object] = {}
        self._voices: tuple[str, ...] = ()
        try:
            import pyttsx3
            from pyttsx3.drivers import _espeak, espeak
        except (ImportError, OSError) as error:
            raise _missing() from error
        # Shadows the builtin in the driver's module: see the last point above.
        espeak.print = lambda *words, **options: None
        self._espeak: Any = _espeak
        try:
            self._engine: Any = pyttsx3.init("espeak")
        except (ImportError, OSError, RuntimeError) as error:
            raise _missing() from error
        self._engine.connect("finished-utterance", self._note_finished)
        # A new engine queues properties until its first run; from then on they are set at once.
        self._engine.runAndWait()

    def render(self, text: str, pace: float = 1.0, voice: str = DEFAULT_VOICE, volume: float = 1.0) -> Sound:
        """The sound of ``text`` (as written) at RATE, mono, without silence around it; ``volume`` times as loud (RMS).

        An empty array when there is nothing to say. SpeechError when espeak-ng fails again and again.
        """
        said = _for_espeak(spoken(text))
        if not any(sign.isalnum() for sign in said):
            return np.zeros(0, np.float32)
        # espeak takes any name without complaint and goes on with the voice before; "+f3" names a variant of a voice.
        if voice.split("+")[0] not in self.voices():
            raise SpeechError(f'espeak-ng has no English voice "{voice}"; `ladderside ears` lists those it has.')
        least = 0.4 * seconds(text, pace)
        with self._lock:
            for _ in range(_TRIES):
                self._set("voice", voice)
                self._set("rate", round(WORDS_PER_MINUTE * pace))
                sound = _trimmed(self._render_once(said))
                if len(sound) > least * RATE:
                    return _levelled(sound, volume)
                self._settings.clear()
        raise SpeechError(f'espeak-ng gave no sound for "{said}"; check it with: espeak-ng "{said}"')

    def voices(self) -> tuple[str, ...]:
        """The ids of the English voices."""
        if not self._voices:
            with self._lock:
                found = self._engine.getProperty("voices")
            self._voices = tuple(sorted(each.id for each in found if Path(each.id).name.startswith("en")))
        return self._voices

    def _set(self, name: str, value: object) -> None:
        if self._settings.get(name) != value:
            self._engine.setProperty(name, value)
            self._settings[name] = value
        self._espeak.Synchronize()

    def _render_once(self, said: str) -> Sound:
        path = Path(self._folder.name) / "line.wav"
        path.unlink(missing_ok=True)
        self._finished.clear()
        self._engine.save_to_file(said, str(path))
        self._engine.runAndWait()
        self._finished.wait(_LONGEST_WAIT_S)
        self._espeak.Synchronize()
        if not path.exists():
            return np.zeros(0, np.float32)
        sound: Sound = sf.read(path, dtype="float32")[0]
        path.unlink(missing_ok=True)  # it may be a customer's name
        return sound

    def _note_finished(self, name: str | None, completed: bool) -> None:
        if completed:
            self._finished.set()


_only: Synthesizer | None = None
_making = threading.Lock()


def synthesizer() -> Synthesizer:
    """The process's one Synthesizer. SpeechError when espeak-ng is not installed."""
    global _only
    with _making:
        if _only is None:
            _only = Synthesizer()
        return _only


def rendered(text: str, pace: float, beside: Noise | None, volume: float = 1.0) -> Sound:
    """The sound of ``text`` as ``Synthesizer.render`` makes it; beside noise slower and made for it."""
    if beside is None:
        return synthesizer().render(text, pace, volume=volume)
    return clearly(synthesizer().render(text, pace * NOISE_PACE), RATE, beside, volume)


def _in_memory() -> str | None:
    """A folder of the user's alone that is in memory and gone after a restart, where the system has one."""
    folder = os.environ.get("XDG_RUNTIME_DIR", "")
    return folder if folder and os.path.isdir(folder) and os.access(folder, os.W_OK) else None


def _sweep(folder: Path) -> None:
    """Take away what a program that was killed has left: its folder says which one it was."""
    for left in folder.glob(f"{_PREFIX_OF_ALL}*"):
        told = re.match(rf"{_PREFIX_OF_ALL}(\d+)-", left.name)
        if told is not None and not _runs(int(told[1])):
            shutil.rmtree(left, ignore_errors=True)


def _runs(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):  # another user's
        return True
    return True


def _missing() -> SpeechError:
    return SpeechError("The voice espeak-ng is missing; install it with: apt install espeak-ng")


#: Words that espeak-ng 1.51 says wrongly, as `espeak-ng --ipa` shows, and a spelling that it says rightly. Without
#: them "kilohms" comes out as "kylohms", "deenergize" as "deener-jize", and the letter's name "ay" as "eye".
_RESPELT = {
    "ay": "eh",
    "kilohm": "killohm",
    "kilohms": "killohms",
    "gigohm": "gig ohm",
    "gigohms": "gig ohms",
    "deenergize": "de-energize",
    "deenergized": "de-energized",
}


def _for_espeak(said: str) -> str:
    return re.sub(r"[A-Za-z]+", lambda match: _RESPELT.get(match[0], match[0]), said)


def _trimmed(sound: Sound) -> Sound:
    loud = np.flatnonzero(np.abs(sound) > _SILENCE)
    return sound[loud[0] : loud[-1] + 1] if len(loud) else sound[:0]


def _levelled(sound: Sound, volume: float) -> Sound:
    """At RMS ``volume`` times _LEVEL, with everything above _KNEE bent smoothly so that nothing reaches 1."""
    louder = sound * np.float32(volume * _LEVEL / np.sqrt(np.mean(np.square(sound))))
    size = np.abs(louder)
    bent = _KNEE + (1 - _KNEE) * np.tanh((size - _KNEE) / (1 - _KNEE))
    return np.where(size > _KNEE, np.copysign(bent, louder), louder).astype(np.float32)
