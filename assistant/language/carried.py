"""What a clause takes from the one before it: its part, its predicate, or the number that it goes on with.

"The outdoor fan isn't turning, and it's stiff" tells two things of one fan; "the filter's clean and so's the coil"
says one thing of two parts; "one point four, one point four, one point five" is one row of readings.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from assistant.language.number_words import NUMBER_WORDS
from assistant.language.within import is_bare_reading
from assistant.language.written import as_words

#: "So's the coil", "same with the coil": the predicate of the clause before is meant of it too.
_SO = re.compile(
    r"^(?:so(?:'s| is| are| was| were| does| do| did)|same (?:goes )?(?:with|for|on)|ditto(?: for| on| with)?|likewise)"
    r"\s+(.+)$"
)
_SAID_OF = re.compile(r"(?:'s|'re|\s(?:is|are|was|were|looks?|has|have|got|gets|feels?|reads?))\s+(.+)$")


def numbers_together(clauses: Sequence[str]) -> list[str]:
    """Clauses with the readings that follow a reading joined to it."""
    made: list[str] = []
    for clause in clauses:
        if made and is_bare_reading(clause) and NUMBER_WORDS.intersection(as_words(made[-1]).split()):
            made[-1] = f"{made[-1]}, {clause}"
        else:
            made.append(clause)
    return made


def said_in_full(clause: str, before: str, named: Mapping[str, float]) -> str:
    """The clause with what it takes from the one before, which names ``named``; "" where it can take nothing."""
    said = clause.lower().strip()
    again, predicate = _SO.match(said), _SAID_OF.search(before.lower())
    if again is not None:
        return f"{again.group(1)} is {predicate.group(1)}" if predicate is not None else ""
    if not named:
        return ""
    return f"{' '.join(notion.removeprefix('+') for notion in named)} {said}"
