"""What people say around a reading: the table ``grammars/around.txt``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from assistant.language.sources import Problem, folder, lines_of

FILE = "around.txt"
#: Sections whose phrases stand in the sentence itself; of one that stands in two, the first counts.
PHRASES = ("all", "rest", "same", "amend", "swing", "open", "none", "zero", "zero-voltage", "short", "link", "passed")
#: Sections of single words that say something about what stands beside them.
WORDS = ("before-one", "not-read", "other-numbers", "of-people")


@dataclass(frozen=True)
class Around:
    """``section`` of each phrase, and the single words of each section of words."""

    section: dict[str, str]
    words: dict[str, frozenset[str]]


def read(path: Path) -> tuple[Around, list[Problem]]:
    """The table at ``path`` and what is wrong in it."""
    section: dict[str, str] = {}
    words: dict[str, list[str]] = {name: [] for name in WORDS}
    problems: list[Problem] = []
    current = ""
    for number, line in lines_of(path):
        if line.startswith("["):
            current = line.strip("[]")
            if current not in (*PHRASES, *WORDS):
                problems.append(Problem(path.name, number, f"The section {line} is unknown.", "Correct its name."))
        elif line != line.lower():
            problems.append(Problem(path.name, number, f'"{line}" can never be heard.', "Write it in lower case."))
        elif current in WORDS:
            words[current] += line.split()
        else:
            section.setdefault(line, current)
    return Around(section, {name: frozenset(found) for name, found in words.items()}), problems


@lru_cache(maxsize=1)
def shipped() -> Around:
    """The table of this installation."""
    return read(folder() / FILE)[0]
