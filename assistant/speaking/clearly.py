"""A reply made to be understood beside a fan: its energy put where the noise leaves room.

The share of a third-octave band that gets through a noise of power V grows with its own power E about as E / (E + V)
(Taal, Jensen, Leijon: "On optimal linear filtering of speech for near-end listening enhancement", IEEE Signal
Processing Letters 20(3), 2013, from memory). For a given energy in all, the sum over the bands is greatest with
E = max(0, mu * sqrt(V) - V): bands that the noise fills are given up, those that it leaves free are raised. Then weak
syllables are brought nearer to the loud ones, and the whole as loud as its peaks allow.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

_Array = NDArray[np.float64]
#: Powers by frequency, evenly spaced from 0 Hz to NOISE_TO_HZ.
Noise = NDArray[np.float64]
Sound = NDArray[np.float32]

#: The noise comes as powers from 0 Hz to this, evenly spaced.
NOISE_TO_HZ = 8_000.0
#: Middles of the third-octave bands: those in which speech lives.
_MIDDLES_HZ = 150 * 2 ** (np.arange(17) / 3)
_WINDOW, _HOP = 512, 128
#: Voice energy that no band falls under, as a share of an even spread: a voice without its bass is no voice.
_LEAST = 0.01
#: Below and above the bands little is understood and much energy spent.
_OUTSIDE = 0.15
#: Weak syllables are raised by this share of what they lack (in dB), over a third of a second.
_EVENED, _SYLLABLE_S = 0.3, 0.3
_WEAKEST = 0.05
#: Beside noise: loudness (RMS) and where peaks begin to be bent. Half as loud again as in the quiet.
LOUD, _KNEE = 0.24, 0.6
#: And when it is asked to be louder, so many times that: its peaks are bent much by then.
_MOST_LOUDER = 1.3
#: And slower, so that a lost syllable can be made up from its neighbors.
NOISE_PACE = 0.9


def clearly(sound: Sound, rate: int, noise: _Array, volume: float = 1.0) -> Sound:
    """``sound`` (mono, at ``rate`` Hz) for a place with ``noise`` (powers from 0 Hz to NOISE_TO_HZ), same length.

    ``volume`` is what was asked for, as a share of the usual.

    Where it is silent, or too short to have a spectrum, it is given back as it is.
    """
    if len(sound) < 4 * _WINDOW or not np.any(sound) or not np.any(noise):
        return sound
    return loud(shaped(sound.astype(np.float64), rate, noise), volume)


def shaped(sound: _Array, rate: int, noise: _Array) -> _Array:
    """``sound`` with its energy where the noise leaves room, and no more of it."""
    window = np.sqrt(np.hanning(_WINDOW + 1)[:-1])
    padded = np.pad(sound, (_WINDOW, _WINDOW + -len(sound) % _HOP))
    frames = np.lib.stride_tricks.sliding_window_view(padded, _WINDOW)[::_HOP]
    spectra = np.fft.rfft(frames * window, axis=1)
    hertz = np.asarray(np.fft.rfftfreq(_WINDOW, 1 / rate), np.float64)
    spectra = spectra * _gains(_power(spectra), hertz, noise)
    spectra = spectra * _evening(_power(spectra), rate)[:, None]
    pieces = np.fft.irfft(spectra, _WINDOW, axis=1) * window
    out = np.zeros(len(padded))
    for step in range(_WINDOW // _HOP):  # every fourth piece stands beside the one before
        part = pieces[step :: _WINDOW // _HOP].reshape(-1)
        out[step * _HOP : step * _HOP + len(part)] += part
    made = out[_WINDOW : _WINDOW + len(sound)]
    return np.asarray(made * np.sqrt(np.sum(sound**2) / np.sum(made**2)))


def _power(spectra: NDArray[np.complex128]) -> _Array:
    return np.asarray(np.abs(spectra) ** 2, np.float64)


def _gains(power: _Array, hertz: _Array, noise: _Array) -> _Array:
    """The gain at each frequency."""
    energy = power.sum(axis=1)
    spoken = power[energy > energy.max() * 1e-4].mean(axis=0)
    voice = np.array([spoken[_band(hertz, middle)].sum() for middle in _MIDDLES_HZ])
    noise_hertz = np.linspace(0, NOISE_TO_HZ, len(noise))
    din = np.array([noise[_band(noise_hertz, middle)].sum() for middle in _MIDDLES_HZ])
    total = voice.sum()
    din = np.maximum(din * total / din.sum(), total * 1e-6)  # only its shape is known, not how loud we are there
    wanted = _spread(din, total)
    by_band = np.sqrt(wanted / np.maximum(voice, total * 1e-6))
    gains = np.exp(np.interp(np.log(np.maximum(hertz, 1)), np.log(_MIDDLES_HZ), np.log(by_band)))
    outside = (hertz < _MIDDLES_HZ[0] * 0.9) | (hertz > _MIDDLES_HZ[-1] * 1.12)
    return np.asarray(np.where(outside, gains * _OUTSIDE, gains), np.float64)


def _spread(din: _Array, total: float) -> _Array:
    """The energy of each band: what is there in all, so spread that most gets through."""
    least = _LEAST * total / len(din)
    low, high = 1e-9, 1e9
    for _ in range(100):
        middle = float(np.sqrt(low * high))
        if np.maximum(middle * np.sqrt(din * total) - din, least).sum() > total:
            high = middle
        else:
            low = middle
    return np.maximum(low * np.sqrt(din * total) - din, least)


def _evening(power: _Array, rate: int) -> _Array:
    """A slow gain by frame that raises weak syllables."""
    energy = power.sum(axis=1)
    count = max(1, round(_SYLLABLE_S * rate / _HOP))
    around = np.convolve(np.pad(energy, (count // 2, count - 1 - count // 2), mode="edge"), np.ones(count), "valid")
    level = np.sqrt(around / count)
    usual = float(np.sqrt(energy[energy > energy.max() * 1e-4].mean()))
    return np.asarray((np.maximum(level, _WEAKEST * usual) / usual) ** -_EVENED)


def _band(hertz: _Array, middle: float) -> NDArray[np.bool_]:
    """A third of an octave; the nearest frequency where it holds none."""
    inside = (hertz >= middle * 2 ** (-1 / 6)) & (hertz < middle * 2 ** (1 / 6))
    if not inside.any():
        inside[int(np.argmin(np.abs(hertz - middle)))] = True
    return inside


def loud(sound: _Array, volume: float = 1.0) -> Sound:
    """At RMS LOUD or as much louder or quieter as can be, peaks above _KNEE bent smoothly so that nothing reaches 1."""
    louder = sound * (LOUD * min(volume, _MOST_LOUDER) / np.sqrt(np.mean(sound**2)))
    size = np.abs(louder)
    bent = _KNEE + (1 - _KNEE) * np.tanh((size - _KNEE) / (1 - _KNEE))
    return np.asarray(np.where(size > _KNEE, np.copysign(bent, louder), louder), np.float32)
