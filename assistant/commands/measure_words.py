"""``ladderside measure-words``: how well sentences are understood."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.commands.measure_hearing import add_place, place_of
from assistant.commands.shared import add_json

if TYPE_CHECKING:
    from assistant.language.measuring import Tally
    from assistant.language.net import Net
    from assistant.library.loader import Library


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "measure-words",
        help="how well sentences of a table are understood, as if they had been heard perfectly",
        description="FILE is a table with tabs: sentence, state (the key of the question that is open, or any), "
        "meaning and kind; or a folder that holds such a table, sentences.tsv, and its lines spoken, which are then "
        "heard first. Prints by kind what was right at once, right after one question, wrong at once, asked "
        "about wrongly, and not understood.",
    )
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="tables of sentences, or one folder")
    parser.add_argument("--ear", default="all", metavar="NAME", help="who hears a folder: as in visit")
    add_place(parser)
    parser.add_argument("--missed", action="store_true", help="also list what was not right at once")
    parser.add_argument("--without-net", action="store_true", help="the grammar and the vocabulary alone")
    add_json(parser, "one JSON object instead of a table")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Measure and print."""
    from assistant.dialogue.measuring import measured
    from assistant.language.net import KnowsNothing, default_net
    from assistant.library.loader import load

    gone: list[str] = []
    net = KnowsNothing() if args.without_net else default_net()
    library, spoken = load(), args.files[0].is_dir()
    tallies = _spoken(args, library, net, gone) if spoken else measured(args.files, library, net, gone)
    if gone:
        print(f"{len(gone)} lines are about questions or answers that the knowledge has no more.", file=sys.stderr)
    print(json.dumps(_as_json(tallies), indent=1, ensure_ascii=False) if args.json else _page(tallies, args.missed))
    return 0


def _spoken(args: argparse.Namespace, library: Library, net: Net, gone: list[str]) -> dict[str, Tally]:
    from assistant.commands.spoken_words import ByEar
    from assistant.dialogue.measuring import measured_by
    from assistant.hearing.listening.default import default_ears
    from assistant.language.corpus import CorpusError

    folder, *others = args.files
    if others:
        raise CorpusError(f"{folder} is a folder of spoken sentences; measure {others[0]} by another call.")
    by_ear = ByEar(folder, default_ears(args.ear), place_of(args), net)
    return measured_by(by_ear, [by_ear.table], library, gone)


def _as_json(tallies: dict[str, Tally]) -> dict[str, Any]:
    return {kind: {"sentences": tally.sentences, **tally.counts} for kind, tally in tallies.items()}


def _page(tallies: dict[str, Tally], missed: bool) -> str:
    from assistant.language.measuring import OUTCOMES

    lines = [f"{'kind':<14}{'said':>6}" + "".join(f"{one:>16}" for one in OUTCOMES)]
    for kind, tally in tallies.items():
        cells = "".join(f"{tally.counts[one]:>7}{100 * tally.share(one):>7.1f} %" for one in OUTCOMES)
        lines.append(f"{kind:<14}{tally.sentences:>6}{cells}")
    if missed:
        for tally in tallies.values():
            for outcome, row, understood in tally.missed:
                told = ", ".join(_told(one) for one in (understood.options or (understood.meaning,)))
                heard = "" if understood.words == row.sentence else f" [{understood.words}]"
                lines.append(f"{outcome}: line {row.line}, {row.state}: “{row.sentence}”{heard}: {told}")
    return "\n".join(lines)


def _told(meaning: Any) -> str:
    """A meaning in short, for the eye of who tunes it."""
    return "nothing" if meaning is None else str(meaning)
