"""A piece of a recorded visit to listen to: both sides, in the order in which they were said.

The visit is really replayed (ears, dialogue, voice); the waits in between are left out.
"""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np
import soundfile
import soxr

from assistant.errors import LaddersideError
from assistant.hearing.listening.late import LateEars
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.endpointing import Endpointer
from assistant.hearing.sound.files import load
from assistant.language.meaning import Meaning
from assistant.library.loader import load as load_library
from assistant.speaking.file_voice import FileVoice
from assistant.visit import recording
from assistant.visit.clocks import StreamClock
from assistant.visit.conversation import Conversation
from assistant.visit.journal import Journal
from assistant.visit.replay import RecordedTechnician
from assistant.visit.responder import Clip, Responder
from assistant.visit.session import Knowledgeable, Session
from assistant.visit.transcript import Transcript

_GAP_S = 0.4


class ListeningError(LaddersideError):
    """The visit does not come to the question that was to be listened to."""


@dataclass
class _Event:
    """What was heard: ``question`` that was open, the replies said before it (first and last), and the clip."""

    question: str
    replies: tuple[int, int]
    clip: Path | None


class _Listened(Responder):
    """A technician whose answers are kept; it leaves two answers after the last of ``until``."""

    def __init__(self, visit: recording.RecordedVisit, voice: FileVoice, until: str) -> None:
        super().__init__(visit)
        self.events: list[_Event] = []
        self._voice, self._until, self._after = voice, until, 0

    def reply(self, question: str, prompt_text: str, understood: Meaning | None) -> Clip | None:
        clip = super().reply(question, prompt_text, understood) if self._after < 2 else None
        said = self.events[-1].replies[1] if self.events else 0
        self.events.append(_Event(question, (said, len(self._voice.cues)), clip.path if clip else None))
        seen = any(event.question == self._until for event in self.events)
        self._after += seen and question != self._until
        return clip


def make(folder: Path, question: str, file: Path) -> float:
    """Writes the piece around ``question`` of the visit in ``folder`` to ``file`` (.mp3, .ogg, .flac); its seconds.

    It begins with the reply that asks the question and ends with the one after the answer was judged.
    Raises ListeningError when the visit does not come to it.
    """
    visit = recording.load(folder)
    with tempfile.TemporaryDirectory() as work:
        clock, voice = StreamClock(), FileVoice(Path(work) / "replies.flac")
        journal = Journal(Path(work) / "journal.sqlite")
        session = Session.begin(Knowledgeable(load_library()), journal, clock, "replay", datetime(2026, 3, 4, 9, 0))
        with (Path(work) / "transcript.txt").open("w", encoding="utf-8") as out:
            conversation = Conversation(session, clock, LateEars(), Endpointer(), voice, Transcript(out))
            technician = RecordedTechnician(visit, conversation, voice)
            technician.responder = listened = _Listened(visit, voice, question)
            conversation.run(technician, session.open())
        voice.close()
        journal.close()
        sound, rate = soundfile.read(voice.path, dtype="float32")
        replies = soxr.resample(sound, rate, SAMPLE_RATE)
        at = [index for index, event in enumerate(listened.events) if event.question == question]
        if not at:
            raise ListeningError(f"{folder} does not come to {question}.")
        pieces: list[Audio] = []
        for event in listened.events[at[0] : at[-1] + 2]:
            for cue in voice.cues[slice(*event.replies)]:
                pieces += [replies[round(cue.start_s * SAMPLE_RATE) : round(cue.end_s * SAMPLE_RATE)], _gap()]
            if event.clip is not None and event is not listened.events[at[-1] + 1]:
                pieces += [load(event.clip), _gap()]
        whole = np.concatenate(pieces)
    soundfile.write(file, whole, SAMPLE_RATE)
    return len(whole) / SAMPLE_RATE


def _gap() -> Audio:
    return np.zeros(round(_GAP_S * SAMPLE_RATE), np.float32)
