"""``ladderside backup``: a copy of all visits in one file, and back again."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "backup",
        help="copy all visits to one file, also during a visit; --restore takes such a copy back",
        description="Writes every visit, up to the last answer, into one file that is looked through before it takes "
        "its name. --restore puts such a file in the journal's place and keeps the journal before it beside it.",
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="the copy to write, or with --restore to take back")
    parser.add_argument("--restore", action="store_true", help="put FILE in the place of the journal")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Copy, or take back, and say how much it was."""
    from assistant.visit.backup import back_up, restore
    from assistant.visit.paths import journal_path

    if not args.restore:
        print(f"{_visits(back_up(journal_path(), args.file))} copied to {args.file}.")
        return 0
    visits, before = restore(args.file, journal_path())
    kept = f" The journal before is kept as {before}." if before else ""
    print(f"{_visits(visits)} taken back from {args.file}.{kept}")
    return 0


def _visits(number: int) -> str:
    return "1 visit" if number == 1 else f"{number} visits"
