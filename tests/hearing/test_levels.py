"""Levels, their advice and the gain, on sounds whose level is known."""

import numpy as np
import pytest

from assistant.hearing.sound import levels
from assistant.hearing.sound.audio import SAMPLE_RATE
from tests.hearing.speech import spoken


def tone(db, seconds=1.0):
    """A sine of this RMS level."""
    time = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    return (10 ** (db / 20) * np.sqrt(2) * np.sin(2 * np.pi * 300 * time)).astype(np.float32)


@pytest.mark.parametrize("db", [-6, -30, -60])
def test_level(db):
    assert levels.level_db(tone(db)) == pytest.approx(db, abs=0.01)


def test_silence_has_a_level():
    assert levels.level_db(np.zeros(100, np.float32)) == -120
    assert levels.level_db(np.zeros(0, np.float32)) == -120


def test_two_sounds_add_as_powers():
    assert levels.mean_db([-20.0, -20.0]) == pytest.approx(-20)
    assert levels.above(-20 + 3.0103, -20) == pytest.approx(-20, abs=0.01)
    assert levels.above(-20, -20) == pytest.approx(-30), "a voice that only equals the room is weak, not infinitely so"


@pytest.mark.parametrize("db", [-60, -40, -24, -6])
def test_every_utterance_comes_to_one_level(db):
    brought = levels.bring_to_level(tone(db), db)
    assert levels.level_db(brought) == pytest.approx(max(levels.TARGET_DB, db - 100) if db >= -64 else db, abs=0.2)


def test_gain_has_a_limit_and_dither_leaves_no_digital_silence():
    nothing = levels.bring_to_level(np.zeros(SAMPLE_RATE, np.float32), -110)
    assert -110 < levels.level_db(nothing) < -90
    assert np.count_nonzero(nothing) > SAMPLE_RATE * 0.99
    np.testing.assert_array_equal(nothing, levels.bring_to_level(np.zeros(SAMPLE_RATE, np.float32), -110))


def test_clipping_is_noticed_wherever_it_happened():
    voice = spoken("four point two")
    voice = voice / np.abs(voice).max()
    assert not levels.clipped(voice)
    driven = np.clip(voice * 4, -1, 1).astype(np.float32)
    assert levels.clipped(driven)
    assert levels.clipped(driven * 0.5), "cut off before a volume control"
    assert not levels.clipped(driven * 0.1), "too soft to tell"
    assert not levels.clipped(np.zeros(1, np.float32))


def test_notes():
    voice = tone(-30)
    assert levels.notes(voice, -30, -60) == ()
    assert levels.notes(voice, -30, -33) == ("noisy",)
    assert levels.notes(tone(-65), -65, -90) == ("too quiet",)
    assert levels.notes(np.clip(tone(0) * 3, -1, 1), -1, -60) == ("clipped",)


def test_room_is_measured_without_the_talk_in_it():
    room = levels.RoomLevel()
    for _ in range(100):
        room.feed(-50.0, speech=False)
    assert room.db == pytest.approx(-50, abs=0.5)
    for _ in range(100):
        room.feed(-20.0, speech=True)
    assert room.db == pytest.approx(-50, abs=0.5)
    for _ in range(200):
        room.feed(-35.0, speech=False)
    assert room.db == pytest.approx(-35, abs=1.0)


def test_gain_brings_a_quiet_microphone_up_and_comes_down_at_once():
    gain = levels.AutomaticGain()
    for _ in range(600):
        gain.feed(-58.0, voice=0.1)
    assert levels.level_db(gain.apply(tone(-58))) > -35
    for _ in range(10):
        gain.feed(-10.0, voice=0.9)
    assert levels.level_db(gain.apply(tone(-10))) < -12
