"""The noise of the place is known from the moments without talk, and only where it is loud beside the voice."""

import numpy as np
import pytest

from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.hearing.sound.din import Din
from assistant.hearing.sound.endpointing import Endpointer
from assistant.hearing.sound.frames import FRAME, AudioFrames, Frame
from assistant.measuring.noise import mix, noise
from tests.hearing.speech import spoken


def frames(audio):
    return list(AudioFrames(audio))


def heard(snr_db):
    """Two seconds of the place, then words, then the place again."""
    speech = np.concatenate([np.zeros(2 * SAMPLE_RATE), spoken("two hundred forty volts"), np.zeros(SAMPLE_RATE)])
    audio = speech.astype(np.float32)
    return audio if snr_db is None else mix(audio, noise("fan", 1, 0, len(audio)), snr_db)


@pytest.mark.parametrize(("snr_db", "loud"), [(None, False), (30, False), (5, True)])
def test_it_is_told_only_where_it_is_loud(snr_db, loud):
    endpointer = Endpointer()
    for frame in frames(heard(snr_db)):
        for event in endpointer.feed(frame):
            if isinstance(event, Utterance):
                endpointer.learn(event)
    assert (endpointer.din is not None) == loud


def test_talk_and_our_own_voice_are_no_din():
    din = Din()
    hum = frames(np.sin(2 * np.pi * 500 * np.arange(2 * SAMPLE_RATE) / SAMPLE_RATE).astype(np.float32))
    for frame in hum:
        din.feed(frame, talk=True)
        din.feed(Frame(frame.audio, frame.start_s, over_reply=True), talk=False)
    assert din.spectrum() is None
    for frame in hum:
        din.feed(frame, talk=False)
    spectrum = din.spectrum()
    assert spectrum is not None
    assert int(np.argmax(spectrum)) == round(500 * FRAME / SAMPLE_RATE)
