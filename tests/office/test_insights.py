"""The ready questions against the same counted by hand from the rows."""

import csv
import io
from collections import Counter
from xml.etree import ElementTree

import duckdb
import pytest

from assistant.calculations.charge import gwp100
from assistant.office import parquet
from assistant.office.insights import QUESTIONS, InsightError, Visits
from assistant.office.tables import TABLES
from assistant.record.drawing import alone


@pytest.fixture(scope="module")
def folder(fleet, tmp_path_factory):
    folder = tmp_path_factory.mktemp("pq")
    parquet.write(folder, fleet, "tablet-1", lambda done, of: None)
    return folder


@pytest.fixture(scope="module")
def visits(folder):
    return Visits(folder)


def test_every_question_has_a_table_a_csv_and_a_picture(visits):
    for question in QUESTIONS:
        answer = visits.ask(question.name)
        rows = list(csv.reader(io.StringIO(answer.csv())))
        assert rows[0] == list(answer.columns)
        assert len(rows) == len(answer.rows) + 1
        assert answer.picture.says
        if answer.rows:
            root = ElementTree.fromstring(alone(answer.picture))
            assert root[0].text == question.title


def test_failing_parts_are_counted(visits, folder):
    with duckdb.connect() as db:
        repairs = db.execute(
            f"select visit, component from read_parquet('{folder}/repairs/*.parquet') where proof = 'proved'"
        ).fetchall()
        of_visit = f"select visit, make, model from read_parquet('{folder}/visits/*.parquet')"
        models = {visit: f"{make} {model}" for visit, make, model in db.execute(of_visit).fetchall()}
    # By model, whatever the room is called in which one hangs.
    counted = Counter((models[visit], component) for visit, component in repairs)
    answer = visits.ask("failing-parts")
    assert {(row[0], row[1]): row[2] for row in answer.rows} == counted
    assert sum(visits.confirmed().values()) == len(repairs)


def test_first_checks_are_the_first_that_were_judged(visits):
    rows = {(row[0], row[1]): row for row in visits.ask("first-checks").rows}
    windings = next(row for (complaint, _), row in rows.items() if complaint == "compressor-never-starts")
    assert windings[2] == windings[3] > 0
    assert windings[4] == 100.0


def test_visits_again_are_to_the_same_unit_soon_after(visits):
    for row in visits.ask("repeat-visits").rows:
        assert row[2] <= row[4]
        assert 0 <= row[6] <= 90


def written(tmp_path, name, rows):
    """One table filled by hand beside empty ones."""
    with duckdb.connect() as db:
        for table in TABLES:
            parquet.copy_rows(db, table, rows.get(table.name, []), tmp_path / table.name / f"{name}.parquet")
    return Visits(tmp_path)


def visit(name, site, opened, refrigerant="R410A"):
    words = ("repair", site, "c", "Copper Wren Solo", "Copper Wren", "Solo", "s1", refrigerant)
    return (
        *("t", name, opened, opened, 5.0, True, *words, 0.95, "Rosa", "weak-output", "mended", "in service"),
        *("flare-leak", "flare joint", 0.9, 20.0, 50, "ab"),
    )


def test_refrigerant_is_what_went_in_and_did_not_come_out(tmp_path):
    rows = {
        "visits": [visit("1", "mill", "2026-01-02T08:00:00+00:00"), visit("2", "school", "2026-01-03T08:00:00+00:00")],
        "refrigerant": [
            ("t", "1", 1, "2026-01-02T08:10:00+00:00", "recovered", 0.4, "seven"),
            ("t", "1", 2, "2026-01-02T09:10:00+00:00", "charged", 1.2, "seven"),
            ("t", "2", 1, "2026-01-03T09:10:00+00:00", "charged", 0.3, ""),
        ],
    }
    answer = written(tmp_path, "made", rows).ask("refrigerant")
    assert [row[:5] for row in answer.rows] == [("mill", "R410A", 1.2, 0.4, 0.8), ("school", "R410A", 0.3, 0.0, 0.3)]
    assert answer.rows[0][5] == pytest.approx(0.8 * gwp100("R410A") / 1000, abs=0.001)


def test_duties_of_the_latest_visit_are_due(tmp_path):
    rows = {
        "visits": [visit("1", "mill", "2026-01-02T08:00:00+00:00"), visit("2", "mill", "2026-02-02T08:00:00+00:00")],
        "duties": [("t", "1", 1, "leak check", "2026-07-02", "a"), ("t", "2", 1, "leak check", "2026-08-02", "a")],
    }
    assert [row[0] for row in written(tmp_path, "made", rows).ask("duties").rows] == ["2026-08-02"]


def test_nothing_exported_says_so(tmp_path):
    with pytest.raises(InsightError, match="no exported visits"):
        Visits(tmp_path)
