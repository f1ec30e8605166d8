"""``ladderside visits``: the visits in the journal."""

from __future__ import annotations

import argparse
import json
from typing import Any

from assistant.commands.shared import add_json, load_library, open_journal


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser("visits", help="list your visits, newest first, with site, unit and outcome")
    parser.add_argument("--site", metavar="WORDS", help="only visits whose site contains these words")
    add_json(parser, "the list as JSON")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Print the list; each row is a fold over its visit's facts."""
    from assistant.visit.record import build

    journal = open_journal()
    library = load_library()
    rows = []
    for row in journal.visits():
        record = build(row, journal.facts(row.id), library)
        if args.site and args.site.lower() not in record.site.lower():
            continue
        rows.append(
            {
                "visit": row.id,
                "opened_at": row.opened_at.isoformat(timespec="minutes"),
                "site": record.site,
                "unit": record.unit,
                "fault": record.fault,
                "outcome": record.outcome,
            }
        )
    if args.json:
        print(json.dumps(rows, indent=2, ensure_ascii=False))
        return 0
    if not rows:
        print("No visits yet. `ladderside replay recordings_synthetic/crossed-terminals` makes one.")
    for entry in rows:
        print(f"{entry['visit']:<14} {entry['opened_at'][11:]}  {entry['outcome']:<22} {entry['site'] or 'no site'}")
        print(f"{'':<14} {entry['unit']}{': ' + entry['fault'] if entry['fault'] else ''}")
    return 0
