"""``ladderside visits``: the visits in the journal."""

from __future__ import annotations

import argparse
import contextlib
import json
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from assistant.commands.opened import load_library, read_journal, tell_notices
from assistant.commands.shared import add_json
from assistant.printable import printable

if TYPE_CHECKING:
    from assistant.visit.reading import JournalReader, VisitRow
    from assistant.visit.standing import Standing

#: So many visits without a kept standing are a while's work, and are told.
_MANY = 100


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser("visits", help="list your visits, newest first, with site, unit and outcome")
    parser.add_argument("--site", metavar="WORDS", help="only visits whose site contains these words")
    add_json(parser, "the list as JSON")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Print the list."""
    journal = read_journal()
    rows: list[dict[str, Any]] = [
        {
            "visit": row.id,
            "opened_at": row.opened_at.isoformat(timespec="minutes"),
            "site": stands.site,
            "unit": stands.unit,
            "fault": stands.fault,
            "outcome": stands.outcome,
            "energy": stands.energy,
            "left": list(stands.left) or _left_before(stands),
        }
        for row, stands in _standing(journal)
        if not args.site or args.site.lower() in stands.site.lower()
    ]
    if args.json:
        print(json.dumps(rows, indent=2, ensure_ascii=False))
        return 0
    if not rows:
        print("No visits yet. `ladderside replay recordings_synthetic/crossed-terminals` makes one.")
    for entry in rows:
        on = ", power is on" if entry["outcome"] == "open" and entry["energy"] == "live" else ""
        head = f"{entry['visit']:<14} {entry['opened_at'][11:]}  {entry['outcome'] + on:<22} "
        print(printable(head + (entry["site"] or "no site")))
        for sentence in entry["left"]:
            print(printable(f"{'':<14} {sentence}"))
        print(printable(f"{'':<14} {entry['unit']}{': ' + entry['fault'] if entry['fault'] else ''}"))
    return 0


def _left_before(stands: Standing) -> list[str]:
    """How a unit was left, of a visit whose standing was kept by an earlier version."""
    return [] if stands.energy == "live" else [f"Left {stands.energy.replace('-', ' ')}."]


def _standing(journal: JournalReader) -> Iterator[tuple[VisitRow, Standing]]:
    """Each visit and where it stands. What an earlier version did not keep is computed, once where that can be kept."""
    rows = journal.visits()
    bare = [row for row in rows if row.standing is None]
    computed = dict(_computed(journal, bare)) if bare else {}
    for row in rows:
        yield row, row.standing or computed[row.id]


def _computed(journal: JournalReader, rows: list[VisitRow]) -> Iterator[tuple[str, Standing]]:
    from assistant.dialogue.evolve import fold
    from assistant.errors import LaddersideError
    from assistant.visit.journal import Journal
    from assistant.visit.standing import standing

    library = load_library()
    try:
        keeping = Journal(journal.path)
    except LaddersideError:  # a folder that cannot be written: then every time
        keeping = None
    for number, row in enumerate(rows, start=1):
        if len(rows) > _MANY and number % _MANY == 0:
            print(f"Looking through {number} of {len(rows)} visits, once ...", file=sys.stderr)
        stands = standing(fold(item.fact for item in journal.facts(row.id)), library)
        with contextlib.suppress(LaddersideError):
            if keeping is not None:
                keeping.keep_standing(row.id, stands)
        yield row.id, stands
    tell_notices(journal)
