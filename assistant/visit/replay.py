"""Plays a recorded visit, or any sound file, through the very conversation that a microphone has."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from assistant.dialogue.job_asking import plate_answers
from assistant.dialogue.state import VisitState
from assistant.hearing.sound.frames import Frame
from assistant.language.meaning import Finding, Reading, Text
from assistant.messages.catalogue import catalogue
from assistant.speaking.file_voice import FileVoice
from assistant.visit.conversation import Conversation
from assistant.visit.recording import RecordedVisit
from assistant.visit.responder import CONFIRM, Clip, Responder
from assistant.visit.room import Room, RoomFrames


class RecordedTechnician:
    """The other side of a replay: answers each question with the clip that the script has for it.

    It hears a reply to its end before it answers, as a person does: the room goes on that long. A FrameSource: the
    stream of its room, until the visit is closed or the script has no answer.
    """

    def __init__(self, visit: RecordedVisit, conversation: Conversation, voice: FileVoice) -> None:
        self.visit = visit
        self.responder = Responder(visit)
        self.complaint = ""
        self._conversation = conversation
        self._voice = voice
        self._listened_s = 0.0
        self._seen = 0

    def __iter__(self) -> Iterator[Frame]:
        yield from RoomFrames(Room.of(self.visit.room), self._next)

    def close(self) -> None:
        """Nothing is held open."""

    def _next(self) -> Clip | None:
        session = self._conversation.session
        if session.closed:
            return None
        said_s = self._voice.cues[-1].end_s if self._voice.cues else 0.0
        listening_s, self._listened_s = said_s - self._listened_s, said_s
        clip = self._answer(session.state, session.expectation.question)
        return replace(clip, wait_s=clip.wait_s + listening_s) if clip else None

    def _answer(self, state: VisitState, question: str) -> Clip | None:
        until = state.wait_until_s
        if until is not None and not any(turn.fits(question) for turn in self.visit.script.turns):
            return Clip(None, "", max(1.0, until - self._conversation.clock.now_s()))
        heard = self._conversation.last
        noticed, self._seen = self._conversation.seen > self._seen, self._conversation.seen
        understood = heard.meaning if heard is not None and noticed and heard.trust != "again" else None
        if question == CONFIRM and state.unconfirmed is not None:
            understood = state.unconfirmed.meaning
        library = self._conversation.session.context.library
        prompt = " ".join(catalogue().in_words(each, library) for each in state.spoken)
        clip = self.responder.reply(question, prompt, understood)
        if clip is None:
            self.complaint = self.responder.complaint
        return clip

    def differences(self) -> tuple[str, ...]:
        """Where the record differs from what the script truly meant; empty when they agree."""
        return self.responder.differences(counting_answers(self._conversation.session.state))


def counting_answers(state: VisitState) -> Sequence[tuple[str, Reading | Finding | Text]]:
    """The answers that count at the end of a visit, each with its question key; the plate's lengths among them."""
    pools = [result.answers for result in state.results] + ([state.run.answers] if state.run else [])
    counts = [g for pool in pools for g in pool if not g.replaced and g.how != "from the plate"]
    return [*plate_answers(state.job), *((f"{g.check}.{g.question}", g.answer) for g in counts)]


def is_visit(path: Path) -> bool:
    """Whether ``path`` is a recorded visit rather than a single sound file."""
    return path.is_dir()
