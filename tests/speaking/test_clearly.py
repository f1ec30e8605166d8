"""Beside noise a reply has its energy where the noise leaves room, and is louder; in the quiet nothing changes."""

import numpy as np
import pytest

from assistant.speaking.clearly import LOUD, NOISE_PACE, NOISE_TO_HZ, clearly, shaped
from assistant.speaking.synthesis import RATE, rendered, synthesizer

HERTZ = np.linspace(0, NOISE_TO_HZ, 257)
#: A fan: rushing air that falls above 400 Hz.
RUSH = 1 / (1 + (HERTZ / 400) ** 3)
LINE = "Supply voltage 241 volts, within limits."


def gets_through(sound, noise):
    """The sum over third octaves of E / (E + V), the noise as strong as the sound."""
    power = np.abs(np.fft.rfft(sound)) ** 2
    hertz = np.fft.rfftfreq(len(sound), 1 / RATE)
    edges = 150 * 2 ** (np.arange(-0.5, 17) / 3)
    voice, _ = np.histogram(hertz, edges, weights=power)
    din, _ = np.histogram(HERTZ, edges, weights=noise)
    return np.sum(voice / (voice + din * voice.sum() / din.sum()))


@pytest.mark.parametrize("noise", [RUSH, HERTZ + 1, np.ones(257)])
def test_more_gets_through_the_noise_at_the_same_energy(noise):
    plain = synthesizer().render(LINE).astype(np.float64)
    made = shaped(plain, RATE, noise)
    assert gets_through(made, noise) > 1.1 * gets_through(plain, noise)
    assert len(made) == len(plain)
    assert np.sum(made**2) == pytest.approx(np.sum(plain**2))


def test_weak_syllables_come_nearer_to_loud_ones():
    rng = np.random.default_rng(1)
    one = rng.standard_normal(RATE)
    made = shaped(np.concatenate([0.3 * one, 0.03 * one]), RATE, np.ones(257))
    loud, weak = (float(np.sqrt(np.mean(part**2))) for part in (made[: RATE // 2], made[-RATE // 2 :]))
    assert 20 * np.log10(loud / weak) < 20 - 3


def test_it_is_louder_and_never_cut_off():
    made = clearly(synthesizer().render(LINE), RATE, RUSH)
    assert np.sqrt(np.mean(made**2)) > 0.85 * LOUD
    assert np.abs(made).max() < 1


@pytest.mark.parametrize("sound", [np.zeros(RATE, np.float32), np.zeros(0, np.float32), np.ones(100, np.float32)])
def test_what_holds_no_voice_is_left_as_it_is(sound):
    assert clearly(sound, RATE, RUSH) is sound


def test_beside_noise_a_line_is_slower_too():
    quiet, beside = rendered(LINE, 1.0, None), rendered(LINE, 1.0, RUSH)
    assert len(beside) / len(quiet) == pytest.approx(1 / NOISE_PACE, rel=0.1)
    assert len(rendered("—", 1.0, RUSH)) == 0
