"""A copy of all visits in one file, also while a visit is under way; and back again."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import tempfile
from pathlib import Path

from assistant.errors import LaddersideError
from assistant.visit import connection, schema
from assistant.visit.reading import JournalReader


class BackupError(LaddersideError):
    """The copy could not be made or taken back; the text says why. Journal and file are as they were."""


def back_up(journal: Path, goal: Path) -> int:
    """Copy the journal, what stands in its write-ahead file included, to ``goal``; how many visits it holds.

    The copy is looked through from end to end before it takes its name. Raises BackupError.
    """
    if not journal.exists():
        raise BackupError(f"There is no journal at {journal} yet, so there is nothing to copy.")
    if goal.exists() and goal.samefile(journal):
        raise BackupError("That is the journal itself; name another file.")
    try:
        with JournalReader(journal) as reader:
            if reader.notices:
                raise BackupError(f"{reader.notices[0]} Nothing was copied.")
            return _copy(reader, goal)
    except (sqlite3.Error, OSError) as error:
        raise BackupError(f"The copy cannot be written to {goal} ({error}). Name another file.") from None


def _copy(reader: JournalReader, goal: Path) -> int:
    goal.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=goal.parent, prefix=goal.name, suffix=".part")
    os.close(handle)
    part = Path(name)
    try:
        with contextlib.closing(sqlite3.connect(part, isolation_level=None)) as copy:
            reader.copy_to(copy)
            copy.execute("pragma journal_mode = delete")  # one file, nothing beside it
            visits = _looked_through(copy, part)
        with part.open("rb") as written:
            os.fsync(written.fileno())
        os.replace(part, goal)
    finally:
        part.unlink(missing_ok=True)
    return visits


def _looked_through(db: sqlite3.Connection, file: Path) -> int:
    try:
        if schema.version(db) and db.execute("pragma integrity_check(1)").fetchone()[0] == "ok":
            visits: int = db.execute("select count(*) from visit").fetchone()[0]
            return visits
    except (schema.NotAJournal, schema.Newer, sqlite3.DatabaseError):
        pass
    raise BackupError(f"{file} is no sound journal of this version of Ladderside.")


def restore(backup: Path, journal: Path) -> tuple[int, Path | None]:
    """Put ``backup`` in the journal's place; how many visits it holds, and where the journal before is now kept.

    Raises BackupError.
    """
    from assistant.visit.repair import InUse, refuse_when_in_use, set_aside

    if not backup.is_file():
        raise BackupError(f"There is no file {backup}.")
    if journal.exists() and backup.samefile(journal):
        raise BackupError("That is the journal itself; name its copy.")
    try:
        with JournalReader(backup) as reader:
            if reader.notices:
                raise BackupError(f"{reader.notices[0]} Nothing was taken back.")
            refuse_when_in_use(journal.parent)
            new = journal.with_name(journal.name + ".restored")
            visits = _copy(reader, new)
        before = set_aside(journal, "before-restore") if journal.exists() else None
        os.replace(new, journal)
        connection.to_write(journal).close()
    except InUse as error:
        raise BackupError(f"Nothing was taken back: {error}.") from None
    except (sqlite3.Error, OSError, schema.Newer, connection.Damaged) as error:
        raise BackupError(f"{backup} cannot be taken back to {journal} ({error}).") from None
    return visits, before
