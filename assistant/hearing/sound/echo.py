"""Taking the assistant's own voice out of the microphone.

What is played is known, and the room changes it by a filter that can be learnt: a partitioned frequency-domain
adaptive filter with overlap-save (Soo & Pang, "Multidelay block frequency domain adaptive filter", IEEE Trans. ASSP
38, 1990), one block a frame. Its step follows how much of the microphone is echo (after Valin, "On adjusting the
learning rate in frequency domain echo cancellation with double-talk", IEEE Trans. ASLP 15, 2007), so that it does
not run away when the technician talks at the same time.

tests/benchmarks/barge_in.py measures it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.sound.audio import Audio
from assistant.hearing.sound.frames import FRAME

#: The echo may come this many frames (of 32 ms) after its sound was given to the device, room included.
_PARTITIONS = 14
_STEP = 0.5
_LEAST_STEP = 0.05
#: A frame; the power that steps are measured by falls by this share, so that no step is large after a loud sound.
_POWER_KEEP = 0.95
_SHARE_KEEP = 0.8
#: Once this much of the microphone has been foretold, steps follow the share of the echo.
_SETTLED = 0.8
#: Frequencies that are played this much weaker than speech teach nothing: whatever else is heard there would be
#: taken for their echo, many times over.
_FLOOR = 0.01
#: A mean square that nobody hears (-50 dB of full scale).
_NEXT_TO_NOTHING = 1e-5
#: Frames in a row in which far more is left than was heard, after which what was learnt is thrown away.
_WORSE = 16

#: Where bands begin and end, in steps of 31 Hz.
_EDGES = np.unique(np.round(np.geomspace(3, 250, 13)).astype(int))

_Spectra = NDArray[np.complex128]


class EchoCanceller:
    """One microphone and one loudspeaker: feed it every frame with what was played meanwhile.

    ``echo`` is what was found in the last frame, ``foretold`` its RMS; ``settled`` is true once it is foretold well.
    """

    def __init__(self, partitions: int = _PARTITIONS) -> None:
        self._partitions = partitions
        self._loudest = 1e-3
        self.forget()

    def forget(self) -> None:
        """Begin to learn anew: loudspeaker or microphone has moved in time."""
        bins = FRAME + 1
        self._filter: _Spectra = np.zeros((self._partitions, bins), np.complex128)
        self._played: _Spectra = np.zeros((self._partitions, bins), np.complex128)
        self._last: Audio = np.zeros(FRAME, np.float32)
        self._power = np.zeros(bins)
        self._echo_power = np.zeros(bins)
        self._rest_power = np.zeros(bins)
        self._share = 0.0
        self._worse = 0
        self.settled = False
        self.foretold = 0.0
        self.echo: Audio = np.zeros(FRAME, np.float32)

    def cancel(self, heard: Audio, played: Audio) -> Audio:
        """``heard`` (FRAME samples) without the echo of what was ``played`` (FRAME samples) now and before."""
        self._played = np.roll(self._played, 1, axis=0)
        self._played[0] = np.fft.rfft(np.concatenate([self._last, played]))
        self._last = played
        echo = np.fft.irfft(np.sum(self._filter * self._played, axis=0))[FRAME:]
        rest = heard - echo
        self.echo = echo.astype(np.float32)
        self.foretold = float(np.sqrt(np.mean(echo**2)))
        self._learn(_spectrum(echo), _spectrum(rest))
        if np.mean(rest**2) <= 4 * np.mean(heard**2) + _NEXT_TO_NOTHING:
            self._worse = 0
            return rest.astype(np.float32)
        # In a pause the filter's uncertainty rings on for a moment; only sound being played tells that it is wrong.
        self._worse += float(np.mean(played**2)) > _NEXT_TO_NOTHING
        if self._worse > _WORSE:
            self.forget()
        return heard

    def _learn(self, echo: NDArray[np.complex128], rest: NDArray[np.complex128]) -> None:
        power = np.sum(np.abs(self._played) ** 2, axis=0)
        self._power = np.maximum(power, _POWER_KEEP * self._power)
        self._echo_power += (1 - _SHARE_KEEP) * (np.abs(echo) ** 2 - self._echo_power)
        self._rest_power += (1 - _SHARE_KEEP) * (np.abs(rest) ** 2 - self._rest_power)
        self._loudest = max(float(power.mean()), 0.999 * self._loudest, 1e-3)
        if power.mean() < _FLOOR * self._loudest:
            return
        echo_sum = float(np.sum(np.abs(echo) ** 2))
        share = echo_sum / (echo_sum + float(np.sum(np.abs(rest) ** 2)) + 1e-12)
        self._share += 0.05 * (share - self._share)
        self.settled = self.settled or self._share > _SETTLED
        by_bin = self._echo_power / (self._echo_power + self._rest_power + 1e-12)
        step = np.clip(_STEP * by_bin, _LEAST_STEP, _STEP) if self.settled else np.full_like(by_bin, _STEP)
        change = np.fft.irfft(step * np.conj(self._played) * rest / (self._power + _FLOOR * self._loudest), axis=1)
        change[:, FRAME:] = 0  # a filter has no part that acts before its cause
        self._filter += np.fft.rfft(change, axis=1)


def _spectrum(block: NDArray[np.floating]) -> NDArray[np.complex128]:
    """Of a block behind as many zeros, as overlap-save needs it."""
    return np.fft.rfft(np.concatenate([np.zeros(FRAME), block]))


def bands(block: Audio) -> NDArray[np.float64]:
    """Log power of FRAME samples in a dozen bands, each a third wider than the one below (100 Hz to 8 kHz)."""
    power = np.abs(np.fft.rfft(block * np.hanning(FRAME))) ** 2
    return np.log(np.add.reduceat(power[: _EDGES[-1]], _EDGES[:-1]) + 1e-7)


def likeness(one: Sequence[NDArray[np.float64]], other: Sequence[NDArray[np.float64]]) -> float:
    """How alike two sounds rise and fall in their ``bands``, -1 to 1, whatever their level and colour."""
    first, second = (np.array(each) - np.mean(each, axis=0) for each in (one, other))
    size = float(np.sqrt(np.sum(first**2) * np.sum(second**2)))
    return float(np.sum(first * second)) / size if size > 0 else 0.0
