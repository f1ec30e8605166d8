"""``ladderside library``: is the knowledge sound? Counts what there is and names every problem with its place."""

from __future__ import annotations

import argparse
import json
from typing import TYPE_CHECKING, Any

from assistant.commands.shared import add_json

if TYPE_CHECKING:
    from assistant.library.loader import Library
    from assistant.review.lint import Problem


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "library",
        help="check the knowledge, profiles and grammars, and count suspects and checks",
        description="Reads all knowledge and your own profiles, and tries every rule on them: unknown names, chances "
        "that do not add up, checks that no visit comes to, suspects that no check can tell apart, cautions that are "
        "never spoken, phrases that mean two things, sentences too long to be spoken.",
    )
    add_json(parser, "counts and problems as JSON")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Print counts and problems; status 0 when there are none, else 2."""
    from assistant.library.loader import load
    from assistant.review.lint import grammar_problems, problems, set_aside

    library = load()
    found = [*set_aside(library), *problems(library), *grammar_problems()]
    print(json.dumps(_as_json(library, found), indent=2, ensure_ascii=False) if args.json else _page(library, found))
    return 2 if found else 0


def counts(library: Library) -> dict[str, int]:
    """How much there is of each kind."""
    return {
        "suspects": len(library.suspects),
        "checks": len(library.checks),
        "symptoms": len(library.symptoms),
        "precautions": len(library.precautions),
        "profiles": len(library.profiles),
        "sources": len(library.sources),
        "instruments": len(library.instruments),
    }


def _as_json(library: Library, found: list[Problem]) -> dict[str, Any]:
    listed = [
        {"file": str(problem.file), "line": problem.line, "what": problem.what, "remedy": problem.remedy}
        for problem in found
    ]
    return {**counts(library), "systems": _systems(library), "problems": listed}


def _systems(library: Library) -> dict[str, dict[str, int]]:
    return {
        system: {
            "suspects": sum(library.system_of[suspect] == system for suspect in library.suspects),
            "checks": sum(library.system_of[check] == system for check in library.checks),
        }
        for system in library.systems
    }


def _page(library: Library, found: list[Problem]) -> str:
    lines = [f"{count:5d} {kind}" for kind, count in counts(library).items()]
    lines.append("")
    for system, each in _systems(library).items():
        lines.append(f"{each['suspects']:5d} suspects, {each['checks']:3d} checks   {system}")
    lines.append("")
    if not found:
        return "\n".join([*lines, "Nothing is wrong with it."])
    number = "One problem" if len(found) == 1 else f"{len(found)} problems"
    return "\n".join([*lines, f"{number}:", *(f"  {problem}" for problem in found)])
