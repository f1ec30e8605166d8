"""The measuring command: the meaning is compared, trust is counted, and a bad folder is one clear sentence."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.commands.main import main
from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, Heard
from assistant.measuring import hearing as measuring
from assistant.measuring.hearing import (
    MeasuringError,
    measure,
    read_set,
    sounds,
    total,
)
from assistant.measuring.noise import speech_level
from assistant.measuring.places import Place
from tests.hearing.speech import spoken

SAID = {
    "a.flac": ("number", "four oh five"),
    "b.flac": ("number", "oh seven"),
    "c.flac": ("command", "repeat"),
    "d.flac": ("command", "yes"),
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("set")
    rows = ["file,speaker,kind,text"]
    for name, (kind, text) in SAID.items():
        soundfile.write(made / name, spoken(text), SAMPLE_RATE)
        rows.append(f"{name},rms,{kind},{text}")
    (made / "transcripts.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    return made


class Scripted:
    """Ears that answer in the order of the script: words and trust."""

    def __init__(self, *answers: tuple[str, str]) -> None:
        self.answers = iter(answers)
        self.expectation = Expectation(question="")

    def expect(self, expectation: Expectation) -> None:
        self.expectation = expectation

    def judge(self, utterance: Utterance) -> Heard:
        words, trust = next(self.answers)
        meaning = interpret(words, self.expectation).meaning if words else None
        return Heard.model_validate({"words": words, "meaning": meaning, "trust": trust})


def tallied(folder: Path, *answers: tuple[str, str]) -> measuring.Tally:
    chosen = read_set(folder)
    return total(measure(Scripted(*answers), chosen, sounds(chosen, Place()), lambda done: None))


def test_spelling_does_not_count_but_zeros_do(folder: Path) -> None:
    right = [("four zero five", "sure"), ("zero seven", "sure"), ("repeat", "sure"), ("yes", "sure")]
    assert tallied(folder, *right).exact == 4
    assert tallied(folder, ("405", "sure"), ("07", "sure"), *right[2:]).exact == 4
    dropped = tallied(folder, right[0], ("seven", "sure"), *right[2:])
    assert (dropped.exact, dropped.wrong_unasked) == (3, 1)


def test_trust_is_counted(folder: Path) -> None:
    tally = tallied(folder, ("four oh five", "confirm"), ("oh nine", "confirm"), ("", "again"), ("no", "sure"))
    assert (tally.utterances, tally.exact, tally.confirm, tally.confirm_right, tally.again) == (4, 1, 2, 1, 1)
    assert tally.wrong_unasked == 1
    assert len(tally.confusions) == 4
    assert len(tally.seconds) == 4


def test_noise_is_the_same_every_time_and_as_loud_as_asked(folder: Path) -> None:
    chosen = read_set(folder)
    once = [audio for _, audio in sounds(chosen, Place(10))]
    again = [audio for _, audio in sounds(chosen, Place(10))]
    clean = [audio for _, audio in sounds(chosen, Place())]
    assert all(np.array_equal(one, other) for one, other in zip(once, again, strict=True))
    for noisy, plain in zip(once, clean, strict=True):
        under = float(np.sqrt(np.mean(np.square(noisy - plain, dtype=np.float64))))
        level = speech_level(plain)
        assert 20 * np.log10(level / under) == pytest.approx(10, abs=0.2)


def test_anything_recorded_where_nothing_was_said_is_wrong(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "talk.flac", spoken("two hundred forty volts"), SAMPLE_RATE)
    (tmp_path / "transcripts.csv").write_text("file,speaker,kind,text\ntalk.flac,x,none-talk,\n", encoding="utf-8")
    assert tallied(tmp_path, ("two forty", "sure"), ("two forty", "sure")).wrong_unasked >= 1
    assert tallied(tmp_path, ("", "again"), ("", "again")).wrong_unasked == 0


def test_the_command_prints_json_with_the_promised_keys(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure-hearing", str(folder), "--ear", "all", "--snr", "15", "--noise", "babble", "--json"]) == 0
    printed = json.loads(capsys.readouterr().out)
    wanted = {"utterances", "exact", "confirm", "again", "wrong_unasked", "latency_ms", "memory_mb", "ear", "by_kind"}
    assert wanted <= printed.keys()
    assert printed["ear"] == "all"
    assert printed["utterances"] == 4
    assert printed["wrong_unasked"] == 0
    assert printed["latency_ms"].keys() == {"p50", "p95"}
    assert {kind: numbers["utterances"] for kind, numbers in printed["by_kind"].items()} == {"number": 2, "command": 2}


def test_the_table_has_a_row_for_each_kind_and_ear(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure-hearing", str(folder)]) == 0
    printed = capsys.readouterr().out
    for ear in ("all", "whisper", "phoneme"):
        assert f"Ear: {ear}; as recorded" in printed
    assert printed.count("\nnumber ") == printed.count("\nall ") == 4


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (None, "holds no transcripts.csv"),
        ("file,speaker\n", "line 1: the columns kind, text are missing"),
        ("file,speaker,kind,text\n", "lists no utterance"),
        ("file,speaker,kind,text\ngone.flac,x,number,one\n", "line 2: the file 'gone.flac' is missing"),
    ],
)
def test_a_bad_folder_is_one_clear_sentence(tmp_path: Path, text: str | None, says: str) -> None:
    if text is not None:
        (tmp_path / "transcripts.csv").write_text(text, encoding="utf-8")
    with pytest.raises(MeasuringError, match=says):
        read_set(tmp_path)


def test_a_kind_that_nobody_explains_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.flac").touch()
    (tmp_path / "transcripts.csv").write_text("file,speaker,kind,text\na.flac,x,poem,roses\n", encoding="utf-8")
    with pytest.raises(MeasuringError, match=r"kind “poem” expects is unknown; say it in expectations.json"):
        read_set(tmp_path)
    (tmp_path / "expectations.json").write_text("[]", encoding="utf-8")
    with pytest.raises(MeasuringError, match="not a table of expectations"):
        read_set(tmp_path)
