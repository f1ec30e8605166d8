"""``ladderside amend``: put something right after a visit was closed; the record shows both, with who and why."""

from __future__ import annotations

import argparse
from typing import Any

from assistant.commands.opened import load_library, open_journal
from assistant.printable import printable


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "amend",
        help="put something right after a visit was closed, with who and why",
        description="Adds a correction to a closed visit. Nothing is taken away: the record shows the old beside the "
        "new. WHAT is the number of an answer in the record, or site, technician, repair or customer.",
    )
    parser.add_argument("visit", metavar="VISIT", help="as `ladderside visits` names it")
    parser.add_argument("what", metavar="WHAT", help="the number of an answer, or site, technician, repair, customer")
    parser.add_argument("now", metavar="NOW", help='what is right: "4.2 kohm", "The mill, gate 2"')
    parser.add_argument("--who", required=True, metavar="NAME", help="who amends it")
    parser.add_argument("--why", required=True, metavar="WORDS", help="why")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Add the correction and say what it replaces."""
    from assistant.record.amend import amend

    with open_journal() as journal:
        fact = amend(journal, load_library(), args.visit, args.what, args.now, args.who, args.why)
    was = fact.was or "nothing"
    print(printable(f"Visit {args.visit}: {was} is now {fact.now}. `ladderside record {args.visit}` shows both."))
    return 0
