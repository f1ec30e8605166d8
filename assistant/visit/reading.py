"""The journal as it is read: visits in its own order, facts that still fit their checksums. Nothing is ever written.

A list of visits needs no facts, so what facts are is imported only where one is read.
"""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

from assistant.errors import LaddersideError
from assistant.visit import bootclock, chain, connection, schema
from assistant.visit.standing import Standing

if TYPE_CHECKING:
    from pydantic import TypeAdapter

    from assistant.dialogue.facts import Fact


class JournalError(LaddersideError):
    """The journal cannot be read or written; what was committed before stays safe."""


class UnknownVisit(JournalError):
    """No visit of that name."""


@dataclass(frozen=True)
class Stamped:
    """A fact with when it happened: wall clock, and seconds since the visit's first frame. ``chain`` is its link."""

    seq: int
    at: datetime
    at_s: float
    fact: Fact
    chain: str = ""


@dataclass(frozen=True)
class VisitRow:
    """One visit as the list shows it. ``newest`` orders visits by their latest fact; ``kept``: its standing."""

    id: str
    opened_at: datetime
    origin: str
    facts: int
    closed: bool
    newest: int = 0
    kept: str = ""

    @cached_property
    def standing(self) -> Standing | None:
        """Where it stands; None: not kept. Read when it is asked for: most rows of a long list are only counted."""
        try:
            return Standing.model_validate_json(self.kept) if self.kept else None
        except ValueError:
            return None


class JournalReader:
    """A journal for looking only: neither the file nor its folder is changed, and either may be read-only.

    ``notices``: what the user must be told of the file, a sentence each. Raises JournalError.
    """

    _write = False

    def __init__(self, path: Path) -> None:
        self.path = path
        self.notices: list[str] = []
        self._lost: dict[str, int] = {}
        self.db = self._opened()
        self._version = self._number("pragma user_version")

    def _opened(self) -> sqlite3.Connection:
        try:
            if self.path.exists() and self.path.stat().st_size == 0:
                return self._repaired()
            return connection.to_write(self.path) if self._write else connection.to_read(self.path)
        except connection.Damaged:
            return self._repaired()
        except schema.Newer:
            raise JournalError(
                f"The journal {self.path} was written by a newer Ladderside. Update this one to read it."
            ) from None
        except (sqlite3.Error, OSError) as error:
            raise JournalError(
                f"The journal {self.path} cannot be opened ({error}). Check the folder and its space."
            ) from None

    def _repaired(self) -> sqlite3.Connection:
        from assistant.visit.repair import repaired  # seldom needed

        try:
            db, notice = repaired(self.path, self._write)
        except (sqlite3.Error, OSError) as error:
            raise JournalError(
                f"The journal {self.path} is damaged, and what can be read of it cannot be written ({error}). "
                "Free some space; the file is kept as it is."
            ) from None
        self.notices.append(notice)
        return db

    def close(self) -> None:
        """Give the file back; nothing can be asked or written afterwards."""
        self.db.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def facts(self, visit: str) -> list[Stamped]:
        """All facts of a visit that can be read, oldest first; ``lost`` counts the others. Raises UnknownVisit."""
        row = self.row(visit)
        mark = "mark" if self._version > 1 else "null"
        rows = self._query(f"select seq, at, at_s, kind, body, {mark} from fact where visit = ? order by seq", visit)
        links = self._links(visit)
        from assistant.dialogue.facts import FACT

        stamped = (_stamped(FACT, visit, links.get(each[0], ""), *each) for each in rows)
        read = [one for one in stamped if one is not None]
        expected = max(row.facts, rows[-1][0] if rows else 0)
        if len(read) < expected:
            read = _that_hang_together(read)
        self._note(visit, expected - len(read))
        return read

    def _links(self, visit: str) -> dict[int, str]:
        if self._version < 3:
            return {}
        return dict(self._query("select seq, link from chain where visit = ?", visit))

    def verified(self, visit: str) -> chain.Verified:
        """The visit's chain followed from its beginning, whatever can be read of it. Raises UnknownVisit."""
        opened, rows, links = self.chained(visit)
        if self._version < 3:
            return chain.Verified(0, "", ("This journal is from before there was a chain; the next visit adds it.",))
        return chain.follow(visit, chain.first(*opened), rows, links)

    def chained(self, visit: str) -> tuple[tuple[str, str, str], list[chain.Row], dict[int, str]]:
        """The visit's own row, its facts as they are kept, and the links. Raises UnknownVisit."""
        self.row(visit)
        [(name, opened_at, origin)] = self._query("select id, opened_at, origin from visit where id = ?", visit)
        rows = self._query("select seq, at, at_s, kind, body from fact where visit = ? order by seq", visit)
        return (name, opened_at, origin), [(r[0], r[1], r[2], r[3], r[4]) for r in rows], self._links(visit)

    def heads(self) -> list[tuple[str, tuple[int, str]]]:
        """Every visit, the oldest first, with the number and the link of its newest fact: what changes with it."""
        rows = self._query(
            "select v.id, max(f.seq) from visit v join fact f on f.visit = v.id group by v.id order by v.rowid"
        )
        links = {}
        if self._version > 2:
            links = {
                (visit, seq): link
                for visit, seq, link in self._query(
                    "select c.visit, c.seq, c.link from chain c join "
                    "(select visit, max(seq) as seq from fact group by visit) l on l.visit = c.visit and l.seq = c.seq"
                )
            }
        return [(visit, (seq, links.get((visit, seq), ""))) for visit, seq in rows]

    def _note(self, visit: str, lost: int) -> None:
        if lost and self._lost.get(visit) != lost:
            number = "One line" if lost == 1 else f"{lost} lines"
            verb = "is" if lost == 1 else "are"
            self.notices.append(f"{number} of visit {visit} can no longer be read and {verb} left out.")
        self._lost[visit] = lost

    def lost(self, visit: str) -> int:
        """How many facts of the visit cannot be read any more, or make no sense without those."""
        if visit not in self._lost:
            self.facts(visit)
        return self._lost[visit]

    def last_seq(self, visit: str) -> int:
        """The number of the visit's newest fact; 0 before the first."""
        return self._number("select coalesce(max(seq), 0) from fact where visit = ?", visit)

    def elapsed_s(self, visit: str) -> float | None:
        """Visit seconds now, by the machine's own clock; None when it was started anew since the last fact."""
        if self._version < 2:
            return None
        rows = self._query("select boot, boot_s, at_s from standing where visit = ?", visit)
        if not rows or not rows[0][0] or rows[0][0] != bootclock.boot():
            return None
        return float(rows[0][2]) + max(0.0, bootclock.now_s() - float(rows[0][1]))

    def row(self, visit: str) -> VisitRow:
        """One visit; raises UnknownVisit naming the newest ones."""
        found = self._rows("where v.id = ?", visit)
        if not found:
            known = ", ".join(row.id for row in self._rows("order by v.rowid desc limit 3")) or "none yet"
            raise UnknownVisit(f"There is no visit {visit} in {self.path}. `ladderside visits` lists them ({known}).")
        return found[0]

    def visits(self) -> list[VisitRow]:
        """All visits, the one opened last first, in the journal's own order."""
        return self._rows("order by v.rowid desc")

    def open_visits(self) -> list[VisitRow]:
        """Those that can be gone on with, the one written to last first."""
        which = "where coalesce(s.closed, 0) = 0" if self._version > 1 else ""
        return sorted((row for row in self._rows(which) if not row.closed), key=lambda row: -row.newest)

    def latest(self, closed: bool = True) -> VisitRow | None:
        """The visit that was written to last, whatever the clock said then; without ``closed`` the open ones only."""
        rows = (row for row in self.visits() if closed or not row.closed)
        return max(rows, key=lambda row: row.newest, default=None)

    def copy_to(self, other: sqlite3.Connection) -> None:
        """All of it into an empty database. Raises sqlite3.Error."""
        self.db.backup(other)

    def _rows(self, which: str, *values: str) -> list[VisitRow]:
        kept = "s.newest, s.facts, s.closed, s.body from visit v left join standing s on s.visit = v.id"
        if self._version < 2:
            kept = "null, null, null, null from visit v"
        return [
            self._row(*each) for each in self._query(f"select v.id, v.opened_at, v.origin, {kept} {which}", *values)
        ]

    def _row(self, visit: str, opened_at: str, origin: str, *kept: Any) -> VisitRow:
        newest, facts, closed, body = kept
        if facts is None:
            counted = "coalesce(max(rowid), 0), coalesce(max(seq), 0), coalesce(sum(kind = 'visit-closed'), 0)"
            newest, facts, closed = self._query(f"select {counted} from fact where visit = ?", visit)[0]
        return VisitRow(visit, _time(opened_at), origin, facts, bool(closed), newest, _text(body))

    def _number(self, query: str, *values: str) -> int:
        number: int = self._query(query, *values)[0][0]
        return number

    def _query(self, query: str, *values: object) -> list[tuple[Any, ...]]:
        """The rows. A file that turns out to be damaged is opened again, then set aside."""
        for again in (self._opened, self._repaired, None):
            try:
                return self.db.execute(query, values).fetchall()
            except connection.FAILURES as error:
                if again is None or not connection.is_damage(error):
                    raise JournalError(f"The journal {self.path} cannot be read ({error}).") from None
                self.db.close()
                self.db = again()
        raise AssertionError("unreachable")


def _stamped(
    fact: TypeAdapter[Fact], visit: str, link: str, seq: int, at: str, at_s: float, kind: str, body: str,
    mark: str | None,
) -> Stamped | None:  # fmt: skip
    """A fact, or None when it is not as it was written."""
    try:
        if mark is not None and mark != schema.mark(visit, seq, at, at_s, kind, body):
            return None
        return Stamped(seq, datetime.fromisoformat(at), float(at_s), fact.validate_json(body), link)
    except (ValueError, TypeError, RecursionError):
        return None


def _that_hang_together(facts: Sequence[Stamped]) -> list[Stamped]:
    """Facts that make sense one after the other: where some are lost, others may have nothing to be about."""
    from assistant.dialogue.evolve import evolve
    from assistant.dialogue.state import VisitState

    state, kept = VisitState(), []
    for each in facts:
        with contextlib.suppress(Exception):
            state = evolve(state, each.fact)
            kept.append(each)
    return kept


def _text(body: object) -> str:
    return body if isinstance(body, str) else ""


def _time(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except (ValueError, TypeError):
        return datetime(1970, 1, 1)
