"""``ladderside insights``: ready questions over exported visits, each as table, CSV and picture."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.commands.shared import add_json, office_needed
from assistant.printable import printable, short

if TYPE_CHECKING:
    from assistant.office.insights import Answer

#: As `assistant.office.insights` has them; here so that help needs no database.
NAMES = ("failing-parts", "first-checks", "repeat-visits", "refrigerant", "duties")
_LINES = 25


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "insights",
        help="ask exported visits: failing parts, first checks, repeat visits, refrigerant, duties",
        description="Answers ready questions over the Parquet files that `ladderside export --to` wrote: which parts "
        "fail on which model, which first checks paid off, repeat visits, refrigerant that left the circuit by site, "
        "duties that are due. --learn writes starting weights of the suspects, re-estimated from proved repairs, as a "
        "file for a person to review.",
    )
    parser.add_argument("folder", type=Path, metavar="FOLDER", help="what `ladderside export --to` wrote")
    parser.add_argument("question", nargs="*", choices=[*NAMES, []], metavar="QUESTION", help=", ".join(NAMES))
    parser.add_argument("--to", type=Path, metavar="FOLDER", help="also write each answer as CSV and SVG")
    parser.add_argument("--learn", type=Path, metavar="FILE", help="write re-estimated starting weights to FILE")
    add_json(parser, "the answers as JSON")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Answer, write, learn."""
    office_needed()
    from assistant.office.insights import Visits

    visits = Visits(args.folder)
    if args.learn is not None:
        _learn(visits.confirmed(), args.learn)
        if not (args.question or args.to or args.json):
            return 0
    answers = [visits.ask(name) for name in args.question or NAMES]
    if args.json:
        print(json.dumps([_plain(answer) for answer in answers], indent=2, ensure_ascii=False))
    else:
        for answer in answers:
            _print(answer)
    if args.to is not None:
        _write(answers, args.to)
    return 0


def _plain(answer: Answer) -> dict[str, Any]:
    return {
        "question": answer.name,
        "title": answer.title,
        "says": answer.picture.says,
        "rows": [dict(zip(answer.columns, row, strict=True)) for row in answer.rows],
    }


def _print(answer: Answer) -> None:
    shown = [tuple("" if cell is None else short(str(cell), 40) for cell in row) for row in answer.rows[:_LINES]]
    widths = [max(len(row[at]) for row in (answer.columns, *shown)) for at in range(len(answer.columns))]
    print(f"\n{answer.title}\n{printable(answer.picture.says)}")
    if shown:
        for row in (answer.columns, *shown):
            print(printable("  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()))
    if len(answer.rows) > _LINES:
        print(f"and {len(answer.rows) - _LINES} more; --to FOLDER writes all of them.")


def _write(answers: list[Answer], folder: Path) -> None:
    from assistant.data.files import write_whole
    from assistant.record.drawing import alone

    for answer in answers:
        write_whole(folder / f"{answer.name}.csv", answer.csv())
        print(folder / f"{answer.name}.csv")
        if answer.rows:
            write_whole(folder / f"{answer.name}.svg", alone(answer.picture))
            print(folder / f"{answer.name}.svg")


def _learn(confirmed: dict[str, int], file: Path) -> None:
    from assistant.commands.opened import load_library
    from assistant.data.files import write_whole
    from assistant.office.learning import learn, written

    library = load_library()
    learnt = learn({name: suspect.weight for name, suspect in library.suspects.items()}, confirmed)
    write_whole(file, written(learnt))
    print(f"{file}: {len(learnt.weights)} suspects from {learnt.repairs} proved repairs. It is used once reviewed.")
