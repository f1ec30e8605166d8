"""Noise of the places where the work is done, made from a seed, and mixing it under speech at a stated level.

Numpy only. Everything is mono float32 at ``SAMPLE_RATE``. A noise is a pure function of kind, seed and position:
``noise("fan", 7, start, count)`` gives the same samples whichever pieces a stream asks for, so that a room goes on
between two recordings. The machines' figures are rotation times number of blades, vanes or poles (physics); how
loud their parts are to each other is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from assistant.errors import LaddersideError
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio

_Float = NDArray[np.float64]

#: A noise is made in blocks that fade into each other over ``_FADE`` samples, so that it can go on for ever.
_BLOCK = 8 * SAMPLE_RATE
_FADE = SAMPLE_RATE // 2
_HOP = _BLOCK - _FADE


class NoiseError(LaddersideError):
    """An unknown kind of noise, or audio that cannot be mixed."""


def noise(kind: str, seed: int, start: int, count: int) -> Audio:
    """``count`` samples of the endless noise ``kind``/``seed`` from sample ``start`` on, at about unit RMS.

    Raises NoiseError for a kind that is not in ``KINDS`` or a negative start or count.
    """
    if kind not in _MAKERS:
        raise NoiseError(f"There is no noise called {kind!r}; choose one of {', '.join(KINDS)}.")
    if start < 0 or count < 0:
        raise NoiseError(f"Noise needs a start and a count of at least 0, not {start} and {count}.")
    out = np.zeros(count)
    for index in range(max(0, (start - _BLOCK) // _HOP), (start + count) // _HOP + 1):
        at = index * _HOP - start
        first, last = max(0, at), min(count, at + _BLOCK)
        if first < last:
            out[first:last] += _block(kind, seed, index)[first - at : last - at]
    return out.astype(np.float32)


def far_talk(talkers: Sequence[Audio], seed: int, count: int, distance_m: float = 4.0) -> Audio:
    """Other people talking further away, at unit RMS: the given clips one after the other with pauses.

    ``distance_m`` dulls the voices and adds a room's tail, as distance does. ``talkers`` are clean clips of
    speech; they are drawn in a random order for as long as needed. Raises NoiseError when there is no sound in them.
    """
    clips = [clip.astype(np.float64) / speech_level(clip) for clip in talkers if len(clip) and np.any(clip)]
    if not clips:
        raise NoiseError("Far talk needs at least one clip with speech in it.")
    rng = np.random.default_rng([seed, 101])
    out = np.zeros(count)
    for at in (0, int(rng.integers(SAMPLE_RATE))):  # two people, each talking on their own time
        while at < count:
            clip = clips[int(rng.integers(len(clips)))]
            piece = clip[: count - at]
            out[at : at + len(piece)] += piece
            at += len(clip) + int(rng.uniform(0.1, 1.2) * SAMPLE_RATE)
    return _unit(room(out.astype(np.float32), seed, distance_m=distance_m).astype(np.float64)).astype(np.float32)


def room(dry: Audio, seed: int, distance_m: float = 0.4, decay_s: float = 0.35, size_m: float = 4.0) -> Audio:
    """``dry`` as a microphone ``distance_m`` away hears it in a room, same length, direct sound at its old level.

    The tail is noise that decays by 60 dB in ``decay_s``; direct sound and tail are equal at the critical distance
    0.057 * sqrt(V / T60) (Sabine's diffuse-field theory), V being a cube of ``size_m``. Far sound loses its treble.
    """
    tail = int(decay_s * SAMPLE_RATE)
    rng = np.random.default_rng([seed, 102])
    time_s = np.arange(tail) / SAMPLE_RATE
    impulse = rng.standard_normal(tail) * 10 ** (-3 * time_s / decay_s)
    impulse[: int(0.004 * SAMPLE_RATE)] = 0  # the first wall is more than a metre of detour away
    critical_m = 0.057 * np.sqrt(size_m**3 / decay_s)
    impulse *= (distance_m / critical_m) / np.sqrt(np.sum(impulse**2))
    impulse[0] = 1.0
    count = len(dry) + tail
    spectrum = np.fft.rfft(dry, count) * np.fft.rfft(impulse, count)
    cutoff_hz = 8000 / max(1.0, distance_m)
    spectrum /= np.sqrt(1 + (np.fft.rfftfreq(count, 1 / SAMPLE_RATE) / cutoff_hz) ** 2)
    return np.fft.irfft(spectrum, count)[: len(dry)].astype(np.float32)


def speech_level(speech: Audio) -> float:
    """RMS of the active part of ``speech``: pauses do not count.

    After ITU-T P.56 method B (envelope of 0.03 s, 0.2 s hang-over, margin 15.9 dB), on 5 ms steps. 0.0 for silence.
    """
    step = SAMPLE_RATE // 200
    usable = len(speech) // step * step
    if usable == 0 or not np.any(speech):
        return float(np.sqrt(np.mean(np.square(speech, dtype=np.float64)))) if len(speech) else 0.0
    samples = speech[:usable].astype(np.float64)
    envelope = _envelope(np.abs(samples).reshape(-1, step).mean(axis=1), steps_per_constant=6)
    held = np.lib.stride_tricks.sliding_window_view(np.pad(envelope, (39, 0)), 40).max(axis=1)
    energy = float(np.sum(samples**2))
    active_level = float(np.sqrt(energy / usable))
    for threshold in float(held.max()) * 10 ** (np.arange(-60, 0, 0.5) / 20):  # upwards until the margin is reached
        active_level = float(np.sqrt(energy / (np.count_nonzero(held >= threshold) * step)))
        if 20 * np.log10(active_level / threshold) <= 15.9:
            break
    return active_level


def mix(speech: Audio, background: Audio, snr_db: float) -> Audio:
    """``speech`` with ``background`` under it so that speech's active level is ``snr_db`` above the noise's RMS.

    The speech keeps its level. Both have the same length; raises NoiseError if not, or if either is silent.
    """
    if len(speech) != len(background):
        raise NoiseError(f"Speech ({len(speech)} samples) and noise ({len(background)}) must be equally long.")
    level = speech_level(speech)
    rms = float(np.sqrt(np.mean(np.square(background, dtype=np.float64)))) if len(background) else 0.0
    if level == 0 or rms == 0:
        raise NoiseError("Speech and noise can be mixed at a stated level only when neither is silent.")
    return (speech + background * np.float32(level / rms * 10 ** (-snr_db / 20))).astype(np.float32)


def _envelope(frames: _Float, steps_per_constant: int) -> _Float:
    """Two first-order low-passes in a row, as P.56 has it."""
    keep = np.exp(-1 / steps_per_constant)
    first = second = 0.0
    out = np.empty_like(frames)
    for index, value in enumerate(frames):
        first = keep * first + (1 - keep) * value
        second = keep * second + (1 - keep) * first
        out[index] = second
    return out


@lru_cache(maxsize=8)
def _block(kind: str, seed: int, index: int) -> _Float:
    """One block with its fades (power stays even where two overlap). Cached: a stream asks in small pieces."""
    made = _unit(_MAKERS[kind](np.random.default_rng([seed, index, *kind.encode()]), np.random.default_rng(seed)))
    ramp = np.sin(np.linspace(0, np.pi / 2, _FADE, endpoint=False))
    if index > 0:
        made[:_FADE] *= ramp
    made[-_FADE:] *= ramp[::-1]
    made.setflags(write=False)
    return made


def _unit(samples: _Float) -> _Float:
    rms = np.sqrt(np.mean(samples**2))
    return samples / rms if rms > 0 else samples


def _shaped(rng: np.random.Generator, gain: Callable[[_Float], _Float]) -> _Float:
    """Gaussian noise of one block with amplitude ``gain`` by frequency (Hz), unit RMS; nothing below 20 Hz."""
    spectrum = np.fft.rfft(rng.standard_normal(_BLOCK))
    frequency = np.asarray(np.fft.rfftfreq(_BLOCK, 1 / SAMPLE_RATE), dtype=np.float64)
    audible = frequency >= 20
    spectrum[~audible] = 0
    spectrum[audible] *= gain(frequency[audible])
    return _unit(np.fft.irfft(spectrum, _BLOCK))


def _band(frequency: _Float, low_hz: float, high_hz: float) -> _Float:
    return np.asarray((frequency / low_hz) / (1 + (frequency / low_hz)) / (1 + (frequency / high_hz) ** 2))


def _tones(rng: np.random.Generator, base_hz: float, levels: Sequence[float], wander: float) -> _Float:
    """Harmonics of ``base_hz`` at ``levels``, its speed wandering by the share ``wander``, unit RMS."""
    slow = np.interp(np.arange(_BLOCK), np.linspace(0, _BLOCK, 17), rng.standard_normal(17))
    phase = 2 * np.pi * np.cumsum(base_hz * (1 + wander * slow)) / SAMPLE_RATE
    parts = [
        level * np.sin(order * phase + rng.uniform(0, 2 * np.pi))
        for order, level in enumerate(levels, start=1)
        if order * base_hz < SAMPLE_RATE / 2
    ]
    return _unit(np.sum(parts, axis=0))


def _white(rng: np.random.Generator, machine: np.random.Generator) -> _Float:
    return _shaped(rng, np.ones_like)


def _pink(rng: np.random.Generator, machine: np.random.Generator) -> _Float:
    return _shaped(rng, lambda f: f**-0.5)


def _fan(rng: np.random.Generator, machine: np.random.Generator) -> _Float:
    """Outdoor fan: rushing air that falls above 1.2 kHz, the blade tone (3 blades, 600 to 1000 rpm), a slow beat."""
    turns_hz = machine.uniform(600, 1000) / 60
    rush = _shaped(rng, lambda f: _band(f, 80, 1200) + 0.15 / np.sqrt(1 + f / 500))
    blades = _tones(rng, 3 * turns_hz, (1, 0.6, 0.4, 0.3, 0.2, 0.1), 0.004)
    beat = 1 + 0.15 * np.sin(2 * np.pi * turns_hz * np.arange(_BLOCK) / SAMPLE_RATE)
    return np.asarray((rush + 0.5 * blades) * beat)


def _compressor(rng: np.random.Generator, machine: np.random.Generator) -> _Float:
    """Inverter compressor: hum of the turning (30 to 90 Hz), a carrier whine of 3 to 6 kHz, some flow noise."""
    hum = _tones(rng, machine.uniform(30, 90), (1, 0.9, 0.7, 0.6, 0.4, 0.3, 0.25, 0.2, 0.1, 0.1), 0.002)
    whine = _tones(rng, machine.uniform(3000, 6000), (1,), 0.0005)
    return np.asarray(hum + 0.08 * whine + 0.35 * _shaped(rng, lambda f: _band(f, 200, 2500)))


def _pump(rng: np.random.Generator, machine: np.random.Generator) -> _Float:
    """Vacuum pump: four-pole motor (1725 rpm at 60 Hz, 1440 at 50 Hz), two vanes, hiss in time with them."""
    turns_hz = float(machine.choice([1725, 1440])) / 60
    knock = _tones(rng, 2 * turns_hz, [0.93**order for order in range(40)], 0.003)
    hiss = _shaped(rng, lambda f: _band(f, 600, 3500))
    pulse = 1 + 0.6 * np.sin(2 * np.pi * 2 * turns_hz * np.arange(_BLOCK) / SAMPLE_RATE)
    return np.asarray(knock + 0.8 * hiss * pulse)


def _street(rng: np.random.Generator, machine: np.random.Generator) -> _Float:
    """Street: distant rumble, and one or two cars passing in each block, their tyres hissing louder and off again."""
    out = _shaped(rng, lambda f: 1 / (1 + (f / 150) ** 1.2))
    time_s = np.arange(_BLOCK) / SAMPLE_RATE
    for _ in range(int(rng.integers(1, 3))):
        middle_s, width_s = rng.uniform(1, _BLOCK / SAMPLE_RATE - 1), rng.uniform(0.5, 1.5)
        swell = 1 / (1 + ((time_s - middle_s) / width_s) ** 2)
        out = out + rng.uniform(0.8, 2.0) * swell * _shaped(rng, lambda f: _band(f, 150, 1500))
    return out


_MAKERS: dict[str, Callable[[np.random.Generator, np.random.Generator], _Float]] = {
    "fan": _fan,
    "compressor": _compressor,
    "pump": _pump,
    "street": _street,
    "pink": _pink,
    "white": _white,
}
#: The kinds of noise that ``noise`` makes. Far talk is made by ``far_talk`` from clips of speech.
KINDS: tuple[str, ...] = tuple(_MAKERS)
