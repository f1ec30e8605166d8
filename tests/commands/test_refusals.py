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


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["vists"], "there is no “vists”: did you mean `ladderside visits`?"),
        (["measure_hearin", "x"], "did you mean `ladderside measure-hearing`?"),
        (["profile", "chek"], "did you mean `ladderside profile check`?"),
        (["record", "--format", "pfd"], "did you mean `ladderside record --format pdf`?"),
        (["visit", "--listen", "buton"], "did you mean `ladderside visit --listen button`?"),
        (["visit", "--resmue"], "there is no “--resmue”: did you mean `ladderside visit --resume`?"),
        (["profile", "new", "--fron", "x"], "did you mean `ladderside profile new --from`?"),
        (["type", "--jsn=1"], "did you mean `ladderside type --json`?"),
        (["--versoin"], "did you mean `ladderside --version`?"),
        (["record", "--zzzzzzzz"], "there are --help, --format,"),
        (["visits", "x"], "there is no place for x (`ladderside visits --help`"),
        (["zzzz"], "there are replay, visit, type, record,"),
        (["vis\x1b[31mts"], "“vis\\x1b[31mts”"),
        (["v" * 5000], "there are replay"),
    ],
)
def test_a_mistyped_word_gets_the_nearest(words, told, capsys):
    from assistant.commands.main import main

    with pytest.raises(SystemExit) as ended:
        main(words)
    assert ended.value.code == 2
    error = capsys.readouterr().err
    assert told in error
    assert error.count("\n") == 1
    assert len(error) < 500


def test_a_defect_says_which_file_goes_where(tmp_path, monkeypatch, capsys):
    from pathlib import Path

    from assistant.commands import main

    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path))
    monkeypatch.setattr(main, "parser", lambda: 1 / 0)
    assert main.main(["visits"]) == 1
    error = capsys.readouterr().err
    assert str(tmp_path / "defect.log") in error
    assert "new issue of the repository you got Ladderside from" in error
    assert "ZeroDivisionError" in (tmp_path / "defect.log").read_text()
    assert "## If it fails" in (Path(__file__).parents[2] / "README.md").read_text()


def test_help_says_how_many_ears_there_are(capsys):
    from assistant.commands.main import main

    with pytest.raises(SystemExit):
        main(["visit", "--help"])
    told = " ".join(capsys.readouterr().out.split())
    assert "whisper, moonshine and phoneme together (default), one of these three" in told
    assert "both" not in told
