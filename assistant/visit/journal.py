"""The journal: append-only facts in SQLite, committed before anything is spoken. The truth of every visit.

One row a fact: visit, sequence number, wall-clock time, seconds since the visit began, kind, JSON body. The body
holds no time, so two replays of one recording differ in the time columns only. Triggers refuse update and delete.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from assistant.dialogue.facts import FACT, Fact
from assistant.errors import LaddersideError

#: Raised only when the tables change; a newer journal than the program knows is refused, never rewritten.
SCHEMA = 1

_TABLES = """
create table if not exists visit (
    id text primary key,
    opened_at text not null,
    origin text not null          -- microphone, replay or typed
);
create table if not exists fact (
    visit text not null references visit(id),
    seq integer not null,
    at text not null,
    at_s real not null,
    kind text not null,
    body text not null,
    primary key (visit, seq)
);
create trigger if not exists fact_is_final before update on fact
    begin select raise(abort, 'the journal is append-only'); end;
create trigger if not exists fact_stays before delete on fact
    begin select raise(abort, 'the journal is append-only'); end;
"""


class JournalError(LaddersideError):
    """The journal cannot be read or written; what was committed before stays safe."""


class UnknownVisit(JournalError):
    """No visit of that name."""


@dataclass(frozen=True)
class Stamped:
    """A fact with when it happened: wall clock, and seconds since the visit's first frame."""

    seq: int
    at: datetime
    at_s: float
    fact: Fact


@dataclass(frozen=True)
class VisitRow:
    """One visit as the list shows it."""

    id: str
    opened_at: datetime
    origin: str
    facts: int
    closed: bool


class Journal:
    """One journal file. Every call that writes is one transaction: all of a turn is kept, or none of it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._db = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
            self._db.execute("pragma journal_mode = wal")
            self._db.execute("pragma synchronous = full")
            self._db.execute("pragma foreign_keys = on")
            version = self._db.execute("pragma user_version").fetchone()[0]
            if version > SCHEMA:
                raise JournalError(f"The journal {path} was written by a newer Ladderside. Update this one to read it.")
            self._db.executescript(_TABLES)
            self._db.execute(f"pragma user_version = {SCHEMA}")
        except (sqlite3.Error, OSError) as error:
            raise JournalError(
                f"The journal {path} cannot be opened ({error}). Check the folder and its space."
            ) from None

    def close(self) -> None:
        self._db.close()

    def open_visit(self, at: datetime, origin: str) -> str:
        """Begin a visit; its id is the day and a running number, short enough to say."""
        with _told(self.path):
            self._db.execute("begin immediate")
            day = at.strftime("%Y-%m-%d")
            number = self._db.execute("select count(*) from visit where id like ?", (day + "-%",)).fetchone()[0] + 1
            visit = f"{day}-{number}"
            self._db.execute("insert into visit values (?, ?, ?)", (visit, at.isoformat(), origin))
            self._db.execute("commit")
        return visit

    def append(self, visit: str, at: datetime, at_s: float, facts: Iterable[Fact]) -> None:
        """Commit one turn's facts; when this returns they are on the disk."""
        with _told(self.path):
            self._db.execute("begin immediate")
            try:
                row = self._db.execute("select coalesce(max(seq), 0) from fact where visit = ?", (visit,)).fetchone()
                for seq, fact in enumerate(facts, start=row[0] + 1):
                    values = (visit, seq, at.isoformat(), at_s, fact.kind, fact.model_dump_json())
                    self._db.execute("insert into fact values (?, ?, ?, ?, ?, ?)", values)
                self._db.execute("commit")
            except sqlite3.Error:
                if self._db.in_transaction:
                    self._db.execute("rollback")
                raise

    def facts(self, visit: str) -> Iterator[Stamped]:
        """All facts of a visit, oldest first; raises UnknownVisit."""
        self.row(visit)
        cursor = self._db.execute("select seq, at, at_s, body from fact where visit = ? order by seq", (visit,))
        for seq, at, at_s, body in cursor:
            yield Stamped(seq, datetime.fromisoformat(at), at_s, FACT.validate_json(body))

    def row(self, visit: str) -> VisitRow:
        """One visit; raises UnknownVisit naming the newest ones."""
        found = next((row for row in self.visits() if row.id == visit), None)
        if found is None:
            known = ", ".join(row.id for row in self.visits()[:3]) or "none yet"
            raise UnknownVisit(f"There is no visit {visit} in {self.path}. `ladderside visits` lists them ({known}).")
        return found

    def visits(self) -> list[VisitRow]:
        """All visits, newest first."""
        cursor = self._db.execute(
            "select v.id, v.opened_at, v.origin, count(f.seq), coalesce(sum(f.kind = 'visit-closed'), 0) "
            "from visit v left join fact f on f.visit = v.id group by v.id order by v.opened_at desc, v.rowid desc"
        )
        return [VisitRow(a, datetime.fromisoformat(b), c, d, bool(e)) for a, b, c, d, e in cursor]


class _told:
    """Turns SQLite's refusal (disk full, read-only) into one clear sentence."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def __enter__(self) -> None:
        return None

    def __exit__(self, kind: object, error: BaseException | None, trace: object) -> None:
        if isinstance(error, sqlite3.Error):
            raise JournalError(
                f"The visit cannot be written to {self.path} ({error}). Free some space and say it again; "
                "everything up to the last answer is safe."
            ) from None
