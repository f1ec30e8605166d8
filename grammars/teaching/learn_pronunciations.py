"""Learns ``pronunciations.tsv`` again: how every word of the grammars and the knowledge sounds to the acoustic model.

    python -m grammars.teaching.learn_pronunciations [--new] WORK_FOLDER [SET ...]

WORK_FOLDER keeps the words as a few synthetic voices say them, so that a second run only says what is new. Each SET is
a measuring set (``python -m recordings_synthetic measuring-set``) from whose sentences the same words are learnt as
they sound among others. ``--new`` learns only the words that the file has not, from the voices that are installed, and
leaves the rest as it is. Human speech is never used: it is for measuring. Needs the extra "recordings".
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np
import soundfile
from pydantic import BaseModel

from assistant.hearing.ears import acoustics, pronunciation
from assistant.hearing.ears.phoneme import levelled
from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.hearing.sound.files import load as load_sound
from assistant.language.grammar import vocabulary
from assistant.language.written import as_words
from assistant.library.loader import load as load_library
from grammars.teaching import learning
from recordings_synthetic.engines import EngineError
from recordings_synthetic.voices import say_all, voice_named

#: Natural voices of three engines, women and men, two accents; formant voices come in with the sets.
VOICES = ("hibari-heart", "hibari-heart-low", "flite-rms", "flite-slt", "flite-awb", "piper-joe")
#: Words that are said though no grammar holds them, such as those of the AN4 corpus' commands.
_EXTRA = ("start", "enter", "erase", "rubout", "go")
#: A formant voice's utterances count this much: nobody talks like them.
_FORMANT = 0.4
_AROUND_S = 0.2


def main(arguments: list[str]) -> int:
    if not arguments:
        print(__doc__, file=sys.stderr)
        return 2
    model = acoustics.load()
    kept = pronunciation.shipped().read_text("utf-8").splitlines() if arguments[0] == "--new" else []
    arguments = arguments[1:] if kept else arguments
    words = Path(arguments[0])
    voices = [voice for voice in VOICES if not kept or _is_installed(voice)]
    _say_missing(words, sorted(known_words() - {line.partition("\t")[0] for line in kept}), voices)
    lessons = [
        *_lessons(model, words),
        *(lesson for folder in arguments[1:] for lesson in _lessons(model, Path(folder))),
    ]
    print(f"learning from {len(lessons)} utterances", file=sys.stderr)
    ways = learning.learn(model, lessons, pronunciation.load(model))
    lines = [
        f"{word}\t{weight:g}\t{' '.join(model.tokens[column] for column in phonemes)}"
        for word in sorted(ways)
        for weight, phonemes in ways[word]
    ]
    lines = sorted([*lines, *(line for line in kept if not line.startswith("#"))], key=lambda line: line.split("\t")[0])
    pronunciation.shipped().write_text(pronunciation.HEADING + "\n".join(lines) + "\n", encoding="utf-8")
    return 0


def known_words() -> frozenset[str]:
    """Every word that some state may expect: of the grammars, and of all phrases in the knowledge."""
    return vocabulary() | set(_EXTRA) | set(_phrase_words(vars(load_library()).values()))


def _phrase_words(things: Iterable[object]) -> Iterator[str]:
    for thing in things:
        if isinstance(thing, BaseModel):
            for phrase in getattr(thing, "phrases", ()):
                yield from as_words(phrase).split()
            yield from _phrase_words(getattr(thing, name) for name in type(thing).model_fields)
        elif isinstance(thing, dict):
            yield from _phrase_words(thing.values())
        elif isinstance(thing, list | tuple | set | frozenset):
            yield from _phrase_words(thing)


def _is_installed(voice: str) -> bool:
    try:
        say_all(["yes"], voice)
    except EngineError as error:
        print(f"without {voice}: {error}", file=sys.stderr)
        return False
    return True


def _say_missing(folder: Path, words: list[str], voices: list[str]) -> None:
    """Puts each word in each voice into ``folder``, as a measuring set without expectations."""
    folder.mkdir(parents=True, exist_ok=True)
    rows = [(f"{voice}-{word}.flac", voice, "word", word) for voice in voices for word in words]
    for voice in voices:
        missing = [row for row in rows if row[1] == voice and not (folder / row[0]).exists()]
        print(f"{voice}: {len(missing)} words to say", file=sys.stderr)
        for row, audio in zip(missing, say_all([row[3] for row in missing], voice) if missing else [], strict=True):
            soundfile.write(folder / row[0], np.pad(audio, int(_AROUND_S * SAMPLE_RATE)), SAMPLE_RATE)
    with (folder / "transcripts.csv").open("w", newline="", encoding="utf-8") as out:
        csv.writer(out, lineterminator="\n").writerows([("file", "speaker", "kind", "text"), *rows])


def _lessons(model: acoustics.PhonemeModel, folder: Path) -> Iterator[learning.Lesson]:
    with (folder / "transcripts.csv").open(newline="", encoding="utf-8") as rows:
        for row in csv.DictReader(rows):
            if not row["text"]:
                continue  # a stretch without an answer
            weight = _FORMANT if voice_named(row["speaker"]).style == "formant" else 1.0
            posteriors = model.posteriors(levelled(load_sound(folder / row["file"])))
            yield learning.Lesson(tuple(row["text"].split()), posteriors, weight)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
