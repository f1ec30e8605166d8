"""What is said to others: a dog, a child, a customer, somebody on the phone; see ``grammars/to-others.txt``."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

from assistant.language.sources import Problem, folder, lines_of
from assistant.language.written import as_words

FILE = "to-others.txt"
#: Words that "..." stands for.
_GAP = 3


def read(path: Path) -> tuple[re.Pattern[str], list[Problem]]:
    """The phrases at ``path`` as one pattern, and what is wrong there."""
    phrases: list[str] = []
    problems: list[Problem] = []
    for number, line in lines_of(path):
        if line != line.lower():
            problems.append(Problem(path.name, number, f'"{line}" can never be heard.', "Write it in lower case."))
        else:
            phrases.append(re.escape(line).replace(r"\.\.\.\ ", rf"(?:\S+ ){{0,{_GAP}}}"))
    return re.compile(rf"(?<!\S)(?:{'|'.join(phrases)})(?!\S)"), problems


@lru_cache(maxsize=1)
def shipped() -> re.Pattern[str]:
    """The phrases of this installation."""
    return read(folder() / FILE)[0]


def is_to_others(words: str) -> bool:
    """Whether ``words`` hold a phrase that is said to others."""
    return shipped().search(as_words(words)) is not None
