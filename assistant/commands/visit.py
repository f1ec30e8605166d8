"""``ladderside visit``: a visit by microphone and loudspeaker."""

from __future__ import annotations

import argparse
import contextlib
import sys
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from assistant.commands.opened import name_open_visits, open_journal, session_for
from assistant.commands.shared import (
    add_ear,
    add_json,
    add_keep_audio,
    add_resume,
    devices,
    keeper,
    record_at_the_end,
    remember_devices,
)

if TYPE_CHECKING:
    from assistant.commands.watch import Alive
    from assistant.hearing.sound.frames import Frame
    from assistant.visit.button import Button
    from assistant.visit.conversation import Conversation

#: How often the battery is looked at, seconds.
_LOOK_AT_BATTERY_S = 30.0


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
    parser.add_argument(
        "--signs",
        action="store_true",
        help="short sounds: two notes up, it listens; one, it has heard; three down, it has not",
    )
    add_ear(parser)
    add_keep_audio(parser)
    add_resume(parser)
    add_json(parser, "one JSON object a turn instead of a transcript")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Lead a live visit, in a child process that is watched."""
    from assistant.commands.watch import watched

    return watched(lambda alive, again: _lead(args, alive, again))


def _lead(args: argparse.Namespace, alive: Alive, again: bool) -> int:
    """Lead it here; ``again``: it crashed, so go on with it."""
    from assistant.hearing.listening.late import LateEars
    from assistant.hearing.listening.watched import WatchedEars

    ears = WatchedEars(lambda: LateEars(args.ear), _ears_failed, slow=lambda: conversation.thinking())

    from assistant.hearing.sound.barge_in import HearingThrough, PlayedSound
    from assistant.hearing.sound.endpointing import Endpointer
    from assistant.hearing.sound.microphone import Microphone
    from assistant.speaking.loudspeaker import LoudspeakerVoice
    from assistant.visit.attention import Mode
    from assistant.visit.awake import Awake
    from assistant.visit.button import Button
    from assistant.visit.clocks import LiveClock
    from assistant.visit.conversation import Conversation
    from assistant.visit.enduring import EnduringMicrophone
    from assistant.visit.transcript import Transcript

    if again:
        args.resume = "latest"
    transcript = Transcript(sys.stdout, args.json)
    played, clock = PlayedSound(), LiveClock()
    in_device, out_device = devices(args)
    microphone = EnduringMicrophone(
        lambda: Microphone(in_device), lambda what: conversation.lost(what), lambda: conversation.back()
    )
    with contextlib.closing(microphone), Button() as button, Awake():
        _need_button(args, button)
        with contextlib.closing(LoudspeakerVoice(out_device, heard_by=played.put)) as voice:
            remember_devices(args)
            ears.ensure()
            journal = open_journal()
            left_open = None if args.resume else name_open_visits(journal)
            session, first = session_for(args, "microphone", clock, journal)
            conversation = Conversation(
                session, clock, ears, Endpointer(), voice, transcript, Mode(args.listen), ears.is_call
            )
            conversation.signs = args.signs
            if left_open is not None:
                conversation.remark(left_open)
            conversation.keeper = keeper(args, session.visit, conversation.remark)
            heard = HearingThrough(microphone, played, ears.cry, conversation.cried)
            frames = _watching(voice.looked_after(heard, conversation.mute), button, conversation, alive)
            with record_at_the_end(session, args, transcript):
                conversation.run(frames, first)
    return 0


def _ears_failed(what: str) -> None:
    """While its exception is handled."""
    from assistant.data.defects import note_defect

    print(f"  ·  {what}; they are made anew, and details are in {note_defect()}", file=sys.stderr, flush=True)


def _watching(frames: Iterable[Frame], button: Button, conversation: Conversation, alive: Alive) -> Iterator[Frame]:
    """The frames, with a look at button and battery between them; the watcher is told that all goes on."""
    from assistant.visit.awake import Battery
    from assistant.visit.trouble import BATTERY_LOW

    battery, looked_s = Battery(), 0.0
    for frame in frames:
        alive.tell()
        if button.pressed(frame.start_s):
            conversation.pressed()
        if frame.start_s >= looked_s + _LOOK_AT_BATTERY_S:
            looked_s = frame.start_s
            if battery.runs_low():
                conversation.remark(BATTERY_LOW)
        yield frame


def _need_button(args: argparse.Namespace, button: Button) -> None:
    from assistant.visit.button import NoButton

    if args.listen == "button" and not button.there:
        raise NoButton(
            "There is no keyboard to press: the visit was not started from a terminal. "
            "Start it from one, or use --listen phrase."
        )
