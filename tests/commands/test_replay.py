"""``ladderside replay``: a whole recorded visit by ear and voice; again the same; and any single file."""

import csv
import json
import os
import shutil
import sqlite3
import subprocess
import sys
from fnmatch import fnmatchcase
from pathlib import Path

import numpy as np
import pytest
import soundfile as sf
import yaml

ROOT = Path(__file__).parents[2]
VISIT = ROOT / "recordings_synthetic" / "crossed-terminals"
ALL = sorted(path.parent for path in (ROOT / "recordings_synthetic").glob("*/script.yaml"))
pytestmark = pytest.mark.slow


#: So many turns of the script are said again in a second process.
AGAIN = 5


def replay(visit, home):
    """Replays a recorded visit in its own process and data folder; its exit status and what it complained of."""
    done = subprocess.run(
        [sys.executable, "-m", "assistant", "replay", str(visit), "--json", "--to", str(home / "out")],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**os.environ, "LADDERSIDE_HOME": str(home)},
        timeout=900,
    )
    return done.returncode, done.stderr


@pytest.fixture(scope="module")
def replayed(tmp_path_factory):
    """The data folder of a recording that was replayed whole."""
    home = tmp_path_factory.mktemp("home")
    assert replay(VISIT, home) == (0, "")
    return home


def journal_of(home):
    with sqlite3.connect(home / "journal.sqlite") as db:
        return db.execute("select visit, seq, kind, body from fact order by seq").fetchall()


def test_it_ends_closed_proved_and_as_the_script_meant(replayed):
    record = json.loads((replayed / "out" / "record.json").read_text())
    assert record["outcome"] == "mended"
    assert record["repairs"][0]["suspect"] == "terminals-swapped"
    assert record["repairs"][0]["proof"] == "proved"
    script = yaml.safe_load((VISIT / "script.yaml").read_text())
    meant = {
        (turn["answers"], reading["value"], reading["unit"])
        for turn in script["turns"]
        for reading in turn.get("readings", ())
        if "value" in reading
    }
    recorded = {
        (line["question"], line["value"], line["unit"])
        for line in record["answers"]
        if line["quantity"] and line["value"] is not None and line["status"] == "counts"
    }
    assert recorded
    for question, value, unit in recorded:
        assert any(
            fnmatchcase(question, pattern) and (value, unit) == (float(true), of) for pattern, true, of in meant
        ), (question, value, unit)
    for pattern, true, of in meant:
        assert any(
            fnmatchcase(question, pattern) and (value, unit) == (float(true), of) for question, value, unit in recorded
        )


def test_every_reading_was_heard_by_two_ears_or_confirmed(replayed):
    record = json.loads((replayed / "out" / "record.json").read_text())
    readings = [line for line in record["answers"] if line["quantity"]]
    assert readings
    assert {line["how"] for line in readings} <= {"two ears", "confirmed by voice"}


def test_every_spoken_line_is_audible_in_the_reply_file(replayed):
    out = replayed / "out"
    sound, rate = sf.read(out / "replies.flac")
    with (out / "replies.cues.csv").open(newline="") as file:
        cues = list(csv.DictReader(file))
    record = json.loads((out / "record.json").read_text())
    said = [line["text"] for line in record["transcript"] if line["who"] == "assistant"]
    # A sign of life in a long wait is no part of the visit.
    assert [cue["text"] for cue in cues if not cue["text"].startswith("Still waiting")] == said
    for cue in cues:
        piece = sound[int(float(cue["start_s"]) * rate) : int(float(cue["end_s"]) * rate)]
        assert len(piece) / rate > 0.2, cue
        assert np.sqrt(np.mean(np.square(piece))) > 0.01, cue
        assert np.abs(piece).max() > 0.1, cue


def test_the_same_words_again_give_the_same_journal_but_for_times(replayed, tmp_path):
    """The beginning of the visit, as often as not with another order of everything that has none: another process."""
    visit = tmp_path / VISIT.name
    shutil.copytree(VISIT, visit)
    script = yaml.safe_load((visit / "script.yaml").read_text())
    script["turns"] = script["turns"][:AGAIN]
    (visit / "script.yaml").write_text(yaml.safe_dump(script))
    status, complaint = replay(visit, tmp_path / "home")
    assert status == 2
    assert "has no answer" in complaint
    whole, again = journal_of(replayed), journal_of(tmp_path / "home")
    assert len(whole) > 100
    assert len(again) > 6 * AGAIN
    assert whole[: len(again)] == again


def test_the_page_stands_alone(replayed):
    page = (replayed / "out" / "record.html").read_text()
    assert "Mended" in page
    assert "http://" not in page
    assert "https://" not in page
    assert "<script" not in page


def test_the_other_formats_hold_the_same_readings(replayed):
    home = replayed
    out = home / "more"
    done = subprocess.run(
        [sys.executable, "-m", "assistant", "record", "--format", "csv", "--format", "pdf", "--to", str(out)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**os.environ, "LADDERSIDE_HOME": str(home)},
    )
    assert done.returncode == 0, done.stderr
    with (out / "record.csv").open(newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["line"] == "answer"]
    record = json.loads((home / "out" / "record.json").read_text())
    assert [row["said"] for row in rows] == [line["said"] for line in record["answers"]]
    text = subprocess.run(["pdftotext", out / "record.pdf", "-"], capture_output=True, text=True).stdout
    assert "3.8 V" in text
    assert "mended" in text


@pytest.mark.parametrize("folder", ALL, ids=lambda path: path.name)
def test_every_recorded_visit_fits_the_knowledge_as_it_is(folder, context, tmp_path):
    """The conversation at the level of meanings: each question that comes up has its answer in the script."""
    from tests.commands.scripted import lead

    state, complaint = lead(folder, context)
    assert complaint == ""
    assert state.closing == {"maintenance": "maintained", "commissioning": "commissioned"}.get(
        state.job.course, "mended"
    )


def test_one_sound_file_of_another_kind_is_heard_and_split_at_pauses(ladderside, tmp_path):
    """Each rate by itself: ``tests/hearing/test_files.py``."""
    rate, channels = 44_100, 2
    import soxr

    clips = [sf.read(VISIT / "clips" / name)[0] for name in ("01-visit-site-1.flac", "02-visit-profile-1.flac")]
    pause = np.zeros(16_000 * 2)
    sound = np.concatenate([pause, clips[0], pause, clips[1], pause])
    sound = soxr.resample(sound, 16_000, rate)
    sf.write(tmp_path / "one.wav", np.stack([sound] * channels, axis=1), rate)
    done = ladderside("replay", str(tmp_path / "one.wav"), "--json", "--to", str(tmp_path / "out"))
    assert done.returncode == 0, done.stderr
    *talk, end = [json.loads(line) for line in done.stdout.splitlines()]
    assert end["closed"] is False
    assert talk[-1]["question"] in ("visit.indication", "confirm")
