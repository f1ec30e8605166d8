"""What commands open: the journal, the knowledge, a visit to go on with."""

from __future__ import annotations

import argparse
import contextlib
import sys
from datetime import datetime
from typing import TYPE_CHECKING

from assistant.printable import printable

if TYPE_CHECKING:
    from assistant.dialogue.turn import Turn
    from assistant.library.loader import Library
    from assistant.messages.message import Message
    from assistant.visit.journal import Journal
    from assistant.visit.reading import JournalReader, VisitRow
    from assistant.visit.session import Clock, Session
    from assistant.visit.standing import Standing


def open_journal() -> Journal:
    """The user's journal, to write to; what must be told of it is told. Sound that is past its time is deleted."""
    from assistant.visit import sounds
    from assistant.visit.journal import Journal
    from assistant.visit.paths import journal_path

    journal = Journal(journal_path())
    tell_notices(journal)
    with contextlib.suppress(OSError):
        sounds.forget(older_than_days=sounds.days())
    return journal


def read_journal() -> JournalReader:
    """The user's journal for looking only: nothing on the disk is changed."""
    from assistant.visit.paths import journal_path
    from assistant.visit.reading import JournalReader

    journal = JournalReader(journal_path())
    tell_notices(journal)
    return journal


def tell_notices(journal: JournalReader) -> None:
    """What the user must know of the journal, once."""
    while journal.notices:
        print(printable(f"ladderside: {journal.notices.pop(0)}"), file=sys.stderr)


#: Open visits that are named when another is begun.
_NAMED = 3


def name_open_visits(journal: JournalReader) -> Message | None:
    """Prints what can be gone on with, for who begins another visit; gives what is to be said of it aloud.

    That a place was proved dead is nothing to be told: it would be shown anew.
    """
    rows = journal.open_visits()
    for row in rows[:_NAMED]:
        site, power = (row.standing.site, row.standing.energy) if row.standing else ("", "live")
        told = f"visit {row.id} is open: {site or 'no site'}, {'power is on' if power == 'live' else 'locked out'}"
        print(printable(f"  ·  {told}; --resume {row.id} goes on with it"), file=sys.stderr)
    if len(rows) > _NAMED:
        print(f"  ·  and {len(rows) - _NAMED} more; `ladderside visits` lists them", file=sys.stderr)
    last = rows[0].standing if rows else None
    if last is None:
        return None
    from assistant.messages.message import message

    locked = int(last.energy != "live")
    return message("left-open", more=len(rows) - 1, site=last.site or "no site", locked=locked)


def load_library() -> Library:
    """All knowledge. Each profile of the user's that cannot be used is told in one sentence; the rest goes on."""
    from assistant.library.loader import load

    library = load()
    for error in library.set_aside:
        told = f"ladderside: This profile of yours is set aside, all others are used. {error}"
        print(printable(told), file=sys.stderr)
    return library


def session_for(
    args: argparse.Namespace,
    origin: str,
    clock: Clock | None,
    journal: Journal | None = None,
    opened_at: datetime | None = None,
) -> tuple[Session, Turn]:
    """A new or resumed session with its first turn."""
    from assistant.dialogue.courses import kind_words
    from assistant.job.day import read_day
    from assistant.visit.journal import UnknownVisit
    from assistant.visit.memory import memory_of
    from assistant.visit.session import Knowledgeable, RealClock, Session

    journal = journal or open_journal()
    context = Knowledgeable(load_library())
    resume = getattr(args, "resume", None)
    technician = getattr(args, "technician", "")
    if resume:
        row = journal.latest(closed=False) if resume == "latest" else _open_visit(journal, resume)
        if row is None:
            raise UnknownVisit("There is no open visit to go on with; start one without --resume.")
        if row.closed:
            raise UnknownVisit(f"Visit {row.id} is closed. `ladderside record {row.id}` shows what it left.")
        context.memory = memory_of(journal, context.library, but=row.id)
        session = Session.resume(context, journal, row.id, clock)
        tell_notices(journal)
        return session, session.reopen(technician)
    opened_at = opened_at or datetime.now()
    if origin == "replay":  # the same in, the same out, whatever else is in the journal
        session = Session.begin(context, journal, clock or RealClock(), origin, opened_at)
        return session, session.open(technician)
    day = getattr(args, "day", None)
    jobs = read_day(day, opened_at.date(), kind_words(context.library)) if day is not None else ()
    context.memory = memory_of(journal, context.library, jobs)
    session = Session.begin(context, journal, clock or RealClock(), origin, opened_at)
    return session, session.open(technician, opened_at.date().isoformat())


def _named(stands: Standing) -> str:
    return f"{stands.customer} {stands.site} {stands.unit} {stands.plate.called}".lower()


def _open_visit(journal: Journal, words: str) -> VisitRow:
    """The visit of that number, or the open one whose site and unit the words fit. Raises UnknownVisit."""
    from assistant.visit.journal import UnknownVisit

    wanted = words.lower().split()
    fits = [
        row
        for row in journal.visits()
        if not row.closed and row.standing is not None and all(word in _named(row.standing) for word in wanted)
    ]
    if len(fits) == 1:
        return fits[0]
    if len(fits) > 1:
        some = "; ".join(f"{row.id}: {row.standing.site}, {row.standing.unit}" for row in fits[:6] if row.standing)
        raise UnknownVisit(f"Several open visits fit “{words}”: {some}. Name one by its number.")
    return journal.row(words)
