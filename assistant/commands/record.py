"""``ladderside record``: the service record of a visit in the forms asked for, and whether one was changed."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.commands.opened import read_journal
from assistant.commands.shared import add_json, add_to, build_record, kept_sounds
from assistant.errors import LaddersideError
from assistant.printable import printable

if TYPE_CHECKING:
    from assistant.visit.reading import JournalReader


class NothingYet(LaddersideError):
    """There is no visit to make a record of."""


class Changed(LaddersideError):
    """Something is not what was recorded."""


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "record",
        help="write the service record of a visit (default: the latest), or verify one",
        description="Writes the service record of a visit: a page for the customer with a technical appendix, and the "
        "same as tagged PDF, JSON (its schema is published), CSV for a spreadsheet, or its bare facts. --verify "
        "follows the hashes over a visit's facts, or looks whether written files are what was recorded.",
    )
    parser.add_argument("visit", nargs="?", metavar="VISIT", help="as `ladderside visits` names it")
    parser.add_argument(
        "--format",
        action="append",
        choices=("html", "json", "csv", "pdf", "facts"),
        help="may be given several times (default: html and json)",
    )
    parser.add_argument(
        "--verify",
        nargs="*",
        type=Path,
        metavar="FILE",
        help="verify the visit in the journal, or files that were written of one",
    )
    add_to(parser)
    add_json(parser, "print the record as JSON and write no file")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Write the files and print their paths, or verify."""
    from assistant.data.files import write_whole
    from assistant.record.forms import as_json, write
    from assistant.record.verify import FACTS, facts_file
    from assistant.visit.paths import record_folder

    if args.verify:
        return _verify_files(args.verify)
    journal = read_journal()
    visit = args.visit or _latest(journal)
    if args.verify is not None:
        return _verify_visit(journal, visit)
    if args.json:
        sys.stdout.write(as_json(build_record(journal, visit)))
        return 0
    folder = args.to or record_folder(visit)
    formats = args.format or ["html", "json"]
    paths = []
    if wanted := tuple(name for name in formats if name != "facts"):
        paths = write(build_record(journal, visit), folder, wanted, kept_sounds(journal, visit))
    if "facts" in formats:
        paths.append(folder / FACTS)
        write_whole(paths[-1], facts_file(journal, visit))
    for path in paths:
        print(path)
    return 0


def _latest(journal: JournalReader) -> str:
    latest = journal.latest()
    if latest is None:
        raise NothingYet("There is no visit yet; `ladderside type` or `ladderside replay` makes one.")
    return latest.id


def _verify_visit(journal: JournalReader, visit: str) -> int:
    found = journal.verified(visit)
    if found.wrong:
        raise Changed(f"Visit {visit} is not as it was recorded. {' '.join(found.wrong[:5])}")
    print(f"Visit {visit}: all {found.facts} facts are as they were recorded; last link {found.last[:16]}.")
    return 0


def _verify_files(paths: list[Path]) -> int:
    from assistant.record.verify import file
    from assistant.visit.paths import journal_path
    from assistant.visit.reading import JournalReader

    journal = JournalReader(journal_path()) if journal_path().exists() else None
    changed = []
    for path in paths:
        told, wrong = file(path, journal)
        print(printable(f"{told}: {'as recorded' if not wrong else 'CHANGED'}."))
        changed += [f"{path.name}: {sentence}" for sentence in wrong]
    if changed:
        raise Changed(" ".join(changed[:5]))
    return 0
