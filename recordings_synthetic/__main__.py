"""``python -m recordings_synthetic``: makes the recordings again. Run it in the repository's top folder."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from assistant.errors import LaddersideError
from recordings_synthetic import manifest
from recordings_synthetic.engines import ENGINES
from recordings_synthetic.voices import VOICES, Voice, say, voice_named

HERE = Path(__file__).parent
MANIFEST = HERE / "manifest.csv"
SAMPLE = HERE / "measuring_sample"
#: The committed sample of the measuring set.
_SAMPLE_COUNT = 60
#: Four times every voice with every kind.
_FULL_COUNT = 2240


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command; 0 when it was done, 2 with one sentence on standard error when it could not be."""
    options = _parser().parse_args(arguments)
    try:
        options.run(options)
    except LaddersideError as error:
        print(error, file=sys.stderr)
        return 2
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m recordings_synthetic", description=__doc__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    voices = commands.add_parser("voices", help="list the voices, each tried by letting it speak")
    voices.set_defaults(run=_voices)
    visit = commands.add_parser("visit", help="make the clips of recorded visits from their scripts")
    visit.add_argument("folders", nargs="*", type=Path, metavar="FOLDER", help="default: every visit here")
    visit.set_defaults(run=_visits)
    measuring = commands.add_parser("measuring-set", help="make a set for ladderside measure-hearing")
    measuring.add_argument("folder", type=Path, metavar="FOLDER")
    measuring.add_argument("--count", type=int, default=_FULL_COUNT, help="utterances (default %(default)s)")
    measuring.add_argument("--minutes", type=int, default=30, help="minutes without an answer (default %(default)s)")
    measuring.add_argument("--voices", nargs="*", default=None, metavar="NAME", help="default: all")
    measuring.add_argument("--seed", type=int, default=1)
    measuring.set_defaults(run=_measuring)
    spoken = commands.add_parser("sentences", help="have a table of sentences spoken, for ladderside measure-words")
    spoken.add_argument("table", type=Path, metavar="TABLE")
    spoken.add_argument("folder", type=Path, metavar="FOLDER")
    spoken.add_argument("--voices", nargs="*", default=None, metavar="NAME", help="line by line; default: all")
    spoken.add_argument("--each", action="store_true", help="every voice says every line")
    spoken.add_argument("--seed", type=int, default=1)
    spoken.set_defaults(run=_sentences)
    sample = commands.add_parser("sample", help="make the committed sample of a measuring set again")
    sample.set_defaults(run=_sample)
    listen = commands.add_parser("listen", help="make the piece of a visit that the README lets you hear")
    listen.add_argument("--visit", type=Path, default=HERE / "unequal-windings", metavar="FOLDER")
    listen.add_argument("--question", default="winding-resistance.resistances", help="default %(default)s")
    listen.add_argument("--to", type=Path, default=HERE / "listen.mp3", metavar="FILE")
    listen.set_defaults(run=_listen)
    return parser


def _voices(options: argparse.Namespace) -> None:
    for voice in VOICES:
        try:
            seconds = f"{len(say('one two three', voice)) / 16_000:.1f} s"
        except LaddersideError as error:
            seconds = f"not here: {error}"
        ships = "shipped" if voice.shipped else "local only"
        print(f"{voice.name:24} {voice.style:8} {voice.sex:7} {voice.accent:14} {ships:11} {seconds}")
    print(f"{len(VOICES)} voices of {len(ENGINES)} engines")


def _visits(options: argparse.Namespace) -> None:
    from recordings_synthetic import visits

    for folder in options.folders or sorted(path.parent for path in HERE.glob("*/script.yaml")):
        rows = visits.make(folder)
        size = sum(row.file.stat().st_size for row in rows)
        if HERE in folder.resolve().parents:
            manifest.replace(MANIFEST, folder, rows)
        print(f"{folder}: {len(rows)} files, {size / 1e6:.1f} MB")


def _measuring(options: argparse.Namespace) -> None:
    from recordings_synthetic import measuring, planning

    voices = [voice_named(name) for name in options.voices] if options.voices else list(VOICES)
    rows = measuring.write(options.folder, planning.plan(voices, options.count, options.seed), options.seed, print)
    measuring.write_quiet(options.folder, options.minutes, voices, options.seed)
    print(f"{options.folder}: {len(rows)} utterances and {options.minutes} minutes without an answer")


def _sentences(options: argparse.Namespace) -> None:
    from recordings_synthetic import sentences

    voices = [voice_named(name) for name in options.voices] if options.voices else list(VOICES)
    count = sentences.write(options.folder, options.table, voices, options.each, options.seed, print)
    print(f"{options.folder}: {count} sentences")


def _sample(options: argparse.Namespace) -> None:
    from recordings_synthetic import measuring, planning

    voices: list[Voice] = [voice for voice in VOICES if voice.shipped]
    for old in SAMPLE.glob("*"):
        old.unlink()
    rows = measuring.write(SAMPLE, planning.plan(voices, _SAMPLE_COUNT, seed=60), 60, print)
    manifest.replace(MANIFEST, SAMPLE, rows)


def _listen(options: argparse.Namespace) -> None:
    from recordings_synthetic import listening

    seconds = listening.make(options.visit, options.question, options.to)
    print(f"{options.to}: {seconds:.0f} s")


if __name__ == "__main__":
    raise SystemExit(main())
