"""The tables of the journal, and how an older journal is brought up to date.

Facts are never rewritten. What is kept beside them (``standing``) can be computed from them again at any time.
"""

from __future__ import annotations

import sqlite3

from assistant.visit import chain

#: Raised only when the tables change; a newer journal than the program knows is refused, never rewritten.
SCHEMA = 3

_FIRST = """
create table visit (
    id text primary key,
    opened_at text not null,
    origin text not null          -- microphone, replay or typed
);
create table fact (
    visit text not null references visit(id),
    seq integer not null,
    at text not null,
    at_s real not null,
    kind text not null,
    body text not null,
    primary key (visit, seq)
);
create trigger fact_is_final before update on fact
    begin select raise(abort, 'the journal is append-only'); end;
create trigger fact_stays before delete on fact
    begin select raise(abort, 'the journal is append-only'); end;
"""
#: ``mark``: checksum of the fact, null for those from before there was one.
MARKS = "alter table fact add column mark text;"
#: ``newest`` is the rowid of the newest fact: the journal's own order, whatever the clock says. ``facts`` is its
#: number, so that a fact that is gone is missed. ``boot``, ``boot_s`` and ``at_s`` are one instant on the machine's
#: clock and the visit's. ``body`` holds a ``Standing``, empty where it must be computed.
_STANDING = """
create table standing (
    visit text primary key references visit(id),
    newest integer not null,
    facts integer not null,
    closed integer not null,
    boot text not null default '',
    boot_s real not null default 0,
    at_s real not null default 0,
    body text not null default ''
);
"""
#: One link a fact: the hash of the link before it and of the fact (``chain.py``). Facts of before are linked once.
_CHAIN = """
create table chain (
    visit text not null references visit(id),
    seq integer not null,
    link text not null,
    primary key (visit, seq)
);
create trigger chain_is_final before update on chain
    begin select raise(abort, 'the journal is append-only'); end;
create trigger chain_stays before delete on chain
    begin select raise(abort, 'the journal is append-only'); end;
"""
#: What brings a journal of version n - 1 to version n.
STEPS: tuple[tuple[str, ...], ...] = ((_FIRST,), (MARKS, _STANDING), (_CHAIN,))
#: What must be there for a file to be a journal at all.
_NEEDED = frozenset({"visit", "fact"})


class NotAJournal(Exception):
    """A database, but none of ours: tables are missing."""


class Newer(Exception):
    """A journal of a later version."""


def version(db: sqlite3.Connection) -> int:
    """The journal's version, 0 for one without tables. Raises NotAJournal, Newer and sqlite3.Error."""
    found: int = db.execute("pragma user_version").fetchone()[0]
    tables = {name for (name,) in db.execute("select name from sqlite_master where type = 'table'")}
    if found > SCHEMA:
        raise Newer
    if (found == 0 and tables) or (found > 0 and not tables >= _NEEDED):
        raise NotAJournal
    return found


def bring_up_to_date(db: sqlite3.Connection) -> None:
    """Add what the journal lacks, in one transaction: another program sees the old journal or the new one."""
    if version(db) == SCHEMA:
        return
    db.execute("begin immediate")
    try:
        for number in range(version(db), SCHEMA):
            for script in STEPS[number]:
                for statement in _statements(script):
                    db.execute(statement)
            if number == 2:
                chain.link_all(db)
        db.execute(f"pragma user_version = {SCHEMA}")
        db.execute("commit")
    except BaseException:
        if db.in_transaction:
            db.execute("rollback")
        raise


def _statements(script: str) -> list[str]:
    """The statements one by one: ``executescript`` would commit before each of its own."""
    found, waiting = [], ""
    for line in script.splitlines(keepends=True):
        waiting += line
        if sqlite3.complete_statement(waiting):
            found.append(waiting)
            waiting = ""
    return found


def mark(visit: str, seq: int, at: str, at_s: float, kind: str, body: str) -> str:
    """Checksum of one fact: a journal that was altered or damaged is noticed where it is read."""
    return chain.digest(visit, str(seq), at, repr(float(at_s)), kind, body)[:16]
