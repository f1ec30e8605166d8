"""What several commands share: opening the journal and a session, writing the record, common options."""

from __future__ import annotations

import argparse
import contextlib
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.commands.opened import load_library, tell_notices
from assistant.errors import LaddersideError
from assistant.printable import printable

if TYPE_CHECKING:
    from assistant.messages.message import Message
    from assistant.record.model import Record
    from assistant.visit.reading import JournalReader
    from assistant.visit.session import Session
    from assistant.visit.sounds import Keeper
    from assistant.visit.transcript import Transcript


class OfficeMissing(LaddersideError):
    """What the office needs is not installed."""


def office_needed() -> None:
    """The libraries of the extra "office" are there. Raises OfficeMissing."""
    from importlib.util import find_spec

    missing = [name for name in ("duckdb", "sqlalchemy", "alembic") if find_spec(name) is None]
    if missing:
        raise OfficeMissing(f"This needs {', '.join(missing)}: install Ladderside with its extra, ladderside[office].")


def add_json(parser: argparse.ArgumentParser, what: str) -> None:
    """``--json``, wherever a program might read the answer."""
    parser.add_argument("--json", action="store_true", help=what)


def add_resume(parser: argparse.ArgumentParser) -> None:
    """``--resume [VISIT]`` and where the record goes."""
    parser.add_argument(
        "--day",
        type=Path,
        metavar="FILE",
        help="the day's jobs, as CSV or iCalendar: say “first job”, “next job”, or “the one in Mill Street”",
    )
    parser.add_argument(
        "--resume",
        nargs="?",
        const="latest",
        metavar="VISIT",
        help="go on with an open visit: its number, or words of its site and unit (default: the latest)",
    )
    add_to(parser)


def add_to(parser: argparse.ArgumentParser) -> None:
    """``--to FOLDER``: where the record is written."""
    parser.add_argument("--to", type=Path, metavar="FOLDER", help="folder for the record (default: your data folder)")


def add_ear(parser: argparse.ArgumentParser) -> None:
    """``--ear``: which recognizers listen."""
    parser.add_argument(
        "--ear",
        default="all",
        metavar="NAME",
        help="all: whisper, moonshine and phoneme together (default), one of these three, or vosk=FOLDER for a Vosk "
        "model of yours beside the quick two",
    )


def add_keep_audio(parser: argparse.ArgumentParser) -> None:
    """``--keep-audio [DAYS]``: sound is kept only where this was said."""
    parser.add_argument(
        "--keep-audio",
        nargs="?",
        type=days,
        const=0,
        metavar="DAYS",
        help="keep the sound of what you say to the assistant, so that a doubtful reading can be heard from the "
        "record; deleted by itself after DAYS (default: as said last, else 30), or with `ladderside audio`",
    )


def days(text: str) -> int:
    """A number of days from a command line."""
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:5]) <= 9999:
        raise argparse.ArgumentTypeError(f"“{text[:20]}” is no number of days; write one from 1 to 9999")
    return int(text)


def keeper(args: argparse.Namespace, visit: str, noticed: Callable[[Message], None]) -> Keeper | None:
    """What keeps the sound of a visit; None unless it was asked for."""
    from assistant.visit import sounds

    if args.keep_audio is None:
        return None
    if args.keep_audio:
        sounds.keep_for(args.keep_audio)
    return sounds.Keeper(visit, noticed)


def device(name: str | None) -> int | str | None:
    """A sound device as it was named on the command line: its number or a part of its name."""
    return int(name) if name is not None and name.isdigit() else name


def devices(args: argparse.Namespace) -> tuple[int | str | None, int | str | None]:
    """Microphone and loudspeaker: those named, else those used last where they are there, else the system's own."""
    from assistant.devices import lasting, there_is
    from assistant.visit.paths import remembered

    used = remembered()
    chosen: list[int | str | None] = []
    for what, way in (("microphone", "input"), ("loudspeaker", "output")):
        named, last = getattr(args, what), used.get(what)
        if named is None and last is not None and not there_is(last, way):
            print(printable(f"  ·  the {what} used last is not here ({last}); the usual one is taken"), file=sys.stderr)
            last = None
        chosen.append(lasting(device(named), way) if named is not None else last)
    return chosen[0], chosen[1]


def remember_devices(args: argparse.Namespace) -> None:
    """Those that were named and could be opened are used the next time too."""
    from assistant.devices import name_of
    from assistant.visit.paths import remember

    named: dict[str, str] = {}
    for what, way in (("microphone", "input"), ("loudspeaker", "output")):
        if getattr(args, what) is not None:
            name = name_of(device(getattr(args, what)), way)
            named |= {what: name} if name else {}
    if named:
        remember(named)


def build_record(journal: JournalReader, visit: str) -> Record:
    """The record of a visit in the journal."""
    from assistant.record.build import build

    record = build(journal.row(visit), journal.facts(visit), load_library(), journal.lost(visit))
    tell_notices(journal)
    return record


def kept_sounds(journal: JournalReader, visit: str) -> dict[int, Path]:
    """The file in which each answer of a visit can be heard, where its sound was kept, by the answer's number."""
    from assistant.data.places import user_folder
    from assistant.visit import sounds

    if not sounds.numbers(visit):
        return {}
    return {number: user_folder() / name for number, name in sounds.of_answers(visit, journal.facts(visit)).items()}


@contextlib.contextmanager
def record_at_the_end(
    session: Session, args: argparse.Namespace, transcript: Transcript, beside: tuple[Path, ...] = ()
) -> Iterator[None]:
    """Writes the record when the visit is over, also when it is cut short; the error told is then the first one.

    Whoever presses Ctrl-C twice has the record all the same: the second would break the loading of what writes it.
    """
    try:
        yield
    except BaseException:
        with contextlib.suppress(LaddersideError), _uninterrupted():
            write_record(session, args, transcript, beside)
        raise
    write_record(session, args, transcript, beside)


@contextlib.contextmanager
def _uninterrupted() -> Iterator[None]:
    """Ctrl-C counts for nothing meanwhile, for a second or two. It comes to the main thread, which alone may say so."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def write_record(
    session: Session, args: argparse.Namespace, transcript: Transcript, beside: tuple[Path, ...] = ()
) -> Path:
    """Write HTML and JSON of the session's visit and say where, with what else was made (``beside``)."""
    from assistant.record.build import build
    from assistant.record.forms import write
    from assistant.visit.paths import record_folder

    journal, visit = session.journal, session.visit
    record = build(journal.row(visit), journal.facts(visit), session.context.library, journal.lost(visit))
    folder = args.to or record_folder(session.visit)
    paths = write(record, folder, sounds=kept_sounds(journal, visit))
    transcript.ended(session, (*paths, *beside))
    return folder
