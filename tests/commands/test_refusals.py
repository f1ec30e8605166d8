"""Bad input gets one clear sentence and exit status 2; no traceback ever reaches the user."""

import sqlite3

import numpy as np
import pytest
import soundfile as sf


def refused(done, *words):
    assert done.returncode == 2, done.stdout + done.stderr
    assert "Traceback" not in done.stderr
    lines = [line for line in done.stderr.splitlines() if line.strip()]
    assert len(lines) == 1, done.stderr
    for word in words:
        assert word in lines[0]


def test_an_unknown_visit(ladderside):
    refused(ladderside("record", "1999-01-01-9"), "no visit 1999-01-01-9", "ladderside visits")


def test_no_visit_yet(ladderside):
    refused(ladderside("record"), "no visit yet")


def test_nothing_to_resume(ladderside):
    refused(ladderside("type", "--resume"), "no open visit")


def test_a_journal_that_is_none(ladderside, home):
    home.mkdir()
    (home / "journal.sqlite").write_text("this is not a database, but somebody's shopping list " * 50)
    done = ladderside("visits")
    assert done.returncode == 0
    assert "was damaged: 0 visits were recovered; nothing was changed." in done.stderr
    assert "shopping list" in (home / "journal.sqlite").read_text()
    assert "was damaged" in ladderside("type").stderr
    [aside] = home.glob("journal-damaged-*.sqlite")
    assert "shopping list" in aside.read_text()
    assert ladderside("visits").stderr == ""


def test_a_journal_of_a_newer_program(ladderside, home):
    home.mkdir()
    with sqlite3.connect(home / "journal.sqlite") as db:
        db.execute("pragma user_version = 99")
    refused(ladderside("visits"), "newer Ladderside")


def test_a_missing_recording(ladderside):
    refused(ladderside("replay", "no/such/file.flac"), "no/such/file.flac")


def test_a_folder_without_a_script(ladderside, tmp_path):
    refused(ladderside("replay", str(tmp_path)), "script.yaml")


def test_a_broken_script_says_where(ladderside, tmp_path):
    (tmp_path / "script.yaml").write_text("title: x\nturns:\n  - {answers: visit.site, say: hello\n")
    refused(ladderside("replay", str(tmp_path)), "script.yaml", "line")


@pytest.mark.parametrize(
    ("name", "samples", "rate", "word"),
    [
        ("empty.wav", 0, 16_000, "no sound"),
        ("silent.wav", 32_000, 16_000, "silent"),
        ("hour.wav", 3600 * 8_000, 8_000, "minutes"),
    ],
)
def test_sound_that_cannot_be_heard(ladderside, tmp_path, name, samples, rate, word):
    sf.write(tmp_path / name, np.zeros(samples, np.int16), rate)
    refused(ladderside("replay", str(tmp_path / name)), name, word)


def test_a_file_that_is_no_sound(ladderside, tmp_path):
    (tmp_path / "notes.wav").write_text("not a sound file at all")
    refused(ladderside("replay", str(tmp_path / "notes.wav")), "notes.wav")


def test_an_ear_that_is_none(ladderside, tmp_path):
    sf.write(tmp_path / "a.wav", np.random.default_rng(1).normal(0, 0.05, 32_000), 16_000)
    refused(ladderside("replay", str(tmp_path / "a.wav"), "--ear", "elephant"), "elephant", "phoneme")


def test_a_vosk_folder_without_a_model(ladderside, tmp_path):
    sf.write(tmp_path / "a.wav", np.random.default_rng(1).normal(0, 0.05, 32_000), 16_000)
    refused(ladderside("replay", str(tmp_path / "a.wav"), "--ear", f"vosk={tmp_path / 'none'}"), "none")
