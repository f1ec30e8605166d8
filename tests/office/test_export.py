"""An export is whole, comes to the same whichever way it went, and knows many devices in one place."""

import sqlite3
from collections import Counter

import duckdb
import pytest
from sqlalchemy import func, inspect, select

from assistant.dialogue import facts as f
from assistant.office import database, parquet
from assistant.office.rows import folded
from assistant.office.tables import ANSWERS, METADATA, REPAIRS, TABLES, VISITS
from assistant.visit.journal import Journal, JournalReader
from tests.office.fleet import fill


def told(done, of):
    assert 0 < done <= of


def truth(path):
    """What the journal holds, counted by other means than the export: visit -> answers and proved repairs."""
    db = sqlite3.connect(path)
    kinds = "select visit, sum(kind = 'answer-given'), sum(kind = 'repair-done') from fact group by visit"
    return {visit: (answers, repairs) for visit, answers, repairs in db.execute(kinds)}


def content(engine):
    with engine.connect() as connection:
        return {table.name: sorted(map(tuple, connection.execute(select(table)))) for table in TABLES}


@pytest.fixture(params=["sqlite", "postgres"])
def engine(request, tmp_path):
    url = f"sqlite:///{tmp_path}/office.sqlite"
    if request.param == "postgres":
        url = request.getfixturevalue("postgres")
    engine = database.opened(url)
    yield engine
    with engine.begin() as connection:
        for table in TABLES:
            connection.execute(table.delete())
    engine.dispose()


def test_the_migrations_make_the_tables_that_are_written(engine):
    found = inspect(engine)
    for table in METADATA.sorted_tables:
        columns = {column["name"]: column["nullable"] for column in found.get_columns(table.name)}
        assert columns == {column.name: bool(column.nullable) for column in table.columns}
        assert set(found.get_pk_constraint(table.name)["constrained_columns"]) == {c.name for c in table.primary_key}


def test_every_visit_is_there_once_with_all_its_answers(engine, fleet):
    assert database.write(engine, fleet, "tablet-1", told) == (60, 0)
    expected = truth(fleet)
    with engine.connect() as connection:
        answers = dict(map(tuple, connection.execute(select(ANSWERS.c.visit, func.count()).group_by(ANSWERS.c.visit))))
        repairs = Counter(visit for (visit,) in connection.execute(select(REPAIRS.c.visit)))
        visits = [visit for (visit,) in connection.execute(select(VISITS.c.visit))]
    assert sorted(visits) == sorted(expected)
    assert {visit: (answers.get(visit, 0), repairs.get(visit, 0)) for visit in visits} == expected


def test_again_writes_nothing_and_changes_nothing(engine, fleet):
    database.write(engine, fleet, "tablet-1", told)
    before = content(engine)
    assert database.write(engine, fleet, "tablet-1", told) == (0, 60)
    assert content(engine) == before


def test_cut_short_it_goes_on(engine, fleet, monkeypatch):
    monkeypatch.setattr(database, "BATCH", 7)

    class Killed(Exception):
        pass

    def killed(done, of):
        if done >= 21:
            raise Killed

    with pytest.raises(Killed):
        database.write(engine, fleet, "tablet-1", killed)
    assert database.write(engine, fleet, "tablet-1", told) == (39, 21)
    whole = content(engine)
    with engine.begin() as connection:
        for table in TABLES:
            connection.execute(table.delete())
    database.write(engine, fleet, "tablet-1", told)
    assert content(engine) == whole


def test_devices_stand_beside_each_other(engine, fleet, tmp_path, library):
    other = tmp_path / "other.sqlite"
    fill(other, library, 10, seed=2)  # the same names of visits, other visits
    database.write(engine, fleet, "tablet-1", told)
    mine = content(engine)
    database.write(engine, other, "tablet-2", told)
    both = content(engine)
    assert len(both["visits"]) == 70
    assert {row for row in both["answers"] if row[0] == "tablet-1"} == set(mine["answers"])


def test_an_amended_visit_is_written_anew(engine, tmp_path, library):
    path = tmp_path / "journal.sqlite"
    fill(path, library, 3)
    database.write(engine, path, "tablet-1", told)
    with Journal(path) as journal:
        row = journal.visits()[0]
        last = journal.facts(row.id)[-1]
        amended = f.Amended(about="site", was="", now="the new mill", who="Dana", why="moved")
        journal.append(row.id, last.at, last.at_s, [amended])
    assert database.write(engine, path, "tablet-1", told) == (1, 2)
    with engine.connect() as connection:
        site = connection.execute(select(VISITS.c.site).where(VISITS.c.visit == row.id)).scalar_one()
        assert connection.execute(select(func.count()).select_from(VISITS)).scalar_one() == 3
    assert site == "the new mill"


def read(folder):
    with duckdb.connect() as db:
        return {
            table.name: sorted(
                db.execute(f"select * from read_parquet('{folder}/{table.name}/*.parquet')").fetchall(), key=repr
            )
            for table in TABLES
        }


def test_parquet_holds_what_the_database_holds(fleet, tmp_path):
    engine = database.opened(f"sqlite:///{tmp_path}/office.sqlite")
    database.write(engine, fleet, "tablet-1", told)
    parquet.write(tmp_path / "direct", fleet, "tablet-1", told)
    assert parquet.from_database(tmp_path / "through", engine) == 60
    assert read(tmp_path / "direct") == read(tmp_path / "through")
    kept = {name: sorted(rows, key=repr) for name, rows in content(engine).items()}
    assert read(tmp_path / "direct") == kept


def test_parquet_again_cut_short_and_grown(fleet, tmp_path, library, monkeypatch):
    monkeypatch.setattr(parquet, "BATCH", 20)
    path = tmp_path / "journal.sqlite"
    fill(path, library, 50)
    folder = tmp_path / "out"

    def killed(done, of):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        parquet.write(folder, path, "tablet-1", killed)
    left = folder / "answers" / "tablet-1-00001-0123456789ab.jsonl"  # a batch that was being written when all went
    left.write_text("{}")
    assert parquet.write(folder, path, "tablet-1", told) == (30, 20)
    assert not left.exists()
    files = {file: file.stat().st_mtime_ns for file in folder.rglob("*.parquet")}
    assert parquet.write(folder, path, "tablet-1", told) == (0, 50)
    assert {file: file.stat().st_mtime_ns for file in folder.rglob("*") if file.is_file()} == files
    with Journal(path) as journal:
        row = journal.visits()[0]  # the newest: in the last file
        last = journal.facts(row.id)[-1]
        amended = f.Amended(about="site", was="", now="moved", who="D", why="w")
        journal.append(row.id, last.at, last.at_s, [amended])
    assert parquet.write(folder, path, "tablet-1", told)[0] == 10
    rows = read(folder)["visits"]
    assert len(rows) == 50
    assert [row[7] for row in rows].count("moved") == 1


def test_words_of_people_come_through_as_they_are(tmp_path, library):
    hostile = "a, \"b\"\nc; 'd' \u202e =1 \\ €"
    path = tmp_path / "journal.sqlite"
    with Journal(path) as journal:
        from tests.record.material import AT

        visit = journal.open_visit(AT, "typed")
        journal.append(
            visit, AT, 0.0, [f.VisitOpened(library="t", technician=hostile), f.Noted(topic="site", value=hostile)]
        )
    parquet.write(tmp_path / "out", path, "tablet-1", told)
    (row,) = read(tmp_path / "out")["visits"]
    names = [column.name for column in VISITS.columns]
    assert (row[names.index("site")], row[names.index("technician")]) == (hostile, hostile)


def test_several_processes_fold_the_same_rows(fleet, monkeypatch):
    from assistant.office import rows

    with JournalReader(fleet) as reader:
        names = [visit for visit, _ in reader.heads()]
    alone = list(folded(fleet, "x", names, 20))
    monkeypatch.setattr(rows, "FEW", 1)
    assert list(folded(fleet, "x", names, 20)) == alone
