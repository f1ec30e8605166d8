"""Whatever fails in a live visit is said, with what is live, and the visit held; it goes on at the same question."""

import errno
import os
from itertools import islice
from typing import Any

import numpy as np
import pytest

from assistant.devices import SoundDeviceError
from assistant.hearing.listening.watched import EarsLost, WatchedEars
from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.hearing.sound.frames import FRAME, FRAME_S, Frame
from assistant.hearing.sound.microphone import MicrophoneLost, NoMicrophone
from assistant.language.meaning import Command, Expectation, Finding, Heard, Text
from assistant.messages.catalogue import catalogue
from assistant.speaking.loudspeaker import LoudspeakerError
from assistant.visit import bootclock, trouble
from assistant.visit.enduring import EnduringMicrophone
from assistant.visit.journal import JournalError, Overtaken
from tests.visit.test_conversation import Talk

HELD = "The visit is held. Say carry on to try again."


def words(what):
    return catalogue().words(what, None)


@pytest.fixture
def talk(context, tmp_path, monkeypatch):
    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path / "home"))
    return Talk(context, tmp_path)


def isolated(talk):
    """As far as a locked-out supply."""
    talk.to_a_caution()
    for _ in range(12):
        if talk.state.energy == "isolated":
            return talk
        talk.hear_out()
        question = talk.loop.session.expectation.question
        talk.say(Finding(choice="understood" if question.startswith("precaution") else "done"))
    raise AssertionError(talk.state.spoken)


class FullDisk:
    """A journal that takes nothing more, until ``free``."""

    def __init__(self, talk, monkeypatch):
        self.full, real = True, talk.journal.append

        def append(*args, **kinds):
            if self.full:
                raise JournalError("The visit cannot be written (database or disk is full).")
            return real(*args, **kinds)

        monkeypatch.setattr(talk.journal, "append", append)


def test_a_full_disk_is_spoken_with_the_state_of_the_energy_and_held(talk, monkeypatch):
    isolated(talk)
    disk = FullDisk(talk, monkeypatch)
    before, facts, question = talk.state, talk.facts, talk.loop.session.expectation.question
    talk.hear_out()
    said = talk.say(Command(name="where-am-i"))
    assert said[0] == words(trouble.CANNOT_WRITE)
    assert "locked out" in said[1]
    assert "measure before you touch" in said[1]
    assert said[2] == HELD
    assert talk.state == before
    talk.hear_out()
    assert talk.say(Finding(choice="done")) == [], "nothing is taken for an answer"
    talk.hear_out()
    assert talk.command("resume")[0] == words(trouble.CANNOT_WRITE), "still full"
    talk.hear_out()
    disk.full = False
    said = talk.command("resume")
    assert said[0] == "The visit goes on where it stopped."
    assert talk.loop.session.expectation.question == question
    assert talk.facts[: len(facts)] == facts
    talk.hear_out()
    assert talk.command("where-am-i"), "and all is as before"


def test_a_defect_is_spoken_and_written_down_and_the_visit_goes_on(talk, monkeypatch, tmp_path):
    talk.hear_out()
    with monkeypatch.context() as patch:
        patch.setattr("assistant.visit.session.step", lambda *all: 1 / 0)
        assert talk.say(Text(words="mill lane"))[0] == words(trouble.WENT_WRONG)
    assert "ZeroDivisionError" in (tmp_path / "home" / "defect.log").read_text()
    talk.hear_out()
    talk.command("resume")
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    assert talk.state.note("site") == "mill lane"


def test_the_key_tries_again_too(talk, monkeypatch):
    disk = FullDisk(talk, monkeypatch)
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    disk.full = False
    before = len(talk.voice.speeches)
    talk.loop.pressed()
    # The caution that the key cut off comes first.
    assert [speech.text for speech in talk.voice.speeches[before:]][:2] == [
        "Count the unit as live.",
        "The visit goes on where it stopped.",
    ]


def test_a_wait_that_ends_while_the_visit_is_held_says_nothing(talk, monkeypatch):
    disk = FullDisk(talk, monkeypatch)
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    monkeypatch.setattr("assistant.visit.session.is_due", lambda state, now_s: True)
    before = len(talk.voice.speeches)
    talk.let_pass(5)
    assert len(talk.voice.speeches) == before
    assert disk.full


def test_who_was_overtaken_ends(talk):
    from assistant.dialogue import facts as f
    from assistant.visit.journal import Journal

    with Journal(talk.journal.path) as other:
        other.append(talk.loop.session.visit, talk.loop.session.opened_at, 1.0, [f.Held(by="stop")])
    talk.hear_out()
    with pytest.raises(Overtaken):
        talk.say(Text(words="mill lane"))


def test_a_loudspeaker_that_is_gone_holds_the_visit_until_it_is_back(talk):
    isolated(talk)
    say, gone = talk.voice.say, [True]

    def silent(text):
        if gone:
            raise LoudspeakerError("The loudspeaker is gone; plug it in.")
        return say(text)

    talk.hear_out()
    talk.voice.say = silent
    facts = len(talk.facts)
    assert talk.command("where-am-i") == []
    assert talk.loop.trouble.held
    told = talk.loop.out.out.getvalue()
    assert "The loudspeaker is gone; plug it in." in told
    assert "measure before you touch" in told, "the terminal has it where no voice does"
    after = len(talk.facts)
    talk.let_pass(20)
    assert len(talk.facts) == after, "looking for it writes nothing"
    before = len(talk.voice.speeches)
    gone.clear()
    talk.let_pass(5)
    said = [speech.text for speech in talk.voice.speeches[before:]]
    assert said[:2] == ["I can speak again.", "The visit goes on where it stopped."]
    assert any("measure before you touch" in text for text in said)
    assert not talk.loop.trouble.held
    assert facts < after < len(talk.facts)


def test_ears_that_fail_are_asked_again_and_nothing_is_recorded(talk):
    talk.hear_out()
    judge, facts = talk.ears.judge, talk.facts

    def lost(utterance):
        talk.ears.judge = judge
        raise EarsLost("gone")

    talk.ears.judge = lost
    assert talk.say(Text(words="mill lane")) == [words(trouble.NOT_HEARD)]
    assert talk.facts == facts
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    assert talk.state.note("site") == "mill lane"


# -- ears --------------------------------------------------------------------------------------------------------------

UTTERANCE = Utterance(np.zeros(SAMPLE_RATE // 10, np.float32), 0.0, 0.1)
SURE = Heard(words="yes", meaning=None, trust="sure")


class Ears:
    def __init__(self, number, act):
        self.number, self._act, self.expected = number, act, None

    def ensure(self):
        pass

    def expect(self, expectation):
        self.expected = expectation

    def begin(self, utterance):
        self._act(self.number)

    def judge(self, utterance):
        self._act(self.number)
        return SURE

    def cry(self, audio):
        self._act(self.number)
        return "stop"

    def is_call(self, audio):
        self._act(self.number)
        return True


def watched(act, patience_s=5.0):
    made, told = [], []

    def make():
        made.append(Ears(len(made), act))
        return made[-1]

    ears = WatchedEars(make, told.append, patience_s)
    ears.expect(Expectation(question="q"))
    return ears, made, told


def test_a_recognizer_that_crashes_is_made_anew_for_the_same_question():
    def fails(number):
        if number == 0:
            raise RuntimeError("broken")

    ears, made, told = watched(fails)
    with pytest.raises(EarsLost, match="say it again"):
        ears.judge(UTTERANCE)
    assert told == ["the ears failed"]
    assert ears.judge(UTTERANCE) is SURE
    assert len(made) == 2
    assert made[1].expected == Expectation(question="q")


def test_a_recognizer_that_hangs_is_left_alone():
    import threading

    never = threading.Event()
    ears, _, told = watched(lambda number: never.wait() if number == 0 else None, patience_s=0.2)
    with pytest.raises(EarsLost):
        ears.judge(UTTERANCE)
    assert told == ["the ears did not answer"]
    assert ears.judge(UTTERANCE) is SURE
    never.set()


def test_who_waits_long_for_an_answer_is_told_that_it_was_heard(talk):
    import threading

    gate, told = threading.Event(), []

    def slow():
        told.append("slow")
        gate.set()

    ears = WatchedEars(lambda: Ears(0, lambda number: gate.wait(5)), slow=slow, slow_s=0.05)
    assert ears.judge(UTTERANCE) is SURE
    assert told == ["slow"]
    talk.hear_out()
    before = talk.facts
    talk.loop.thinking()
    assert talk.voice.speeches[-1].text == "One moment."
    assert talk.facts == before


@pytest.mark.parametrize(("name", "instead"), [("cry", None), ("is_call", False), ("begin", None)])
def test_what_listens_beside_may_fail_as_well(name, instead):
    def fails(number):
        if number == 0:
            raise RuntimeError("broken")

    ears, made, _ = watched(fails)
    assert getattr(ears, name)(UTTERANCE) == instead
    assert len(made) == 2
    assert ears.judge(UTTERANCE) is SURE


# -- microphone --------------------------------------------------------------------------------------------------------


class Microphone:
    """Gives so many frames, then is lost."""

    def __init__(self, frames):
        self._frames, self.closed = frames, False

    def __iter__(self):
        for number in range(self._frames):
            yield Frame(np.zeros(FRAME, np.float32), number * FRAME_S)
        raise MicrophoneLost("unplugged")

    def close(self):
        self.closed = True


def test_a_microphone_that_comes_back_goes_on_later_in_the_same_stream(monkeypatch):
    now, told = [100.0], []
    monkeypatch.setattr(bootclock, "now_s", lambda: now[0])
    plugged: list[Any] = [Microphone(10), NoMicrophone("none"), NoMicrophone("none"), Microphone(0), Microphone(10)]

    def opened():
        source = plugged.pop(0)
        if isinstance(source, SoundDeviceError):
            raise source
        return source

    def sleep(seconds):
        now[0] += seconds

    first = plugged[0]
    frames = EnduringMicrophone(opened, told.append, lambda: told.append("back"), sleep)
    taken = list(islice(frames, 20))
    assert told == [trouble.CANNOT_HEAR, "back"]
    assert first.closed
    starts = [frame.start_s for frame in taken]
    assert starts[:10] == [number * FRAME_S for number in range(10)]
    assert starts[10] == pytest.approx(10 * FRAME_S + 4)
    assert starts == sorted(starts)


def test_one_that_stays_away_is_told_every_minute(monkeypatch):
    told, looked = [], []

    def opened():
        looked.append(1)
        if len(looked) == 1:
            return Microphone(1)
        if len(looked) > 130:
            raise KeyboardInterrupt
        raise NoMicrophone("none")

    with pytest.raises(KeyboardInterrupt):
        list(EnduringMicrophone(opened, told.append, lambda: None, lambda seconds: None))
    assert told == [trouble.CANNOT_HEAR, trouble.STILL_DEAF, trouble.STILL_DEAF]


def test_none_at_the_beginning_is_one_sentence():
    def opened():
        raise NoMicrophone("There is no microphone.")

    with pytest.raises(NoMicrophone):
        EnduringMicrophone(opened, lambda what: None, lambda: None)


def test_an_error_of_the_system_counts_as_a_defect():
    assert trouble.reason(OSError(errno.EIO, os.strerror(errno.EIO))) == trouble.WENT_WRONG
