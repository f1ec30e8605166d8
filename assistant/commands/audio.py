"""``ladderside audio``: the sound of what was said, where it was kept, and its end."""

from __future__ import annotations

import argparse
import dataclasses
import json
from typing import Any

from assistant.commands.shared import add_json, days
from assistant.errors import LaddersideError


class CannotDelete(LaddersideError):
    """A sound file that cannot be deleted."""


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "audio",
        help="list the sound kept with --keep-audio, or delete it",
        description="Lists the visits whose sound is kept, how much it is and when it is deleted by itself. Nothing "
        "is kept unless a visit was begun with --keep-audio.",
    )
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--delete", metavar="VISIT", help="delete the sound of this visit; its record stays")
    which.add_argument("--delete-all", action="store_true", help="delete all sound")
    which.add_argument(
        "--older-than", type=days, metavar="DAYS", help="delete the sound that is older than so many days"
    )
    add_json(parser, "the list as JSON")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Delete what was named, then list what is left."""
    from assistant.visit import sounds

    if args.delete or args.delete_all or args.older_than:
        try:
            number = sounds.forget(args.delete, args.older_than or 0)
        except OSError as error:
            raise CannotDelete(f"The sound cannot be deleted ({error}); look at the rights of its folder.") from None
        if not args.json:
            print(f"Sound deleted: {_lines(number)}. `ladderside record VISIT` writes a page without links to it.")
    left = sounds.kept()
    if args.json:
        rows = [dataclasses.asdict(each) | {"until": each.until.isoformat(timespec="minutes")} for each in left]
        print(json.dumps(rows, indent=2))
        return 0
    for each in left:
        size = f"{each.bytes / 1e6:.1f} MB"
        print(f"{each.visit:<14} {_lines(each.lines):<14} {size:>9}  until {each.until:%Y-%m-%d}")
    if not left:
        print("No sound is kept. `ladderside visit --keep-audio` keeps that of a visit.")
    return 0


def _lines(number: int) -> str:
    return "1 utterance" if number == 1 else f"{number} utterances"
