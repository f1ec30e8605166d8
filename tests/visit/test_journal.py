"""The journal keeps what was committed, in order, whatever happens to the program."""

import os
import signal
import sqlite3
import subprocess
import sys
import textwrap
from datetime import datetime
from pathlib import Path

import pytest

from assistant.dialogue import facts as f
from assistant.visit.journal import Journal, JournalError, UnknownVisit

AT = datetime(2026, 3, 4, 9, 30)


@pytest.fixture
def journal(tmp_path):
    journal = Journal(tmp_path / "journal.sqlite")
    yield journal
    journal.close()


def test_facts_come_back_as_they_went_in(journal):
    visit = journal.open_visit(AT, "typed")
    facts = [f.VisitOpened(library="abc", technician="Ada"), f.Said(text="Which site is this?", about="question")]
    journal.append(visit, AT, 0.0, facts)
    journal.append(visit, AT, 2.5, [f.Noted(topic="site", value="mill lane", words="mill lane")])
    stamped = list(journal.facts(visit))
    assert [item.fact for item in stamped] == [*facts, f.Noted(topic="site", value="mill lane", words="mill lane")]
    assert [item.seq for item in stamped] == [1, 2, 3]
    assert [item.at_s for item in stamped] == [0.0, 0.0, 2.5]


def test_visits_are_numbered_within_the_day(journal):
    assert [journal.open_visit(AT, "typed") for _ in range(2)] == ["2026-03-04-1", "2026-03-04-2"]


def test_nothing_written_is_ever_changed(journal):
    visit = journal.open_visit(AT, "typed")
    journal.append(visit, AT, 0.0, [f.Held(by="wait")])
    with sqlite3.connect(journal.path) as db:
        with pytest.raises(sqlite3.Error, match="append-only"):
            db.execute("update fact set body = '{}'")
        with pytest.raises(sqlite3.Error, match="append-only"):
            db.execute("delete from fact")


def test_unknown_visit_is_one_sentence_with_a_remedy(journal):
    with pytest.raises(UnknownVisit, match=r"no visit 1999-01-01-1 .* `ladderside visits` lists them"):
        list(journal.facts("1999-01-01-1"))


def test_a_full_disk_is_told_and_loses_nothing(journal):
    visit = journal.open_visit(AT, "typed")
    journal.append(visit, AT, 0.0, [f.Held(by="wait")])
    pages = journal._db.execute("pragma page_count").fetchone()[0]
    journal._db.execute(f"pragma max_page_count = {pages}")
    big = [f.Noted(topic="site", value="x" * 20_000, words="")] * 5
    with pytest.raises(JournalError, match="everything up to the last answer is safe"):
        journal.append(visit, AT, 1.0, big)
    journal._db.execute("pragma max_page_count = 1000000")
    assert [item.fact for item in journal.facts(visit)] == [f.Held(by="wait")]
    journal.append(visit, AT, 2.0, [f.Released()])
    assert len(list(journal.facts(visit))) == 2


def test_a_newer_journal_is_refused_not_rewritten(tmp_path):
    path = tmp_path / "journal.sqlite"
    Journal(path).close()
    with sqlite3.connect(path) as db:
        db.execute("pragma user_version = 99")
    with pytest.raises(JournalError, match="newer Ladderside"):
        Journal(path)


def test_a_folder_that_cannot_be_written_is_told(tmp_path):
    (tmp_path / "file").write_text("not a folder")
    with pytest.raises(JournalError, match="cannot be opened"):
        Journal(tmp_path / "file" / "journal.sqlite")


WRITER = textwrap.dedent(
    """
    import sys
    from datetime import datetime
    from pathlib import Path
    from assistant.dialogue import facts as f
    from assistant.visit.journal import Journal

    journal = Journal(Path(sys.argv[1]))
    visit = journal.open_visit(datetime(2026, 1, 1), "typed")
    for number in range(100_000):
        journal.append(visit, datetime(2026, 1, 1), number, [f.Noted(topic="site", value=str(number)), f.Misheard()])
        print(number, flush=True)
    """
)


@pytest.mark.parametrize("after", [1, 7, 40])
def test_killed_at_any_instant_every_reported_turn_is_there_whole(tmp_path, after):
    path = tmp_path / "journal.sqlite"
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    writer = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE, text=True, env=environment
    )
    seen = -1
    for line in writer.stdout:
        seen = int(line)
        if seen >= after:
            os.kill(writer.pid, signal.SIGKILL)
            break
    writer.wait()
    journal = Journal(path)
    kept = [item.fact for item in journal.facts("2026-01-01-1")]
    assert len(kept) % 2 == 0, "a turn was kept by half"
    values = [int(fact.value) for fact in kept if isinstance(fact, f.Noted)]
    assert values == list(range(len(values)))
    assert values[-1] >= seen
