"""The loop that a microphone and a recording share: frames → utterance → judged → dialogue → journal → voice.

It knows nothing of where frames come from or where speech goes. Time is the stream's own: frames counted.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from assistant.dialogue.turn import Turn
from assistant.hearing.endpointing import Endpointer, Paused, Started
from assistant.hearing.frames import Frame
from assistant.hearing.protocol import Utterance
from assistant.language.meaning import Command, Expectation, Heard
from assistant.speaking.voice import Speech, Voice
from assistant.visit.session import Session
from assistant.visit.transcript import Transcript

#: How much slower the voice goes after "slower".
SLOWER = 0.8


class StreamClock:
    """Seconds of sound taken in so far; a resumed visit goes on from ``offset_s``."""

    def __init__(self, offset_s: float = 0.0) -> None:
        self.offset_s = offset_s
        self.heard_s = 0.0

    def now_s(self) -> float:
        return self.offset_s + self.heard_s


class Ears(Protocol):
    """What the conversation needs of hearing (see ``hearing.two_ears``)."""

    def expect(self, expectation: Expectation) -> None: ...

    def judge(self, utterance: Utterance) -> Heard: ...

    def begin(self, utterance: Utterance) -> None:
        """Listen ahead: the utterance is probably over."""


class Conversation:
    """One visit by ear and voice. ``last`` is the newest judged utterance, ``seen`` counts them."""

    def __init__(
        self, session: Session, clock: StreamClock, ears: Ears, endpointer: Endpointer, voice: Voice, out: Transcript
    ) -> None:
        self.session = session
        self.clock = clock
        self.ears = ears
        self.endpointer = endpointer
        self.voice = voice
        self.out = out
        self.last: Heard | None = None
        self.seen = 0
        self._speeches: list[Speech] = []

    def run(self, frames: Iterable[Frame], first: Turn) -> None:
        """Lead the visit until it is closed or the frames end."""
        self._reply(first)
        for frame in frames:
            self.clock.heard_s = frame.end_s
            for event in self.endpointer.feed(frame):
                self._notice(event)
            self._let_time_pass()
            if self.session.closed and not self.speaking:
                return
        for event in self.endpointer.finish():
            self._notice(event)

    @property
    def speaking(self) -> bool:
        """True while a reply is being said."""
        self._speeches = [speech for speech in self._speeches if not speech.done]
        return bool(self._speeches)

    def _notice(self, event: Started | Paused | Utterance) -> None:
        if isinstance(event, Paused):
            self.ears.begin(event.utterance)
        elif isinstance(event, Utterance):
            self._hear(event)

    def _hear(self, utterance: Utterance) -> None:
        heard = self.ears.judge(utterance)
        if self.speaking and not _interrupts(heard):
            return  # our own voice in the microphone, or talk while a reply is being said
        self._hush()
        self.last = heard
        self.seen += 1
        if heard.trust == "sure":
            self.endpointer.learn(utterance)
        self._reply(self.session.hear(heard))

    def _hush(self) -> None:
        for speech in self._speeches:
            speech.stop()
        self._speeches = []

    def _let_time_pass(self) -> None:
        turn = self.session.tick()
        if turn is not None:
            self._reply(turn)

    def _reply(self, turn: Turn) -> None:
        """Prepare the ears for the answer, then speak; the journal already has every word."""
        self.out.turn(self.session, turn)
        self.ears.expect(self.session.expectation)
        self.voice.pace = SLOWER if turn.state.slower else 1.0
        self._speeches += [self.voice.say(reply.text) for reply in turn.replies]


def _interrupts(heard: Heard) -> bool:
    """What may break in on a reply: any request or answer that was understood beyond doubt."""
    if heard.trust == "sure":
        return True
    return isinstance(heard.meaning, Command) and heard.meaning.name in ("stop", "wait") and heard.trust != "again"
