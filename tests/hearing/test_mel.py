"""What Whisper is shown."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.hearing.ears.mel import log_mel

TIME_S = np.arange(16000) / 16000
#: A tone that rises from 100 Hz to 6.1 kHz in a second.
CHIRP = (0.3 * np.sin(2 * np.pi * (100 * TIME_S + 3000 * TIME_S**2))).astype(np.float32)
BANDS = (0, 10, 20, 30, 40, 50, 60, 70, 79)


@pytest.mark.parametrize(
    ("frame", "values"),
    [
        (10, [-0.6797, -0.1059, 1.0148, -0.4817, -0.6797, -0.6797, -0.6797, -0.6797, -0.6797]),
        (50, [-0.6797, -0.6797, -0.6797, -0.6797, -0.6797, -0.6051, -0.6436, -0.6797, -0.6797]),
        (90, [-0.6797, -0.6797, -0.6797, -0.6797, -0.6797, -0.6797, -0.6797, 1.1713, -0.6797]),
    ],
)
def test_the_same_as_the_usual_extractor(frame, values):
    """Outside reference: the feature extractor of faster-whisper 1.2.1, run once."""
    assert log_mel(CHIRP, 80)[list(BANDS), frame] == pytest.approx(values, abs=1e-4)


def test_a_frame_for_every_ten_milliseconds():
    assert log_mel(CHIRP, 80).shape == (80, 100)
    assert log_mel(CHIRP, 128).shape == (128, 100)


def test_too_short_a_sound_is_refused():
    with pytest.raises(ValueError, match="200 samples"):
        log_mel(CHIRP[:200], 80)
