"""What the pipeline asks of the net: given the words of one clause, how likely is each meaning that is possible now?

Keys of meanings: ``indication:ID``, ``CHECK.QUESTION=choice:ID``, ``command:NAME``, ``cannot:REASON``, ``ask:TOPIC``,
``emergency:KIND`` and ``talk`` (words that are not for the assistant).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
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


@dataclass(frozen=True)
class Hint:
    """What else speaks for a candidate besides likeness; 0 is nothing.

    ``counted``: the words' log likelihood ratio (``lexical``). ``sign``: the log of the factor by which the sort of
    sentence changes it (``cues``). ``covered``: the share of the parts named in the clause that the candidate's
    question is about, with their weights in ``named`` and those of the other parts in ``unnamed`` (``subjects``).
    """

    counted: float = 0.0
    sign: float = 0.0
    covered: float = 0.0
    named: float = 0.0
    unnamed: float = 0.0


#: Gives the hints for some candidates: asked once it is known which are worth it.
Hints = Callable[[Sequence[str]], Mapping[str, Hint]]


def no_hints(keys: Sequence[str]) -> Mapping[str, Hint]:
    """Nothing but likeness speaks for anything."""
    return dict.fromkeys(keys, Hint())


class Net(Protocol):
    """Ranks meanings. Deterministic: the same words and candidates give the same chances."""

    def expect(self, clauses: Sequence[str], scope: str) -> None:
        """``clauses`` will be ranked in ``scope``: what can be made of all together faster than of each is made now."""

    def rank(
        self, words: str, candidates: Sequence[str], scope: str, told: Sequence[str] = (), hints: Hints = no_hints
    ) -> tuple[Ranked, ...]:
        """The likeliest of ``candidates``, ``told`` and ``NONE``, best first; all chances sum to 1.

        ``words`` is one clause in lower case, numerals as words. ``scope`` is the open question
        ("visit.indication", "filter-look.filter") or ``ANY``; ``candidates`` answer it or may be said whatever is
        asked, ``told`` are facts that nobody asked for, of which only the nearest are ranked. A key that the net does
        not know is left out.
        """


class KnowsNothing:
    """The net of an installation without a model: every clause means none of the candidates."""

    def expect(self, clauses: Sequence[str], scope: str) -> None:
        pass

    def rank(
        self, words: str, candidates: Sequence[str], scope: str, told: Sequence[str] = (), hints: Hints = no_hints
    ) -> tuple[Ranked, ...]:
        return (Ranked(NONE, 1.0),)
