"""Sound without an answer in it: minutes of machines, street and other people's talk, for counting false readings."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.measuring.noise import far_talk, noise
from recordings_synthetic.voices import SPEECH_LEVEL, Voice, say_all

FAR_TALK = "far-talk"
KINDS = ("fan", "pump", "street", FAR_TALK)
SECONDS = 60
#: The noise as it is 6 dB under a near voice: loud, as beside the machine.
_LEVEL = SPEECH_LEVEL * 10 ** (-6 / 20)


def minutes(count: int, voices: tuple[Voice, ...], seed: int) -> Iterator[tuple[str, Audio]]:
    """``count`` pieces of one minute, (kind, samples): the kinds in turn, a machine of its own for each minute."""
    talkers = far_voices(voices)
    for index in range(count):
        kind = KINDS[index % len(KINDS)]
        length = SECONDS * SAMPLE_RATE
        if kind == FAR_TALK:
            # Someone talks at 4 m, 6 dB under the near voice, and a fan runs quietly as everywhere.
            made = far_talk(talkers, seed + index, length) + 0.2 * noise("fan", seed + index, 0, length)
        else:
            made = noise(kind, seed + index, 0, length)
        yield kind, np.asarray(made * np.float32(_LEVEL), dtype=np.float32)


def far_voices(voices: tuple[Voice, ...]) -> list[Audio]:
    """Small talk of the customer and the street, each line by another voice."""
    lines = (Path(__file__).parent / "far_talk.txt").read_text(encoding="utf-8").splitlines()
    spoken = []
    for index, voice in enumerate(voices):
        spoken += say_all(lines[index :: len(voices)], voice) if lines[index :: len(voices)] else []
    return spoken
