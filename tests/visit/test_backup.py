"""A copy of all visits in one file, made while one is under way, and taken back."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from assistant.dialogue import facts as f
from assistant.visit.backup import BackupError, back_up, restore
from assistant.visit.journal import Journal, JournalReader
from tests.visit.damage import AT, damage, filled


def facts_of(path: Path) -> dict[str, list]:
    with JournalReader(path) as reader:
        assert reader.notices == []
        return {row.id: [item.fact for item in reader.facts(row.id)] for row in reader.visits()}


def test_a_visit_under_way_is_in_the_copy(tmp_path: Path):
    path, copy = tmp_path / "journal.sqlite", tmp_path / "stick" / "copy.sqlite"
    written = filled(path)
    journal = Journal(path)
    visit = journal.open_visit(AT.replace(year=2027), "typed")
    journal.append(visit, AT, 0.0, [f.Held(by="wait")])
    assert back_up(path, copy) == 4
    assert facts_of(copy) == {**written, visit: [f.Held(by="wait")]}
    assert [file.name for file in copy.parent.iterdir()] == ["copy.sqlite"]
    assert copy.stat().st_mode & 0o777 == 0o600


def test_it_is_taken_back_and_what_was_there_is_kept(tmp_path: Path):
    path, copy = tmp_path / "journal.sqlite", tmp_path / "copy.sqlite"
    written = filled(path)
    back_up(path, copy)
    with Journal(path) as journal:
        journal.append(journal.open_visit(AT.replace(year=2027), "typed"), AT, 0.0, [f.Held(by="wait")])
        # As after a crash: a write-ahead file of the journal before stands beside the one taken back.
        visits, before = restore(copy, path)
    assert visits == 3
    assert facts_of(path) == written
    assert before is not None
    assert len(facts_of(before)) == 4
    with Journal(path) as journal:
        journal.open_visit(AT, "typed")


def test_a_copy_comes_back_where_there_is_nothing(tmp_path: Path):
    path, copy = tmp_path / "journal.sqlite", tmp_path / "copy.sqlite"
    written = filled(path)
    back_up(path, copy)
    goal = tmp_path / "new" / "data" / "journal.sqlite"
    assert restore(copy, goal) == (3, None)
    assert facts_of(goal) == written


def test_nothing_unsound_is_copied_or_taken_back(tmp_path: Path):
    path, copy = tmp_path / "journal.sqlite", tmp_path / "copy.sqlite"
    filled(path)
    back_up(path, copy)
    sound = path.read_bytes()
    damage(copy, 3)
    with pytest.raises(BackupError, match="Nothing was taken back"):
        restore(copy, path)
    assert path.read_bytes() == sound
    copy.write_text("nothing of the kind")
    with pytest.raises(BackupError):
        restore(copy, path)
    with sqlite3.connect(tmp_path / "other.sqlite") as db:
        db.execute("create table recipes (name)")
    with pytest.raises(BackupError):
        restore(tmp_path / "other.sqlite", path)
    assert path.read_bytes() == sound
    damage(path, 3)
    with pytest.raises(BackupError, match="Nothing was copied"):
        back_up(path, tmp_path / "again.sqlite")
    assert not (tmp_path / "again.sqlite").exists()


def test_what_cannot_be_is_one_sentence(tmp_path: Path):
    path = tmp_path / "journal.sqlite"
    with pytest.raises(BackupError, match="There is no journal at"):
        back_up(path, tmp_path / "copy.sqlite")
    filled(path, visits=1, turns=1)
    with pytest.raises(BackupError, match="That is the journal itself"):
        back_up(path, path)
    (tmp_path / "file").touch()
    with pytest.raises(BackupError, match="Name another file"):
        back_up(path, tmp_path / "file" / "copy.sqlite")
    with pytest.raises(BackupError, match="There is no file"):
        restore(tmp_path / "nothing", path)
