"""Frames are whole, numbered by samples, and the same however the sound arrived."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from assistant.hearing.sound.frames import (
    FRAME,
    FRAME_S,
    AudioFrames,
    Framer,
)


@given(st.lists(st.integers(0, 2000), max_size=8))
def test_pieces_of_any_length_give_the_frames_of_the_whole(lengths):
    sound = np.arange(sum(lengths), dtype=np.float32)
    framer, at, found = Framer(), 0, []
    for length in lengths:
        found += framer.cut(sound[at : at + length])
        at += length
    found += framer.finish()
    whole = list(AudioFrames(sound))
    assert [frame.start_s for frame in found] == [frame.start_s for frame in whole]
    assert all(np.array_equal(one.audio, other.audio) for one, other in zip(found, whole, strict=True))


def test_no_sample_is_lost_and_the_last_frame_is_filled_with_silence():
    sound = np.ones(FRAME + 10, np.float32)
    first, last = AudioFrames(sound)
    assert first.audio.shape == last.audio.shape == (FRAME,)
    assert first.audio.sum() + last.audio.sum() == len(sound)
    assert last.start_s == first.end_s == FRAME_S
