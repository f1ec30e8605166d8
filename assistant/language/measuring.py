"""How well words are understood: every sentence of a table against what was meant, counted by kind."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from assistant.language.corpus import ANY_STATE, Row, atoms_of, one_named, same
from assistant.language.meaning import Interpretation
from assistant.language.scope import Scope

#: "at once": the right meaning, taken. "asked": the right meaning after one question (right? or which of these?).
#: "wrong": another meaning taken at once. "wrong asked": only other meanings were asked about. "nothing": not
#: understood; right for talk, which counts as "at once" when nothing is made of it.
Outcome = Literal["at once", "asked", "wrong", "wrong asked", "nothing"]
OUTCOMES: tuple[Outcome, ...] = ("at once", "asked", "wrong", "wrong asked", "nothing")
#: What was made of a sentence in a state: once, or once for each time it was said.
Understood = Callable[[Row, Scope], Iterable[Interpretation]]


@dataclass
class Tally:
    """Counts of one kind of sentence, and the sentences that did not come out right at once."""

    counts: dict[Outcome, int] = field(default_factory=lambda: dict.fromkeys(OUTCOMES, 0))
    missed: list[tuple[Outcome, Row, Interpretation]] = field(default_factory=list)

    @property
    def sentences(self) -> int:
        return sum(self.counts.values())

    def share(self, *outcomes: Outcome) -> float:
        """The part of all sentences that came out so, from 0 to 1."""
        return sum(self.counts[one] for one in outcomes) / self.sentences if self.sentences else 0.0

    def add(self, outcome: Outcome, row: Row, understood: Interpretation) -> None:
        self.counts[outcome] += 1
        if outcome != "at once":
            self.missed.append((outcome, row, understood))


def judge(
    row: Row, understood: Interpretation, names: Callable[[str, str], bool], twins: Mapping[str, frozenset[str]]
) -> Outcome:
    """How a sentence came out. What has several names is right by any of them (``Tellable.twins``)."""
    state = "" if row.state == ANY_STATE else row.state

    def right(meaning: object) -> bool:
        got = one_named(atoms_of(meaning, state), twins)  # type: ignore[arg-type]
        return any(same(one_named(wanted, twins), got, names) for wanted in row.meanings)

    if understood.meaning is None:
        return "at once" if frozenset() in row.meanings else "nothing"
    if not (understood.doubt or understood.options):
        return "at once" if right(understood.meaning) else "wrong"
    offered = understood.options or (understood.meaning, *understood.alternatives[:1])
    return "asked" if any(right(one) for one in offered) else "wrong asked"


def measure(
    rows: Iterable[Row],
    scope_of: Callable[[str], Scope],
    understood: Understood,
    names: Callable[[str, str], bool],
) -> dict[str, Tally]:
    """A tally for every kind."""
    tallies: dict[str, Tally] = {}
    for row in rows:
        scope = scope_of(row.state)
        for found in understood(row, scope):
            outcome = judge(row, found, names, scope.tellable.twins)
            tallies.setdefault(row.kind, Tally()).add(outcome, row, found)
    return tallies
