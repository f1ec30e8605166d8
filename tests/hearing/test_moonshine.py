"""The quick writing ear: what it makes of speech, and how it weighs words that others propose."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.hearing.ears.moonshine import MoonshineEar, largest
from assistant.hearing.ears.protocol import WritingEar
from assistant.hearing.sound.audio import SAMPLE_RATE
from tests.hearing.speech import spoken


@pytest.fixture(scope="module")
def ear() -> MoonshineEar:
    return MoonshineEar()


def test_the_words_that_were_said_are_the_likeliest(ear: MoonshineEar) -> None:
    said = "four point two volts"
    others = ["four point three volts", "four two volts", "forty two volts", "stop"]
    right, *wrong = ear.score(ear.listen(spoken(said)), [said, *others])
    assert right > max(wrong)


def test_numbers_weigh_the_same_however_it_would_write_them(ear: MoonshineEar) -> None:
    """It writes "230" for what others hear as "two thirty": each spelling is tried, the likeliest counts."""
    heard = ear.listen(spoken("two hundred thirty volts"))
    in_words, wrong = ear.score(heard, ["two hundred thirty volts", "two hundred fifteen volts"])
    own = ear.propose(heard)[0]
    assert in_words > own.log_probability - 3
    assert wrong < in_words - 3


def test_what_it_wrote_is_scored_as_it_was_written(ear: MoonshineEar) -> None:
    """Words are cut into the model's own pieces, or their score would be that of another spelling."""
    heard = ear.listen(spoken("seven point five ohms"))
    for hypothesis in ear.propose(heard):
        words = hypothesis.words.rstrip(".").lower()
        if hypothesis.words == f"{words[:1].upper()}{words[1:]}.":
            assert ear.score(heard, [words])[0] == pytest.approx(hypothesis.log_probability, abs=0.7)
            return
    pytest.fail("none of its hypotheses is spelled as grammar words are")


def test_a_long_utterance_is_heard_to_its_end(ear: MoonshineEar) -> None:
    one = spoken("two hundred forty volts")
    long = np.concatenate([one, *[np.zeros(SAMPLE_RATE, dtype=np.float32), one] * 4])
    assert len(long) > 10 * SAMPLE_RATE
    heard = ear.propose(ear.listen(long))
    assert heard
    assert len(heard[0].words.split()) > 8


def test_nothing_is_weighed_in_silence(ear: MoonshineEar) -> None:
    assert ear.listen(np.zeros(SAMPLE_RATE, dtype=np.float32)) is None
    assert ear.score(None, ["stop", "wait"]) == [0.0, 0.0]
    assert ear.score(ear.listen(spoken("stop")), []) == []


def test_it_is_an_ear_that_can_be_asked(ear: MoonshineEar) -> None:
    assert isinstance(ear, WritingEar)


def test_the_largest_are_found_wherever_they_stand() -> None:
    for seed in range(20):
        values = np.random.default_rng(seed).standard_normal(4 * 32_768).astype(np.float32)
        values[seed : seed + 3] += 9  # some in one block
        assert largest(values, 8).tolist() == np.argsort(-values)[:8].tolist()
