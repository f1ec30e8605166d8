"""``ladderside type``: the same dialogue without ears, one utterance a line."""

from __future__ import annotations

import argparse
import select
import sys
from typing import TYPE_CHECKING, Any

from assistant.commands.opened import name_open_visits, open_journal, session_for
from assistant.commands.shared import add_json, add_resume, record_at_the_end
from assistant.errors import LaddersideError

if TYPE_CHECKING:
    from assistant.dialogue.turn import Turn
    from assistant.visit.session import Clock, Session
    from assistant.visit.transcript import Transcript

#: A wait at the keyboard is not silent for longer than this.
SIGN_OF_LIFE_S = 60.0


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "type",
        help="do a visit by keyboard, one utterance a line (also from a file or a pipe)",
        description="The same visit without ears: type what you would say, one utterance a line. "
        "A line that is a JSON object is taken for a tap on a screen (assistant/visit/screen/schema.json). "
        "End of input leaves the visit open; --resume goes on with it.",
    )
    parser.add_argument("--technician", default="", help="your name, for the record")
    parser.add_argument("--hurry", action="store_true", help="do not really wait: timed waits pass at once")
    add_resume(parser)
    add_json(parser, "one JSON object a turn instead of a transcript, with all that a screen shows")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Lead a visit over standard input and output."""
    from assistant.visit.session import RealClock
    from assistant.visit.transcript import Transcript

    clock = RealClock()
    journal = open_journal()
    if not args.resume:
        name_open_visits(journal)
    session, turn = session_for(args, "typed", clock, journal)
    transcript = Transcript(sys.stdout, args.json)
    transcript.turn(session, turn)
    prompt = sys.stdin.isatty() and not args.json
    with record_at_the_end(session, args, transcript):
        trouble = _lead(session, clock, transcript, args.hurry, prompt)
        if trouble is not None:
            raise trouble
    return 0


def _lead(session: Session, clock: Clock, transcript: Transcript, hurry: bool, prompt: bool) -> LaddersideError | None:
    """Until the visit is closed or the input ends; the trouble that it ended in, if it did.

    What cannot be written down is told with the caution of the present state, and the next line is tried again.
    """
    from assistant.visit.journal import Overtaken
    from assistant.visit.trouble import reason, told

    trouble: LaddersideError | None = None
    while not session.closed:
        try:
            if hurry and session.state.wait_until_s is not None:
                clock.offset_s += max(0.0, session.state.wait_until_s - clock.now_s())
            waited = None if trouble else session.tick()
            if waited is not None:
                transcript.turn(session, waited)
                continue
            if prompt and session.state.wait_until_s is not None and not comes(session, transcript):
                continue
            line = _read(prompt)
            if line is None:
                break
            if line.strip():
                transcript.turn(session, _take(session, line.strip()))
                trouble = None
        except Overtaken:
            raise
        except LaddersideError as error:
            trouble = error
            transcript.trouble(str(error), [reply.text for reply in told(reason(error), session.state)[1:2]])
    return trouble


def _take(session: Session, line: str) -> Turn:
    """What was typed, or tapped on a screen: a line that is a JSON object."""
    from assistant.visit.screen import read_tap

    return session.tap(read_tap(line)) if line.startswith("{") else session.type(line)


def comes(session: Session, transcript: Transcript) -> bool:
    """Waits for a line while a wait goes on, with a sign of life each minute; false when the wait is over first."""
    from assistant.dialogue.waiting import sign_of_life
    from assistant.messages.catalogue import catalogue

    while True:
        until_s = session.state.wait_until_s or 0.0
        if select.select([sys.stdin], [], [], max(0.0, min(SIGN_OF_LIFE_S, until_s - session.clock.now_s())))[0]:
            return True
        said = sign_of_life(session.state, session.clock.now_s())
        if said is None:
            return session.state.held
        transcript.remark(catalogue().words(said, session.context.library))


def _read(prompt: bool) -> str | None:
    """The next line, or None at the end of input."""
    try:
        return input("> ") if prompt else _line()
    except EOFError:
        return None


def _line() -> str | None:
    line = sys.stdin.readline()
    return line if line else None
