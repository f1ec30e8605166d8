"""Frames of questions back: "what does ... mean", "where do my leads go", from ``grammars/asked.txt``.

The grammar (``questions.jsgf``) takes whole sentences; here a question is told by its frame, whatever is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from assistant.language.clauses import clauses
from assistant.language.sources import Problem, folder, lines_of
from assistant.language.written import as_words

FILE = "asked.txt"
#: What introduces a question and is none of it.
_LEADS = re.compile(
    r"^(?:(?:so|okay|ok|hey|well|um|uh|oh|ah|alright|all right|but|and|yeah|yep|wait|sorry|now|huh|hm|hmm|say|look"
    r"|listen|hang on|hold on|hold up|wait a minute|remind me|tell me|just|please|excuse me|quick question"
    r"|one more thing|again|real quick|just curious|i forgot|i forget|you know|like|then|first|actually"
    r"|for this one|on this one) )+"
)
#: Words of any kind that a gap holds, and that the name of a part has.
_GAP, _PART = 6, 5


@dataclass(frozen=True)
class Frame:
    """``topic`` is "ask TOPIC" or "command NAME"; the group "part" of the ``pattern`` must name a part; the more
    ``words`` it has, the surer it is."""

    topic: str
    pattern: re.Pattern[str]
    words: int


def read(path: Path) -> tuple[tuple[Frame, ...], list[Problem]]:
    """The frames at ``path``, and what is wrong there."""
    frames: list[Frame] = []
    problems: list[Problem] = []
    topic = ""
    for number, line in lines_of(path):
        if re.fullmatch(r"\[(?:ask|command) [a-z-]+\]", line):
            topic = line.strip("[]")
        elif not topic:
            problems.append(Problem(path.name, number, f'"{line}" stands in no section.', 'Begin with "[ask TOPIC]".'))
        else:
            frames.append(Frame(topic, _pattern(line), sum(one[0] not in "[." for one in line.split())))
    return tuple(frames), problems


def _pattern(line: str) -> re.Pattern[str]:
    made = ""
    for token in line.split():
        maybe = token.startswith("[")
        text = token.strip("[]")
        if text == "...":
            made += rf"(?:\S+ ){{0,{_GAP}}}"
            continue
        if text == "PART":
            group = rf"(?P<part>(?:\S+ ){{1,{_PART}}})" if "(?P<part>" not in made else rf"(?:\S+ ){{1,{_PART}}}"
        else:
            words = "|".join(re.escape(one.replace("_", " ")) for one in text.split("/"))
            group = f"(?:(?:{words}) )"
        made += f"(?:{group})?" if maybe else group
    return re.compile(made)


@lru_cache(maxsize=1)
def shipped() -> tuple[Frame, ...]:
    """The frames of this installation."""
    return read(folder() / FILE)[0]


def topics_within(words: str, names_part: Callable[[str], bool]) -> list[str]:
    """The topics whose frames fit all of ``words``, or one of the clauses; those only that fit with the most words."""
    best: dict[str, int] = {}
    for said in dict.fromkeys((words, *clauses(words))):
        text = _LEADS.sub("", as_words(said) + " ")
        for frame in shipped():
            if frame.words <= best.get(frame.topic, 0):
                continue
            found = frame.pattern.fullmatch(text)
            if found is not None and ("part" not in found.groupdict() or _named(found["part"], names_part)):
                best[frame.topic] = frame.words
    most = max(best.values(), default=0)
    return [topic for topic, count in best.items() if count == most]


def _named(part: str | None, names_part: Callable[[str], bool]) -> bool:
    return part is None or names_part(part)
