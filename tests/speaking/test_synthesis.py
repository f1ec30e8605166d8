"""The voice renders every line, each at its own pace, however many come in a row."""

import numpy as np
import pytest

from assistant.hearing.sound.levels import level_db
from assistant.speaking.synthesis import RATE, SpeechError, synthesizer
from assistant.speaking.text import seconds

LINES = ("Yes.", "terminal A", "U–V 4.2 kΩ, 15 °C.", "Careful: the fan may start without warning.")


def test_a_hundred_lines_in_a_row_are_all_there_at_the_pace_asked():
    """Without the care that the synthesizer takes, half of the lines have the pace of the one before."""
    length = {}
    for turn in range(100):
        line, pace = LINES[turn % len(LINES)], (1.0, 0.8)[turn // len(LINES) % 2]
        sound = synthesizer().render(line, pace)
        length.setdefault((line, pace), []).append(len(sound) / RATE)
        assert level_db(sound) == pytest.approx(-16, abs=1), line
        assert np.abs(sound).max() < 1
    assert len(length) == 2 * len(LINES)
    for (line, pace), found in length.items():
        # espeak's own jitter is some 10 ms a pause; another pace would be a quarter of the length.
        assert max(found) - min(found) < max(0.05, 0.03 * max(found)), (line, pace)
        if pace < 1:
            assert min(found) == pytest.approx(min(length[line, 1.0]) / pace, rel=0.1)


@pytest.mark.parametrize("line", LINES)
def test_there_is_no_silence_around_a_line(line):
    sound = synthesizer().render(line)
    assert np.abs(sound[:3]).max() > 0.001
    assert np.abs(sound[-3:]).max() > 0.001
    assert len(sound) / RATE == pytest.approx(seconds(line), rel=0.6)


def test_nothing_to_say():
    assert len(synthesizer().render("—")) == 0


def test_another_voice_sounds_different_and_the_next_line_is_the_usual_one_again():
    usual = synthesizer().render(LINES[2])
    other = synthesizer().render(LINES[2], voice="gmw/en-gb-scotland")
    again = synthesizer().render(LINES[2])
    assert abs(len(other) - len(usual)) > 0.02 * len(usual)
    assert len(again) == pytest.approx(len(usual), rel=0.01)


def test_an_unknown_voice_is_named():
    with pytest.raises(SpeechError, match="klingon"):
        synthesizer().render("Yes.", voice="klingon")


def test_nothing_is_printed(capfd):
    synthesizer().render("Yes.")
    assert capfd.readouterr() == ("", "")


def test_the_engine_itself_speaks_of_its_files():
    """When this fails, pyttsx3 no longer prints and the silencing can go."""
    import inspect

    from pyttsx3.drivers import espeak

    assert "print(" in inspect.getsource(espeak)


@pytest.mark.parametrize("volume", [0.4, 0.65, 1.6])
def test_a_voice_that_is_asked_to_be_louder_or_quieter_is(volume):
    usual, other = synthesizer().render(LINES[2]), synthesizer().render(LINES[2], volume=volume)
    ratio = np.sqrt(np.mean(np.square(other))) / np.sqrt(np.mean(np.square(usual)))
    assert ratio == pytest.approx(volume, rel=0.12)
    assert np.max(np.abs(other)) < 1
