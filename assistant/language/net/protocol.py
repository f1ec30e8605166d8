"""What the pipeline asks of the net: given the words of one clause, how likely is each meaning that is possible now?

Keys of meanings: ``indication:ID``, ``CHECK.QUESTION=choice:ID``, ``command:NAME``, ``cannot:REASON``, ``ask:TOPIC``,
``emergency:KIND`` and ``talk`` (words that are not for the assistant).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

#: The key of "none of these", which every ranking holds.
NONE = "none"
TALK = "talk"
#: The scope of words that may be said whatever is asked.
ANY = "any"


@dataclass(frozen=True)
class Ranked:
    """A candidate and the calibrated chance that the clause means it: of all that got 0.8, 80 in 100 are right."""

    key: str
    chance: float


class Net(Protocol):
    """Ranks meanings. Deterministic: the same words and candidates give the same chances."""

    def rank(self, words: str, candidates: Sequence[str], scope: str) -> tuple[Ranked, ...]:
        """The likeliest of ``candidates`` and ``NONE``, best first; the chances of all candidates and NONE sum to 1.

        ``words`` is one clause in lower case, numerals as words. ``scope`` is the open question
        ("visit.indication", "filter-look.filter") or ``ANY``. A candidate that the net does not know is left out.
        """


class KnowsNothing:
    """The net of an installation without a model: every clause means none of the candidates."""

    def rank(self, words: str, candidates: Sequence[str], scope: str) -> tuple[Ranked, ...]:
        return (Ranked(NONE, 1.0),)
