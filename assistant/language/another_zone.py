"""Which indoor unit is named instead of the one in question: "it's the kitchen, not the den"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from assistant.language.meaning import Choice
from assistant.language.written import as_words

#: What takes a name back. A unit that "is not heating" is not taken back: "not" stands before a name.
_TAKES_BACK = re.compile(
    r"\b(?:wrong|correction|actually|sorry|meant|mean|instead|rather|switch(?:ing)?|change|changed"
    r"|moved? (?:over )?to|i'm (?:now )?at|we're (?:now )?at|make (?:that|it))\b"
)
#: So many words besides the names and what takes back: more is a story about the unit.
_MOST_BESIDES = 8
#: Stands where a name was, so that the words around it do not meet.
_CUT = " | "


def another_zone(words: str, zones: Sequence[Choice]) -> str | None:
    """The id of the one indoor unit that is meant instead; None where none is, or not exactly one."""
    if not zones:
        return None
    said = f" {as_words(words)} "
    meant: set[str] = set()
    takes_back = _TAKES_BACK.search(said) is not None
    rest = said
    for zone in zones:
        for phrase in sorted(zone.phrases, key=len, reverse=True):
            name = f" {as_words(phrase)} "
            if name not in rest:
                continue
            refused = f" not{name}" in rest
            takes_back = takes_back or refused
            if not refused:
                meant.add(zone.id)
            rest = rest.replace(f" not{name}", _CUT).replace(name, _CUT)
    if not takes_back or len(meant) != 1 or len(rest.replace("|", " ").split()) > _MOST_BESIDES:
        return None
    return meant.pop()
