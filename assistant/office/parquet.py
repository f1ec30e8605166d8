"""Visits as Parquet files: a folder a table, a file a batch of one device's visits. Written by DuckDB.

A file's name holds its place and a fingerprint of the visits in it, so that an export writes only what is new, goes on
where it was cut short, and leaves the same files whichever way it came.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import duckdb
from sqlalchemy import Boolean, Engine, Float, Integer, Table, select

from assistant.errors import LaddersideError
from assistant.office.rows import Rows, folded
from assistant.office.tables import TABLES, VISITS
from assistant.visit.reading import JournalReader

#: Visits a file.
BATCH = 2000


class ParquetError(LaddersideError):
    """The folder cannot be written or holds no visits."""


Head = tuple[str, tuple[int, str]]


def write(folder: Path, journal: Path, device: str, told: Callable[[int, int], None]) -> tuple[int, int]:
    """All visits of the journal; how many were written and how many were there already. Raises ParquetError."""
    with JournalReader(journal) as reader:
        heads = reader.heads()
    batches = [heads[at : at + BATCH] for at in range(0, len(heads), BATCH)]
    missing = [(n, part) for n, part in enumerate(batches) if not _file(folder, VISITS, device, n, part).exists()]
    names = [visit for _, part in missing for visit, _ in part]
    done = 0
    try:
        with duckdb.connect() as database:
            # Every batch but the last is whole, so the batches that are folded are those that are missing.
            for (number, part), rows in zip(missing, _batches(journal, device, missing), strict=True):
                _put(database, folder, device, number, part, rows)
                done += len(part)
                told(done, len(names))
        _sweep(folder, device, batches)
    except (OSError, duckdb.Error) as error:
        raise ParquetError(f"The visits cannot be written to {folder} ({error}). Name another folder.") from None
    return len(names), len(heads) - len(names)


def _batches(journal: Path, device: str, missing: list[tuple[int, list[Head]]]) -> Iterator[Rows]:
    names = [visit for _, part in missing for visit, _ in part]
    sizes = [len(part) for _, part in missing]
    waiting: Rows = {}
    have = 0
    step = 200  # processes share the work in smaller pieces than files
    of_visit = iter(folded(journal, device, names, step))
    left: Rows = {}
    for size in sizes:
        waiting, left = left, {}
        have = len(waiting.get("visits", []))
        while have < size:
            _, rows = next(of_visit)
            for table, lines in rows.items():
                waiting.setdefault(table, []).extend(lines)
            have = len(waiting["visits"])
        if have > size:
            waiting, left = _split(waiting, size)
        yield waiting


def _split(rows: Rows, size: int) -> tuple[Rows, Rows]:
    """The rows of the first ``size`` visits, and the others."""
    first = {row[1] for row in rows["visits"][:size]}
    mine = {table: [row for row in lines if row[1] in first] for table, lines in rows.items()}
    return mine, {table: [row for row in lines if row[1] not in first] for table, lines in rows.items()}


def from_database(folder: Path, engine: Engine) -> int:
    """Everything that a database holds, of all devices, as one file a table; how many visits. Raises ParquetError."""
    visits = 0
    with engine.connect() as connection, duckdb.connect() as database:
        for table in TABLES:
            rows = [tuple(row) for row in connection.execute(select(table).order_by(*table.primary_key))]
            visits = len(rows) if table is VISITS else visits
            copy_rows(database, table, rows, folder / table.name / "database.parquet")
    return visits


def _put(
    database: duckdb.DuckDBPyConnection, folder: Path, device: str, number: int, part: list[Head], rows: Rows
) -> None:
    for table in TABLES:
        copy_rows(database, table, rows.get(table.name, []), _file(folder, table, device, number, part))


def copy_rows(database: duckdb.DuckDBPyConnection, table: Table, rows: list[tuple[Any, ...]], file: Path) -> None:
    """Rows through a file of JSON lines, which DuckDB reads faster than row by row; the file takes its name whole."""
    file.parent.mkdir(parents=True, exist_ok=True)
    text, part = file.with_suffix(".jsonl"), file.with_suffix(".part")
    names = [column.name for column in table.columns]
    with text.open("w", encoding="utf-8") as out:
        out.writelines(json.dumps(dict(zip(names, row, strict=True)), ensure_ascii=False) + "\n" for row in rows)
    columns = ", ".join(f"'{column.name}': '{_kind(column)}'" for column in table.columns)
    target = str(part).replace("'", "''")
    database.execute(
        f"copy (select * from read_json(?, format = 'newline_delimited', columns = {{{columns}}}, "
        f"maximum_object_size = 20000000)) to '{target}' (format parquet, compression zstd)",
        [str(text)],
    )
    text.unlink()
    part.replace(file)


def _kind(column: Any) -> str:
    kinds = {Float: "DOUBLE", Integer: "BIGINT", Boolean: "BOOLEAN"}
    return kinds.get(type(column.type), "VARCHAR")


def _file(folder: Path, table: Table, device: str, number: int, part: list[Head]) -> Path:
    mark = hashlib.sha256(json.dumps(part).encode()).hexdigest()[:12]
    return folder / table.name / f"{_safe(device)}-{number:05d}-{mark}.parquet"


def _safe(device: str) -> str:
    return "".join(sign if sign.isalnum() or sign in "-_" else "_" for sign in device)


def _sweep(folder: Path, device: str, batches: list[list[Head]]) -> None:
    """Take away what this device wrote before and what no longer is so."""
    for table in TABLES:
        right = {_file(folder, table, device, number, part) for number, part in enumerate(batches)}
        for ending in ("parquet", "part", "jsonl"):  # the last two of an export that was cut short
            for file in (folder / table.name).glob(f"{_safe(device)}-?????-????????????.{ending}"):
                if file not in right:
                    file.unlink()
