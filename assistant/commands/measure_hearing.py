"""``ladderside measure-hearing``: how well the ears do on a folder of transcribed speech."""

from __future__ import annotations

import argparse
import json
import resource
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.commands.shared import add_json

if TYPE_CHECKING:
    from assistant.measuring.hearing import Ears, MeasuringSet, Tally
    from assistant.measuring.places import Place

_NOISES = "fan, compressor, pump, street, pink, white, babble, or a file or folder of recorded noise"


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "measure-hearing",
        help="measure how well the ears understand a folder of transcribed speech, with noise if you like",
        description="FOLDER holds sound files and transcripts.csv (file, speaker, kind, text), and expectations.json "
        "where kinds are more than number and command. Each utterance is heard in a state that expects its kind; the "
        "meaning is compared, not the spelling. Without --ear all ears together are measured, then each alone.",
    )
    parser.add_argument("folder", type=Path, metavar="FOLDER", help="the folder to measure")
    parser.add_argument("--ear", default="", metavar="NAME", help="only this one: as in visit, or some joined by +")
    add_place(parser)
    parser.add_argument("--confusions", action="store_true", help="also list what was not heard right and sure")
    add_json(parser, "one JSON object instead of a table")
    parser.set_defaults(func=run)


def add_place(parser: argparse.ArgumentParser) -> None:
    """The options that say where it is heard; ``place_of`` reads them."""
    add = parser.add_argument
    add("--snr", type=_decibels, metavar="DB", help="mix noise, the speech this much above it")
    add("--noise", default="fan", metavar="KIND", help=f"{_NOISES} (default: fan)")
    add("--room", type=_seconds, default=0.0, metavar="S", help="in a room that rings for so long (RT60)")
    add("--band", choices=("wide", "narrow"), default="wide", help="narrow: through a telephone band")


def _decibels(text: str) -> float:
    """A ratio that noise can be mixed at."""
    value = float(text)
    if not -40 <= value <= 100:  # nor "nan"
        raise argparse.ArgumentTypeError(f"{text} is no ratio of speech to noise; give -40 to 100 dB")
    return value


def _seconds(text: str) -> float:
    """A reverberation time that a room can have."""
    value = float(text)
    if not 0 <= value <= 1.5:  # nor "nan"
        raise argparse.ArgumentTypeError(f"{text} is no reverberation time of a room; give 0 to 1.5 seconds")
    return value


def run(args: argparse.Namespace) -> int:
    """Measure and print; with no ear named, JSON is that of all together, the others under ``alone``."""
    from assistant.measuring.hearing import read_set

    place_of(args)
    chosen = read_set(args.folder)
    names = [args.ear] if args.ear else ["all", "whisper", "moonshine", "phoneme"]
    results = {name: _measured(name, chosen, args) for name in names}
    if args.json:
        first, *others = (_as_json(name, tallies, args) for name, tallies in results.items())
        print(json.dumps(first | ({"alone": {each["ear"]: each for each in others}} if others else {}), indent=1))
        return 0
    for name, tallies in results.items():
        _print_table(name, tallies, args)
    return 0


def _measured(name: str, chosen: MeasuringSet, args: argparse.Namespace) -> dict[str, Tally]:
    from assistant.measuring.hearing import measure, sounds

    ears = _ears(name)
    count = len(chosen.spoken)

    def progress(done: int) -> None:
        if sys.stderr.isatty() and (done % 10 == 0 or done == count):
            print(f"\r{name}: {done} of {count}", end="\n" if done == count else "", file=sys.stderr, flush=True)

    for expectation in chosen.expectations.values():
        ears.expect(expectation)  # a visit prepares its states ahead as well
    return measure(ears, chosen, sounds(chosen, place_of(args)), progress)


def place_of(args: argparse.Namespace) -> Place:
    """Raises NoiseError when there is no such noise."""
    from assistant.measuring.hearing import BABBLE
    from assistant.measuring.places import Place, recordings

    files = () if args.noise == BABBLE else recordings(args.noise)
    return Place(args.snr, args.noise, files, args.room, args.band)


def _ears(name: str) -> Ears:
    """One ear alone is trusted with what it hears: what is measured is what that would cost."""
    from assistant.hearing.listening.default import default_ears
    from assistant.hearing.listening.one_ear import OneEar

    ears = default_ears(name)
    return OneEar(ears.ear, trusting=True) if isinstance(ears, OneEar) else ears


def _numbers(tally: Tally) -> dict[str, Any]:
    return {
        "utterances": tally.utterances,
        "exact": tally.exact,
        "confirm": tally.confirm,
        "confirm_right": tally.confirm_right,
        "again": tally.again,
        "wrong_unasked": tally.wrong_unasked,
        "latency_ms": {"p50": tally.milliseconds(50), "p95": tally.milliseconds(95)},
    }


def _as_json(name: str, tallies: dict[str, Tally], args: argparse.Namespace) -> dict[str, Any]:
    from assistant.measuring.hearing import total

    whole = total(tallies)
    about = {"ear": name, "noise": args.noise if args.snr is not None else None, "snr_db": args.snr}
    about |= {"room_s": args.room, "band": args.band}
    listed = {"confusions": whole.confusions} if args.confusions else {}
    by_kind = {kind: _numbers(tally) for kind, tally in tallies.items()}
    return _numbers(whole) | {"memory_mb": _memory_mb(), **about, "by_kind": by_kind, **listed}


def _print_table(name: str, tallies: dict[str, Tally], args: argparse.Namespace) -> None:
    from assistant.measuring.hearing import total

    what = "as recorded" if args.snr is None else f"{args.noise} noise {args.snr:g} dB below the speech"
    what += f", in a room of {args.room:g} s" if args.room else ""
    what += ", through a narrow band" if args.band == "narrow" else ""
    print(f"\nEar: {name}; {what}")
    print(f"{'kind':<14}{'said':>6}{'exact':>14}{'asked':>7}{'again':>7}{'wrong, unasked':>16}{'p50':>8}{'p95':>8}")
    for kind, tally in {**tallies, "all": total(tallies)}.items():
        share = 100 * tally.exact / tally.utterances
        print(
            f"{kind:<14}{tally.utterances:>6}{tally.exact:>6}{share:>6.1f} %{tally.confirm:>7}{tally.again:>7}"
            f"{tally.wrong_unasked:>16}{tally.milliseconds(50):>5.0f} ms{tally.milliseconds(95):>5.0f} ms"
        )
    whole = total(tallies)
    if whole.exact:
        print(f"Right answers that were asked to confirm: {100 * whole.confirm_right / whole.exact:.1f} %")
    print(f"Memory at most: {_memory_mb():.0f} MB")
    if args.confusions:
        print("\n".join(whole.confusions))


def _memory_mb() -> float:
    return round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, 1)
