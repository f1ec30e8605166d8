"""One room without a break: the clips in it, the silences between, and no edge at the joins."""

from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.files import SoundFileError, load
from assistant.hearing.sound.frames import FRAME
from assistant.measuring.noise import noise
from assistant.visit.recording import RecordingError
from assistant.visit.responder import Clip
from assistant.visit.room import Room, RoomFrames

TONE = noise("fan", 1, 0, 2 * SAMPLE_RATE) * np.float32(0.01)


def rms(audio: Audio) -> float:
    return float(np.sqrt(np.mean(np.square(audio, dtype=np.float64))))


def test_silence_is_the_room_going_on_at_its_level() -> None:
    room = Room(TONE)
    pieces = list(room.silence(10.5))
    whole = np.concatenate(pieces)
    assert len(whole) == int(10.5 * SAMPLE_RATE)
    assert max(map(len, pieces)) <= SAMPLE_RATE
    tenths = [rms(whole[at : at + SAMPLE_RATE // 10]) for at in range(0, len(whole) - SAMPLE_RATE // 10, 1600)]
    assert 0.4 < min(tenths) / 0.01 < max(tenths) / 0.01 < 2
    assert not np.array_equal(next(Room(TONE).silence(1)), next(room.silence(1)))  # it goes on, it does not restart


def test_a_clip_is_led_in_and_out_by_the_room(tmp_path: Path) -> None:
    path = tmp_path / "clip.flac"
    words = noise("fan", 9, 0, SAMPLE_RATE) * np.float32(0.01)
    steepest = np.abs(np.diff(words)).max()
    words[6000:8000] += np.float32(0.2)
    soundfile.write(path, words, SAMPLE_RATE)
    room = Room(TONE)
    played = np.concatenate([*room.silence(1.0), *room.play(Clip(path, "four"))])
    assert len(played) == 2 * SAMPLE_RATE
    assert np.array_equal(played[SAMPLE_RATE + 1000 : 2 * SAMPLE_RATE - 1000], load(path)[1000:-1000])
    around = np.concatenate([np.abs(np.diff(played[15000:17000])), np.abs(np.diff(played[-1200:]))])
    assert around.max() < 1.5 * max(steepest, np.abs(np.diff(TONE)).max())


def test_of_a_long_wait_a_tenth_is_heard_and_all_of_it_passes() -> None:
    waits = iter([Clip(None, "", wait_s=600.0), None])
    frames = list(RoomFrames(Room(TONE), lambda: next(waits), gap_s=1.0))
    assert frames[-1].end_s == pytest.approx(601, abs=0.1)
    assert 60 < len(frames) * FRAME / SAMPLE_RATE < 80
    steps = np.diff([frame.start_s for frame in frames])
    assert steps.max() == pytest.approx(9, abs=0.1)
    assert np.allclose(steps[-round(6 * SAMPLE_RATE / FRAME) :], FRAME / SAMPLE_RATE)  # whole before the words


def test_the_stream_asks_for_the_next_clip_only_after_the_gap() -> None:
    clips = iter([Clip(None, "", wait_s=1.0), Clip(None, "", wait_s=0.5), None])
    asked: list[int] = []
    frames: list[float] = []

    def next_clip() -> Clip | None:
        asked.append(len(frames))
        return next(clips)

    for frame in RoomFrames(Room(TONE), next_clip, gap_s=0.5):
        assert len(frame.audio) == FRAME
        frames.append(frame.start_s)
    assert asked == [0, int(1.5 * SAMPLE_RATE) // FRAME, int(2.5 * SAMPLE_RATE) // FRAME]
    assert np.allclose(np.diff(frames), FRAME / SAMPLE_RATE)


def test_bad_clips_are_told(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match="half a second"):
        Room(TONE[:100])
    text = tmp_path / "text.flac"
    text.write_text("words")
    with pytest.raises(SoundFileError, match="cannot be read as sound"):
        next(Room(TONE).play(Clip(text, "four")))
