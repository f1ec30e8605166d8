"""How well replies are understood beside noise as loud as they are, as they are and made for that noise.

    python -m tests.benchmarks.in_noise [--snr DB] [--noise KIND ...]

Prints the short-time objective intelligibility (STOI; Taal and others, IEEE Trans. ASLP 19(7), 2011, by pystoi) of both
at the same energy, and of the one that is played, which is also louder; and how many of ten spoken readings our own
ears understand, all together.

In the noise of a fan at 0 dB no filter can do much for STOI: a search over all bands, with the answer in hand, brought
the first reply from 0.775 to 0.807 at the same energy, where ours brings 0.793.
"""

from __future__ import annotations

import argparse

import numpy as np
import soxr
from numpy.typing import NDArray
from pystoi import stoi

from assistant.hearing.listening.default import default_ears
from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.language.meaning import Expectation, ReadingExpectation, Readings
from assistant.measuring.hearing import Ears
from assistant.measuring.noise import KINDS, noise
from assistant.speaking.clearly import NOISE_PACE, loud, shaped
from assistant.speaking.synthesis import RATE, synthesizer

REPLIES = (
    "Careful: the fan may start without warning.",
    "Put your probes on the two supply terminals. How many volts AC?",
    "Lock out the power and tag it. Say locked when it stays dead.",
    "The filter is blocked. Wash it and let it dry.",
)
VOLTS = (241, 208, 318, 12, 5.1, 119, 230, 15.5, 66, 197)
READING = Expectation(
    question="measure.volts", reading=ReadingExpectation(quantity="voltage_dc", unit="V", plausible=(0, 800))
)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--snr", type=float, default=0.0, metavar="DB", help="reply above noise (default: 0)")
    parser.add_argument("--noise", nargs="+", default=KINDS, choices=KINDS, metavar="KIND", help="default: all")
    args = parser.parse_args()
    ears = default_ears()
    ears.expect(READING)
    print(f"{'noise':<12}{'plain':>8}{'shaped':>8}{'played':>8}   readings understood: plain, played")
    for kind in args.noise:
        figures = np.mean([_told(text, kind, seed, args.snr) for seed, text in enumerate(REPLIES)], axis=0)
        counts = np.sum([_understood(ears, volts, kind, seed, args.snr) for seed, volts in enumerate(VOLTS)], axis=0)
        columns = "".join(f"{each:>8.3f}" for each in figures)
        print(f"{kind:<12}{columns}   {counts[0]}, {counts[1]} of {len(VOLTS)}")


def _told(text: str, kind: str, seed: int, snr_db: float) -> tuple[float, float, float]:
    plain, under, made, played = _heard(text, kind, seed, snr_db)
    return tuple(float(stoi(plain, voice + under, SAMPLE_RATE)) for voice in (plain, made, played))  # type: ignore[return-value]


def _understood(ears: Ears, volts: float, kind: str, seed: int, snr_db: float) -> tuple[int, int]:
    text = f"{volts:g} volts."
    plain, under, _, _ = _heard(text, kind, seed, snr_db)
    _, slow_under, _, played = _heard(text, kind, seed, snr_db, NOISE_PACE)
    return _right(ears, plain + under, volts), _right(ears, played + slow_under, volts)


def _heard(
    text: str, kind: str, seed: int, snr_db: float, pace: float = 1.0
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """The reply as it is, the noise, the reply shaped with the same energy, and as it is played: louder by headroom."""
    plain = soxr.resample(synthesizer().render(text, pace), RATE, SAMPLE_RATE).astype(np.float64)
    under = noise(kind, seed, 0, len(plain)).astype(np.float64)
    under *= np.sqrt(np.mean(plain**2) / np.mean(under**2)) * 10 ** (-snr_db / 20)
    frames = np.lib.stride_tricks.sliding_window_view(under, 512)[::512] * np.hanning(512)
    made = shaped(plain, SAMPLE_RATE, (np.abs(np.fft.rfft(frames, axis=1)) ** 2).mean(axis=0))
    return plain, under, made, loud(made).astype(np.float64)


def _right(ears: Ears, sound: NDArray[np.float64], volts: float) -> int:
    level = 0.06 / np.sqrt(np.mean(sound**2))
    heard = ears.judge(Utterance((sound * level).astype(np.float32), 0.0, len(sound) / SAMPLE_RATE))
    items = heard.meaning.items if isinstance(heard.meaning, Readings) and heard.trust != "again" else ()
    return int([item.value for item in items] == [volts])


if __name__ == "__main__":
    main()
