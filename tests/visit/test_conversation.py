"""The loop of a visit: what breaks in on a reply, what is never taken for an answer, and the hold."""

from datetime import datetime
from io import StringIO
from typing import Any, cast

import numpy as np
import pytest

from assistant.dialogue.evolve import evolve
from assistant.dialogue.facts import Held, WaitStarted
from assistant.dialogue.state import Stage
from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.hearing.sound.frames import FRAME, FRAME_S, Frame
from assistant.language.meaning import Command, Emergency, Finding, Heard, Text
from assistant.library.loader import load
from assistant.messages.catalogue import catalogue
from assistant.visit.attention import OPEN_S, Mode
from assistant.visit.clocks import StreamClock
from assistant.visit.conversation import Conversation
from assistant.visit.cries import ADVICE
from assistant.visit.journal import Journal
from assistant.visit.session import Knowledgeable, Session
from assistant.visit.transcript import Transcript
from assistant.visit.trouble import CANNOT_WRITE


class Speech:
    """A reply that is in the air until it is ended or stopped."""

    def __init__(self, text):
        self.text, self.done, self.complete = text, False, False

    def stop(self):
        self.done = True

    def end(self):
        self.complete = not self.done
        self.done = True


class Voice:
    def __init__(self):
        self.pace, self.volume, self.beside, self.speeches, self.signs = 1.0, 1.0, None, [], []

    def say(self, text):
        self.speeches.append(Speech(text))
        return self.speeches[-1]

    def give_sign(self, sign):
        self.signs.append(sign)

    def close(self):
        pass


class Endpointer:
    """Gives the utterances that the test has put down, each at the end of a frame."""

    def __init__(self):
        self.waiting, self.talking, self.din = [], False, None

    def feed(self, frame):
        events, self.waiting = self.waiting, []
        return events

    def finish(self):
        return ()

    def drop(self):
        self.waiting, self.talking = [], False

    def learn(self, utterance):
        pass


class Ears:
    """Hears in an utterance what the test has said."""

    def __init__(self):
        self.said = None

    def expect(self, expectation):
        self.expectation = expectation

    def begin(self, utterance):
        pass

    def judge(self, utterance):
        return self.said


class Talk:
    """A conversation driven by a test: ``say`` something, ``let_pass`` time, look at what was said."""

    def __init__(self, context, tmp_path, mode=Mode.ALWAYS):
        self.journal = Journal(tmp_path / "journal.sqlite")
        clock = StreamClock()
        session = Session.begin(context, self.journal, clock, "test", datetime(2026, 3, 4))
        self.voice, self.endpointer, self.ears = Voice(), Endpointer(), Ears()
        self.calling = False
        out = Transcript(StringIO())
        self.loop = Conversation(
            session, clock, self.ears, cast(Any, self.endpointer), self.voice, out, mode, lambda audio: self.calling
        )
        self._frames = 0
        self.loop.run((), session.open())

    def let_pass(self, seconds):
        """So much of the stream goes by."""
        for _ in range(round(seconds / FRAME_S)):
            over_reply = any(not speech.done for speech in self.voice.speeches)
            frame = Frame(np.zeros(FRAME, np.float32), self._frames * FRAME_S, over_reply=over_reply)
            self.loop.run_on([frame])  # a stream of one frame, so that the test can act between two
            self._frames += 1

    @property
    def now_s(self):
        return self._frames * FRAME_S

    def hear_out(self):
        for speech in self.voice.speeches:
            speech.end()
        self.let_pass(1.0)

    def say(self, meaning, words="words", trust="sure", seconds=1.0, ears=(), notes=()):
        """Something is said for so long, and is heard as this; the texts of the replies that come of it."""
        start_s, before = self.now_s, len(self.voice.speeches)
        self.let_pass(seconds)
        ears = ears or (("whisper", words), ("phoneme", words))
        self.ears.said = Heard(words=words, meaning=meaning, trust=trust, ears=ears)
        audio = np.zeros(round(seconds * SAMPLE_RATE), np.float32)
        self.endpointer.waiting.append(Utterance(audio, start_s, self.now_s, notes))
        self.let_pass(2 * FRAME_S)
        return [speech.text for speech in self.voice.speeches[before:]]

    def command(self, name, **how):
        return self.say(Command(name=name), **{"words": name.replace("-", " "), **how})

    def call(self):
        self.calling = True
        said = self.say(Text(words="listen ladder"))
        self.calling = False
        return said

    @property
    def state(self):
        return self.loop.session.state

    @property
    def facts(self):
        return [item.fact.kind for item in self.journal.facts(self.loop.session.visit)]

    def to_a_caution(self):
        """As far as the first caution that must be acknowledged."""
        for meaning in (Text(words="mill lane"), Finding(choice="copper-wren-solo")):
            self.hear_out()
            self.say(meaning)
        self.hear_out()
        self.say(Command(name="check", argument="prove-dead"), words="check prove it dead")
        self.hear_out()
        self.say(Finding(choice="done"), words="locked")
        assert self.state.acknowledging


@pytest.fixture(scope="module")
def context(tmp_path_factory):
    return Knowledgeable(load(user=tmp_path_factory.mktemp("nobody")))


@pytest.fixture
def talk(context, tmp_path):
    return Talk(context, tmp_path)


def test_an_answer_after_the_reply_is_taken(talk):
    talk.hear_out()
    assert talk.say(Text(words="mill lane"))
    assert talk.state.stage is Stage.PROFILE


def test_a_sure_answer_breaks_in_on_a_reply_that_is_no_caution(talk):
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    asking = talk.voice.speeches[-1]
    talk.say(Finding(choice="copper-wren-solo"))
    assert asking.done
    assert not asking.complete
    assert talk.state.stage is Stage.INDICATION


@pytest.mark.parametrize("trust", ["confirm", "again"])
def test_what_is_not_sure_is_no_answer_while_a_reply_is_said(talk, trust):
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    before = talk.facts
    assert talk.say(Finding(choice="copper-wren-solo"), trust=trust) == []
    assert talk.facts == before
    assert talk.loop.aloud.speaking


def test_its_own_words_are_no_answer_however_sure(talk):
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    assert "or no profile" in talk.voice.speeches[-1].text
    before = talk.facts
    assert talk.say(Finding(choice="no-profile"), words="no profile") == []
    assert talk.facts == before
    talk.hear_out()
    assert talk.say(Finding(choice="no-profile"), words="no profile")


def test_what_no_ear_hears_a_word_in_is_not_asked_about(talk):
    talk.hear_out()
    before = talk.facts
    assert talk.say(None, words="", trust="again") == []
    assert talk.facts == before
    assert talk.say(None, words="mumble", trust="again") == ["Say it again, please."]


@pytest.mark.parametrize("note", ADVICE)
def test_what_is_wrong_with_the_sound_is_said(talk, note):
    talk.hear_out()
    assert talk.say(None, words="mumble", trust="again", notes=(note,)) == [catalogue().words(ADVICE[note], None)]
    talk.hear_out()
    assert talk.say(Text(words="mill lane"), notes=(note,))[0].startswith("Site:")


def test_free_words_are_no_answer_while_a_reply_is_said(talk):
    assert talk.say(Text(words="somewhere else")) == []
    assert talk.state.stage is Stage.SITE


def test_the_rest_of_a_reply_that_is_heard_badly_is_no_answer(talk):
    talk.let_pass(1.0)
    start_s = talk.now_s - 0.5
    talk.hear_out()
    talk.ears.said = Heard(words="the site is this", meaning=Text(words="The site is this."), trust="confirm")
    talk.endpointer.waiting.append(Utterance(np.zeros(SAMPLE_RATE, np.float32), start_s, start_s + 2.0))
    talk.let_pass(0.1)
    assert talk.state.stage is Stage.SITE


def test_no_answer_breaks_in_on_a_caution_and_one_cut_off_is_said_again(talk):
    talk.to_a_caution()
    _locked, *cautions, _understood = [speech.text for speech in talk.voice.speeches if not speech.done]
    assert talk.say(Finding(choice="understood"), words="all clear") == []
    assert talk.command("wait") == ["Waiting. Say carry on when you are back."]
    assert all(speech.done for speech in talk.voice.speeches[:-1])
    assert "precaution-acknowledged" not in talk.facts
    talk.hear_out()
    *again, asked = talk.command("resume", words="carry on")
    assert (sorted(again), asked) == (sorted(cautions), "Say understood.")
    talk.hear_out()
    talk.say(Finding(choice="understood"), words="understood")
    assert "precaution-acknowledged" in talk.facts


def test_a_caution_that_waits_through_a_hold_is_said_again_though_it_was_said_to_its_end(talk):
    talk.to_a_caution()
    [*_, caution, _ladder, _understood] = [speech.text for speech in talk.voice.speeches]
    talk.hear_out()
    talk.command("wait")
    talk.hear_out()
    assert talk.command("resume", words="carry on") == [caution, "Say understood."]


def test_a_cry_silences_at_once_and_then_counts(talk):
    talk.let_pass(1.0)
    speeches = list(talk.voice.speeches)
    talk.loop.cried("stop")
    assert all(speech.done and not speech.complete for speech in speeches)
    assert not talk.state.held, "the ears judge it when it is over"
    assert talk.command("stop", seconds=0.3) == ["Waiting. Say carry on when you are back."]
    assert talk.state.held


@pytest.mark.parametrize(
    "ears", [(("phoneme", "four"), ("whisper", "Stop!")), (("phoneme", "stop stop"), ("whisper", ""))]
)
def test_a_cry_counts_when_one_ear_heard_it_too(talk, ears):
    talk.let_pass(1.0)
    talk.loop.cried("stop")
    talk.say(None, words="", trust="again", seconds=0.3, ears=ears)
    assert talk.state.held


def test_what_neither_ear_heard_was_no_cry_and_the_reply_is_said_again(talk):
    talk.voice.speeches[0].end()
    talk.let_pass(1.0)
    cut_off = [speech.text for speech in talk.voice.speeches[1:]]
    talk.loop.cried("wait")
    before = talk.facts
    said = talk.say(None, words="", trust="again", ears=(("phoneme", "eight"), ("whisper", "Which site is")))
    assert said == cut_off
    assert talk.facts == before


def test_a_cry_without_any_utterance_is_none(talk):
    talk.let_pass(1.0)
    before, cut_off = talk.facts, [speech.text for speech in talk.voice.speeches]
    talk.loop.cried("wait")
    talk.let_pass(1.5)
    assert not talk.loop.aloud.speaking
    talk.let_pass(1.0)
    assert [speech.text for speech in talk.voice.speeches[len(cut_off) :]] == cut_off
    assert talk.facts == before


def test_where_the_ears_are_sure_it_was_an_answer_it_is_taken(talk):
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    talk.let_pass(1.0)
    talk.loop.cried("wait")
    talk.say(Finding(choice="copper-wren-solo"))
    talk.let_pass(4.0)
    assert not talk.state.held
    assert talk.state.stage is Stage.INDICATION


def test_only_the_cry_is_judged_not_the_reply_before_it(talk):
    judged = []
    talk.ears.judge = lambda utterance: judged.append(utterance) or talk.ears.said
    before_s = talk.now_s
    talk.let_pass(3.0)
    talk.loop.cried("stop")
    talk.ears.said = Heard(words="stop", meaning=Command(name="stop"), trust="sure")
    talk.let_pass(0.5)
    talk.endpointer.waiting.append(Utterance(np.zeros(4 * SAMPLE_RATE, np.float32), before_s, before_s + 3.5))
    talk.let_pass(0.1)
    assert talk.state.held
    assert judged[0].start_s == pytest.approx(before_s + 2.1, abs=0.1)
    assert len(judged[0].audio) == pytest.approx(1.9 * SAMPLE_RATE, abs=0.1 * SAMPLE_RATE)


def test_an_utterance_is_over_a_reply_by_the_stream_s_time_when_the_loop_is_late(talk):
    """The reply has been said to its end while the loop still takes in the sound from its middle."""
    for speech in talk.voice.speeches:
        speech.end()
    for number in range(100):
        talk.loop.run_on([Frame(np.zeros(FRAME, np.float32), number * FRAME_S, over_reply=number < 80)])
    before = talk.facts
    talk.ears.said = Heard(words="carry on", meaning=Text(words="which site is this"), trust="confirm")
    talk.endpointer.waiting.append(Utterance(np.zeros(SAMPLE_RATE, np.float32), 1.0, 2.0))
    talk.loop.run_on([Frame(np.zeros(FRAME, np.float32), 100 * FRAME_S)])
    assert talk.facts == before


def test_a_cry_while_held_is_silence_and_no_more(talk):
    talk.hear_out()
    talk.command("wait")
    before = talk.facts
    talk.loop.cried("stop")
    assert not talk.loop.aloud.speaking
    assert talk.command("stop", seconds=0.3) == []
    talk.let_pass(3.0)
    talk.loop.cried("stop")
    talk.let_pass(3.0)
    assert talk.facts == before


def test_while_held_nothing_said_to_the_customer_is_taken_or_kept(talk):
    talk.hear_out()
    talk.command("wait")
    talk.hear_out()
    before = talk.facts
    for meaning in (Text(words="it will take an hour"), Finding(choice="yes"), Command(name="skip"), None):
        assert talk.say(meaning, words="it will take an hour") == []
    assert talk.facts == before
    assert talk.command("resume", words="carry on")
    assert not talk.state.held
    talk.hear_out()
    assert talk.say(Text(words="mill lane"))


@pytest.mark.parametrize("release", ["resume", "ready", "done"])
def test_every_word_of_release_ends_the_hold(talk, release):
    talk.hear_out()
    talk.command("stop")
    talk.hear_out()
    talk.command(release)
    assert not talk.state.held


def test_the_key_holds_and_releases_where_the_ears_are_always_open(talk):
    talk.let_pass(0.5)
    talk.loop.pressed()
    assert talk.state.held
    assert talk.voice.speeches[0].done
    talk.loop.pressed()
    assert not talk.state.held


def test_with_a_button_only_what_follows_a_press_is_taken(context, tmp_path):
    talk = Talk(context, tmp_path, Mode.BUTTON)
    talk.hear_out()
    before = talk.facts
    assert talk.say(Text(words="is it the fuse")) == []
    assert talk.facts == before
    talk.loop.pressed()
    assert talk.say(Text(words="mill lane"))
    talk.hear_out()
    assert talk.say(Finding(choice="copper-wren-solo")) == [], "the press was good for one answer"
    talk.loop.pressed()
    assert talk.say(None, words="mumble", trust="again")
    talk.hear_out()
    assert talk.say(Finding(choice="copper-wren-solo")), "it asked for it again: no second press"
    assert talk.state.stage is Stage.INDICATION


def test_a_press_hushes_a_reply_and_ends_a_hold(context, tmp_path):
    talk = Talk(context, tmp_path, Mode.BUTTON)
    talk.loop.pressed()
    assert not talk.loop.aloud.speaking
    talk.command("stop")
    assert talk.state.held, "stop needs no press"
    talk.loop.pressed()
    assert not talk.state.held
    talk.hear_out()
    assert talk.say(Text(words="mill lane"))


def test_with_a_phrase_a_call_opens_the_talk_until_it_pauses(context, tmp_path):
    talk = Talk(context, tmp_path, Mode.PHRASE)
    talk.hear_out()
    before = talk.facts
    assert talk.say(Text(words="is it the fuse")) == []
    assert talk.call() == ["Yes?"]
    assert talk.facts == before, "a call is no part of the visit"
    talk.hear_out()
    assert talk.say(Text(words="mill lane"))
    talk.hear_out()
    assert talk.say(Finding(choice="copper-wren-solo")), "the talk goes on without calling again"
    talk.hear_out()
    talk.let_pass(OPEN_S)
    assert talk.say(Finding(choice="yes")) == []


def test_a_call_ends_a_hold(context, tmp_path):
    talk = Talk(context, tmp_path, Mode.PHRASE)
    talk.hear_out()
    talk.command("wait")
    talk.hear_out()
    assert talk.call() == ["Which site is this?"]
    assert not talk.state.held


def test_signs_sound_only_where_they_are_asked_for(context, tmp_path):
    for signs, given in ((False, []), (True, ["listening", "heard", "not heard"])):
        talk = Talk(context, tmp_path / str(signs), Mode.BUTTON)
        talk.loop.signs = signs
        talk.hear_out()
        talk.loop.pressed()
        talk.say(Text(words="mill lane"))
        talk.hear_out()
        talk.loop.attention = talk.loop.attention.pressed(talk.now_s)
        talk.say(None, words="mumble", trust="again")
        assert talk.voice.signs == given


FIRST = "Cut the power before you touch anyone."


@pytest.mark.parametrize("mode", [Mode.ALWAYS, Mode.BUTTON, Mode.PHRASE])
def test_an_emergency_is_heard_whether_it_listens_or_not(context, tmp_path, mode):
    talk = Talk(context, tmp_path, mode)
    talk.hear_out()
    assert talk.say(Emergency(what="shock"), words="i got shocked")[0].startswith(FIRST)


def test_an_emergency_is_heard_while_the_visit_is_held(talk):
    talk.hear_out()
    talk.command("wait")
    talk.hear_out()
    assert talk.say(Emergency(what="shock"), words="he got shocked")[0].startswith(FIRST)
    assert talk.state.held, "until everybody is safe"


def test_an_emergency_breaks_in_on_a_caution_and_nothing_is_said_before_it(talk):
    talk.to_a_caution()
    assert any(not speech.done for speech in talk.voice.speeches)
    said = talk.say(Emergency(what="fire"), words="it is burning")
    assert said[0].startswith("Everybody out.")


def test_what_to_do_first_is_said_though_nothing_can_be_written_down(talk):
    talk.loop.trouble.hold(CANNOT_WRITE)
    assert talk.say(Emergency(what="shock"), words="i got shocked")[0].startswith(FIRST)


def test_a_wait_of_minutes_gives_a_sign_of_life_each_minute_and_keeps_it_out_of_the_journal(talk):
    talk.hear_out()
    talk.loop.session.state = evolve(talk.state, WaitStarted(seconds=200, until_s=talk.now_s + 200))
    before, spoken = talk.facts, len(talk.voice.speeches)
    for _ in range(19):
        talk.let_pass(10)
        for speech in talk.voice.speeches:
            speech.end()
    said = [speech.text for speech in talk.voice.speeches[spoken:]]
    assert said == ["Still waiting, 2 and a half minutes more.", "Still waiting, 1 and a half minutes more."]
    assert talk.facts == before


def test_no_sign_of_life_over_talk_or_while_held(talk):
    talk.hear_out()
    talk.loop.session.state = evolve(talk.state, WaitStarted(seconds=400, until_s=talk.now_s + 400))
    spoken = len(talk.voice.speeches)
    talk.endpointer.talking = True
    talk.let_pass(90)
    assert len(talk.voice.speeches) == spoken
    talk.endpointer.talking = False
    talk.loop.session.state = evolve(talk.state, Held(by="wait", at_s=talk.now_s))
    talk.let_pass(90)
    assert len(talk.voice.speeches) == spoken


def test_the_voice_is_as_loud_and_as_fast_as_was_asked(talk):
    talk.hear_out()
    talk.command("louder")
    talk.hear_out()
    talk.command("slower")
    assert (talk.voice.pace, talk.voice.volume) == (0.8, 1.6)
