"""What is committed in recordings_synthetic: all told in the manifest, whole, small enough, and made by its script."""

import csv
import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile
from pydantic import TypeAdapter

from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.language.compare import same_meaning
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, Meaning
from assistant.visit.recording import load
from recordings_synthetic import manifest, visits
from recordings_synthetic.__main__ import HERE, MANIFEST, SAMPLE
from recordings_synthetic.engines import EngineError
from recordings_synthetic.voices import say_all, voice_named

VISITS = sorted(path.parent for path in HERE.glob("*/script.yaml"))

#: Engines whose voices are learnt models.
LEARNT = {"hibari", "piper"}
WINDOW = SAMPLE_RATE // 50


def sounds() -> Iterator[Path]:
    return HERE.rglob("*.flac")


def test_every_sound_is_in_the_manifest_with_its_licence() -> None:
    rows = {row["file"]: row for row in manifest.read(MANIFEST)}
    assert set(rows) == {path.relative_to(HERE).as_posix() for path in sounds()}
    assert all(row["licence"] for row in rows.values())
    assert all(voice_named(row["voice"]).shipped for row in rows.values() if row["voice"])


def test_all_together_stay_under_25_mb_in_the_format_of_the_ears() -> None:
    assert sum(path.stat().st_size for path in sounds()) < 25_000_000
    for path in sounds():
        about = soundfile.info(path)
        assert (about.samplerate, about.channels, about.format) == (SAMPLE_RATE, 1, "FLAC"), path


@pytest.mark.parametrize("folder", VISITS, ids=lambda path: path.name)
def test_a_visit_is_whole_and_its_words_are_the_script_s(folder: Path) -> None:
    visit = load(folder)
    told = {row["file"]: row["words"] for row in manifest.read(MANIFEST)}
    clips = (folder / "clips").relative_to(HERE).as_posix()
    assert {f"{clips}/{name}": words for name, words in visit.words.items()} == {
        file: words for file, words in told.items() if file.startswith(f"{clips}/")
    }
    assert {path.name for path in (folder / "clips").iterdir()} == set(visit.words)


def _loudness(*sounds: np.ndarray) -> np.ndarray:
    """RMS of every 20 ms, as far as the shortest of the sounds goes: shape (sounds, windows)."""
    windows = min(len(each) for each in sounds) // WINDOW
    return np.array([np.sqrt((each[: windows * WINDOW].reshape(windows, WINDOW) ** 2).mean(axis=1)) for each in sounds])


@pytest.mark.parametrize("folder", VISITS, ids=lambda path: path.name)
def test_a_clip_made_again_is_the_committed_one(folder: Path) -> None:
    """The first clip; others stand later in the room's noise.

    A learnt voice rounds otherwise on another processor, so a sound may be a hair longer: loudness is compared.
    """
    visit = load(folder)
    name, words = next(iter(visit.words.items()))
    try:
        (spoken,) = say_all([words], visit.script.voice)
    except EngineError as error:
        pytest.skip(str(error))
    again = visits.in_room(spoken, visit.script, visits.ROOM_S * SAMPLE_RATE)
    committed, _ = soundfile.read(visit.clip(name), dtype="float32")
    if voice_named(visit.script.voice).engine not in LEARNT:
        assert len(again) == len(committed)
        assert np.corrcoef(again, committed)[0, 1] > 0.99
    assert abs(len(again) - len(committed)) < 0.02 * len(committed)
    assert np.corrcoef(*_loudness(again, committed))[0, 1] > 0.95


def test_the_sample_of_the_measuring_set_is_whole_and_means_what_it_says() -> None:
    kinds = json.loads((SAMPLE / "expectations.json").read_text(encoding="utf-8"))
    with (SAMPLE / "transcripts.csv").open(newline="", encoding="utf-8") as rows:
        lines = list(csv.DictReader(rows))
    assert {line["file"] for line in lines} == {path.name for path in SAMPLE.glob("*.flac")}
    assert len({line["voice"] for line in lines}) >= 12
    assert len({line["engine"] for line in lines}) >= 4
    meanings: TypeAdapter[Meaning] = TypeAdapter(Meaning)
    for line in lines:
        told = interpret(line["text"], Expectation.model_validate(kinds[line["kind"]]))
        assert same_meaning(told.meaning, meanings.validate_json(line["meaning"])), (
            f"“{line['text']}” no longer means that; if rightly so: python -m recordings_synthetic sample"
        )
