"""``ladderside profile new|check|show|picture``: the technician's own unit profiles."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.commands.opened import load_library
from assistant.commands.shared import add_ear, add_json, device

if TYPE_CHECKING:
    from assistant.library.profile import UnitProfile
    from assistant.profiling.draft import Draft
    from assistant.review.lint import Problem


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "profile",
        help="make, check and show unit profiles, while reading the maker's manual",
        description="A unit profile holds what the maker's manual says of one model. Your own win over shipped ones.",
    )
    actions = parser.add_subparsers(title="actions", metavar="ACTION", required=True)
    new = actions.add_parser(
        "new",
        help="make a profile by question and answer, or from a file",
        description="Asks one thing at a time; answer as you would on a visit. “skip” leaves out what the manual does "
        "not say, “go back” takes the last answer back. Stopped half-way, it goes on where it was.",
    )
    new.add_argument("--from", dest="source", type=Path, metavar="FILE", help="take a profile written as YAML")
    new.add_argument("--voice", action="store_true", help="ask and answer aloud, by microphone and loudspeaker")
    new.add_argument("--microphone", metavar="DEVICE", help="name or number of the microphone to use")
    new.add_argument("--loudspeaker", metavar="DEVICE", help="name or number of the loudspeaker")
    add_ear(new)
    new.add_argument("--replace", action="store_true", help="write over your own profile of the same name")
    new.add_argument("--afresh", action="store_true", help="forget a half-made profile and begin again")
    new.set_defaults(func=run_new)
    check = actions.add_parser("check", help="tell what is wrong in a profile (default: all of them)")
    check.add_argument("profile", nargs="?", metavar="PROFILE", help="a profile's name or a YAML file")
    add_json(check, "the problems as JSON")
    check.set_defaults(func=run_check)
    show = actions.add_parser("show", help="show a profile, or list them all")
    show.add_argument("profile", nargs="?", metavar="PROFILE", help="a profile's name or a YAML file")
    add_json(show, "the profile as JSON")
    show.set_defaults(func=run_show)
    picture = actions.add_parser("picture", help="keep a picture of the unit's plate with a profile, or remove it")
    picture.add_argument("profile", metavar="PROFILE", help="a profile's name")
    what = picture.add_mutually_exclusive_group()
    what.add_argument("file", nargs="?", type=Path, metavar="FILE", help="a JPEG or PNG (default: tell where it is)")
    what.add_argument("--remove", action="store_true", help="delete the picture that is kept")
    picture.set_defaults(func=run_picture)


def run_new(args: argparse.Namespace) -> int:
    """Make a profile: from a file at once, else by the interview on standard input."""
    from assistant.profiling import shelf

    if args.source is not None:
        profile, file = shelf.import_file(args.source, args.replace)
        return _kept(profile, file)
    from assistant.profiling.draft import Draft

    draft = Draft.begin(load_library(), afresh=args.afresh)
    if draft.resumed:
        print(f"Going on with the profile begun before, {draft.resumed} answers kept; --afresh begins again.")
    if not (_spoken(draft, args) if args.voice else _interviewed(draft)):
        print(f"\nNot complete yet; {draft.count} answers are kept. `ladderside profile new` goes on.")
        return 2
    profile = draft.profile()
    file = shelf.keep(profile, args.replace)
    draft.forget()
    return _kept(profile, file)


def _spoken(draft: Draft, args: argparse.Namespace) -> bool:
    """Ask aloud until all is answered; False when the microphone ends."""
    from assistant.hearing.listening.late import LateEars
    from assistant.hearing.sound.barge_in import HearingThrough, PlayedSound
    from assistant.hearing.sound.endpointing import Endpointer
    from assistant.hearing.sound.microphone import Microphone
    from assistant.profiling.aloud import Aloud
    from assistant.speaking.loudspeaker import LoudspeakerVoice

    ears, played = LateEars(args.ear), PlayedSound()
    with Microphone(device(args.microphone)) as microphone:
        voice = LoudspeakerVoice(device(args.loudspeaker), heard_by=played.put)
        try:
            ears.ensure()
            # Its own questions must not answer themselves.
            frames = HearingThrough(microphone, played, ears.cry, lambda cry: voice.stop())
            return Aloud(draft, ears, Endpointer(), voice, print).run(voice.looked_after(frames))
        finally:
            voice.close()


def _interviewed(draft: Draft) -> bool:
    """Ask until all is answered; False at the end of input."""
    prompt = sys.stdin.isatty()
    while (step := draft.interview.step()) is not None:
        print(step.say)
        line = _read(prompt)
        if line is None:
            return False
        if line.strip():
            print(f"  {draft.say(line.strip())}")
    return True


def _read(prompt: bool) -> str | None:
    try:
        return input("> ") if prompt else (sys.stdin.readline() or None)
    except EOFError:
        return None


def _kept(profile: UnitProfile, file: Path) -> int:
    from assistant.library.loader import load
    from assistant.review.lint import profile_problems, unusual_figures

    print(f"{profile.make} {profile.model} is kept in {file}; say “{profile.phrases[0]}” on a visit.")
    print(f"`ladderside profile picture {profile.id} FILE` keeps a photo of its plate with it.")
    library = load()
    _say_back(unusual_figures(library, file))
    return _tell(profile_problems(library, file))


def run_check(args: argparse.Namespace) -> int:
    """Problems of one profile or of all, and figures to be read once more; status 0 when there are no problems."""
    from assistant.library.loader import load
    from assistant.review.lint import profile_problems, set_aside, unusual_figures

    library = load()
    files = [_file(args.profile)] if args.profile else [
        file for (kind, _), file in library.files.items() if kind == "profile"
    ]  # fmt: skip
    found = [] if args.profile else set_aside(library)
    found += [problem for file in files for problem in profile_problems(library, file)]
    unusual = [problem for file in files for problem in unusual_figures(library, file)]
    if args.json:
        print(json.dumps([_listed(each) for each in found], indent=2, ensure_ascii=False))
        return 2 if found else 0
    if not found:
        number = "The profile is" if len(files) == 1 else f"{len(files)} profiles are"
        print(f"{number} sound.")
    _say_back(unusual)
    return _tell(found)


def _listed(problem: Problem) -> dict[str, object]:
    return {"file": str(problem.file), "line": problem.line, "what": problem.what, "remedy": problem.remedy}


def _say_back(unusual: list[Problem]) -> None:
    if unusual:
        print("Possible but unusual, so read these once more:")
    for problem in unusual:
        print(f"  {problem}")


def _tell(found: list[Problem]) -> int:
    for problem in found:
        print(problem)
    return 2 if found else 0


def run_show(args: argparse.Namespace) -> int:
    """One profile as its file, or the list of all."""
    from os.path import isfile  # says no where a folder cannot be entered, which has been told

    from assistant.library.loader import read_as
    from assistant.library.profile import UnitProfile
    from assistant.profiling.build import as_yaml
    from assistant.profiling.shelf import plate_picture

    if args.profile:
        profile = read_as(UnitProfile, _file(args.profile))
        print(profile.model_dump_json(indent=2, exclude_defaults=True) if args.json else as_yaml(profile), end="")
        return 0
    library = load_library()
    rows = [
        {"id": each.id, "make": each.make, "model": each.model, "refrigerant": each.refrigerant.name,
         "zones": len(each.zones), "invented": each.invented, "file": str(library.files["profile", each.id]),
         "plate": str(picture) if isfile(picture := plate_picture(each.id)) else None}
        for each in library.profiles.values()
    ]  # fmt: skip
    if args.json:
        print(json.dumps(rows, indent=2, ensure_ascii=False))
        return 0
    for row in rows:
        zones = "1 zone" if row["zones"] == 1 else f"{row['zones']} zones"
        note = ", invented for the demonstration" if row["invented"] else ""
        note += ", with a picture of its plate" if row["plate"] else ""
        print(f"{row['id']:24} {row['make']} {row['model']}, {zones}, {row['refrigerant']}{note}")
    return 0


def run_picture(args: argparse.Namespace) -> int:
    """Keep, remove or find the picture of a plate."""
    from assistant.profiling import shelf

    profile_id = _file(args.profile).stem
    kept = shelf.plate_picture(profile_id)
    if args.file is not None:
        print(f"The plate of {profile_id} is kept in {shelf.keep_picture(profile_id, args.file)}.")
        return 0
    if not kept.is_file():
        print(f"No picture of the plate is kept with {profile_id}; name a file to keep one.")
        return 2
    if args.remove:
        kept.unlink()
    print(f"The picture of the plate was removed: {kept}." if args.remove else kept)
    return 0


def _file(name: str) -> Path:
    """The file of a profile named by its id, or the file itself."""
    from assistant.data.errors import DataFolderError
    from assistant.library.loader import load
    from assistant.profiling.shelf import own_profiles

    own = own_profiles() / f"{Path(name).name}.yaml"  # also one that is set aside
    named = next((file for file in (Path(name), own) if file.is_file()), None)
    if named is not None:
        return named
    library = load()
    shipped = library.files.get(("profile", name))
    if shipped is None:
        there = ", ".join(library.profiles)
        raise DataFolderError(f"There is no profile and no file called {name}; profiles are: {there}.")
    return shipped
