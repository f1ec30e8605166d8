"""The clauses of a sentence, each with its likeliest meaning, behind what was said before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from assistant.language.carried import numbers_together, said_in_full
from assistant.language.meaning import Finding, Meaning, Readings, Told, ToldAnswer
from assistant.language.weighing import Balance, Weighed

#: From this chance on a clause tells what it is taken for; from ``MAYBE`` on it is told too, and all is asked back.
SURE, MAYBE = 0.87, 0.5
#: So likely must a clause be that is understood only with the part that the one before it names.
CARRIED = 0.6
#: Two clauses are one where neither tells anything alone and both together do so.
TOGETHER = 0.85


class Weigh(Protocol):
    """Everything that a clause may mean, behind the one that was said ``before`` it ("" for none)."""

    def __call__(self, words: str, before: str = "") -> Balance: ...


class Names(Protocol):
    """What words name."""

    def named(self, words: str) -> Mapping[str, float]:
        """The parts that they name."""

    def about(self, words: str, meaning: Meaning) -> bool:
        """Whether they name what the meaning is about."""

    def another(self, words: str, meaning: Meaning) -> bool:
        """Whether they name a part, and none that the meaning is about."""

    def the_same(self, one: Meaning, other: Meaning) -> bool:
        """Whether both are one thing in other words."""

    def matter(self, meaning: Meaning) -> str:
        """The question that a meaning answers; a symptom is a matter of its own."""


@dataclass(frozen=True)
class Part:
    """A clause, or two that belong together, with its likeliest meaning; ``nothing`` is the chance of none at all.

    ``unnamed`` is the chance that it tells something of a part that it does not name. ``carried``: it was understood
    only with what the clause before it names.
    """

    words: str
    best: Weighed | None
    nothing: float
    unnamed: float
    carried: bool = False

    @property
    def chance(self) -> float:
        return self.best.chance if self.best is not None and (not self.best.doubt or self.is_told) else 0.0

    @property
    def is_told(self) -> bool:
        return self.best is not None and isinstance(self.best.meaning, Told)

    @property
    def is_told_reading(self) -> bool:
        told = self.best.meaning if self.best is not None else None
        return isinstance(told, Told) and any(
            isinstance(fact, ToldAnswer) and isinstance(fact.answer, Readings) for fact in told.facts
        )

    @property
    def answers(self) -> bool:
        """Whether it answers the open question."""
        return self.best is not None and isinstance(self.best.meaning, Finding | Readings)

    @property
    def is_sure(self) -> bool:
        return self.chance >= SURE and not self.carried and not (self.best is not None and self.best.doubt)


def parts_of(clauses: Sequence[str], weigh: Weigh, names: Names) -> list[Part]:
    """Each clause weighed behind the one before it, and with what it takes from that where it tells nothing alone."""
    made: list[Part] = []
    for clause in numbers_together(clauses):
        before = made[-1].words if made else ""
        part = _part(clause, weigh, before)
        full = said_in_full(clause, before, names.named(before)) if part.chance < MAYBE and before else ""
        if full:
            whole = _part(full, weigh, before)
            if whole.chance >= CARRIED and whole.best is not None and names.about(full, whole.best.meaning):
                part = replace(whole, carried=True)
        made.append(part)
    return _joined(made, weigh)


def _part(words: str, weigh: Weigh, before: str = "") -> Part:
    balance = weigh(words, before)
    ranked = balance.ranked()
    return Part(words, ranked[0] if ranked else None, balance.nothing_chance(), balance.unnamed_chance())


def _joined(parts: list[Part], weigh: Weigh) -> list[Part]:
    """Clauses of which the one names what the other tells, as one: "I megged the compressor, two hundred megs"."""
    made: list[Part] = []
    for part in parts:
        before = made[-1] if made else None
        if before is not None and min(before.chance, part.chance) < SURE:
            both = _part(f"{before.words}, {part.words}", weigh)
            if both.is_told_reading and both.chance >= max(TOGETHER, before.chance, part.chance):
                made[-1] = both
                continue
        made.append(part)
    return made
