"""Speech for the tests of hearing, made on the spot by engines that every developer's machine has."""

from __future__ import annotations

import subprocess
import tempfile
from functools import lru_cache
from pathlib import Path

import numpy as np
import soundfile
import soxr

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.language.state_grammar import StateGrammar, WordGraph
from recordings_synthetic.voices import say

DIGITS = ["zero", "oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
COMMANDS = ["yes", "no", "stop", "help", "repeat"]


@lru_cache
def spoken(words: str, voice: str = "flite-rms") -> Audio:
    """``words`` with a little room noise before and behind."""
    return around(say(words, voice))


@lru_cache
def korean(words: str) -> Audio:
    """``words`` in Korean, by espeak-ng."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "said.wav"
        subprocess.run(["espeak-ng", "-v", "ko+Annie", "-s", "130", "-p", "30", "-w", file, words], check=True)
        samples, rate = soundfile.read(file, dtype="float32")
    return around(soxr.resample(samples, rate, SAMPLE_RATE).astype(np.float32))


def around(audio: Audio, seconds: float = 0.3) -> Audio:
    """``audio`` in a very quiet room."""
    padded = np.pad(audio, int(seconds * SAMPLE_RATE))
    return padded + np.random.default_rng(3).normal(0, 1e-4, len(padded)).astype(np.float32)


def loop(words: list[str]) -> WordGraph:
    """Any string of ``words``."""
    return WordGraph(2, 0, frozenset({1}), tuple((source, word, 1) for source in (0, 1) for word in words))


def grammar(words: list[str], name: str = "test") -> StateGrammar:
    """A state in which any string of ``words`` may be said."""
    return StateGrammar(name, loop(words), "One two three. Four zero five.", (), frozenset(words))
