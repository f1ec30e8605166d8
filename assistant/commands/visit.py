"""``ladderside visit``: a visit by microphone and loudspeaker."""

from __future__ import annotations

import argparse
import sys
from typing import Any

from assistant.commands.shared import add_ear, add_json, add_resume, device, open_journal, session_for, write_record


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "visit",
        help="do a visit by voice: speak your readings, hear what they mean and what comes next",
        description="A visit by microphone and loudspeaker. Say wait or stop at any time, and finish at the end. "
        "Nothing is lost when it is cut short: --resume goes on at the same question.",
    )
    parser.add_argument("--technician", default="", help="your name, for the record")
    parser.add_argument("--microphone", metavar="DEVICE", help="name or number of the microphone to use")
    parser.add_argument("--loudspeaker", metavar="DEVICE", help="name or number of the loudspeaker")
    add_ear(parser)
    add_resume(parser)
    add_json(parser, "one JSON object a turn instead of a transcript")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Lead a live visit."""
    from assistant.hearing.default import default_ears
    from assistant.hearing.endpointing import Endpointer
    from assistant.hearing.microphone import Microphone
    from assistant.speaking.loudspeaker import LoudspeakerVoice
    from assistant.visit.conversation import Conversation, StreamClock
    from assistant.visit.transcript import Transcript

    transcript = Transcript(sys.stdout, args.json)
    with Microphone(device(args.microphone)) as microphone:
        voice = LoudspeakerVoice(device(args.loudspeaker))
        clock = StreamClock()
        ears = default_ears(args.ear)
        session, first = session_for(args, "microphone", clock, open_journal())
        conversation = Conversation(session, clock, ears, Endpointer(), voice, transcript)
        try:
            conversation.run(microphone, first)
        finally:
            voice.close()
            write_record(session, args, transcript)
    return 0
