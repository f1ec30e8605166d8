"""``ladderside replay``: a recorded visit, or any sound file, through the path that the microphone uses."""

from __future__ import annotations

import argparse
import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.commands.opened import open_journal, session_for
from assistant.commands.shared import add_ear, add_json, add_keep_audio, add_to, keeper, record_at_the_end
from assistant.errors import LaddersideError

if TYPE_CHECKING:
    from assistant.speaking.voice import Voice


class ReplayError(LaddersideError):
    """The recording and the visit did not fit together."""


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "replay",
        help="play a recorded visit and hear, see and keep what comes of it; no microphone needed",
        description="Plays a recorded visit (a folder with script.yaml) or one sound file, split where the speaker "
        "pauses, through exactly what the microphone goes through. Replies are spoken into replies.flac beside the "
        "record, or into the air with --loudspeaker.",
    )
    parser.add_argument("recording", type=Path, help="a folder such as recordings_synthetic/..., or a sound file")
    parser.add_argument("--technician", default="", help="your name, for the record")
    parser.add_argument("--loudspeaker", action="store_true", help="also speak the replies into the air")
    add_ear(parser)
    add_keep_audio(parser)
    add_to(parser)
    add_json(parser, "one JSON object a turn instead of a transcript")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Replay, write the record, and compare it with the script where there is one."""
    from assistant.hearing.listening.late import LateEars

    ears = LateEars(args.ear)

    from assistant.hearing.sound.barge_in import HearingThrough, PlayedSound
    from assistant.hearing.sound.endpointing import Endpointer
    from assistant.hearing.sound.files import FileFrames
    from assistant.messages.catalogue import catalogue
    from assistant.speaking.file_voice import FileVoice
    from assistant.visit import recording
    from assistant.visit.clocks import StreamClock
    from assistant.visit.conversation import Conversation
    from assistant.visit.paths import record_folder
    from assistant.visit.replay import RecordedTechnician, is_visit
    from assistant.visit.transcript import Transcript

    visit = recording.load(args.recording) if is_visit(args.recording) else None
    file = None if visit else FileFrames(args.recording)
    transcript = Transcript(sys.stdout, args.json)
    clock = StreamClock()
    opened_at = visit.script.start.at if visit and visit.script.start.at else datetime.now()
    args.technician = args.technician or (visit.script.start.technician if visit else "")
    journal = open_journal()
    ears.ensure()
    session, first = session_for(args, "replay", clock, journal, opened_at)
    folder = args.to or record_folder(session.visit)
    voice = FileVoice(folder / "replies.flac")
    spoken = _aloud_too(voice) if args.loudspeaker else voice
    conversation = Conversation(session, clock, ears, Endpointer(), spoken, transcript, endures=False)
    conversation.keeper = keeper(args, session.visit, lambda what: transcript.remark(catalogue().words(what, None)))
    technician = RecordedTechnician(visit, conversation, voice) if visit else None
    source = technician or file
    assert source is not None
    args.to = folder
    with record_at_the_end(session, args, transcript, (voice.path,)):
        try:
            # Nothing of a recording is played beside it, so nothing is taken out; but it goes the same way.
            conversation.run(HearingThrough(source, PlayedSound(), ears.cry, conversation.cried), first)
        finally:
            spoken.close()
    if voice.trouble is not None:
        raise voice.trouble
    return _compare(technician, transcript) if technician else 0


def _aloud_too(voice: Voice) -> Voice:
    from assistant.speaking.loudspeaker import LoudspeakerVoice
    from assistant.speaking.voice import VoiceToo

    return VoiceToo(voice, LoudspeakerVoice())


def _compare(technician: Any, transcript: Any) -> int:
    """Say whether the record is what the script meant."""
    if technician.complaint:
        raise ReplayError(technician.complaint)
    differences = technician.differences()
    if differences:
        raise ReplayError(" ".join(differences))
    transcript.remark("Every reading in the record is the one that the script meant.")
    return 0
