"""What the assistant is saying: in the air, cut off, over; and what may break in on it.

Its own voice comes back into the microphone, and what is left of it after the echo canceller must never be taken for
an answer: an assistant that says "Say understood" must not hear itself say so. So what is heard over a reply counts
only when it is beyond doubt and is not what is being said. And a caution that was cut off was not given: it is said
again before anything else.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.dialogue.commands import HOLDS
from assistant.dialogue.turn import Reply
from assistant.hearing.sound.audio import Utterance
from assistant.hearing.sound.frames import Frame
from assistant.language.meaning import Command, Emergency, Heard, Text
from assistant.speaking.own_words import OwnWords
from assistant.speaking.voice import Speech, Voice

#: A room rings on, and a late device plays on, for so long.
_RING_S = 0.5


@dataclass(frozen=True)
class _Said:
    reply: Reply
    speech: Speech


class Aloud:
    """The replies of a visit, on their way into the air. Show it every frame with ``follow``."""

    def __init__(self, voice: Voice) -> None:
        self.voice = voice
        self._in_air: list[_Said] = []
        self._cut_off: list[Reply] = []
        self._own = OwnWords()
        self._until_s = float("-inf")

    @property
    def speaking(self) -> bool:
        """True while a reply is being said or waits for another."""
        self._in_air = [said for said in self._in_air if not said.speech.done]
        return bool(self._in_air)

    def follow(self, frame: Frame) -> None:
        """Take note of when a reply was in the air, by the stream's own time: the loop may be behind the clock's.

        By the clock too: on a machine that stumbles, devices do not know well what was in the air when.
        """
        if frame.over_reply or self.speaking:
            self._until_s = frame.end_s

    def say(self, replies: Sequence[Reply], held: bool = False) -> None:
        """Say ``replies``, after the cautions that were cut off before; those wait while the visit is held."""
        if not held:
            texts = {reply.text for reply in replies}
            cautions = [reply for reply in self._cut_off if reply.about == "caution" and reply.text not in texts]
            replies = (*cautions, *replies)
            self._cut_off = []
        for reply in replies:
            self._own.remember(reply.text)
            self._in_air.append(_Said(reply, self.voice.say(reply.text)))

    def hush(self) -> None:
        """Be silent at once. What was not said to its end is kept."""
        for said in self._in_air:
            if not said.speech.done:
                self._cut_off.append(said.reply)
                said.speech.stop()
        self._in_air = []

    def forget(self) -> None:
        """What was cut off is not said any more: the question will be asked again with its cautions."""
        self._cut_off = []

    def go_on(self) -> None:
        """It was hushed for nothing: say again what was cut off."""
        again, self._cut_off = self._cut_off, []
        self.say(again)

    def is_over_reply(self, utterance: Utterance) -> bool:
        """Whether more of the utterance was heard while a reply was in the air than after it."""
        return (utterance.start_s + utterance.end_s) / 2 < self._until_s

    def is_own_voice(self, utterance: Utterance, heard: Heard) -> bool:
        """Whether an utterance that reaches out of a reply is no more than the rest of it."""
        return heard.trust != "sure" and utterance.start_s < self._until_s + _RING_S and self._own.hold(heard.words)

    def lets_in(self, heard: Heard) -> bool:
        """Whether something heard over a reply may break in on it. Free words may not: nothing tells them from ours."""
        if self._own.hold(heard.words) or isinstance(heard.meaning, Text):
            return False
        if isinstance(heard.meaning, Emergency):
            return heard.trust != "again"
        if isinstance(heard.meaning, Command):
            return heard.trust == "sure" or (heard.meaning.name in HOLDS and heard.trust != "again")
        return heard.trust == "sure" and not self._caution_left

    @property
    def _caution_left(self) -> bool:
        return any(said.reply.about == "caution" and not said.speech.done for said in self._in_air)
