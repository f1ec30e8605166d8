"""``ladderside record``: the service record of a visit, in the formats asked for."""

from __future__ import annotations

import argparse
import sys
from typing import Any

from assistant.commands.shared import add_json, add_to, build_record, read_journal
from assistant.errors import LaddersideError


class NothingYet(LaddersideError):
    """There is no visit to make a record of."""


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser("record", help="write the service record of a visit (default: the latest)")
    parser.add_argument("visit", nargs="?", metavar="VISIT", help="as `ladderside visits` names it")
    parser.add_argument(
        "--format",
        action="append",
        choices=("html", "json", "csv", "pdf"),
        help="may be given several times (default: html and json)",
    )
    add_to(parser)
    add_json(parser, "print the record as JSON and write no file")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Write the files and print their paths."""
    from assistant.visit.paths import record_folder
    from assistant.visit.render import as_json, write

    journal = read_journal()
    visit = args.visit
    if visit is None:
        latest = journal.latest()
        if latest is None:
            raise NothingYet("There is no visit yet; `ladderside type` or `ladderside replay` makes one.")
        visit = latest.id
    record = build_record(journal, visit)
    if args.json:
        sys.stdout.write(as_json(record))
        return 0
    for path in write(record, args.to or record_folder(visit), tuple(args.format or ("html", "json"))):
        print(path)
    return 0
