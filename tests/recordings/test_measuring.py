"""The folder of a measuring set: files, transcripts and expectations that belong together."""

import csv
import json
from pathlib import Path

import numpy as np
import pytest

from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.hearing.sound.files import load
from assistant.language.generate import Sentence
from assistant.language.meaning import Expectation, Finding
from assistant.measuring.noise import KINDS, speech_level
from recordings_synthetic import measuring, quiet
from recordings_synthetic.planning import Utterance, states
from recordings_synthetic.voices import SPEECH_LEVEL, voice_named

CLEAN = Sentence("the filter is clean", Finding(choice="clean"), "finding")
BLOCKED = Sentence("badly blocked", Finding(choice="blocked"), "finding")


def lines(folder: Path) -> list[dict[str, str]]:
    with (folder / "transcripts.csv").open(newline="", encoding="utf-8") as rows:
        return list(csv.DictReader(rows))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    american, british = voice_named("espeak-american"), voice_named("espeak-british-woman")
    said = [Utterance(american, "filter", CLEAN), Utterance(british, "filter", BLOCKED)]
    measuring.write(tmp_path, said, 1, lambda line: None)
    return tmp_path


def test_transcripts_tell_words_voice_and_meaning(folder: Path) -> None:
    first, second = lines(folder)
    assert first["file"] == "0000-espeak-american-filter.flac"
    assert (first["kind"], first["text"], first["style"], first["sex"]) == (
        "filter",
        "the filter is clean",
        "formant",
        "male",
    )
    assert Finding.model_validate_json(second["meaning"]) == BLOCKED.meaning
    kinds = json.loads((folder / "expectations.json").read_text(encoding="utf-8"))
    assert Expectation.model_validate(kinds["filter"]) == states()["filter"].expects
    assert set(kinds) == {"filter"}


def test_words_are_near_in_a_quiet_room(folder: Path) -> None:
    sound = load(folder / "0000-espeak-american-filter.flac")
    assert speech_level(sound) == pytest.approx(SPEECH_LEVEL, rel=0.15)
    lead = sound[: SAMPLE_RATE // 4]
    below = 20 * np.log10(SPEECH_LEVEL / np.sqrt(np.mean(np.square(lead))))
    assert below == pytest.approx(45, abs=3)


def test_minutes_without_an_answer_are_added_to_the_same_folder(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(quiet, "SECONDS", 2)
    measuring.write_quiet(folder, 5, (voice_named("espeak-american"),), seed=1)
    added = [line for line in lines(folder) if line["kind"].startswith("none-")]
    assert [line["kind"] for line in added] == ["none-fan", "none-pump", "none-street", "none-far-talk", "none-fan"]
    assert all(line["text"] == "" for line in added)
    assert len(lines(folder)) == 7
    kinds = json.loads((folder / "expectations.json").read_text(encoding="utf-8"))
    assert Expectation.model_validate(kinds["none-far-talk"]).reading is not None
    fans = [load(folder / line["file"]) for line in added if line["kind"] == "none-fan"]
    assert not np.array_equal(fans[0], fans[1])
    for line in added:
        level = np.sqrt(np.mean(np.square(load(folder / line["file"]))))
        assert 20 * np.log10(SPEECH_LEVEL / level) == pytest.approx(6, abs=3)


def test_made_again_nothing_is_told_twice(folder: Path) -> None:
    american = voice_named("espeak-american")
    measuring.write(folder, [Utterance(american, "filter", BLOCKED)], 1, lambda line: None)
    assert [line["text"] for line in lines(folder)] == ["badly blocked", "badly blocked"]


def test_every_kind_of_quiet_is_a_noise_or_far_talk() -> None:
    assert set(quiet.KINDS) - {quiet.FAR_TALK} <= set(KINDS)
