"""What leaves the program: files whole or not at all, nothing that steers a terminal or a spreadsheet, nothing left."""

import csv
import errno
import io
import json
import os
import signal
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest

from assistant.dialogue import facts as f
from assistant.language.meaning import Finding
from assistant.printable import printable
from assistant.record.build import build
from assistant.record.forms import FORMATS, RecordFileError, as_pdf, write
from assistant.record.sheet import as_csv
from assistant.visit.journal import Journal

ROOT = Path(__file__).parents[2]
AT = datetime(2026, 3, 4, 9, 30)


def recorded(tmp_path, library, *facts):
    journal = Journal(tmp_path / "journal.sqlite")
    visit = journal.open_visit(AT, "typed")
    journal.append(visit, AT, 0.0, facts)
    return build(journal.row(visit), journal.facts(visit), library)


@pytest.fixture
def library(context):
    return context.library


def answered(words):
    return f.AnswerGiven(number=1, check="lock-out-power", question="state", place=None, answer=Finding(choice="done"),
                         how="typed", words=words, probability=1.0)  # fmt: skip


def test_a_record_is_replaced_by_a_whole_one_or_not_at_all(tmp_path, library, monkeypatch):
    record = recorded(tmp_path, library, f.Noted(topic="site", value="mill lane"))
    paths = write(record, tmp_path / "out", tuple(FORMATS))
    before = {path: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    assert set(paths) <= set(before)
    assert all(path.stat().st_mode & 0o777 == 0o600 for path in paths)

    def full(handle):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("assistant.data.files.os.fsync", full)
    other = record.model_copy(update={"site": "another site"})
    with pytest.raises(RecordFileError, match=r"No space left on device.*Name another folder"):
        write(other, tmp_path / "out", tuple(FORMATS))
    assert {path: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before


@pytest.mark.parametrize("words", ["+4 volts", "=1+1", "-3", "@sum", "\t=1", "=cmd|' /c calc'!A1"])
def test_no_cell_of_a_table_is_a_formula(tmp_path, library, words):
    record = recorded(tmp_path, library, answered(words))
    [row] = [row for row in csv.DictReader(io.StringIO(as_csv(record))) if row["line"] == "answer"]
    assert row["words"] == f"'{words}"
    assert row["number"] == "1"


@pytest.mark.parametrize(
    "note", ["word " * 1000, "w" * 5000, "<b>&amp;</i> " * 300, "\x00\x1b[31m\u202e" * 40, "🔧 " * 500]
)
def test_any_note_can_be_printed(tmp_path, library, note):
    facts = [f.Noted(topic=topic, value=note, words=note) for topic in ("site", "customer", "repair")]
    record = recorded(tmp_path, library, *facts, f.RepairDone(suspect="terminals-swapped", done=True), answered(note))
    assert as_pdf(record).startswith(b"%PDF")
    for name, render in FORMATS.items():
        assert render(record), name


STEERING = "mill\x1b]0;owned\x07\x1b[2J lane\u202eenal\r\nsays  It is dead."


def test_nothing_steers_the_terminal():
    shown = printable(STEERING)
    assert shown == "mill\\x1b]0;owned\\x07\\x1b[2J lane\\u202eenal\\x0d\\x0asays  It is dead."
    assert printable("4.2 kΩ, “good” – 25 °C 🔧") == "4.2 kΩ, “good” – 25 °C 🔧"


def ladderside(tmp_path, *words, input=b"", **environment):
    return subprocess.run(
        [sys.executable, "-m", "assistant", *words],
        input=input,
        capture_output=True,
        cwd=ROOT,
        env={**os.environ, "LADDERSIDE_HOME": str(tmp_path / "home"), **environment},
        timeout=120,
    )


def test_words_with_escape_sequences_are_shown_and_not_obeyed(tmp_path):
    typed = ladderside(tmp_path, "type", input=STEERING.replace("\r\n", " ").encode() + b"\n")
    listed = ladderside(tmp_path, "visits")
    for done in (typed, listed):
        assert done.returncode == 0, done.stderr
        assert b"\x1b" not in done.stdout + done.stderr
        assert "\u202e" not in done.stdout.decode()
        assert b"owned" in done.stdout


def test_a_terminal_without_the_signs_of_the_trade(tmp_path):
    latin = {"PYTHONIOENCODING": "latin-1", "PYTHONUTF8": "0", "LC_ALL": "C"}
    done = ladderside(tmp_path, "type", input="caf\xe9 M\xfcller\n".encode("latin-1"), **latin)
    assert done.returncode == 0, done.stderr
    assert b'you   "caf\xe9 M\xfcller"' in done.stdout
    ascii_only = {**latin, "PYTHONIOENCODING": "ascii"}
    done = ladderside(tmp_path, "type", "--json", input=b"caf\xe9\ncopper wren solo\n", **ascii_only)
    assert done.returncode == 0, done.stderr
    turns = [json.loads(line) for line in done.stdout.decode("ascii").splitlines()]
    assert turns[1]["heard"]["words"] == "caf\xe9", "a letter of Latin-1 is kept, whatever the terminal is said to be"
    for words in (["calculate", "--help"], ["--help"], ["library"]):
        assert ladderside(tmp_path, *words, COLUMNS="60", **ascii_only).returncode in (0, 2)


def test_bytes_that_are_no_text_do_not_end_a_visit(tmp_path):
    done = ladderside(
        tmp_path, "type", input=b"mill \xff\xfe lane\n\xc3\x28\ncopper wren solo\n", PYTHONIOENCODING="utf-8"
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.count(b"you  ") == 3


def test_what_was_spoken_is_not_left_behind_when_killed(tmp_path):
    """The sound of a line may hold a customer's name; it lies in memory, and the next program takes it away."""
    code = (
        "import sys; from assistant.speaking.synthesis import synthesizer; synthesizer().render('Mill lane.'); "
        "print(synthesizer()._folder.name, flush=True); sys.stdin.read()"
    )
    environment = {**os.environ, "XDG_RUNTIME_DIR": str(tmp_path)}
    killed = subprocess.Popen([sys.executable, "-c", code], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
                              cwd=ROOT, env=environment)  # fmt: skip
    folder = Path(killed.stdout.readline().strip())
    assert folder.parent == tmp_path
    assert folder.stat().st_mode & 0o777 == 0o700
    assert list(folder.iterdir()) == []
    killed.send_signal(signal.SIGKILL)
    killed.wait()
    assert folder.exists()
    other = tmp_path / f"ladderside-voice-{os.getpid()}-running"
    other.mkdir()
    again = subprocess.run(
        [sys.executable, "-c", code], input="", capture_output=True, text=True, cwd=ROOT, env=environment
    )
    assert again.returncode == 0, again.stderr
    assert not folder.exists()
    assert other.exists()


def test_a_full_disk_for_the_sound_of_the_replies_does_not_end_the_replay(tmp_path, monkeypatch):
    from assistant.speaking.file_voice import FileVoice

    voice = FileVoice(tmp_path / "replies.flac")
    voice.say("Which site is this?")

    def full(sound):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(
        voice, "file", type("Full", (), {"write": staticmethod(full), "close": staticmethod(lambda: None)})
    )
    assert voice.say("Mill lane.").done
    assert voice.say("Which unit is it?").done
    assert [cue.text for cue in voice.cues] == ["Which site is this?", "Mill lane.", "Which unit is it?"]
    starts = [cue.start_s for cue in voice.cues]
    assert starts == sorted(starts)
    voice.close()
    assert "No space left on device" in str(voice.trouble)
