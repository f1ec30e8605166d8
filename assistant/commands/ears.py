"""``ladderside ears``: which ears, voices and devices work on this machine, each proved by using it."""

from __future__ import annotations

import argparse
import dataclasses
import json
from typing import TYPE_CHECKING, Any

from assistant.commands.shared import add_json, devices

if TYPE_CHECKING:
    from assistant.commands.ear_trial import Trial


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "ears",
        help="try every ear, the voice, the microphone and the loudspeaker of this machine",
        description="Speaks a phrase with the voice, lets every ear hear it, listens to the microphone for a second "
        "and says one word aloud. Without a sound device everything but the last two is tried. --try takes a minute "
        "with you: it listens to the place, has you say three lines, and says what to change.",
    )
    parser.add_argument(
        "--try", dest="fit", action="store_true", help="check how headset and place fit you, and say what to change"
    )
    parser.add_argument("--microphone", metavar="DEVICE", help="name or number of the microphone to try")
    parser.add_argument("--loudspeaker", metavar="DEVICE", help="name or number of the loudspeaker to try")
    add_json(parser, "one JSON object: ears, voice, devices, each with works and proof")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Try everything and print it; status 0 when the ears and the voice of the default work, else 2."""
    if args.fit:
        from assistant.commands import fit_check

        return fit_check.run(args)
    trials = try_all(*devices(args))
    print(json.dumps(_as_json(trials), indent=2, ensure_ascii=False) if args.json else _page(trials))
    return 0 if all(trial.works for group in trials.values() for trial in group if trial.wanted) else 2


def try_all(microphone: int | str | None, loudspeaker: int | str | None) -> dict[str, tuple[Trial, ...]]:
    """The trials, grouped as they are printed. Without a voice there is no phrase for the ears to hear."""
    from assistant.commands.ear_trial import PHRASE, try_ears, try_microphone
    from assistant.commands.voice_trial import phrase_for_ears, try_loudspeaker, try_voice

    voice = try_voice(PHRASE)
    return {
        "voice": (voice,),
        "ears": try_ears(phrase_for_ears(PHRASE)) if voice.works else (),
        "devices": (try_microphone(microphone), try_loudspeaker(loudspeaker)),
    }


def _as_json(trials: dict[str, tuple[Trial, ...]]) -> dict[str, Any]:
    from assistant.commands.ear_trial import input_devices, output_devices
    from assistant.commands.voice_trial import voices

    return {
        **{group: [dataclasses.asdict(trial) for trial in each] for group, each in trials.items()},
        "voices": voices(),
        "microphones": input_devices(),
        "loudspeakers": output_devices(),
    }


def _page(trials: dict[str, tuple[Trial, ...]]) -> str:
    from assistant.commands.ear_trial import input_devices, output_devices
    from assistant.commands.voice_trial import voices

    lines = []
    for group, each in trials.items():
        lines.append(group)
        lines += [f"  {trial.name:12} {_word(trial):9} {trial.proof}" for trial in each]
        lines.append("")
    lines.append(f"voices to choose from: {', '.join(voices()) or 'none'}")
    lines.append(f"microphones: {', '.join(input_devices()) or 'none'}")
    lines.append(f"loudspeakers: {', '.join(output_devices()) or 'none'}")
    return "\n".join(lines)


def _word(trial: Trial) -> str:
    return "works" if trial.works else "FAILS" if trial.wanted else "not here"
