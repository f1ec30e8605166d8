"""Makes the clips of a recorded visit from its script: the voice near the microphone, the room's noise under it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import soundfile

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.measuring.noise import noise, room, speech_level
from assistant.visit.recording import RecordedVisit, Script, load_script
from recordings_synthetic.engines import EngineError
from recordings_synthetic.manifest import Row
from recordings_synthetic.voices import SPEECH_LEVEL, Voice, say_all, voice_named

#: Second takes are said more slowly, as people do when they are asked again.
_AGAIN_RATE = 0.88
#: Room before and after the words of each clip.
_AROUND_S = 0.3
ROOM_S = 8
_MICROPHONE_M = 0.3


def make(folder: Path) -> list[Row]:
    """Writes every clip and ``room.flac`` of the visit in ``folder``, removes clips no longer named; manifest rows.

    Raises EngineError when the voice may not be shipped, and the errors of ``load_script``.
    """
    script = load_script(folder)
    voice = voice_named(script.voice)
    if not voice.shipped:
        raise EngineError(f"What {voice.name} says is not to be shipped (see README.md); choose another voice.")
    visit = RecordedVisit(folder, script)
    clips = folder / "clips"
    clips.mkdir(exist_ok=True)
    for stray in {path.name for path in clips.glob("*.flac")} - set(visit.words):
        (clips / stray).unlink()
    at = ROOM_S * SAMPLE_RATE
    _write(visit.room, _bed(script, 0, at))
    rows = [_row(visit.room, "", script, voice)]
    for (name, words), spoken in zip(visit.words.items(), _spoken(visit, voice), strict=True):
        sound = in_room(spoken, script, at)
        at += len(sound)
        _write(visit.clip(name), sound)
        rows.append(_row(visit.clip(name), words, script, voice))
    return rows


def in_room(spoken: Audio, script: Script, at: int) -> Audio:
    """``spoken`` as the script's microphone hears it, with room around; ``at`` is where in the endless noise."""
    around = np.zeros(int(_AROUND_S * SAMPLE_RATE), dtype=np.float32)
    heard = room(np.concatenate([around, spoken, around]), script.seed, distance_m=_MICROPHONE_M)
    heard *= np.float32(SPEECH_LEVEL / speech_level(heard))
    return heard + _bed(script, at, len(heard))


def _spoken(visit: RecordedVisit, voice: Voice) -> list[Audio]:
    """First takes at the voice's own speed, second ones slower; in the order of ``visit.words``."""
    said: dict[str, Audio] = {}
    for ending, rate in (("-1.flac", 1.0), ("-2.flac", _AGAIN_RATE)):
        names = [name for name in visit.words if name.endswith(ending)]
        said |= zip(names, say_all([visit.words[name] for name in names], voice, rate), strict=True)
    return [said[name] for name in visit.words]


def _bed(script: Script, start: int, count: int) -> Audio:
    return noise(script.noise, script.seed, start, count) * np.float32(SPEECH_LEVEL * 10 ** (-script.snr_db / 20))


def _write(path: Path, sound: Audio) -> None:
    soundfile.write(path, np.clip(sound, -1, 1), SAMPLE_RATE, format="FLAC", subtype="PCM_16")


def _row(path: Path, words: str, script: Script, voice: Voice) -> Row:
    licence = voice.licence if words else "made by rule, MIT"
    name = voice.name if words else ""
    return Row(path, words, name, script.noise, f"{script.snr_db:g}", str(script.seed), licence)
