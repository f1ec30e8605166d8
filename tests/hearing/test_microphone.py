"""The live path with a real sound device: what is played in the room comes out of the microphone as from a file."""

import subprocess
import sys
import threading

import numpy as np
import pytest
import soundfile as sf

from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.hearing.sound.endpointing import endpoint
from assistant.hearing.sound.files import FileFrames
from assistant.hearing.sound.frames import FRAME
from assistant.hearing.sound.microphone import Microphone, MicrophoneLost, NoMicrophone
from tests.hearing.speech import spoken


@pytest.fixture
def recording(tmp_path):
    pause = np.zeros(SAMPLE_RATE, np.float32)
    path = tmp_path / "said.wav"
    sf.write(path, np.concatenate([pause, spoken("four point two kilohms"), pause]), SAMPLE_RATE)
    return path


def delay_and_likeness(heard, original):
    """Where ``original`` stands in ``heard`` (samples) and how like it that piece is (1 is the same)."""
    size = len(heard) + len(original)
    cross = np.fft.irfft(np.fft.rfft(heard, size) * np.conj(np.fft.rfft(original, size)), size)
    at = int(np.argmax(cross[: len(heard)]))
    piece = heard[at : at + len(original)]
    original = original[: len(piece)]
    return at, float(piece @ original / np.sqrt((piece @ piece) * (original @ original)))


def test_a_spoken_answer_goes_through_the_air_like_through_a_file(sound_card, recording):
    from_file = next(iter(endpoint(FileFrames(recording))))
    with Microphone() as microphone:
        player = sound_card.play(recording)
        live = next(iter(endpoint(microphone)))
        player.wait()
    assert live.audio.dtype == from_file.audio.dtype == np.float32
    assert len(live.audio) == pytest.approx(len(from_file.audio), abs=4 * FRAME)
    at, likeness = delay_and_likeness(live.audio, from_file.audio[2 * FRAME : -2 * FRAME])
    assert likeness > 0.95
    assert at < 6 * FRAME


def test_the_stream_counts_its_samples(sound_card):
    with Microphone() as microphone:
        frames = [frame for frame, _ in zip(microphone, range(20), strict=False)]
    assert all(frame.audio.shape == (FRAME,) for frame in frames)
    assert [frame.start_s for frame in frames] == [number * FRAME / SAMPLE_RATE for number in range(20)]


def test_closing_ends_the_stream(sound_card):
    microphone = Microphone()
    frames = iter(microphone)
    next(frames)
    threading.Timer(0.2, microphone.close).start()
    assert sum(1 for _ in frames) < 200
    microphone.close()


def test_an_unplugged_microphone_is_one_clear_sentence(sound_card):
    with Microphone() as microphone:
        frames = iter(microphone)
        next(frames)
        sound_card.unplug()
        with pytest.raises(MicrophoneLost, match=r"stopped sending; every answer so far is kept\. Plug it in"):
            for _ in frames:
                pass


def test_no_microphone_names_the_two_other_ways(no_sound_card):
    with pytest.raises(NoMicrophone, match=r"`ladderside replay`.*`ladderside type`") as caught:
        Microphone()
    assert "\n" not in str(caught.value)


def test_an_unknown_microphone_is_named(sound_card):
    with pytest.raises(NoMicrophone, match="called “beside the ladder”"):
        Microphone("beside the ladder")


def test_a_sound_server_that_died_does_not_hold_the_program(sound_card, tmp_path):
    # in a process of its own, because the library never gets over it
    program = """
from assistant.errors import LaddersideError
from assistant.hearing.sound.microphone import Microphone
try:
    with Microphone() as microphone:
        for number, frame in enumerate(microphone):
            if number == 3:
                print("listening", flush=True)
except LaddersideError as error:
    print(error)
"""
    listening = subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE, text=True)
    assert listening.stdout.readline() == "listening\n"
    sound_card.stop()
    said, _ = listening.communicate(timeout=60)
    assert said.startswith("The microphone")
    assert listening.returncode == 0
