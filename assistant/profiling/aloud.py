"""The interview by ear and voice: the same questions, answered while both hands hold the manual."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Protocol

from assistant.hearing.sound.audio import Utterance
from assistant.hearing.sound.endpointing import Paused, Started
from assistant.hearing.sound.frames import Frame
from assistant.language.meaning import Expectation, Heard
from assistant.profiling.draft import Draft
from assistant.speaking.own_words import OwnWords
from assistant.speaking.voice import Speech, Voice

#: A room rings on for so long.
_RING_S = 0.5


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
        self._own = OwnWords()
        self._until_s = float("-inf")

    def run(self, frames: Iterable[Frame]) -> bool:
        """Ask until all is answered; False when the frames end before."""
        self._ask("")
        for frame in frames:
            if frame.over_reply or self._speaking:
                self._until_s = frame.end_s
            for event in self._listening.feed(frame):
                if isinstance(event, Utterance):
                    self._hear(event)
            if self._draft.interview.step() is None:
                return True
        return False

    def _hear(self, utterance: Utterance) -> None:
        heard = self._ears.judge(utterance)
        if self._is_own_voice(utterance, heard):
            return
        for speech in self._speeches:
            speech.stop()
        self._print(f"  heard: {heard.words}")
        self._ask(self._draft.hear(heard))

    @property
    def _speaking(self) -> bool:
        self._speeches = [speech for speech in self._speeches if not speech.done]
        return bool(self._speeches)

    def _is_own_voice(self, utterance: Utterance, heard: Heard) -> bool:
        """Whether this may be an echo: over our own voice all that is not sure, and its words whenever it rings on."""
        own, sure = self._own.hold(heard.words), heard.trust == "sure"
        if (utterance.start_s + utterance.end_s) / 2 < self._until_s:
            return own or not sure
        return own and not sure and utterance.start_s < self._until_s + _RING_S

    def _ask(self, reply: str) -> None:
        """Say the reply and the next question; after a doubtful answer the reply is the question."""
        interview = self._draft.interview
        step = interview.step()
        question = step.say if step is not None and interview.doubtful is None and step.say not in reply else ""
        self._ears.expect(interview.expectation)
        for text in (reply, question):
            if text:
                self._print(text)
                self._own.remember(text)
                self._speeches.append(self._voice.say(text))
