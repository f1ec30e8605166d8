"""The sound of an utterance is told from itself: clean, beside noise, through a telephone band."""

import numpy as np
import pytest

from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.hearing.sound.quality import quality
from assistant.measuring.noise import mix, noise
from assistant.measuring.places import Place, in_room, narrowed
from tests.hearing.speech import spoken


def utterance(text="two hundred forty volts"):
    """With the quiet that the endpointing leaves around the words; no recording is silent."""
    quiet = np.zeros(SAMPLE_RATE // 4)
    speech = np.concatenate([quiet, spoken(text), quiet]).astype(np.float32)
    return mix(speech, noise("pink", 3, 0, len(speech)), 45)


@pytest.mark.parametrize("kind", ["fan", "pump", "white"])
def test_it_falls_with_the_noise(kind):
    clean = utterance()
    told = [quality(mix(clean, noise(kind, 1, 0, len(clean)), snr)).snr_db for snr in (20, 10, 5, 0)]
    assert told == sorted(told, reverse=True)
    assert quality(clean).snr_db > told[0]


def test_poor_is_noise_and_narrow_bands():
    clean = utterance()
    assert not quality(clean).poor
    assert quality(mix(clean, noise("fan", 1, 0, len(clean)), 10)).poor
    assert quality(narrowed(clean)).poor


def test_a_room_alone_is_not_poor_and_nothing_is():
    assert not quality(in_room(utterance(), 0.3, 1)).poor
    assert quality(np.zeros(SAMPLE_RATE, np.float32)).poor
    assert quality(np.zeros(10, np.float32)).poor


def test_a_place_is_the_same_each_time_and_keeps_the_length():
    clean = utterance()
    place = Place(10, "fan", (), 0.3, "narrow")
    once, again = place.heard(clean, 7), place.heard(clean, 7)
    assert np.array_equal(once, again)
    assert len(once) == len(clean)
    assert not np.array_equal(once, place.heard(clean, 8))
