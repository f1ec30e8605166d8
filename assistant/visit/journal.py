"""The journal: append-only facts in SQLite, committed before anything is spoken. The truth of every visit.

One row a fact: visit, sequence number, wall-clock time, seconds since the visit began, kind, JSON body, checksum. The
body holds no time, so two replays of one recording differ in the time columns only. Triggers refuse update and delete.
Beside the facts, and in the same transaction, stands where each visit stands, so that a list reads no facts.
"""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Callable, Iterable
from datetime import datetime
from typing import TypeVar

from assistant.dialogue.facts import Fact
from assistant.visit import bootclock, chain, connection, schema
from assistant.visit.lock import VisitLock
from assistant.visit.reading import JournalError, JournalReader, Stamped, UnknownVisit, VisitRow
from assistant.visit.standing import Standing

__all__ = ["Journal", "JournalError", "JournalReader", "Overtaken", "Stamped", "UnknownVisit", "VisitRow"]

_T = TypeVar("_T")


class Overtaken(JournalError):
    """Another program wrote to the visit since its last fact was seen here."""


class Journal(JournalReader):
    """One journal file to write to. Every call that writes is one transaction: all of a turn is kept, or none of it."""

    _write = True

    def lock(self, visit: str) -> VisitLock:
        """Makes this program the visit's one writer until the lock is closed. Raises VisitTaken and JournalError."""
        try:
            return VisitLock(self.path.parent / "locks", visit)
        except OSError as error:
            raise JournalError(f"Visit {visit} cannot be written to {self.path.parent} ({error}).") from None

    def open_visit(self, at: datetime, origin: str) -> str:
        """Begin a visit; its id is the day and a running number, short enough to say."""
        day = at.strftime("%Y-%m-%d")

        def opened(db: sqlite3.Connection) -> str:
            taken = db.execute("select id from visit where id >= ? and id < ?", (f"{day}-", f"{day}."))
            number = max((int(visit[len(day) + 1 :]) for (visit,) in taken), default=0) + 1
            db.execute("insert into visit values (?, ?, ?)", (f"{day}-{number}", at.isoformat(), origin))
            return f"{day}-{number}"

        return self._commit(opened)

    def append(
        self,
        visit: str,
        at: datetime,
        at_s: float,
        facts: Iterable[Fact],
        after: int | None = None,
        standing: Standing | None = None,
    ) -> int:
        """Commit one turn's facts; when this returns they are on the disk. Gives the number of the last one.

        ``after`` is the last fact that the writer has seen: Overtaken when there is a newer one. ``standing`` is where
        the visit stands after these facts.
        """
        rows = [(at.isoformat(), at_s, fact.kind, fact.model_dump_json()) for fact in facts]
        closed = any(kind == "visit-closed" for _, _, kind, _ in rows)

        def appended(db: sqlite3.Connection) -> int:
            last: int = db.execute("select coalesce(max(seq), 0) from fact where visit = ?", (visit,)).fetchone()[0]
            if after is not None and last > after:
                raise Overtaken(
                    f"Another program has written to visit {visit} meanwhile, so nothing is added from here. "
                    "End this one and resume the visit: it goes on from what was written last."
                )
            first = max(last, after or 0, chain.last_seq(db, visit)) + 1
            link = chain.last(db, visit)
            for seq, (when, when_s, kind, body) in enumerate(rows, start=first):
                mark = schema.mark(visit, seq, when, when_s, kind, body)
                db.execute(
                    "insert into fact values (?, ?, ?, ?, ?, ?, ?)", (visit, seq, when, when_s, kind, body, mark)
                )
                link = chain.link(link, visit, (seq, when, when_s, kind, body))
                db.execute("insert into chain values (?, ?, ?)", (visit, seq, link))
            self._stand(db, visit, first + len(rows) - 1, closed, at_s, standing)
            return first + len(rows) - 1

        return self._commit(appended)

    def _stand(
        self, db: sqlite3.Connection, visit: str, facts: int, closed: bool, at_s: float, standing: Standing | None
    ) -> None:
        newest = db.execute("select coalesce(max(rowid), 0) from fact").fetchone()[0]
        body = standing.model_dump_json() if standing else ""
        db.execute(
            "insert into standing (visit, newest, facts, closed, boot, boot_s, at_s, body) "
            "values (?, ?, ?, ?, ?, ?, ?, ?) on conflict (visit) do update set "
            "newest = excluded.newest, facts = excluded.facts, closed = max(closed, excluded.closed), "
            "boot = excluded.boot, boot_s = excluded.boot_s, at_s = excluded.at_s, body = excluded.body",
            (visit, newest, facts, closed, bootclock.boot(), bootclock.now_s(), at_s, body),
        )

    def keep_standing(self, visit: str, standing: Standing) -> None:
        """Keep what was computed for a visit that has none, from an earlier version or a damaged file."""
        row = self.row(visit)

        def kept(db: sqlite3.Connection) -> None:
            db.execute(
                "insert into standing (visit, newest, facts, closed, body) values (?, ?, ?, ?, ?) "
                "on conflict (visit) do update set body = excluded.body where body = ''",
                (visit, row.newest, row.facts, row.closed, standing.model_dump_json()),
            )

        self._commit(kept)

    def _commit(self, work: Callable[[sqlite3.Connection], _T]) -> _T:
        """One transaction. A file that turns out to be damaged is set aside and the work done in what was recovered."""
        for again in (True, False):
            try:
                self.db.execute("begin immediate")
                done = work(self.db)
                self.db.execute("commit")
                return done
            except BaseException as error:
                self._back_out()
                if not isinstance(error, connection.FAILURES):
                    raise
                if again and connection.is_damage(error):
                    self.db.close()
                    self.db = self._repaired()
                    continue
                raise JournalError(
                    f"The visit cannot be written to {self.path} ({error}). Free some space and say it again; "
                    "everything up to the last answer is safe."
                ) from None
        raise AssertionError("unreachable")

    def _back_out(self) -> None:
        with contextlib.suppress(sqlite3.Error):
            if self.db.in_transaction:
                self.db.execute("rollback")
