"""The voice of a replay: every reply appended to one sound file, with a list of where each line stands."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soundfile as sf

from assistant.errors import LaddersideError
from assistant.speaking.clearly import Noise
from assistant.speaking.signs import Sign
from assistant.speaking.synthesis import RATE, Sound, rendered

#: Quiet between two replies.
GAP_S = 0.5


class ReplyFileError(LaddersideError):
    """The reply file cannot be written."""


@dataclass(frozen=True)
class Cue:
    """``text`` is heard from ``start_s`` to ``end_s`` of the reply file."""

    start_s: float
    end_s: float
    text: str


class Said:
    """A reply that is in the file: done as soon as it exists."""

    done = True

    def __init__(self, text: str, cue: Cue) -> None:
        self.text = text
        self.cue = cue

    def stop(self) -> None:
        """Nothing is left to stop."""

    def wait(self, timeout_s: float | None = None) -> bool:
        """True at once."""
        return True


class FileVoice:
    """Writes replies to ``path`` (.flac or .wav, 22,050 Hz mono) and cues to ``path`` with ``.cues.csv``.

    The cue list has the columns start_s, end_s, text and grows line by line. ReplyFileError when a file cannot be
    made; SpeechError from the synthesizer. When the disk is full later, the visit matters more than its sound:
    ``trouble`` tells it, and what is said goes on in ``cues`` alone.
    """

    def __init__(self, path: Path, pace: float = 1.0) -> None:
        self.path, self.pace, self.volume = path, pace, 1.0
        self.beside: Noise | None = None
        self.cue_path = path.with_suffix(".cues.csv")
        self.cues: list[Cue] = []
        self.trouble: ReplyFileError | None = None
        self._samples = 0
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._cue_file = self.cue_path.open("w", encoding="utf-8", newline="")
            self.file = sf.SoundFile(path, "w", RATE, 1, subtype="PCM_16")
        except (OSError, TypeError, ValueError, sf.LibsndfileError) as error:
            raise self._unwritable(error) from error
        self._table = csv.writer(self._cue_file)
        self._table.writerow(("start_s", "end_s", "text"))

    def say(self, text: str) -> Said:
        """Render ``text`` and append it; returns when it is in the file."""
        sound = rendered(text, self.pace, self.beside, self.volume)
        start = self._samples / RATE
        cue = Cue(start, start + len(sound) / RATE, text)
        if self.trouble is None:
            try:
                self._write(sound, cue)
            except (OSError, ValueError, sf.LibsndfileError) as error:
                self.trouble = self._unwritable(error)
        self._samples += len(sound) + round(GAP_S * RATE)
        self.cues.append(cue)
        return Said(text, cue)

    def give_sign(self, sign: Sign) -> None:
        """Nothing: the file holds what was said."""

    def close(self) -> None:
        """Complete both files."""
        for file in (self.file, self._cue_file):
            try:
                file.close()
            except (OSError, sf.LibsndfileError) as error:
                self.trouble = self.trouble or self._unwritable(error)

    def _write(self, sound: Sound, cue: Cue) -> None:
        self.file.write(sound)
        self.file.write(np.zeros(round(GAP_S * RATE), np.float32))
        self._table.writerow((f"{cue.start_s:.3f}", f"{cue.end_s:.3f}", cue.text))
        self._cue_file.flush()

    def _unwritable(self, error: Exception) -> ReplyFileError:
        return ReplyFileError(
            f"{self.path}: the reply file cannot be written ({error}); name a .flac or .wav file in a folder "
            "that exists and has room."
        )
