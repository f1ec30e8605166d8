"""Names among other words: "it's a two forty volt, r thirty two" answers what supply it has, and names its refrigerant.

Only for questions whose choices are names of things (``Expectation.names``): there one that is named is meant, whatever
else the sentence tells. A number with a unit of something else is no name: "thirty two degrees".
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.language.meaning import Choice
from assistant.language.number_words import NUMBER_WORDS
from assistant.language.said_units import unit_words
from assistant.language.written import as_words

#: Units that may follow a name that is a number; "r" begins the name of a refrigerant.
_VOLTS = frozenset({"volt", "volts", "v", "r"})
#: What makes a time or an age of a number, beside the units of readings.
_TIMES = frozenset({"year", "years", "hour", "hours", "day", "days", "week", "weeks", "something"})
_NUMBERS = frozenset({"point", *NUMBER_WORDS})


def named_within(words: str, choices: Sequence[Choice]) -> tuple[str, ...]:
    """Ids of the choices that ``words`` name, each once, in their order; the longest name counts, no part of it."""
    left = _said(words)
    found: dict[str, int] = {}
    names = [(_said(phrase), choice.id) for choice in choices for phrase in choice.phrases]
    for name, choice in sorted(names, key=lambda each: -len(each[0])):
        for at in _taken(left, name):
            found.setdefault(choice, at)
    return tuple(sorted(found, key=lambda choice: found[choice]))


def _taken(left: list[str], name: list[str]) -> tuple[int, ...]:
    """Where the name stood among the words that are ``left``; it is blanked there."""
    found = []
    for at in range(len(left) - len(name) + 1):
        if left[at : at + len(name)] == name and _stands_alone(left, at, name):
            left[at : at + len(name)] = [""] * len(name)
            found.append(at)
    return tuple(found)


#: What stands around such a name and tells nothing without it.
_AROUND = frozenset({"volt", "volts", "v", "and", "with", "on", "it", "it's", "its", "a", "an", "is", "runs", "takes"})


def without_names(words: str, *kinds: Sequence[Choice]) -> tuple[str, tuple[str | None, ...]]:
    """The words without what names one choice of each kind, and the ids of these; None of a kind not named just once.

    Between commas each piece is looked at for itself, so that what names nothing stays as it was written.
    """
    pieces = words.split(",")
    ids: list[str | None] = []
    names: list[list[str]] = []
    for choices in kinds:
        found = {one for piece in pieces for one in named_within(piece, choices)}
        ids.append(found.pop() if len(found) == 1 else None)
        names += [_said(phrase) for choice in choices if choice.id == ids[-1] for phrase in choice.phrases]
    left = [rest for rest in (_without(piece, names) for piece in pieces) if rest]
    return ", ".join(left), tuple(ids)


def _without(piece: str, names: list[list[str]]) -> str:
    """One piece without the names; nothing where only what stands around them is left."""
    left = _said(piece)
    for name in sorted(names, key=len, reverse=True):
        _taken(left, name)
    if "" not in left:
        return piece.strip()
    rest = [word for word in left if word]
    while rest and rest[-1] in _AROUND:
        rest.pop()
    return " ".join(rest)


def _said(words: str) -> list[str]:
    """The words with numbers said in one way: "four hundred ten" as "four ten", "two oh eight" as "two eight"."""
    return [word for word in as_words(words.replace("/", " or ")).split() if word not in ("hundred", "oh")]


def _stands_alone(words: list[str], at: int, name: list[str]) -> bool:
    """Whether the name is no piece of a longer number or of a reading."""
    before, after = words[at - 1] if at else "", words[at + len(name)] if at + len(name) < len(words) else ""
    if (name[0] in _NUMBERS and before in _NUMBERS) or (name[-1] in _NUMBERS and after in _NUMBERS):
        return False
    is_number = all(word in _NUMBERS for word in name)
    return not is_number or (after not in _TIMES and (after in _VOLTS or after not in unit_words()))
