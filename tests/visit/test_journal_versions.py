"""Journals that earlier versions wrote are read, brought up to date without a fact changed, and gone on with.

``journals/`` holds one visit each of the program as it was at that commit, led by typed words to the proof of a repair.
"""

from __future__ import annotations

import gzip
import sqlite3
from pathlib import Path

import pytest

from assistant.dialogue.evolve import fold
from assistant.record.build import build
from assistant.visit.journal import Journal, JournalReader
from assistant.visit.schema import SCHEMA
from assistant.visit.session import Session
from assistant.visit.standing import standing

OLD = sorted((Path(__file__).parent / "journals").glob("*.sqlite.gz"))
FACTS = "select visit, seq, at, at_s, kind, body from fact order by rowid"


@pytest.fixture(params=OLD, ids=[path.name.split(".")[0] for path in OLD])
def old(request, tmp_path: Path) -> Path:
    path = tmp_path / "journal.sqlite"
    path.write_bytes(gzip.decompress(request.param.read_bytes()))
    return path


def rows(path: Path) -> list[tuple]:
    with sqlite3.connect(path) as db:
        return db.execute(FACTS).fetchall()


def test_there_is_one_of_every_earlier_version():
    versions = set()
    for path in OLD:
        db = sqlite3.connect(":memory:")
        db.deserialize(gzip.decompress(path.read_bytes()))
        versions.add(db.execute("pragma user_version").fetchone()[0])
    assert versions == set(range(1, SCHEMA))


def test_it_is_read_as_it_is(old: Path, context):
    before = old.read_bytes()
    with JournalReader(old) as reader:
        [row] = reader.visits()
        facts = reader.facts(row.id)
        assert len(facts) == row.facts == len(rows(old)) > 600
        assert reader.lost(row.id) == 0
        assert reader.notices == []
        record = build(row, facts, context.library)
        assert record.site == "the town hall"
        assert record.repairs
        assert standing(fold(item.fact for item in facts), context.library).site == "the town hall"
    assert old.read_bytes() == before


def test_it_is_brought_up_to_date_and_no_fact_is_changed(old: Path, context):
    before = rows(old)
    with Journal(old) as journal:
        [row] = journal.visits()
        assert row.standing is None
        stands = standing(fold(item.fact for item in journal.facts(row.id)), context.library)
        journal.keep_standing(row.id, stands)
        assert journal.row(row.id).standing == stands
        session = Session.resume(context, journal, row.id)
        session.reopen()
        session.type("where am i")
        session.close()
        assert journal.latest(closed=False).id == row.id
    after = rows(old)
    assert after[: len(before)] == before
    assert len(after) > len(before)
    with sqlite3.connect(old) as db:
        assert db.execute("pragma user_version").fetchone()[0] == SCHEMA
        with pytest.raises(sqlite3.Error, match="append-only"):
            db.execute("delete from fact")


def test_a_damaged_one_is_recovered_as_well(old: Path):
    before = rows(old)
    data = bytearray(old.read_bytes())
    data[:100] = bytes(100)
    old.write_bytes(bytes(data))
    with Journal(old) as journal:
        assert "was damaged: 1 visit was recovered" in journal.notices[0]
        [row] = journal.visits()
        assert len(journal.facts(row.id)) == len(before)


def test_an_upgrade_that_is_cut_short_leaves_the_old_journal(old: Path, monkeypatch):
    from assistant.visit import schema

    before = rows(old)
    with monkeypatch.context() as patch:
        patch.setattr(schema, "STEPS", (*schema.STEPS[:-1], (*schema.STEPS[-1], "create table oops;")))
        with pytest.raises(Exception, match=r"cannot be opened|damaged"):
            Journal(old)
    with JournalReader(old) as reader:
        assert len(reader.facts(reader.visits()[0].id)) == len(before)
    with Journal(old) as journal:
        assert journal.notices == []
    assert rows(old) == before
