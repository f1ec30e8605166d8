"""The loop that a microphone and a recording share: frames → utterance → judged → dialogue → journal → voice.

It knows nothing of where frames come from or where speech goes. Time is the stream's own: frames counted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Protocol

from assistant.dialogue.commands import RELEASES
from assistant.dialogue.emergencies import first_words, is_emergency
from assistant.dialogue.turn import Reply, Turn
from assistant.dialogue.waiting import sign_of_life
from assistant.hearing.listening.watched import EarsLost
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio, Utterance
from assistant.hearing.sound.endpointing import Endpointer, Paused, Started
from assistant.hearing.sound.frames import Frame
from assistant.language.meaning import Command, Expectation, Heard
from assistant.language.net import default_net
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message, message
from assistant.speaking.loudspeaker import LoudspeakerError
from assistant.speaking.signs import Sign
from assistant.speaking.voice import Voice
from assistant.visit.aloud import Aloud
from assistant.visit.attention import Attention, Mode
from assistant.visit.clocks import StreamClock
from assistant.visit.cries import advised, as_command, command_in, is_cry, is_nothing, without_before
from assistant.visit.meant import as_meant
from assistant.visit.session import Session
from assistant.visit.sounds import Keeper
from assistant.visit.transcript import Transcript
from assistant.visit.trouble import NOT_HEARD, Trouble, reply

#: A wait is not silent for longer than this, stream seconds.
_SIGN_OF_LIFE_S = 60.0
#: The answer to the wake phrase; no part of the visit, so the journal does not hold it.
CALLED = message("called")
#: Said when the ears need longer than usual; no part of the visit either.
THINKING = message("one-moment")
#: Stream seconds after a cry in which its utterance must have begun to end.
_CRY_S = 2.0
#: A cry is noticed at most so long after it began; what was before it is the reply that it broke in on.
_CRY_BEFORE_S = 0.9


class Ears(Protocol):
    """What the conversation needs of hearing (see ``hearing.together``)."""

    def expect(self, expectation: Expectation) -> None: ...

    def judge(self, utterance: Utterance) -> Heard: ...

    def begin(self, utterance: Utterance) -> None:
        """Listen ahead: the utterance is probably over."""


class Conversation:
    """One visit by ear and voice. ``last`` is the newest judged utterance, ``seen`` counts them.

    ``signs``: whether own sounds tell that it listens, has heard, or has not.

    ``mode`` says when speech is for the assistant; ``calls`` whether an utterance is its wake phrase. ``cried`` and
    ``pressed`` are for whoever hears a cry through a reply, and for a key; call them between two frames.

    With ``endures``, whatever fails is said, and the visit held until "carry on" or the key tries again (``trouble``);
    ``lost``, ``mute`` and ``back`` are for whoever notices that a sound device went and came. ``keeper`` keeps the
    sound of what was taken for the assistant; without one none is kept.
    """

    def __init__(
        self,
        session: Session,
        clock: StreamClock,
        ears: Ears,
        endpointer: Endpointer,
        voice: Voice,
        out: Transcript,
        mode: Mode = Mode.ALWAYS,
        calls: Callable[[Audio], bool] = lambda audio: False,
        endures: bool = True,
    ) -> None:
        self.session = session
        self.clock = clock
        self.ears = ears
        self.endpointer = endpointer
        self.aloud = Aloud(voice)
        self.out = out
        self.attention = Attention(mode)
        self.keeper: Keeper | None = None
        self.last: Heard | None = None
        self.seen = 0
        self.signs = False
        self._calls = calls
        self.trouble = Trouble(lambda: session.state, self.aloud, out, self._reopen, endures)
        self._cry: tuple[str, float] | None = None
        self._sounded_s = 0.0

    def run(self, frames: Iterable[Frame], first: Turn) -> None:
        """Lead the visit until it is closed or the frames end."""
        self.trouble.guarded(lambda: self._reply(first))
        self.run_on(frames)
        for event in self.endpointer.finish():
            self._notice(event)

    def run_on(self, frames: Iterable[Frame]) -> None:
        """Go on with more of the stream."""
        for frame in frames:
            self.clock.heard_s = frame.end_s
            self.aloud.follow(frame)
            for event in self.endpointer.feed(frame):
                self.trouble.guarded(lambda event=event: self._notice(event))  # type: ignore[misc]
            self.trouble.guarded(self._let_time_pass)
            if self.session.closed and not self.aloud.speaking:
                return

    def cried(self, cry: str) -> None:
        """ "stop" or "wait" seems to be cried through a reply: silence at once. The ears judge it when it is over.

        A quick ear is wrong now and then. Where neither ear heard the cry either, what was cut off is said again.
        """
        self.aloud.hush()
        self._cry = cry, self.clock.heard_s

    def pressed(self) -> None:
        """The key: silence; then the hold is ended, or begun where the ears are always open, or they are opened."""
        self.trouble.guarded(self._obey_key)

    def lost(self, what: Message) -> None:
        """The microphone went away: say so as far as anything can be said, and hold the visit.

        Half of what was being said is no answer: "two hundred" may have been "two hundred forty volts".
        """
        self._cry = None
        self.endpointer.drop()
        self.trouble.hold(what)

    def mute(self, error: LoudspeakerError) -> None:
        """The loudspeaker went away while something was being said."""
        self.trouble.guarded(lambda: _raise(error))

    def remark(self, what: Message) -> None:
        """Say something that is no part of the visit."""
        said = Reply(catalogue().words(what, self.session.context.library), "remark", what)
        self.out.remark(said.text)
        self.trouble.guarded(lambda: self.aloud.say((said,)))

    def thinking(self) -> None:
        """The ears are long over an utterance: say that it is not lost."""
        self.trouble.guarded(lambda: self.aloud.say((reply(THINKING, "remark"),)))

    def back(self) -> None:
        """It is there again: the visit goes on at the same question."""
        self.trouble.guarded(self.trouble.try_again)

    def _obey_key(self) -> None:
        self.aloud.hush()
        if self.trouble.held:
            self.trouble.try_again()
        elif self.session.state.held:
            self._command("resume", "key")
        elif self.attention.mode is Mode.ALWAYS:
            self._command("wait", "key")
        else:
            self.attention = self.attention.pressed(self.clock.heard_s)
            listens = self.attention.takes(self.clock.heard_s)
            self.out.remark("listening" if listens else "not listening")
            if listens:
                self._sign("listening")

    def _reopen(self) -> None:
        """The same question once more, with its cautions."""
        self._reply(self.session.reopen())

    def _notice(self, event: Started | Paused | Utterance) -> None:
        if isinstance(event, Paused):
            self.ears.begin(event.utterance)
        elif isinstance(event, Utterance):
            try:
                self._hear(event)
            except EarsLost:
                self.aloud.say((reply(NOT_HEARD, "question"),), self.session.state.held)

    def _hear(self, utterance: Utterance) -> None:
        if self.trouble.held:
            heard = self.ears.judge(utterance)
            if is_emergency(heard):
                self.aloud.say(first_words(heard, self.session.context.library))
            elif command_in(heard) in RELEASES or self._calls(utterance.audio):
                self.trouble.try_again()
        elif self.attention.mode is Mode.PHRASE and self._calls(utterance.audio):
            self._called()
        elif self._cry is not None and utterance.end_s > self._cry[1] - _CRY_BEFORE_S:
            self._hear_cry(utterance, *self._cry)
        else:
            heard = self.ears.judge(utterance)
            if not self.aloud.is_over_reply(utterance):
                heard = as_meant(heard, self.session.scope, default_net)
            if self._is_for_us(utterance, heard):
                self._take(utterance, heard)

    def _hear_cry(self, utterance: Utterance, cry: str, at_s: float) -> None:
        """What hushed the reply is over: a cry, or something else that is beyond doubt, or nothing."""
        self._cry = None
        whole = utterance
        utterance = without_before(utterance, at_s - _CRY_BEFORE_S)
        heard = self.ears.judge(utterance)
        if is_emergency(heard):
            self._take(whole, heard)
        elif self.session.state.held:
            return  # silence was all that was wanted
        elif is_cry(heard):
            self._take(utterance, as_command(heard, cry))
        elif self.aloud.lets_in(heard) and self.attention.takes(utterance.start_s, command_in(heard)):
            self._take(utterance, heard)
        else:
            self.aloud.go_on()

    def _called(self) -> None:
        self.aloud.hush()
        self.attention = self.attention.called(self.clock.heard_s)
        if self.session.state.held:
            self._command("resume", "call")
        else:
            self.out.remark("called")
            if self.signs:
                self._sign("listening")
            else:
                self.aloud.say((reply(CALLED, "remark"),))

    def _is_for_us(self, utterance: Utterance, heard: Heard) -> bool:
        if is_emergency(heard):  # at any time, whether it listens or not
            return not self.aloud.is_over_reply(utterance) or self.aloud.lets_in(heard)
        if self.aloud.is_over_reply(utterance) and not self.aloud.lets_in(heard):
            return False  # our own voice in the microphone, or talk while a reply is being said
        if self.aloud.is_own_voice(utterance, heard) or is_nothing(heard):
            return False
        return self.attention.takes(utterance.start_s, command_in(heard), self.session.state.held)

    def _sign(self, sign: Sign) -> None:
        if self.signs:
            self.aloud.voice.give_sign(sign)

    def _take(self, utterance: Utterance, heard: Heard) -> None:
        self.aloud.hush()
        self._sign("not heard" if heard.trust == "again" else "heard")
        if is_emergency(heard):
            self.aloud.forget()  # nothing comes before what to do first
        self.last = heard
        self.seen += 1
        if heard.trust == "sure":
            self.endpointer.learn(utterance)
        self._answer(advised(heard, utterance))
        if self.keeper is not None:
            self.keeper.keep(self.session.words_at, utterance.audio, SAMPLE_RATE)

    def _answer(self, heard: Heard) -> None:
        was_held = self.session.state.held
        self._reply(self.session.hear(heard))
        asked_back = heard.trust == "again" or self.session.state.unconfirmed is not None
        self.attention = self.attention.answered(self.clock.heard_s, asked_back)
        if was_held and not self.session.state.held:
            self.attention = self.attention.called(self.clock.heard_s)

    def _command(self, name: str, by: str) -> None:
        """Obey a command that was not said."""
        self._answer(Heard(words=name, meaning=Command(name=name), trust="sure", ears=((by, name),)))

    def _let_time_pass(self) -> None:
        now_s = self.clock.heard_s
        if self.trouble.held:
            self.trouble.pass_time(now_s)
            return
        if self.aloud.speaking:
            self.attention = self.attention.talking(now_s)
        if self._cry is not None and now_s > self._cry[1] + _CRY_S and not self.endpointer.talking:
            self._cry = None  # nobody said anything
            if not self.session.state.held:
                self.aloud.go_on()
        turn = self.session.tick()
        if turn is not None:
            self._reply(turn)
        self._show_life(now_s)

    def _show_life(self, now_s: float) -> None:
        """In a wait of minutes, say now and then how long it is yet; no part of the visit."""
        if self.session.state.wait_until_s is None or self.aloud.speaking or self.endpointer.talking:
            self._sounded_s = now_s
        elif now_s >= self._sounded_s + _SIGN_OF_LIFE_S:
            self._sounded_s = now_s
            said = sign_of_life(self.session.state, self.session.clock.now_s())
            if said is not None:
                self.remark(said)

    def _reply(self, turn: Turn) -> None:
        """Speak, and prepare the ears for the answer meanwhile; the journal already has every word."""
        self.out.turn(self.session, turn)
        voice, state = self.aloud.voice, turn.state
        voice.pace, voice.volume, voice.beside = state.pace, state.volume, self.endpointer.din
        self.aloud.say(turn.replies, turn.state.held)
        self.ears.expect(self.session.expectation)


def _raise(error: Exception) -> None:
    raise error
