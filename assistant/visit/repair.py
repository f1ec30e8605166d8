"""A damaged journal: the file is set aside as it is, and everything readable of it goes into a new one."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import tempfile
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from assistant.visit import chain, connection
from assistant.visit.lock import VisitLock, VisitTaken
from assistant.visit.salvage import Broken, FactFound, Found, LinkFound, VisitFound, salvage

#: Facts at the end of a visit that may be gone while their links are still there: those of some pages.
_MOST_LOST_AT_THE_END = 1000


class InUse(OSError):
    """Another program has the journal open: what it writes would be lost beside a new file."""

    def __str__(self) -> str:
        return "another program is using it; end that one first"


def repaired(path: Path, write: bool) -> tuple[sqlite3.Connection, str]:
    """What can be read of the journal, and a sentence that tells the user. Raises sqlite3.Error and OSError.

    To write, the damaged files are renamed and a new journal stands in their place; to read, nothing is changed and
    the copy is in memory.
    """
    wal = path.with_name(path.name + connection.BESIDE[0])
    empty = all(not each.exists() or each.stat().st_size == 0 for each in (path, wal))
    if not write:
        memory = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
        told = _fill(memory, salvage(path, wal))
        return memory, _sentence(path, None, told, empty)
    refuse_when_in_use(path.parent)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name, suffix=".new")
    os.close(handle)
    new = Path(name)
    try:
        with contextlib.closing(sqlite3.connect(new, isolation_level=None)) as db:
            db.execute("pragma synchronous = full")
            told = _fill(db, salvage(path, wal))
        aside = set_aside(path)
        os.replace(new, path)
    finally:
        new.unlink(missing_ok=True)
    return connection.to_write(path), _sentence(path, aside, told, empty)


def refuse_when_in_use(folder: Path) -> None:
    """Raises InUse while another program writes a visit of the journal in ``folder``."""
    ours = {lock.path for lock in VisitLock.held}
    for lock in set((folder / "locks").glob("*.lock")) - ours:
        try:
            VisitLock(folder / "locks", lock.stem).close()
        except VisitTaken:
            raise InUse from None


def set_aside(path: Path, why: str = "damaged") -> Path:
    """Rename the files of the journal; gives the new name of the first. Raises OSError."""
    stamp = datetime.now().strftime("%Y-%m-%d-%H%M%S")
    aside = path.with_name(f"{path.stem}-{why}-{stamp}{path.suffix}")
    number = 1
    while aside.exists():
        number += 1
        aside = path.with_name(f"{path.stem}-{why}-{stamp}-{number}{path.suffix}")
    for ending in ("", *connection.BESIDE):
        each = path.with_name(path.name + ending)
        if each.exists():
            os.replace(each, aside.with_name(aside.name + ending))
    return aside


def _fill(db: sqlite3.Connection, found: Iterable[Found]) -> tuple[int, int, int]:
    """The rows into new tables, in one transaction; how many visits and facts, and how many facts are missing."""
    from assistant.visit import schema

    schema.bring_up_to_date(db)
    db.execute("pragma foreign_keys = off")
    db.execute("begin immediate")
    db.execute("create temp table seen (visit text, seq integer, primary key (visit, seq))")
    db.execute(
        "create temp table row (place integer, visit, seq, at, at_s, kind, body, mark, primary key (visit, seq))"
    )
    db.execute("create temp table opened (place integer, id primary key, at, origin)")
    db.execute("create temp table links (visit text, seq integer, link, primary key (visit, seq))")
    for each in found:
        match each:
            case VisitFound():
                values = (each.rowid, each.id, each.opened_at, each.origin)
                db.execute("insert or ignore into opened values (?, ?, ?, ?)", values)
            case FactFound():
                row = (each.rowid, each.visit, each.seq, each.at, each.at_s, each.kind, each.body, each.mark)
                db.execute("insert or ignore into row values (?, ?, ?, ?, ?, ?, ?, ?)", row)
            case LinkFound():
                db.execute("insert or ignore into links values (?, ?, ?)", (each.visit, each.seq, each.link))
            case Broken():
                db.execute("insert or ignore into seen values (?, ?)", (each.visit, each.seq))
    # A visit whose own row is gone is known by its facts; its place is that of the first of them.
    db.execute("insert or ignore into opened select null, visit, min(at), 'recovered' from row group by visit")
    db.execute(
        "insert into visit select id, at, origin from opened o "
        "order by coalesce(place, (select max(p.place) from opened p where p.id < o.id), 0), id"
    )
    db.execute("insert into fact select visit, seq, at, at_s, kind, body, mark from row order by place, visit, seq")
    # The links tell of facts at a visit's end that are gone; a number far beyond them is damage of its own.
    known = "select max(f.seq) from fact f where f.visit = links.visit"
    seen = "select max(s.seq) from seen s where s.visit = links.visit"
    db.execute(
        f"delete from links where typeof(seq) != 'integer' or seq < 1 "
        f"or seq > max(coalesce(({known}), 0), coalesce(({seen}), 0)) + {_MOST_LOST_AT_THE_END}"
    )
    db.execute(
        "insert into standing (visit, newest, facts, closed) select v.id, coalesce(max(f.rowid), 0), "
        "max(coalesce(max(f.seq), 0), coalesce((select max(s.seq) from seen s where s.visit = v.id), 0), "
        "coalesce((select max(l.seq) from links l where l.visit = v.id), 0)), "
        "coalesce(max(f.kind = 'visit-closed'), 0) from visit v left join fact f on f.visit = v.id group by v.id"
    )
    counts = "(select count(*) from visit), (select count(*) from fact), (select coalesce(sum(facts), 0) from standing)"
    visits, facts, expected = db.execute(f"select {counts}").fetchone()
    db.execute(
        "insert into chain select l.visit, l.seq, l.link from links l join opened o on o.id = l.visit order by 1, 2"
    )
    if db.execute("select 1 from chain limit 1").fetchone() is None:
        chain.link_all(db)  # a journal of before there were links
    for table in ("seen", "row", "opened", "links"):
        db.execute(f"drop table temp.{table}")
    db.execute("commit")
    db.execute("pragma foreign_keys = on")
    return visits, facts, max(0, expected - facts)


def _sentence(path: Path, aside: Path | None, told: tuple[int, int, int], empty: bool) -> str:
    visits, _, missing = told
    kept = f"the damaged file is kept as {aside}" if aside else "nothing was changed"
    if empty:
        kept = f"it is kept as {aside}" if aside else "nothing was changed"
        return (
            f"The journal {path} is empty (0 bytes), which no Ladderside leaves: something else emptied it; {kept}, "
            "and `ladderside backup --restore FILE` takes a backup of yours."
        )
    number = "1 visit was" if visits == 1 else f"{visits} visits were"
    gone = f", of which {missing} lines could not be read" if missing else ""
    return f"The journal {path} was damaged: {number} recovered{gone}; {kept}."
