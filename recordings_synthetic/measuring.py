"""Makes a measuring set: utterances of readings, findings and commands in many voices, with their transcripts.

The form of the folder is told in README.md, "A measuring set"; ``ladderside measure-hearing`` reads it.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import numpy as np
import soundfile

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.language.meaning import Expectation
from assistant.measuring.noise import noise, room
from recordings_synthetic import quiet
from recordings_synthetic.manifest import Row
from recordings_synthetic.planning import Utterance, states
from recordings_synthetic.voices import SPEECH_LEVEL, Voice, say_all

COLUMNS = ("file", "speaker", "kind", "text", "voice", "engine", "style", "sex", "accent", "rate", "meaning")
#: A "clean" utterance is one in a quiet room, not in none.
_QUIET_ROOM_DB = 45.0
_AROUND_S = 0.3
_MICROPHONE_M = 0.3


def write(folder: Path, utterances: Sequence[Utterance], seed: int, progress: Callable[[str], None]) -> list[Row]:
    """Speaks ``utterances`` into ``folder`` with ``transcripts.csv`` and ``expectations.json``; manifest rows."""
    folder.mkdir(parents=True, exist_ok=True)
    lines: list[dict[str, str]] = []
    rows: list[Row] = []
    voices = list(dict.fromkeys(utterance.voice for utterance in utterances))
    for voice in voices:
        mine = [utterance for utterance in utterances if utterance.voice == voice]
        progress(f"{voice.name}: {len(mine)} utterances")
        spoken = say_all([utterance.sentence.words for utterance in mine], voice)
        for utterance, audio in zip(mine, spoken, strict=True):
            name = f"{len(lines):04d}-{voice.name}-{utterance.kind}.flac"
            _write(folder / name, in_quiet_room(audio, seed + len(lines)))
            lines.append(_line(name, utterance))
            words = utterance.sentence.words
            rows.append(Row(folder / name, words, voice.name, "", "", str(seed), voice.licence))
    _finish(folder, lines, {kind: states()[kind].expects for kind in {utterance.kind for utterance in utterances}})
    return rows


def write_quiet(folder: Path, minutes: int, voices: Sequence[Voice], seed: int) -> None:
    """Adds ``minutes`` files of one minute without an answer to the set in ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    lines = []
    for index, (kind, audio) in enumerate(quiet.minutes(minutes, tuple(voices), seed)):
        name = f"none-{index:02d}-{kind}.flac"
        _write(folder / name, audio)
        lines.append(dict.fromkeys(COLUMNS, "") | {"file": name, "speaker": kind, "kind": f"none-{kind}"})
    expecting = states()["windings"].expects
    _finish(folder, lines, {line["kind"]: expecting for line in lines})


def in_quiet_room(spoken: Audio, seed: int) -> Audio:
    """``spoken`` as a near microphone hears it in a small quiet room, some silence around it."""
    around = np.zeros(int(_AROUND_S * SAMPLE_RATE), dtype=np.float32)
    heard = room(np.concatenate([around, spoken, around]), seed, distance_m=_MICROPHONE_M)
    return heard + noise("pink", seed, 0, len(heard)) * np.float32(SPEECH_LEVEL * 10 ** (-_QUIET_ROOM_DB / 20))


def _write(path: Path, audio: Audio) -> None:
    soundfile.write(path, np.clip(audio, -1, 1), SAMPLE_RATE, format="FLAC", subtype="PCM_16")


def _line(name: str, utterance: Utterance) -> dict[str, str]:
    voice = utterance.voice
    said = {"file": name, "speaker": voice.name, "kind": utterance.kind, "text": utterance.sentence.words}
    who = {"voice": voice.name, "engine": voice.engine, "style": voice.style, "sex": voice.sex}
    meaning = utterance.sentence.meaning.model_dump_json()
    return {**said, **who, "accent": voice.accent, "rate": voice.manner, "meaning": meaning}


def _finish(folder: Path, lines: Sequence[dict[str, str]], expected: dict[str, Expectation]) -> None:
    """Writes both side files; what other files of the set they name stays."""
    transcripts, expectations = folder / "transcripts.csv", folder / "expectations.json"
    new = {line["file"] for line in lines}
    kept = [line for line in _lines(transcripts) if line["file"] not in new]
    with transcripts.open("w", newline="", encoding="utf-8") as out:
        writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
        writer.writeheader()
        writer.writerows([*kept, *lines])
    known = json.loads(expectations.read_text(encoding="utf-8")) if expectations.exists() else {}
    known |= {kind: state.model_dump(mode="json", exclude_defaults=True) for kind, state in expected.items()}
    expectations.write_text(json.dumps(known, indent=1, sort_keys=True) + "\n", encoding="utf-8")


def _lines(transcripts: Path) -> Iterator[dict[str, str]]:
    if transcripts.exists():
        with transcripts.open(newline="", encoding="utf-8") as rows:
            yield from csv.DictReader(rows)
