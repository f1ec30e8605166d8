"""``ladderside export``: visits to the office, as Parquet files or into a database; again and again, never twice."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from assistant.commands.shared import office_needed
from assistant.errors import LaddersideError


class _Database(argparse.Action):
    """A database over a network needs the network, which only this asks for."""

    def __call__(self, parser: Any, namespace: argparse.Namespace, values: Any, option: str | None = None) -> None:
        setattr(namespace, self.dest, values)
        namespace.network = not str(values).startswith("sqlite")


class ExportError(LaddersideError):
    """Nothing was said to export to."""


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "export",
        help="your visits to the office: Parquet files, or a database",
        description="Writes every visit of your journal where the office reads it: --to a folder of Parquet files, or "
        "--database an SQLite file or a PostgreSQL server (its address as SQLAlchemy writes it). Many devices may "
        "export to the same place; the same command again writes only what is new, and goes on where it was cut short. "
        "With both, what the database holds of all devices is written to the folder.",
    )
    parser.add_argument("--to", type=Path, metavar="FOLDER", help="folder of Parquet files")
    parser.add_argument("--database", action=_Database, metavar="URL", help="sqlite:///office.sqlite, postgresql://...")
    parser.add_argument("--device", default="", metavar="NAME", help="this device's name (default: drawn once, kept)")
    parser.add_argument(
        "--journal", type=Path, metavar="FILE", help="another journal than yours: a backup, a colleague's"
    )
    parser.set_defaults(func=run, network=False)


def run(args: argparse.Namespace) -> int:
    """Export and say how much was new."""
    if args.to is None and args.database is None:
        raise ExportError("Say where to: --to FOLDER for Parquet files, --database URL for a database.")
    office_needed()
    from assistant.office import database, parquet
    from assistant.office.device import device_name
    from assistant.visit.paths import journal_path

    journal, device = args.journal or journal_path(), device_name(args.device)
    if args.database is not None:
        engine = database.opened(args.database)
        new, old = database.write(engine, journal, device, _told)
        print(f"{_visits(new)} of {device} written to the database; {old} there already.")
        if args.to is not None:
            print(f"{_visits(parquet.from_database(args.to, engine))} of all devices written to {args.to}.")
        return 0
    new, old = parquet.write(args.to, journal, device, _told)
    print(f"{_visits(new)} of {device} written to {args.to}; {old} there already.")
    return 0


def _told(done: int, of: int) -> None:
    if sys.stderr.isatty():
        print(f"\r{done} of {of} visits", end="\n" if done == of else "", file=sys.stderr)


def _visits(number: int) -> str:
    return "1 visit" if number == 1 else f"{number} visits"
