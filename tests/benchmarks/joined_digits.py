"""Makes a set of joined digits out of those that people say in a measuring set, for ``ladderside measure-hearing``.

    python -m tests.benchmarks.joined_digits FOLDER NEW_FOLDER [--count 90]

Each digit is cut out of its number where the packaged acoustic model hears it begin and the next one begin, and others
of the same speaker are put behind it in any order, with a breath between: no neighbour leads into the next any more.
"""

from __future__ import annotations

import argparse
import csv
from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from random import Random

import numpy as np
import soundfile

from assistant.hearing.ears import acoustics, network, pronunciation, search
from assistant.hearing.ears.acoustics import FRAME_SAMPLES
from assistant.hearing.ears.phoneme import cleared
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.files import load
from assistant.language.number_words import DIGITS
from assistant.measuring.hearing import read_set
from assistant.measuring.noise import noise

SPOKEN = frozenset((*DIGITS, "oh"))
#: A digit lasts so long, seconds; less was swallowed, and more has a pause behind it.
_SHORTEST_S, _LONGEST_S = 0.16, 0.6
#: Edges are faded over this, seconds; between two digits and around all is so much of a quiet room, 60 dB down.
_FADE_S, _BREATH_S, _AROUND_S, _ROOM = 0.01, (0.03, 0.12), 0.3, 0.001
_DIGITS = (3, 6)
_PEAK = 0.5
#: Fewer digits of a speaker make the same few strings.
_FEWEST = 5


def digits_of(folder: Path) -> dict[str, list[tuple[str, Audio]]]:
    """The digits of each speaker, cut out, all at one peak."""
    model = acoustics.load()
    lexicon = pronunciation.load(model)
    found: dict[str, list[tuple[str, Audio]]] = defaultdict(list)
    for spoken in read_set(folder).spoken:
        words = spoken.text.split()
        if len(words) > 1 and SPOKEN.issuperset(words):
            audio = load(spoken.path)
            extended = network.extend(model.posteriors(cleared(audio)), model)
            chain = network.build(network.chains([words]), lexicon.pronounce, model)
            aligned = search.best(chain, extended, bonus=0.0, most=1, beam=1e9)
            borders = [*aligned[0].frames, len(extended)] if aligned else []
            for word, piece in zip(words, _cut(audio, borders), strict=False):
                if piece is not None:
                    found[spoken.speaker].append((word, piece))
    return {speaker: said for speaker, said in sorted(found.items()) if len(said) >= _FEWEST}


def _cut(audio: Audio, borders: list[int]) -> Iterator[Audio | None]:
    for begin, end in pairwise(borders):
        piece = audio[begin * FRAME_SAMPLES : min(end * FRAME_SAMPLES, begin * FRAME_SAMPLES + _samples(_LONGEST_S))]
        yield None if len(piece) < _samples(_SHORTEST_S) else _faded(piece * np.float32(_PEAK / np.abs(piece).max()))


def _faded(piece: Audio) -> Audio:
    ramp = np.minimum(1, np.arange(len(piece)) / _samples(_FADE_S)).astype(np.float32)
    return piece * ramp * ramp[::-1]


def joined(said: list[tuple[str, Audio]], draw: Random) -> tuple[str, Audio]:
    """Some of a speaker's digits in any order, and what they are."""
    chosen = [draw.choice(said) for _ in range(draw.randint(*_DIGITS))]
    parts = [np.zeros(_samples(_AROUND_S), np.float32)]
    for _, piece in chosen:
        parts += [piece, np.zeros(_samples(draw.uniform(*_BREATH_S)), np.float32)]
    whole = np.concatenate([*parts, np.zeros(_samples(_AROUND_S), np.float32)])
    quiet = noise("pink", draw.randrange(1 << 20), 0, len(whole)) * np.float32(_ROOM)
    return " ".join(word for word, _ in chosen), whole + quiet


def _samples(seconds: float) -> int:
    return round(seconds * SAMPLE_RATE)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("new", type=Path)
    parser.add_argument("--count", type=int, default=90)
    options = parser.parse_args()
    speakers = digits_of(options.folder)
    draw = Random(1)
    options.new.mkdir(parents=True, exist_ok=True)
    with (options.new / "transcripts.csv").open("w", newline="", encoding="utf-8") as out:
        table = csv.writer(out, lineterminator="\n")
        table.writerow(("file", "speaker", "kind", "text"))
        for number in range(options.count):
            speaker = list(speakers)[number % len(speakers)]
            words, audio = joined(speakers[speaker], draw)
            name = f"{number:03d}-{speaker}.flac"
            soundfile.write(options.new / name, audio, SAMPLE_RATE, format="FLAC", subtype="PCM_16")
            table.writerow((name, speaker, "number", words))
    print(f"{options.new}: {options.count} strings of {len(speakers)} speakers")


if __name__ == "__main__":
    main()
