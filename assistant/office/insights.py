"""Ready questions over the exported visits, answered by DuckDB from the Parquet files."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import duckdb

from assistant.calculations.charge import gwp100
from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.errors import LaddersideError
from assistant.office.tables import TABLES
from assistant.record.drawn import Bar, Picture

#: Bars in a picture, lines in a table on a terminal.
MOST_BARS, MOST_LINES = 12, 25
#: A visit to the same unit within so many days of a repair is a return. Common practice, no source.
RETURN_DAYS = 90


class InsightError(LaddersideError):
    """The question cannot be answered."""


@dataclass(frozen=True)
class Answer:
    """A table, and a picture of its first lines."""

    name: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Any, ...], ...]
    picture: Picture

    def csv(self) -> str:
        """For a spreadsheet; words that one would compute are marked as words."""
        out = io.StringIO()
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(self.columns)
        writer.writerows([[_no_formula(cell) for cell in row] for row in self.rows])
        return out.getvalue()


def _no_formula(cell: Any) -> Any:
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n")) else cell


@dataclass(frozen=True)
class Question:
    """``sql`` over the tables; ``label`` makes a bar's name of a row, ``bar`` is the column that it shows."""

    name: str
    title: str
    sql: str
    columns: tuple[str, ...]
    label: Callable[[tuple[Any, ...]], str]
    bar: int
    unit: str


QUESTIONS: tuple[Question, ...] = (
    Question(
        "failing-parts",
        "Which parts fail on which model",
        """
        with told as (select *, coalesce(nullif(trim(make || ' ' || model), ''), unit) as sort from visits)
        select v.sort, r.component, count(*) as repairs, count(distinct v.site) as sites,
               round(100.0 * count(*) / any_value(n.visits), 1) as share
        from repairs r join told v using (device, visit)
             join (select sort, count(*) as visits from told group by sort) n using (sort)
        where r.done and r.proof = 'proved' group by v.sort, r.component order by repairs desc, v.sort, r.component
        """,
        ("model", "part", "proved repairs", "sites", "per 100 visits to the model"),
        lambda row: f"{row[1]}, {row[0]}",
        2,
        "proved repairs",
    ),
    Question(
        "first-checks",
        "Which first checks paid off",
        """
        with first as (
            select device, visit, arg_min(check_id, position) as check_id, arg_min(title, position) as title,
                   arg_min(verdict, position) as verdict
            from checks where role in ('diagnosis', 'asked', 'told') group by device, visit)
        select v.symptom, f.title, count(*) as visits, count(*) filter (f.verdict = 'fail') as found,
               round(100.0 * count(*) filter (f.verdict = 'fail') / count(*), 1) as share,
               round(median(v.minutes_to_name), 1) as minutes
        from first f join visits v using (device, visit)
        where v.suspect <> '' group by v.symptom, f.title order by visits desc, v.symptom, f.title
        """,
        ("complaint", "first check", "visits", "found something", "percent", "median minutes to the name"),
        lambda row: f"{row[1]} ({str(row[0]).replace('-', ' ')})",
        4,
        "found something, %",
    ),
    Question(
        "repeat-visits",
        "Visits again to a unit that was repaired",
        f"""
        with told as (
            select v.*, lead(opened_at) over w as again_at, lead(component) over w as again_component,
                   lead(visit) over w as again_visit,
                   exists (select 1 from repairs r
                           where r.device = v.device and r.visit = v.visit and r.done) as repaired
            from visits v
            window w as (partition by site, unit, serial order by opened_at))
        select site, unit, left(opened_at, 10) as repaired_on, component, left(again_at, 10) as again_on,
               again_component,
               date_diff('day', cast(left(opened_at, 10) as date), cast(left(again_at, 10) as date)) as days
        from told where repaired and again_at is not null
             and date_diff('day', cast(left(opened_at, 10) as date), cast(left(again_at, 10) as date)) <= {RETURN_DAYS}
        order by days, site, repaired_on
        """,
        ("site", "unit", "repaired on", "part", "visited again on", "part then", "days between"),
        lambda row: f"{row[0]}: {row[3]}",
        6,
        "days between",
    ),
    Question(
        "refrigerant",
        "Refrigerant that left the circuit, by site",
        """
        select v.site, v.refrigerant,
               round(coalesce(sum(m.kg) filter (m.kind = 'charged'), 0), 3) as charged,
               round(coalesce(sum(m.kg) filter (m.kind = 'recovered'), 0), 3) as recovered,
               round(coalesce(sum(case m.kind when 'charged' then m.kg else -m.kg end), 0), 3) as lost,
               round(coalesce(sum(case m.kind when 'charged' then m.kg else -m.kg end), 0)
                     * coalesce(any_value(w.gwp), 0) / 1000, 3) as co2
        from refrigerant m join visits v using (device, visit) left join warming w using (refrigerant)
        group by v.site, v.refrigerant order by lost desc, v.site
        """,
        ("site", "refrigerant", "charged, kg", "recovered, kg", "lost, kg", "lost, t CO2 equivalent"),
        lambda row: f"{row[0]}, {row[1]}",
        4,
        "lost, kg",
    ),
    Question(
        "duties",
        "Duties that are due",
        """
        select d.due, v.site, v.unit, d.what, d.article,
               date_diff('day', current_date, cast(d.due as date)) as days
        from duties d join (
            select *, max(opened_at) over (partition by site, unit, serial) as last_at from visits) v
            using (device, visit)
        where d.due <> '' and v.opened_at = v.last_at
        order by d.due, v.site
        """,
        ("due", "site", "unit", "what", "article", "days from today"),
        lambda row: f"{row[1]}: {row[3]}",
        5,
        "days from today",
    ),
)
BY_NAME = {question.name: question for question in QUESTIONS}


class Visits:
    """The exported visits in ``folder``, to be asked. Raises InsightError where there are none."""

    def __init__(self, folder: Path) -> None:
        if not any((folder / "visits").glob("*.parquet")):
            raise InsightError(
                f"There are no exported visits in {folder}; `ladderside export --to {folder}` writes them."
            )
        self._database = duckdb.connect()
        for table in TABLES:
            files = str(folder / table.name / "*.parquet").replace("'", "''")
            self._database.execute(f"create view {table.name} as select * from read_parquet('{files}')")
        self._database.execute("create table warming (refrigerant varchar, gwp double)")
        self._database.executemany("insert into warming values (?, ?)", [[name, gwp100(name)] for name in REFRIGERANTS])

    def count(self) -> int:
        """How many visits there are."""
        return int(self._rows("select count(*) from visits")[0][0])

    def ask(self, name: str) -> Answer:
        """The answer to a question of ``BY_NAME``. Raises InsightError."""
        question = BY_NAME[name]
        rows = tuple(self._rows(question.sql))
        return Answer(name, question.title, question.columns, rows, _picture(question, rows))

    def confirmed(self) -> dict[str, int]:
        """By suspect: how often its repair was proved."""
        rows = self._rows(
            "select suspect, count(*) from repairs where done and proof = 'proved' group by suspect order by suspect"
        )
        return {str(suspect): int(count) for suspect, count in rows}

    def _rows(self, sql: str) -> list[tuple[Any, ...]]:
        try:
            return self._database.execute(sql).fetchall()
        except duckdb.Error as error:
            raise InsightError(f"The question cannot be answered ({str(error).splitlines()[0]}).") from None


def _picture(question: Question, rows: tuple[tuple[Any, ...], ...]) -> Picture:
    shown = rows[:MOST_BARS]
    says = "Nothing was exported that answers it." if not rows else ""
    if rows:
        says = f"First of {len(rows)}: {question.label(rows[0])}, {rows[0][question.bar]} ({question.unit})."
    return Picture(
        id=question.name,
        kind="bars",
        title=question.title,
        says=says,
        x_label=question.unit,
        bars=tuple(Bar(name=question.label(row), value=float(row[question.bar] or 0)) for row in shown),
        columns=question.columns,
        rows=tuple(tuple("" if cell is None else str(cell) for cell in row) for row in shown),
    )
