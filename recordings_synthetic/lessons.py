"""Lessons for the acoustic model: who says what to it, and what rooms, machines and microphones do to that.

Two natural speakers (HELD_BACK) never teach, and none of the formant voices of the measuring sets does: what those
score tells how strangers are understood.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assistant.data.places import data_folder
from assistant.hearing.ears.acoustics import FRAME_SAMPLES
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.language.generate import sentences
from assistant.language.meaning import Expectation
from assistant.language.number_words import DIGITS, say_pair
from assistant.measuring.noise import (
    KINDS,
    far_talk,
    mix,
    noise,
    room,
)
from assistant.measuring.places import narrowed
from recordings_synthetic.measuring import in_quiet_room
from recordings_synthetic.planning import plan
from recordings_synthetic.voices import VOICES, Voice, say_all

HELD_BACK = ("flite-awb", "festival-ked")
#: Variants of each natural speaker, and formant voices.
_VARIANTS = 6
_FORMANT = 60
_ACCENTS = ("en-us", "en-us-nyc", "en-gb", "en-gb-scotland", "en-gb-x-rp", "en-gb-x-gbclan", "en-gb-x-gbcwmd", "en-029")
#: Variants of espeak-ng's voices: other vocal tracts and registers.
_TRACTS = (
    *("m1", "m2", "m3", "m4", "m5", "m6", "m7", "m8", "f1", "f2", "f3", "f4", "f5", "klatt2", "klatt4", "croak"),
    *("Alex", "Alicia", "Andrea", "Andy", "Annie", "belinda", "benjamin", "boris", "caleb", "david", "ed", "edward"),
    *("Gene2", "grandma", "grandpa", "Henrique", "Hugo", "Jacky", "john", "Lee", "linda", "max", "Michael", "Mike"),
    *("norbert", "paul", "quincy", "rob", "robert", "steph", "travis", "victor", "zac"),
)
#: Shares of what is said beside the states' readings and findings: digits, commands, pieces of plain text.
_DIGITS, _COMMANDS, _PLAIN = 0.2, 0.12, 0.05
#: Of what is heard in noise, so much is in loud noise.
_LOUD = 0.6
#: Shares of all that is heard through a telephone band, and of noises that were recorded where there are such.
_NARROW, _RECORDED = 0.2, 0.45
#: Seeds of the noises are counted from here: not those that measuring takes.
_MACHINES = 20_000
#: In frames of the acoustic model.
_LONGEST_BEFORE, _LONGEST_BEHIND = 30, 45


@dataclass(frozen=True)
class Lesson:
    """An utterance in a quiet room. ``known``: its words are those of the grammars, whose sounds have been learnt.

    ``voice`` is None where a person said it.
    """

    voice: Voice | None
    words: str
    audio: Audio
    known: bool


def teachers(draw: Random) -> list[Voice]:
    """Variants in speed and vocal tract of the natural speakers, and formant voices of other settings."""
    speakers = {(voice.engine, voice.setting): voice for voice in reversed(VOICES) if voice.style == "natural"}
    natural = [
        replace(voice, name=f"{voice.name}-{number}", rate=draw.uniform(0.8, 1.3), tract=draw.uniform(0.84, 1.16))
        for voice in speakers.values()
        if voice.name not in HELD_BACK
        for number in range(_VARIANTS)
    ]
    measured = {voice.setting for voice in VOICES}
    settings = [f"{accent}+{tract}" for accent in _ACCENTS for tract in _TRACTS]
    formant = [
        Voice(
            name=f"espeak-{setting}",
            engine="espeak-ng",
            setting=setting,
            style="formant",
            sex="male",
            accent=setting,
            licence="not shipped",
            rate=draw.uniform(0.72, 1.3),
            pitch=draw.choice([40, 50, 50, 60, 75]),
            shipped=False,
        )
        for setting in draw.sample([each for each in settings if each not in measured], _FORMANT)
    ]
    return [*natural, *formant]


def lessons(count: int, seed: int) -> Iterator[Lesson]:
    """``count`` lessons, voice by voice."""
    draw = Random(seed)
    voices = teachers(draw)
    for voice, said in _dealt(voices, count, draw, seed).items():
        spoken = say_all([words for words, _ in said], voice)
        for (words, known), dry in zip(said, spoken, strict=True):
            audio = in_quiet_room(dry, draw.randrange(1 << 30))
            yield Lesson(voice, words, audio[: len(audio) // FRAME_SAMPLES * FRAME_SAMPLES], known)


def _dealt(voices: Sequence[Voice], count: int, draw: Random, seed: int) -> dict[Voice, list[tuple[str, bool]]]:
    """What each voice says, and whether its words are known."""
    said: dict[Voice, list[tuple[str, bool]]] = {voice: [] for voice in voices}
    for utterance in plan(voices, round(count * (1 - _DIGITS - _COMMANDS - _PLAIN)), seed):
        said[utterance.voice].append((utterance.sentence.words, True))
    commands = [each.words for each in sentences(Expectation(question="lesson"), 600, seed)]
    text = _plain_words()
    others = [
        *((_digits(draw), True) for _ in range(round(count * _DIGITS))),
        *((draw.choice(commands), True) for _ in range(round(count * _COMMANDS))),
        *((_piece(text, draw), False) for _ in range(round(count * _PLAIN))),
    ]
    draw.shuffle(others)
    for index, each in enumerate(others):
        said[voices[index % len(voices)]].append(each)
    return said


def _digits(draw: Random) -> str:
    """One to eight digits, some of them in pairs."""
    return " ".join(
        say_pair(draw.randrange(10, 100)) if draw.random() < 0.2 else draw.choice(("oh", *DIGITS))
        for _ in range(draw.randint(1, 8))
    )


def _plain_words() -> list[str]:
    """The words of the knowledge, one after the other: language that no state's grammar holds."""
    files = sorted(data_folder("knowledge").rglob("*.yaml"))
    text = (
        " ".join(file.read_text(encoding="utf-8") for file in files)
        + (Path(__file__).parent / "far_talk.txt").read_text()
    )
    return [word for word in re.findall(r"[a-z']+", text.lower()) if len(word) > 1 or word == "a"]


def _piece(words: Sequence[str], draw: Random) -> str:
    length = draw.randint(2, 9)
    at = draw.randrange(len(words) - length)
    return " ".join(words[at : at + length])


def spoiled(audio: Audio, others: Sequence[Audio], draw: Random, recorded: Sequence[Audio] = ()) -> tuple[Audio, int]:
    """``audio`` in some room with some noise through some microphone, and how many frames of silence now precede it.

    ``others`` are clips of other people, who talk further away or make the noises between the words; ``recorded`` are
    noises of places. Raises NoiseError where a recording holds none.
    """
    before = draw.choice((0, draw.randrange(_LONGEST_BEFORE)))
    behind = draw.choice((0, draw.randrange(_LONGEST_BEHIND)))
    heard = np.pad(audio, (before * FRAME_SAMPLES, behind * FRAME_SAMPLES))
    if draw.random() < 0.4:
        heard = room(heard, draw.randrange(1 << 30), draw.uniform(0.2, 1.5), draw.uniform(0.15, 0.7))
    if draw.random() < 0.5:
        heard = _coloured(heard, draw)
    if draw.random() < 0.5:
        first, last = (before + 8) * FRAME_SAMPLES, (behind + 8) * FRAME_SAMPLES
        heard[:first] += _events(first, others, draw)
        heard[-last:] += _events(last, others, draw)
    if draw.random() < 0.88:
        snr_db = draw.uniform(-1, 12) if draw.random() < _LOUD else draw.uniform(6, 25)
        heard = mix(heard, _background(len(heard), others, draw, recorded), snr_db)
    if draw.random() < _NARROW:
        heard = narrowed(heard)
    if draw.random() < 0.1:
        peak = float(np.abs(heard).max()) * draw.uniform(0.3, 0.8)
        heard = np.clip(heard, -peak, peak)
    return heard.astype(np.float32), before


def _coloured(audio: Audio, draw: Random) -> Audio:
    """Through a microphone that is not flat, and now and then hears no treble."""
    spectrum = np.fft.rfft(audio)
    at = np.linspace(0, 1, len(spectrum))
    gain_db = sum(draw.uniform(-4, 4) * np.cos(np.pi * order * at) for order in (1, 2, 3))
    spectrum *= 10 ** (gain_db / 20)
    if draw.random() < 0.3:
        spectrum[int(len(spectrum) * draw.uniform(0.42, 0.9)) :] *= 0.01
    return np.fft.irfft(spectrum, len(audio)).astype(np.float32)


def _background(count: int, others: Sequence[Audio], draw: Random, recorded: Sequence[Audio]) -> Audio:
    if recorded and draw.random() < _RECORDED:
        whole = draw.choice(list(recorded))
        start = draw.randrange(len(whole))
        piece: Audio = np.take(whole, np.arange(start, start + count), mode="wrap")
        return _coloured(piece, draw) if draw.random() < 0.5 else piece
    kind = draw.choice([*KINDS, "fan", "fan", "pump", "street", "talk"])
    if kind == "talk":
        return far_talk(draw.sample(list(others), 6), draw.randrange(1 << 30), count)
    return _some_noise(kind, count, draw)


def _some_noise(kind: str, count: int, draw: Random) -> Audio:
    return noise(kind, _MACHINES + draw.randrange(6), draw.randrange(60 * SAMPLE_RATE), count)


def _events(count: int, others: Sequence[Audio], draw: Random) -> Audio:
    """Breaths, knocks and scraps of a voice played backwards: what is no word and must not become one."""
    made = np.zeros(count)
    for _ in range(draw.randint(1, 3)):
        length = min(draw.randrange(400, 7000), count)
        at = draw.randrange(count - length + 1)
        how = draw.random()
        piece: NDArray[np.floating[Any]]
        if how < 0.4:
            piece = (
                0.05 * noise(draw.choice(["pink", "white", "fan"]), draw.randrange(6), 0, length) * np.hanning(length)
            )
        elif how < 0.6:
            piece = (
                0.15 * noise("pink", draw.randrange(6), 0, length) * np.exp(-np.arange(length) / draw.uniform(40, 800))
            )
        else:
            clip = draw.choice(list(others))[::-1][:length]
            piece = np.pad(clip, (0, length - len(clip))) * np.hanning(length)
        made[at : at + length] += piece * 10 ** (draw.uniform(-24, -2) / 20)
    return made.astype(np.float32)
