"""Noise is the same in pieces as whole, and mixing keeps the level that it states."""

import numpy as np
import pytest

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.measuring.noise import (
    KINDS,
    NoiseError,
    far_talk,
    mix,
    noise,
    room,
    speech_level,
)


def tone(seconds: float, level: float = 0.1) -> Audio:
    count = int(seconds * SAMPLE_RATE)
    wave = level * np.sqrt(2) * np.sin(2 * np.pi * 440 * np.arange(count) / SAMPLE_RATE)
    return np.asarray(wave, dtype=np.float32)


def rms(audio: Audio) -> float:
    return float(np.sqrt(np.mean(np.square(audio, dtype=np.float64))))


@pytest.mark.parametrize("kind", KINDS)
def test_pieces_join_to_the_whole(kind: str) -> None:
    start, count = 7 * SAMPLE_RATE, 4 * SAMPLE_RATE  # across the seam of two blocks
    whole = noise(kind, 3, start, count)
    pieces = [noise(kind, 3, start + at, 5000) for at in range(0, count - 5000, 5000)]
    assert np.array_equal(np.concatenate(pieces), whole[: len(pieces) * 5000])


@pytest.mark.parametrize("kind", KINDS)
def test_level_is_one_and_no_seam_is_heard(kind: str) -> None:
    made = noise(kind, 5, 0, 24 * SAMPLE_RATE)
    assert rms(made[SAMPLE_RATE:]) == pytest.approx(1, abs=0.15)
    seconds = np.array([rms(made[at : at + SAMPLE_RATE]) for at in range(0, len(made), SAMPLE_RATE)])
    assert seconds.min() > 0.3
    assert kind == "street" or seconds.max() / seconds.min() < 1.6


def test_seed_and_kind_make_the_noise() -> None:
    assert not np.array_equal(noise("fan", 1, 0, 1000), noise("fan", 2, 0, 1000))
    assert not np.array_equal(noise("fan", 1, 0, 1000), noise("pump", 1, 0, 1000))


@pytest.mark.parametrize(("kind", "low_share"), [("white", (0.1, 0.16)), ("pink", (0.7, 0.9)), ("street", (0.6, 1))])
def test_spectrum_below_one_kilohertz(kind: str, low_share: tuple[float, float]) -> None:
    """White has 1/8 of its power there; pink ln(1000/20)/ln(8000/20) = 0.65 of it and more with rounding."""
    power = np.abs(np.fft.rfft(noise(kind, 1, 0, 8 * SAMPLE_RATE))) ** 2
    share = power[:8000].sum() / power.sum()
    expected = (0.63, 0.68) if kind == "pink" else low_share
    assert expected[0] < share < expected[1]


def test_pauses_do_not_lower_the_speech_level() -> None:
    spoken = tone(3.0)
    silence = np.zeros(5 * SAMPLE_RATE, dtype=np.float32)
    assert speech_level(spoken) == pytest.approx(0.1, rel=0.05)
    assert speech_level(np.concatenate([silence, spoken, silence])) == pytest.approx(0.1, rel=0.1)
    assert speech_level(silence) == 0
    assert speech_level(np.zeros(0, dtype=np.float32)) == 0


@pytest.mark.parametrize("snr_db", [20.0, 10.0, 0.0])
def test_mix_keeps_speech_and_states_the_noise(snr_db: float) -> None:
    spoken = tone(2.0)
    mixed = mix(spoken, noise("fan", 9, 0, len(spoken)), snr_db)
    assert 20 * np.log10(speech_level(spoken) / rms(mixed - spoken)) == pytest.approx(snr_db, abs=0.1)


def test_room_keeps_length_and_adds_a_tail_that_grows_with_distance() -> None:
    click = np.zeros(SAMPLE_RATE, dtype=np.float32)
    click[100] = 1
    near, far = room(click, 1, distance_m=0.4), room(click, 1, distance_m=4)
    assert len(near) == len(click)
    assert rms(far[200:]) > 3 * rms(near[200:]) > 0
    assert rms(far[100 + 8000 :]) < 1e-3  # gone after the decay


def test_far_talk_uses_the_clips_and_is_repeatable() -> None:
    clips = [tone(0.5), tone(0.8)]
    first = far_talk(clips, 4, 5 * SAMPLE_RATE)
    assert len(first) == 5 * SAMPLE_RATE
    assert rms(first) == pytest.approx(1, abs=1e-3)
    assert np.array_equal(first, far_talk(clips, 4, 5 * SAMPLE_RATE))


def test_bad_requests_say_what_is_wrong() -> None:
    with pytest.raises(NoiseError, match=r"choose one of fan"):
        noise("hairdryer", 1, 0, 10)
    with pytest.raises(NoiseError, match="at least 0"):
        noise("fan", 1, -1, 10)
    with pytest.raises(NoiseError, match="silent"):
        mix(np.zeros(100, dtype=np.float32), noise("fan", 1, 0, 100), 10)
    with pytest.raises(NoiseError, match="equally long"):
        mix(tone(0.1), noise("fan", 1, 0, 100), 10)
    with pytest.raises(NoiseError, match="at least one clip"):
        far_talk([np.zeros(100, dtype=np.float32)], 1, 100)
