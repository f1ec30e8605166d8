"""The office's tables: one visit a row, and what belongs to it. The same for a database and for Parquet files.

``device`` and ``visit`` together name a visit: every device numbers its own. Times are UTC, ISO 8601; quantities stand
in the unit kept inside (SI and the trade's), with its symbol beside them where it is not in the name.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import Boolean, Column, Float, Integer, MetaData, String, Table

METADATA = MetaData()


def _key() -> list[Column[Any]]:
    return [Column("device", String, primary_key=True), Column("visit", String, primary_key=True)]


def _line(name: str, *columns: Column[Any]) -> Table:
    return Table(name, METADATA, *_key(), Column("position", Integer, primary_key=True), *columns)


VISITS = Table(
    "visits",
    METADATA,
    *_key(),
    Column("opened_at", String, nullable=False),
    Column("ended_at", String, nullable=False),
    Column("minutes", Float, nullable=False),
    Column("closed", Boolean, nullable=False),
    Column("kind", String, nullable=False),
    Column("site", String, nullable=False),
    Column("customer", String, nullable=False),
    Column("unit", String, nullable=False),
    Column("make", String, nullable=False),
    Column("model", String, nullable=False),
    Column("serial", String, nullable=False),
    Column("refrigerant", String, nullable=False),
    Column("charge_kg", Float),
    Column("technician", String, nullable=False),
    Column("symptom", String, nullable=False),
    Column("outcome", String, nullable=False),
    Column("safety", String, nullable=False),
    Column("suspect", String, nullable=False),
    Column("component", String, nullable=False),
    Column("probability", Float),
    Column("minutes_to_name", Float),
    Column("facts", Integer, nullable=False),
    Column("chain", String, nullable=False),
)
ANSWERS = _line(
    "answers",
    Column("at", String, nullable=False),
    Column("check_id", String, nullable=False),
    Column("question", String, nullable=False),
    Column("place", String, nullable=False),
    Column("said", String, nullable=False),
    Column("quantity", String, nullable=False),
    Column("value", Float),
    Column("unit", String, nullable=False),
    Column("unit_assumed", Boolean, nullable=False),
    Column("margin", Float),
    Column("status", String, nullable=False),
)
CHECKS = _line(
    "checks",
    Column("at", String, nullable=False),
    Column("check_id", String, nullable=False),
    Column("title", String, nullable=False),
    Column("role", String, nullable=False),
    Column("verdict", String, nullable=False),
    Column("outcome", String, nullable=False),
    Column("standing", Boolean, nullable=False),
)
REPAIRS = _line(
    "repairs",
    Column("at", String, nullable=False),
    Column("suspect", String, nullable=False),
    Column("component", String, nullable=False),
    Column("done", Boolean, nullable=False),
    Column("proof", String, nullable=False),
    Column("words", String, nullable=False),
)
PARTS = _line(
    "parts",
    Column("name", String, nullable=False),
    Column("count", Float, nullable=False),
    Column("source", String, nullable=False),
)
REFRIGERANT = _line(
    "refrigerant",
    Column("at", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("kg", Float, nullable=False),
    Column("cylinder", String, nullable=False),
)
DUTIES = _line(
    "duties",
    Column("what", String, nullable=False),
    Column("due", String, nullable=False),
    Column("article", String, nullable=False),
)
#: ``VISITS`` last: a batch whose visits are there is there whole.
TABLES: tuple[Table, ...] = (ANSWERS, CHECKS, REPAIRS, PARTS, REFRIGERANT, DUTIES, VISITS)
