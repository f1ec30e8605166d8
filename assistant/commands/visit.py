"""``ladderside visit``: a visit by microphone and loudspeaker."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from assistant.commands.shared import (
    add_ear,
    add_json,
    add_resume,
    device,
    open_journal,
    record_at_the_end,
    session_for,
)

if TYPE_CHECKING:
    from assistant.hearing.sound.frames import Frame
    from assistant.visit.button import Button
    from assistant.visit.conversation import Conversation


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "visit",
        help="do a visit by voice: speak your readings, hear what they mean and what comes next",
        description="A visit by microphone and loudspeaker. Say stop or wait at any time, also while the assistant "
        "talks: it is silent at once, and nothing that you say to the customer is taken for an answer until you say "
        "carry on. Say finish at the end. Nothing is lost when it is cut short: --resume goes on at the same question.",
    )
    parser.add_argument("--technician", default="", help="your name, for the record")
    parser.add_argument(
        "--listen",
        choices=("always", "button", "phrase"),
        default="always",
        help="when what you say is for the assistant. always (default): whatever you say. button: the next thing said "
        "after you press a key of the keyboard, or of a headset or foot pedal that types one. phrase: after you say "
        "“listen ladder” and hear “yes?”, until the talk pauses for 15 seconds. Stop and wait are always heard; with "
        "always, any key is the same as wait, and pressed again as carry on",
    )
    parser.add_argument("--microphone", metavar="DEVICE", help="name or number of the microphone to use")
    parser.add_argument("--loudspeaker", metavar="DEVICE", help="name or number of the loudspeaker")
    add_ear(parser)
    add_resume(parser)
    add_json(parser, "one JSON object a turn instead of a transcript")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Lead a live visit."""
    from assistant.hearing.listening.late import LateEars

    ears = LateEars(args.ear)

    from assistant.hearing.sound.barge_in import HearingThrough, PlayedSound
    from assistant.hearing.sound.endpointing import Endpointer
    from assistant.hearing.sound.microphone import Microphone
    from assistant.speaking.loudspeaker import LoudspeakerVoice
    from assistant.visit.attention import Mode
    from assistant.visit.button import Button
    from assistant.visit.conversation import Conversation, StreamClock
    from assistant.visit.transcript import Transcript

    transcript = Transcript(sys.stdout, args.json)
    played, clock = PlayedSound(), StreamClock()
    with Microphone(device(args.microphone)) as microphone, Button() as button:
        _need_button(args, button)
        voice = LoudspeakerVoice(device(args.loudspeaker), heard_by=played.put)
        try:
            ears.ensure()
            session, first = session_for(args, "microphone", clock, open_journal())
            conversation = Conversation(
                session, clock, ears, Endpointer(), voice, transcript, Mode(args.listen), ears.is_call
            )
            frames = HearingThrough(microphone, played, ears.cry, conversation.cried)
            with record_at_the_end(session, args, transcript):
                conversation.run(_watching(voice.looked_after(frames), button, conversation), first)
        finally:
            voice.close()
    return 0


def _watching(frames: Iterable[Frame], button: Button, conversation: Conversation) -> Iterator[Frame]:
    """The frames, with a look at the button between them."""
    for frame in frames:
        if button.pressed(frame.start_s):
            conversation.pressed()
        yield frame


def _need_button(args: argparse.Namespace, button: Button) -> None:
    from assistant.visit.button import NoButton

    if args.listen == "button" and not button.there:
        raise NoButton(
            "There is no keyboard to press: the visit was not started from a terminal. "
            "Start it from one, or use --listen phrase."
        )
