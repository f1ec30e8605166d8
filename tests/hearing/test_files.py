"""Every usual kind of sound file is heard the same; what cannot be heard is refused with one sentence."""

import numpy as np
import pytest
import soundfile as sf
import soxr

from assistant.hearing.sound import files
from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.hearing.sound.files import FileFrames, SoundFileError, load
from tests.hearing.speech import spoken

WORDS = "four point two"


def write(path, audio, rate=SAMPLE_RATE, **how):
    sf.write(path, audio, rate, **how)
    return path


def likeness(one, other):
    """Correlation of two recordings at the same place."""
    count = min(len(one), len(other))
    one, other = one[:count], other[:count]
    return float(one @ other / np.sqrt((one @ one) * (other @ other)))


@pytest.mark.parametrize("rate", [8_000, 11_025, 22_050, 44_100, 48_000, 96_000])
def test_every_rate_is_converted(tmp_path, rate):
    original = spoken(WORDS)
    # what is above 3.4 kHz is not in an 8 kHz file, so it is not compared
    narrow = soxr.resample(soxr.resample(original, SAMPLE_RATE, 8_000), 8_000, SAMPLE_RATE)
    heard = load(write(tmp_path / "a.wav", soxr.resample(original, SAMPLE_RATE, rate), rate))
    assert heard.dtype == np.float32
    assert len(heard) == pytest.approx(len(original), abs=SAMPLE_RATE / rate + 2)
    assert likeness(soxr.resample(soxr.resample(heard, SAMPLE_RATE, 8_000), 8_000, SAMPLE_RATE), narrow) > 0.999


@pytest.mark.parametrize("name", ["a.wav", "a.flac", "a.ogg"])
def test_every_container_is_read(tmp_path, name):
    assert likeness(load(write(tmp_path / name, spoken(WORDS))), spoken(WORDS)) > 0.9


def test_stereo_is_heard_whichever_side_the_voice_is_on(tmp_path):
    voice = spoken(WORDS)
    nothing = np.zeros_like(voice)
    for channels in ([voice, voice], [voice, nothing], [nothing, voice], [voice, -voice]):
        heard = load(write(tmp_path / "a.wav", np.stack(channels, axis=1)))
        assert abs(likeness(heard, voice)) > 0.99


def test_frames_of_a_file_are_its_samples(tmp_path):
    path = write(tmp_path / "a.flac", spoken(WORDS), subtype="PCM_24")
    source = FileFrames(path)
    together = np.concatenate([frame.audio for frame in source])
    np.testing.assert_array_equal(together[: len(load(path))], load(path))
    assert source.sound.seconds == pytest.approx(len(spoken(WORDS)) / SAMPLE_RATE)
    assert [frame.start_s for frame in source][:2] == [0.0, 0.032], "a source can be heard again from its beginning"


def refused(path, **limit):
    with pytest.raises(SoundFileError) as caught:
        load(path, **limit)
    sentence = str(caught.value)
    assert str(path) in sentence
    assert "\n" not in sentence
    return sentence


def test_a_file_that_is_not_there(tmp_path):
    assert "no such file" in refused(tmp_path / "none.wav")


def test_a_folder(tmp_path):
    assert "folder" in refused(tmp_path)


def test_an_empty_file(tmp_path):
    (tmp_path / "a.wav").write_bytes(b"")
    assert "empty" in refused(tmp_path / "a.wav")


def test_a_header_without_sound(tmp_path):
    assert "no sound" in refused(write(tmp_path / "a.wav", np.zeros(0, np.float32)))


def test_what_is_not_sound(tmp_path):
    (tmp_path / "a.wav").write_text("minutes of a meeting")
    assert "ffmpeg" in refused(tmp_path / "a.wav")


def test_a_file_cut_off_in_its_middle(tmp_path):
    whole = write(tmp_path / "a.flac", spoken(WORDS)).read_bytes()
    (tmp_path / "b.flac").write_bytes(whole[:30])
    assert "cannot be read" in refused(tmp_path / "b.flac")


def test_silence(tmp_path):
    assert "silent" in refused(write(tmp_path / "a.wav", np.full(SAMPLE_RATE, 3e-5, np.float32)))


def test_a_quiet_talker_is_not_silence(tmp_path):
    load(write(tmp_path / "a.flac", spoken(WORDS) * np.float32(0.002), subtype="PCM_24"))


def test_a_click(tmp_path):
    assert "too short" in refused(write(tmp_path / "a.wav", np.ones(100, np.float32) * 0.5))


def test_numbers_that_are_none(tmp_path):
    sound = spoken(WORDS).copy()
    sound[1000] = np.nan
    assert "not numbers" in refused(write(tmp_path / "a.wav", sound, subtype="FLOAT"))


def test_a_rate_too_low_for_speech(tmp_path):
    assert "too low" in refused(write(tmp_path / "a.wav", np.ones(4000, np.float32) * 0.1, 4_000))


def test_an_hour(tmp_path):
    # a header alone promises the hour: nothing that long is read
    path = write(tmp_path / "a.wav", np.full(60 * 60 * 100, 0.1, np.float32), 8_000, subtype="PCM_U8")
    assert "allowed" in refused(path, longest_s=30.0)
    assert "30 seconds" in refused(path, longest_s=30.0)
    assert "30 minutes" in str(files.too_long(path, 3600, files.LONGEST_S))
