"""``ladderside words``: everything that a person may say, a page a subject."""

from __future__ import annotations

import argparse
import json
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from assistant.commands.shared import add_json

if TYPE_CHECKING:
    from assistant.dialogue.sayable import Page


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "words",
        help="everything that can be said, printable, a page a subject",
        description="Prints what can be said: requests, what is understood at any time, symptoms, and for each system "
        "the questions of its checks with their answers. These are examples: ordinary words are understood too. "
        "Form feeds stand between the pages, so that a printer begins each on a new sheet.",
    )
    parser.add_argument("subject", nargs="*", metavar="SUBJECT", help="only this page, as in: ladderside words sensors")
    add_json(parser, "the pages as JSON")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Print the pages. Raises WordsError for a subject that there is not."""
    from assistant.dialogue.sayable import pages
    from assistant.library.loader import load

    chosen = _chosen(pages(load()), " ".join(args.subject).lower())
    if args.json:
        print(json.dumps([asdict(page) for page in chosen], indent=1, ensure_ascii=False))
    else:
        print("\f\n".join(_page(page) for page in chosen))
    return 0


def _chosen(found: tuple[Page, ...], subject: str) -> tuple[Page, ...]:
    from assistant.errors import LaddersideError

    if not subject:
        return found
    chosen = tuple(page for page in found if subject.replace("-", " ") in page.subject)
    if not chosen:
        raise LaddersideError(f"There is no page “{subject}”; choose one of {', '.join(p.subject for p in found)}.")
    return chosen


def _page(page: Page) -> str:
    lines = [page.subject.upper(), ""]
    before = ""
    for line in page.lines:
        if line.what != before:
            lines.append(line.what)
            before = line.what
        lines.append("    " + " · ".join(line.say))
    return "\n".join(lines)
