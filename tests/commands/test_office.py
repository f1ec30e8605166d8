"""Amending, signing, exporting and asking, as a user types them."""

import json
import re

import pytest

from assistant.library.loader import load
from assistant.visit.paths import journal_path
from tests.office.fleet import fill


@pytest.fixture
def fleet(home):
    home.mkdir()
    fill(journal_path(), load(), 12)


def test_an_amended_and_signed_visit_is_verified_and_shows_both(ladderside, fleet, tmp_path):
    visit = json.loads(ladderside("visits", "--json").stdout)[0]["visit"]
    done = ladderside("amend", visit, "site", "the new mill", "--who", "Dana", "--why", "moved")
    assert done.returncode == 0, done.stderr
    assert ladderside("sign", visit, "--name", "B. Wren").returncode == 0
    written = ladderside("record", visit, "--to", str(tmp_path), "--format", "json", "--format", "facts")
    assert written.returncode == 0, written.stderr
    record = json.loads((tmp_path / "record.json").read_text())
    assert [change["now"] for change in record["amendments"]] == ["the new mill"]
    assert record["signatures"][-1]["name"] == "B. Wren"
    files = [str(tmp_path / name) for name in ("record.json", "record.facts.jsonl")]
    assert ladderside("record", "--verify", *files).stdout.count("as recorded") == 2
    assert "are as they were recorded" in ladderside("record", visit, "--verify").stdout
    (tmp_path / "record.json").write_text(json.dumps(record | {"site": "elsewhere"}))
    changed = ladderside("record", "--verify", files[0])
    assert changed.returncode == 2
    assert "something in it was changed" in changed.stderr


def test_exported_visits_answer_every_question_and_teach(ladderside, fleet, tmp_path):
    folder = tmp_path / "pq"
    first = ladderside("export", "--to", str(folder))
    assert re.fullmatch(r"12 visits of device-[0-9a-f]{8} written to .*; 0 there already\.\n", first.stdout)
    assert "0 visits" in ladderside("export", "--to", str(folder)).stdout
    answers = json.loads(ladderside("insights", str(folder), "--json").stdout)
    assert [answer["question"] for answer in answers] == [
        "failing-parts", "first-checks", "repeat-visits", "refrigerant", "duties",
    ]  # fmt: skip
    told = ladderside("insights", str(folder), "failing-parts", "--to", str(tmp_path / "out"))
    assert "pipe sensor" in told.stdout
    assert {file.name for file in (tmp_path / "out").iterdir()} == {"failing-parts.csv", "failing-parts.svg"}
    learnt = ladderside("insights", str(folder), "--learn", str(tmp_path / "weights.yaml"))
    assert "It is used once reviewed" in learnt.stdout
    assert "Which parts fail" not in learnt.stdout
    both = ladderside("insights", str(folder), "duties", "--learn", str(tmp_path / "weights.yaml"))
    assert "It is used once reviewed" in both.stdout
    assert "Duties that are due" in both.stdout
    assert "reviewed_by: ''" in (tmp_path / "weights.yaml").read_text()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["export"], "Say where to"),
        (["export", "--database", "nonsense://"], "The database cannot be used"),
        (["export", "--to", "x", "--device", "../x"], "cannot name a device"),
        (["insights", "nowhere"], "no exported visits"),
        (["amend", "2020-01-01-99", "site", "x", "--who", "D", "--why", "w"], "There is no visit"),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence(ladderside, fleet, words, told):
    done = ladderside(*words)
    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr
