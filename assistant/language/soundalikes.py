"""The table of words that a free-text ear writes for words of the grammars: ``grammars/soundalikes.txt``."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from assistant.language.sources import Problem, folder, lines_of

FILE = "soundalikes.txt"


@dataclass(frozen=True)
class Soundalikes:
    """Written words (one or two, joined by a space) -> the grammar words that they may stand for."""

    same: dict[str, tuple[str, ...]] = field(default_factory=dict)
    near: dict[str, tuple[str, ...]] = field(default_factory=dict)


def read(path: Path) -> tuple[Soundalikes, list[Problem]]:
    """The table at ``path`` and what is wrong in it."""
    tables: dict[str, dict[str, tuple[str, ...]]] = {"same": {}, "near": {}}
    problems: list[Problem] = []
    section = ""
    for number, line in lines_of(path):
        if line.startswith("["):
            section = line.strip("[]")
            if section not in tables:
                problems.append(Problem(path.name, number, f"The section {line} is unknown.", "Use [same] or [near]."))
            continue
        word, colon, written = line.partition(":")
        if not colon or not written.split() or section not in tables:
            problems.append(Problem(path.name, number, f'"{line}" cannot be read.', 'Write "word: as_written other".'))
            continue
        for text in written.replace("_", "\0").split():
            key = text.replace("\0", " ")
            tables[section][key] = (*tables[section].get(key, ()), word.strip())
    return Soundalikes(tables["same"], tables["near"]), problems


@lru_cache(maxsize=1)
def shipped() -> Soundalikes:
    """The table of this installation."""
    return read(folder() / FILE)[0]
