"""The journal keeps what was committed, in order, whatever happens to the program."""

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import textwrap
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from assistant.dialogue import facts as f
from assistant.visit.journal import Journal, JournalError, JournalReader, Overtaken, UnknownVisit
from assistant.visit.lock import VisitLock, VisitTaken
from assistant.visit.standing import Standing

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
    pages = journal.db.execute("pragma page_count").fetchone()[0]
    journal.db.execute(f"pragma max_page_count = {pages}")
    big = [f.Noted(topic="site", value="x" * 20_000, words="")] * 5
    with pytest.raises(JournalError, match="everything up to the last answer is safe"):
        journal.append(visit, AT, 1.0, big)
    journal.db.execute("pragma max_page_count = 1000000")
    assert [item.fact for item in journal.facts(visit)] == [f.Held(by="wait")]
    journal.append(visit, AT, 2.0, [f.Released()])
    assert len(list(journal.facts(visit))) == 2


def test_nothing_is_added_behind_the_back_of_another_writer(journal):
    visit = journal.open_visit(AT, "typed")
    seen = journal.append(visit, AT, 0.0, [f.Held(by="wait")], after=0)
    with Journal(journal.path) as other:
        other.append(visit, AT, 1.0, [f.Released()], after=seen)
    with pytest.raises(Overtaken, match="nothing is added from here"):
        journal.append(visit, AT, 2.0, [f.Held(by="stop")], after=seen)
    assert [item.fact for item in journal.facts(visit)] == [f.Held(by="wait"), f.Released()]
    assert journal.append(visit, AT, 2.0, [f.Held(by="stop")], after=2) == 3


def test_one_visit_has_one_writer_and_the_other_is_told_who(journal, tmp_path):
    visit = journal.open_visit(AT, "typed")
    code = (
        "import sys; from pathlib import Path; from assistant.visit.journal import Journal\n"
        f"lock = Journal(Path({str(journal.path)!r})).lock({visit!r}); print('held', flush=True); sys.stdin.read()"
    )
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    other = subprocess.Popen([sys.executable, "-c", code], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
                             env=environment)  # fmt: skip
    assert other.stdout.readline() == "held\n"
    with pytest.raises(VisitTaken, match=rf"process {other.pid}, since .* One visit has one writer"):
        journal.lock(visit)
    journal.facts(visit)  # reading is free
    with journal.lock(journal.open_visit(AT, "typed")):
        pass  # and so is another visit
    other.kill()
    other.wait()
    with journal.lock(visit) as lock:
        assert lock in VisitLock.held
    assert lock not in VisitLock.held


def test_the_order_is_the_journals_and_not_the_clocks(journal):
    first = journal.open_visit(AT, "typed")
    journal.append(first, AT, 0.0, [f.Held(by="wait")])
    second = journal.open_visit(AT - timedelta(days=2), "typed")
    journal.append(second, AT - timedelta(days=2), 0.0, [f.Held(by="wait")])
    assert [row.id for row in journal.visits()] == [second, first]
    assert journal.latest(closed=False).id == second
    journal.append(first, AT, 1.0, [f.Released()])
    assert journal.latest(closed=False).id == first
    journal.append(first, AT, 2.0, [f.VisitClosed(outcome="mended")])
    assert journal.latest(closed=False).id == second
    assert journal.latest().id == first


def test_a_list_of_visits_reads_no_facts(journal):
    visit = journal.open_visit(AT, "typed")
    stands = Standing(site="mill lane", unit="Copper Wren Solo", energy="isolated", found=("All well.",))
    journal.append(visit, AT, 0.0, [f.Held(by="wait")] * 3, standing=stands)
    asked = []
    journal.db.set_trace_callback(asked.append)
    [row] = journal.visits()
    assert (row.standing, row.facts, row.closed) == (stands, 3, False)
    assert len(asked) == 1
    assert " fact " not in asked[0]


def test_files_are_for_their_owner_alone(tmp_path):
    journal = Journal(tmp_path / "data" / "journal.sqlite")
    visit = journal.open_visit(AT, "typed")
    with journal.lock(visit):
        journal.append(visit, AT, 0.0, [f.Held(by="wait")])
        files = {path.name: path.stat().st_mode & 0o777 for path in (tmp_path / "data").rglob("*")}
    assert files == {
        "journal.sqlite": 0o600,
        "journal.sqlite-wal": 0o600,
        "journal.sqlite-shm": 0o600,
        "locks": 0o700,
        f"{visit}.lock": 0o600,
    }
    assert (tmp_path / "data").stat().st_mode & 0o777 == 0o700


def test_a_journal_readable_by_all_is_closed_when_it_is_next_written(tmp_path):
    Journal(tmp_path / "journal.sqlite").close()
    (tmp_path / "journal.sqlite").chmod(0o644)
    Journal(tmp_path / "journal.sqlite").close()
    assert (tmp_path / "journal.sqlite").stat().st_mode & 0o777 == 0o600


def contents(folder):
    return {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.iterdir() if path.is_file()}


def test_reading_changes_nothing(tmp_path):
    journal = Journal(tmp_path / "journal.sqlite")
    visit = journal.open_visit(AT, "typed")
    journal.append(visit, AT, 0.0, [f.Held(by="wait")])
    under_way = JournalReader(journal.path)
    assert len(under_way.facts(visit)) == 1  # what stands in the write-ahead file only is seen too
    under_way.close()
    journal.close()
    before = contents(tmp_path)
    assert list(before) == ["journal.sqlite"]
    with JournalReader(tmp_path / "journal.sqlite") as reader:
        assert [item.fact for item in reader.facts(visit)] == [f.Held(by="wait")]
        assert contents(tmp_path) == before
    assert contents(tmp_path) == before


def test_there_may_be_nothing_to_read(tmp_path):
    with JournalReader(tmp_path / "nowhere" / "journal.sqlite") as reader:
        assert reader.visits() == []
        assert reader.latest() is None
        assert reader.notices == []
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_read_only_folder_can_be_read(tmp_path):
    folder = tmp_path / "data"
    journal = Journal(folder / "journal.sqlite")
    visit = journal.open_visit(AT, "typed")
    journal.append(visit, AT, 0.0, [f.Held(by="wait")])
    copy = tmp_path / "copy"  # as a crash leaves it: the fact stands in the write-ahead file
    shutil.copytree(folder, copy)
    (copy / "journal.sqlite-shm").unlink()
    journal.close()
    for path in (*copy.iterdir(), copy):
        path.chmod(0o500 if path.is_dir() else 0o400)
    with JournalReader(copy / "journal.sqlite") as reader:
        assert len(reader.facts(visit)) == 1
    with pytest.raises(JournalError, match="Check the folder and its space"):
        Journal(copy / "journal.sqlite").open_visit(AT, "typed")
    copy.chmod(0o700)


def test_twelve_programs_make_one_journal_and_twelve_visits(tmp_path):
    path = tmp_path / "journal.sqlite"
    code = (
        "import sys; from datetime import datetime; from pathlib import Path\n"
        "from assistant.visit.journal import Journal\n"
        f"print(Journal(Path({str(path)!r})).open_visit(datetime(2026, 1, 1), 'typed'))"
    )
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    made = [subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True, env=environment)
            for _ in range(12)]  # fmt: skip
    opened = sorted(program.communicate()[0].strip() for program in made)
    assert opened == sorted(f"2026-01-01-{number}" for number in range(1, 13))
    assert len(JournalReader(path).visits()) == 12


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


def test_open_visits_are_those_that_can_be_gone_on_with_the_last_written_first(tmp_path):
    with Journal(tmp_path / "journal.sqlite") as journal:
        names = [journal.open_visit(datetime(2026, 3, 4), "typed") for _ in range(4)]
        for name in (*names[:3], names[1]):
            journal.append(name, datetime(2026, 3, 4), 0.0, [f.Said(text="x", about="question")])
        journal.append(names[0], datetime(2026, 3, 4), 0.0, [f.VisitClosed(outcome="mended")])
        assert [row.id for row in journal.open_visits()] == [names[1], names[2], names[3]]


def test_who_has_just_taken_a_visit_is_waited_for_until_it_has_written_who_it_is(tmp_path):
    import threading

    with VisitLock(tmp_path, "2026-03-04-1") as lock:
        told = lock.path.read_text()
        lock.path.write_text("")
        threading.Timer(0.2, lambda: lock.path.write_text(told)).start()
        with pytest.raises(VisitTaken, match=f"process {os.getpid()}"):
            VisitLock(tmp_path, "2026-03-04-1")
