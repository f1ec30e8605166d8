"""``ladderside type``: the same dialogue without ears, one utterance a line."""

from __future__ import annotations

import argparse
import sys
from typing import Any

from assistant.commands.shared import add_json, add_resume, session_for, write_record


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "type",
        help="do a visit by keyboard, one utterance a line (also from a file or a pipe)",
        description="The same visit without ears: type what you would say, one utterance a line. "
        "End of input leaves the visit open; --resume goes on with it.",
    )
    parser.add_argument("--technician", default="", help="your name, for the record")
    parser.add_argument("--hurry", action="store_true", help="do not really wait: timed waits pass at once")
    add_resume(parser)
    add_json(parser, "one JSON object a turn instead of a transcript")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Lead a visit over standard input and output."""
    from assistant.visit.session import RealClock
    from assistant.visit.transcript import Transcript

    clock = RealClock()
    session, turn = session_for(args, "typed", clock)
    transcript = Transcript(sys.stdout, args.json)
    transcript.turn(session, turn)
    prompt = sys.stdin.isatty() and not args.json
    while not session.closed:
        if args.hurry and session.state.wait_until_s is not None:
            clock.offset_s += max(0.0, session.state.wait_until_s - clock.now_s())
        waited = session.tick()
        if waited is not None:
            transcript.turn(session, waited)
            continue
        line = _read(prompt)
        if line is None:
            break
        if line.strip():
            transcript.turn(session, session.type(line.strip()))
    write_record(session, args, transcript)
    return 0


def _read(prompt: bool) -> str | None:
    """The next line, or None at the end of input."""
    try:
        return input("> ") if prompt else _line()
    except EOFError:
        return None


def _line() -> str | None:
    line = sys.stdin.readline()
    return line if line else None
