"""``ladderside sign``: somebody signs for a visit, by name or with a drawing."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from assistant.commands.opened import open_journal
from assistant.printable import printable


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser("sign", help="put a signature to a visit, named or drawn, with its time")
    parser.add_argument("visit", metavar="VISIT", help="as `ladderside visits` names it")
    parser.add_argument("--name", required=True, metavar="NAME", help="who signs")
    parser.add_argument("--as", dest="role", choices=("customer", "technician"), default="customer", help="as whom")
    parser.add_argument("--drawing", type=Path, metavar="FILE", help="a picture of the signature")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Add it and say so."""
    from assistant.record.attach import sign

    with open_journal() as journal:
        sign(journal, args.visit, args.name, args.role, args.drawing)
    print(printable(f"Visit {args.visit} is signed by {args.name}. `ladderside record {args.visit}` shows it."))
    return 0
