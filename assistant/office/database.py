"""Visits in a database through SQLAlchemy: SQLite, or PostgreSQL for many technicians. Again and again, never twice.

A visit is written with all its lines in one transaction; one that is there with the same facts is passed over, one that
has grown or was amended is written anew. So an export that was cut short goes on where it was.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine, Table, create_engine, delete, insert, select
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError, SQLAlchemyError

from assistant.errors import LaddersideError
from assistant.office.rows import Rows, folded
from assistant.office.tables import TABLES, VISITS
from assistant.visit.reading import JournalReader

#: Visits a transaction.
BATCH = 500


class DatabaseError(LaddersideError):
    """The office's database cannot be used."""


def opened(url: str) -> Engine:
    """The database at ``url``, its tables brought up to date. Raises DatabaseError."""
    try:
        address = make_url(url)
        if address.drivername in ("postgres", "postgresql"):
            address = address.set(drivername="postgresql+psycopg")
        engine = create_engine(address)
        _bring_up_to_date(engine)
    except (ArgumentError, SQLAlchemyError, ImportError) as error:
        raise DatabaseError(
            f"The database cannot be used ({_first(error)}). Check its address and your rights."
        ) from None
    return engine


def _bring_up_to_date(engine: Engine) -> None:
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    with engine.begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


def write(engine: Engine, journal: Path, device: str, told: Callable[[int, int], None]) -> tuple[int, int]:
    """All visits of the journal; how many were written and how many were there already. Raises DatabaseError.

    ``told`` is called with how many are done, of how many.
    """
    with JournalReader(journal) as reader:
        heads = reader.heads()
    try:
        there = _there(engine, device)
        wanted = [visit for visit, head in heads if there.get(visit) != head]
        done = 0
        for names, rows in folded(journal, device, wanted, BATCH):
            _commit(engine, device, [name for name in names if name in there], rows)
            done += len(names)
            told(done, len(wanted))
    except SQLAlchemyError as error:
        raise DatabaseError(
            f"The visits could not be written ({_first(error)}). What was written stays; the same command goes on."
        ) from None
    return len(wanted), len(heads) - len(wanted)


def _there(engine: Engine, device: str) -> dict[str, tuple[int, str]]:
    with engine.connect() as connection:
        rows = connection.execute(
            select(VISITS.c.visit, VISITS.c.facts, VISITS.c.chain).where(VISITS.c.device == device)
        )
        return {visit: (facts, chain) for visit, facts, chain in rows}


def _commit(engine: Engine, device: str, old: list[str], rows: Rows) -> None:
    """Rows in one transaction, in the place of what was there of the visits ``old``."""
    with engine.begin() as connection:
        for table in TABLES:
            if old:
                connection.execute(delete(table).where(table.c.device == device, table.c.visit.in_(old)))
            if lines := rows.get(table.name):
                _insert(connection, table, lines)


def _insert(connection: Connection, table: Table, lines: list[tuple[Any, ...]]) -> None:
    """As the driver takes them, in the order of the columns: no value needs to be changed for it."""
    compiled = insert(table).compile(dialect=connection.dialect)
    if compiled.positional:
        connection.exec_driver_sql(str(compiled), lines)
        return
    columns = [column.name for column in table.columns]
    connection.exec_driver_sql(str(compiled), [dict(zip(columns, row, strict=True)) for row in lines])


def _first(error: Exception) -> str:
    return str(error).strip().splitlines()[0][:200]
