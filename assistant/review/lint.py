"""Everything that is wrong with the knowledge, as file, line, what and remedy."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from assistant.data.places import data_folder
from assistant.data.yaml_lines import Path_, Written
from assistant.language import grammar
from assistant.library.finding import Finding
from assistant.library.loader import Library, read_as
from assistant.library.profile import UnitProfile
from assistant.review.answering import unanswered
from assistant.review.apart import indistinguishable
from assistant.review.chances import chances
from assistant.review.profiles import sound_profiles, unusual
from assistant.review.reach import unreachable
from assistant.review.references import references
from assistant.review.safety import at_odds, unproved, unsafe, untold, untrue
from assistant.review.wording import shared_phrases, too_long

Rule = Callable[[Library], Iterator[Finding]]

RULES: tuple[Rule, ...] = (
    references,
    chances,
    unsafe,
    at_odds,
    untold,
    untrue,
    unproved,
    unreachable,
    indistinguishable,
    sound_profiles,
    shared_phrases,
    unanswered,
    too_long,
)


@dataclass(frozen=True, order=True)
class Problem:
    """One thing to put right: where (``line`` from 1), what is wrong, and what to do about it."""

    file: Path
    line: int
    what: str
    remedy: str

    def __str__(self) -> str:
        place = f"{self.file.name}, line {self.line}" if self.line else self.file.name
        return f"{place}: {self.what}; {self.remedy}."


def problems(library: Library) -> list[Problem]:
    """All problems of all rules, by file and line; empty when the knowledge keeps to every rule."""
    places = _Places(library)
    return sorted({places.problem(finding) for rule in RULES for finding in rule(library)})


def set_aside(library: Library) -> list[Problem]:
    """What keeps profiles of the user's from being used."""
    return [Problem(each.file, each.line, each.what, each.remedy) for each in library.set_aside]


def grammar_problems() -> list[Problem]:
    """All problems of the grammar files; empty when every ear can be given its language."""
    folder = data_folder("grammars")
    found = grammar.problems()
    return [Problem(folder / each.file, each.line, each.what.rstrip("."), each.remedy.rstrip(".")) for each in found]


def profile_problems(library: Library, file: Path) -> list[Problem]:
    """All problems of the one profile in ``file``, whether it is on the shelf or not.

    Raises LibraryError when the file is no profile at all.
    """
    return _of_profile(library, file, (references, sound_profiles, shared_phrases, too_long))


def unusual_figures(library: Library, file: Path) -> list[Problem]:
    """Figures of the profile in ``file`` that are possible and rare, to be said back. Raises LibraryError as above."""
    return _of_profile(library, file, (unusual,))


def _of_profile(library: Library, file: Path, rules: tuple[Rule, ...]) -> list[Problem]:
    profile = read_as(UnitProfile, file)
    name = ("profile", profile.id)
    alone = replace(library, profiles={profile.id: profile}, files={**library.files, name: file}, **_NOTHING_ELSE)
    places = _Places(alone)
    return sorted({places.problem(each) for rule in rules for each in rule(alone) if (each.kind, each.id) == name})


#: A profile is judged against the symptoms only.
_NOTHING_ELSE: dict[str, Any] = {
    "checks": {},
    "suspects": {},
    "precautions": {},
    "instruments": {},
    "hazards": {},
    "things": {},
}


class _Places:
    """From an item and a path inside it to file and line; a file is read only when something in it is wrong."""

    def __init__(self, library: Library) -> None:
        self._library = library
        self._written: dict[Path, Written] = {}

    def problem(self, finding: Finding) -> Problem:
        file, path = self._place(finding)
        name = "" if finding.kind == "profile" else f"{finding.kind} “{finding.id}”: "
        return Problem(file, self._of(file).line(path), name + finding.what, finding.remedy)

    def _place(self, finding: Finding) -> tuple[Path, Path_]:
        file = self._library.files[finding.kind, finding.id]
        written = self._of(file)
        inside = () if finding.kind == "profile" else written.item(f"{finding.kind}s", finding.id) or ()
        added = _ADDED.get(str(finding.path[0])) if finding.path else None
        if added is None or written.has((*inside, *finding.path)):
            return file, (*inside, *finding.path)
        elsewhere = (added, finding.id, *finding.path[1:])
        for other in sorted(file.parent.rglob("*.yaml")):
            if self._of(other).has(elsewhere):
                return other, elsewhere
        return file, (*inside, *finding.path)

    def _of(self, file: Path) -> Written:
        if file not in self._written:
            self._written[file] = Written(file)
        return self._written[file]


#: What another file may have added to an item, and under which name it stands there.
_ADDED = {"tells": "also_tells", "shown_by": "also_shown_by"}
