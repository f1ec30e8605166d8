"""The chain over a visit's facts: each link is the hash of the one before and of its fact, so none can change alone.

The first link begins with the visit's own row. Whoever alters, inserts or removes a fact must make every later link
anew; a link that was printed on a record, or exported, then no longer fits.
"""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass

#: seq, at, at_s, kind, body as the journal keeps them.
Row = tuple[int, str, float, str, str]


def digest(*parts: str) -> str:
    """SHA-256 in hexadecimal over parts that cannot run into each other."""
    return hashlib.sha256("\x1f".join(parts).encode("utf-8", "surrogatepass")).hexdigest()


def first(visit: str, opened_at: str, origin: str) -> str:
    """What the first fact is linked to: the visit's own row."""
    return digest("visit", visit, opened_at, origin)


def link(before: str, visit: str, row: Row) -> str:
    """The link of one fact."""
    seq, at, at_s, kind, body = row
    return digest(before, visit, str(seq), at, repr(float(at_s)), kind, body)


def last(db: sqlite3.Connection, visit: str) -> str:
    """The newest link of a visit; its beginning where there is none. Raises sqlite3.Error."""
    found = db.execute("select link from chain where visit = ? order by seq desc limit 1", (visit,)).fetchone()
    if found is not None:
        return str(found[0])
    row = db.execute("select id, opened_at, origin from visit where id = ?", (visit,)).fetchone()
    return first(*(row or (visit, "", "")))


def last_seq(db: sqlite3.Connection, visit: str) -> int:
    """The number of the newest link: a fact that was lost at the end of a damaged file still has its own."""
    number: int = db.execute("select coalesce(max(seq), 0) from chain where visit = ?", (visit,)).fetchone()[0]
    return number


def link_all(db: sqlite3.Connection) -> None:
    """Link every fact that a journal of before holds. Raises sqlite3.Error."""
    for visit, opened_at, origin in db.execute("select id, opened_at, origin from visit").fetchall():
        before = first(visit, opened_at, origin)
        rows = db.execute("select seq, at, at_s, kind, body from fact where visit = ? order by seq", (visit,))
        for row in rows.fetchall():
            before = link(before, visit, row)
            db.execute("insert into chain values (?, ?, ?)", (visit, row[0], before))


@dataclass(frozen=True)
class Verified:
    """What came of following a chain: ``facts`` that fit, and what is wrong, a sentence each (none: nothing)."""

    facts: int
    last: str
    wrong: tuple[str, ...]


def follow(visit: str, start: str, rows: Iterable[Row], links: dict[int, str]) -> Verified:
    """Compute every link anew and compare it with the one that was kept."""
    before, wrong, fit, expected = start, [], 0, 1
    for row in rows:
        seq = row[0]
        if seq != expected:
            wrong.append(f"{_lines(expected, seq - 1)} missing.")
        expected = seq + 1
        kept, computed = links.get(seq), link(before, visit, row)
        if kept is None:
            wrong.append(f"Line {seq} has no link in the chain.")
        elif kept != computed:
            wrong.append(f"Line {seq} ({row[3]}, {row[1]}) is not what was linked.")
        else:
            fit += 1
        before = kept or computed
    if extra := [seq for seq in links if seq >= expected]:
        wrong.append(f"{_lines(min(extra), max(extra))} missing.")
    return Verified(fit, before, tuple(wrong))


def _lines(low: int, high: int) -> str:
    return f"Line {low} is" if low == high else f"Lines {low} to {high} are"
