"""``ladderside photo``: photos for the record of a visit."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from assistant.commands.opened import open_journal


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser("photo", help="put photos to a visit's record, scaled down")
    parser.add_argument("visit", metavar="VISIT", help="as `ladderside visits` names it")
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="a JPEG or PNG")
    parser.add_argument("--caption", default="", metavar="WORDS", help="what it shows (default: the file's name)")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Add them and say how many."""
    from assistant.record.attach import add_photo

    with open_journal() as journal:
        for file in args.files:
            add_photo(journal, args.visit, file, args.caption)
    number = "1 photo was" if len(args.files) == 1 else f"{len(args.files)} photos were"
    print(f"{number} put to visit {args.visit}. `ladderside record {args.visit}` shows what there is.")
    return 0
