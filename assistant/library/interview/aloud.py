"""The interview by ear and voice: the same questions, answered while both hands hold the manual."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Protocol

from assistant.hearing.endpointing import Paused, Started
from assistant.hearing.frames import Frame
from assistant.hearing.protocol import Utterance
from assistant.language.meaning import Expectation, Heard
from assistant.library.interview.draft import Draft
from assistant.speaking.voice import Speech, Voice


class Listening(Protocol):
    """Frames in, utterances out."""

    def feed(self, frame: Frame) -> Iterable[Started | Paused | Utterance]: ...


class Ears(Protocol):
    """What is expected, and what an utterance meant."""

    def expect(self, expectation: Expectation) -> None: ...

    def judge(self, utterance: Utterance) -> Heard: ...


class Aloud:
    """One interview by voice; ``print_line`` shows what was said and heard."""

    def __init__(
        self, draft: Draft, ears: Ears, listening: Listening, voice: Voice, print_line: Callable[[str], None]
    ) -> None:
        self._draft = draft
        self._ears = ears
        self._listening = listening
        self._voice = voice
        self._print = print_line
        self._speeches: list[Speech] = []

    def run(self, frames: Iterable[Frame]) -> bool:
        """Ask until all is answered; False when the frames end before."""
        self._ask("")
        for frame in frames:
            for event in self._listening.feed(frame):
                if isinstance(event, Utterance):
                    self._hear(event)
            if self._draft.interview.step() is None:
                return True
        return False

    def _hear(self, utterance: Utterance) -> None:
        heard = self._ears.judge(utterance)
        self._speeches = [speech for speech in self._speeches if not speech.done]
        if self._speeches and heard.trust != "sure":
            return  # our own voice in the microphone
        for speech in self._speeches:
            speech.stop()
        self._print(f"  heard: {heard.words}")
        self._ask(self._draft.hear(heard))

    def _ask(self, reply: str) -> None:
        """Say the reply and the next question; after a doubtful answer the reply is the question."""
        interview = self._draft.interview
        step = interview.step()
        question = step.say if step is not None and interview.doubtful is None and step.say not in reply else ""
        self._ears.expect(interview.expectation)
        for text in (reply, question):
            if text:
                self._print(text)
                self._speeches.append(self._voice.say(text))
