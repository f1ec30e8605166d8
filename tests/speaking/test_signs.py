"""The signs are short, never cut off, and told apart in the noise of machines as loud as they are."""

import numpy as np
import pytest

from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.measuring.noise import mix, noise
from assistant.speaking.signs import sound_of

SIGNS = ("listening", "heard", "not heard")


@pytest.mark.parametrize("sign", SIGNS)
def test_it_is_short_and_loud(sign):
    sound = sound_of(sign, 22_050)
    assert len(sound) < 0.5 * 22_050
    assert 0.4 < np.abs(sound).max() < 1


@pytest.mark.parametrize("kind", ["fan", "compressor", "pump", "street"])
def test_they_are_told_apart_in_noise(kind):
    length = SAMPLE_RATE // 2
    alone = {sign: np.pad(sound_of(sign, SAMPLE_RATE), (0, length))[:length] for sign in SIGNS}
    likeness = {sign: sound / np.sqrt(np.sum(sound**2)) for sign, sound in alone.items()}
    for seed, sign in enumerate(SIGNS * 5):
        heard = mix(alone[sign], noise(kind, seed, 0, length), 0)
        found = {other: np.abs(np.correlate(heard, like, "same")).max() for other, like in likeness.items()}
        assert max(found, key=lambda other: found[other]) == sign
