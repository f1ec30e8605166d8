"""How the journal's file is opened: to write, or only to read, and whether it is a sound journal at all."""

from __future__ import annotations

import contextlib
import os
import shutil
import sqlite3
import tempfile
from pathlib import Path

from assistant.visit import schema

#: A file up to this size, bytes, is looked through when it is opened (0.1 s); a larger one where it is read.
_LOOKED_THROUGH = 20_000_000
#: How long to wait for another program's commit, seconds.
_PATIENCE_S = 5.0
#: SQLite's own words for a file that is not what it should be.
_DAMAGE = frozenset({sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_FORMAT})
#: How the file begins, and the shortest that holds a page of it.
_HEADER, _SHORTEST = b"SQLite format 3\0", 4096
#: The files that make one journal.
BESIDE = ("-wal", "-shm")


#: What SQLite raises. It quotes a spoilt schema, and what is no UTF-8 there stops Python's own error on its way.
FAILURES = (sqlite3.Error, UnicodeDecodeError)


class Damaged(Exception):
    """The file is no journal any more."""


def is_damage(error: Exception) -> bool:
    """Whether it is the file that is wrong, and not the disk, its rights or another program. ``error``: of FAILURES."""
    if isinstance(error, UnicodeDecodeError):
        return True
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return False
    words = str(error)
    in_words = any(sign in words for sign in ("no such", "malformed", "unsupported file format"))
    return code & 0xFF in _DAMAGE or (code == sqlite3.SQLITE_ERROR and in_words)


def _refuse_another_kind(path: Path) -> None:
    """Before SQLite opens it to write: beside a file without its header it would throw the write-ahead file away."""
    with path.open("rb") as file:
        if file.read(len(_HEADER)) != _HEADER or path.stat().st_size < _SHORTEST:
            raise Damaged


def to_write(path: Path) -> sqlite3.Connection:
    """The journal, made when there is none, brought up to date. Raises Damaged, Newer, sqlite3.Error and OSError."""
    if not path.exists():
        _make(path)
    for each in (path, *(path.with_name(path.name + ending) for ending in BESIDE)):
        with contextlib.suppress(OSError):  # another's folder: then its owner looks after it
            each.chmod(0o600)
    _refuse_another_kind(path)
    return _looked_at(sqlite3.connect(path, _PATIENCE_S, isolation_level=None, check_same_thread=False), path, True)


def to_read(path: Path) -> sqlite3.Connection:
    """The journal as it is, no byte of it or its folder changed; an empty one when there is none. Raises as above.

    What was committed but stands in the write-ahead file only counts as well.
    """
    if not path.exists():
        db = sqlite3.connect(":memory:", isolation_level=None)
        schema.bring_up_to_date(db)
        return db
    wal = path.with_name(path.name + BESIDE[0])
    name = path.absolute().as_uri()
    if not wal.exists() or wal.stat().st_size == 0:
        return _looked_at(_connected(f"{name}?immutable=1"), path, False)
    if os.access(path.parent, os.W_OK) and os.access(path, os.W_OK):
        return _looked_at(_connected(f"{name}?mode=ro"), path, False)
    # SQLite needs a file of its own beside a write-ahead file; in a folder that cannot be written a copy has it.
    with tempfile.TemporaryDirectory(prefix="ladderside-read-") as folder:
        copy = Path(folder) / path.name
        shutil.copyfile(path, copy)
        shutil.copyfile(wal, copy.with_name(wal.name))
        with contextlib.closing(sqlite3.connect(copy)) as db:
            memory = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
            db.backup(memory)
    return _looked_at(memory, path, False)


def _connected(uri: str) -> sqlite3.Connection:
    return sqlite3.connect(uri, _PATIENCE_S, uri=True, isolation_level=None, check_same_thread=False)


def _looked_at(db: sqlite3.Connection, path: Path, write: bool) -> sqlite3.Connection:
    db.text_factory = as_text
    try:
        if write:
            db.execute("pragma journal_mode = wal")
            db.execute("pragma synchronous = full")
        db.execute("pragma foreign_keys = on")
        schema.version(db)
        if path.stat().st_size <= _LOOKED_THROUGH and db.execute("pragma quick_check(1)").fetchone()[0] != "ok":
            raise Damaged
        if write:
            schema.bring_up_to_date(db)
    except (schema.NotAJournal, *FAILURES) as error:
        db.close()
        if isinstance(error, schema.NotAJournal) or is_damage(error):
            raise Damaged from None
        raise
    except BaseException:
        db.close()
        raise
    return db


def as_text(data: bytes) -> str:
    """Text of a journal. A damaged one may hold anything; its checksum tells."""
    return data.decode("utf-8", "surrogateescape")


def _make(path: Path) -> None:
    """A new journal, made whole beside its place: a file that is there is never empty."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name, suffix=".new")
    os.close(handle)
    new = Path(name)
    try:
        make_new(new)
        try:
            os.link(new, path)  # never over one that another program has just made
        except FileExistsError:
            return
        except OSError:  # a file system without links
            if not path.exists():
                shutil.copyfile(new, path)
    finally:
        new.unlink(missing_ok=True)


def make_new(path: Path) -> None:
    """The tables in an empty file, on the disk when this returns."""
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("pragma synchronous = full")
        schema.bring_up_to_date(db)
