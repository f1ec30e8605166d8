"""The voice through a real sound device: said to the end, in order, and cut off when asked."""

import threading
import time

import numpy as np
import pytest

from assistant.hearing.sound.levels import level_db
from assistant.hearing.sound.microphone import Microphone
from assistant.speaking.loudspeaker import LoudspeakerError, LoudspeakerVoice
from assistant.speaking.synthesis import RATE, synthesizer

LINE = "U to V reads four point two kilohms, and that is within its limits."


class Listener:
    """Records what is in the air while it is entered."""

    def __enter__(self):
        self._microphone = Microphone()
        self._frames = []
        self._thread = threading.Thread(target=lambda: self._frames.extend(self._microphone))
        self._thread.start()
        while not self._frames:  # the device needs a moment; the extend above is filled frame by frame
            time.sleep(0.02)
        return self

    def __exit__(self, *error):
        self._microphone.close()
        self._thread.join()

    @property
    def sounding_s(self):
        """Seconds from the first to the last sound heard."""
        loud = [frame.start_s for frame in self._frames if level_db(frame.audio) > -60]
        return loud[-1] - loud[0] if loud else 0.0


@pytest.fixture
def voice(sound_card):
    voice = LoudspeakerVoice()
    yield voice
    voice.close()


def test_a_reply_is_said_to_its_end(voice):
    with Listener() as listener:
        speech = voice.say(LINE)
        assert voice.speaking
        assert speech.wait(20)
        time.sleep(0.3)
    assert speech.done
    assert not voice.speaking
    assert listener.sounding_s == pytest.approx(len(synthesizer().render(LINE)) / RATE, abs=0.2)


def test_stop_cuts_a_reply_off(voice):
    with Listener() as listener:
        speech = voice.say(LINE)
        while not listener.sounding_s > 0.5:
            time.sleep(0.02)
        speech.stop()
        heard_s = listener.sounding_s
        time.sleep(1.0)
    assert not speech.wait(1)
    assert listener.sounding_s - heard_s < 0.3, "silent within 0.3 s"


def test_replies_wait_for_each_other_and_all_can_be_stopped(voice):
    first, second = voice.say("One."), voice.say(LINE)
    assert first.wait(10)
    assert not second.done
    third = voice.say(LINE)
    voice.stop()
    assert not second.wait(1)
    assert not third.wait(1)


def test_the_ears_are_told_what_is_played(sound_card):
    played = []
    voice = LoudspeakerVoice(heard_by=lambda block, rate, when: played.append((block.copy(), rate)))
    voice.say("Ready.").wait(10)
    voice.close()
    together = np.concatenate([block for block, _ in played])
    said = synthesizer().render("Ready.")
    assert {rate for _, rate in played} == {voice.rate}
    assert np.abs(together).max() == pytest.approx(np.abs(said).max(), abs=0.05)


def test_nothing_to_say_is_done_at_once(voice):
    assert voice.say(" … ").wait(1)


def test_an_unplugged_loudspeaker_ends_the_reply_and_is_one_clear_sentence(sound_card, voice):
    speech = voice.say(LINE)
    sound_card.unplug()
    assert not speech.wait(15)
    with pytest.raises(LoudspeakerError) as caught:
        voice.say(LINE)
    assert "\n" not in str(caught.value)


def test_a_loudspeaker_that_stood_still_says_the_reply_again_from_its_beginning(sound_card, voice):
    first = voice.say("Ready.")
    assert first.wait(10)
    speech = voice.say(LINE)
    with Microphone() as microphone, sound_card.air() as air:
        assert air.wait_for_sound(0.5, 20)
        sound_card.cut_off_loudspeakers()
        said_s = air.heard_s
        for frame in voice.looked_after(microphone):
            if speech.done or frame.end_s > 30:
                break
        air.wait_for_quiet(0.3)
        again_s = air.heard_s - said_s
    assert speech.wait(0), "it was said to its end"
    assert again_s > 0.8 * len(synthesizer().render(LINE)) / RATE


def test_no_loudspeaker_names_the_two_other_ways(no_sound_card):
    with pytest.raises(LoudspeakerError, match=r"`ladderside replay`.*`ladderside type`"):
        LoudspeakerVoice()
