"""A sentence of several clauses: facts told together, an answer with an addition, or one thing said at length."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import prod
from typing import Protocol

from assistant.language.compare import meaning_key
from assistant.language.meaning import (
    Finding,
    Indication,
    Interpretation,
    Meaning,
    Readings,
    Told,
    ToldAnswer,
    ToldFact,
)
from assistant.language.weighing import Balance, Weighed

#: From this chance on a clause tells what it is taken for; from ``MAYBE`` on it is told too, and all is asked back.
SURE, MAYBE = 0.87, 0.5
#: A clause for which "none of these" has this chance tells nothing.
TELLS_NOTHING = 0.6
#: So sure must a sentence be as a whole that its clauses do not count, where one that tells another thing is less sure
#: than ``BESIDES``.
WHOLE, BESIDES = 0.95, 0.92
#: Two clauses are one where neither tells anything alone and both together do so.
TOGETHER = 0.85

Weigh = Callable[[str], Balance]


class Names(Protocol):
    """What words name."""

    def about(self, words: str, meaning: Meaning) -> bool:
        """Whether they name what the meaning is about."""

    def another(self, words: str, meaning: Meaning) -> bool:
        """Whether they name a part, and none that the meaning is about."""

    def elsewhere(self, words: str) -> bool:
        """Whether they name nothing that the open question is about."""

    def the_same(self, one: Meaning, other: Meaning) -> bool:
        """Whether both are one thing in other words."""


@dataclass(frozen=True)
class Part:
    """A clause, or two that belong together, with its likeliest meaning; ``nothing`` is the chance of none at all."""

    words: str
    best: Weighed | None
    nothing: float

    @property
    def chance(self) -> float:
        return self.best.chance if self.best is not None and not self.best.doubt else 0.0


def by_parts(
    words: str, clauses: Sequence[str], bare: Finding | None, weigh: Weigh, whole: Balance, names: Names
) -> Interpretation | None:
    """What the clauses tell together; None when the sentence is rather one thing.

    ``bare``: the answer that a bare "yes" or "no" among them gives. ``names``: whether words name what a meaning is
    about, without which a second symptom is none.
    """
    parts = _joined([_part(clause, weigh) for clause in clauses], weigh)
    telling = [part for part in parts if part.chance >= MAYBE]
    shown = [part for part in telling if part.best is not None and isinstance(part.best.meaning, Indication)]
    if (
        len({meaning_key(part.best.meaning) for part in shown if part.best is not None}) > 1
    ):  # a complaint in two clauses?
        all_told = whole.ranked()[0].meaning if whole.ranked() else None
        likest = max(shown, key=lambda part: (part.best is not None and part.best.meaning == all_told, part.chance))
        telling = [part for part in telling if part not in shown or part is likest or _is_told(part, names)]
    if any(not _may_join(part.best.meaning) for part in telling if part.best is not None):
        return None
    again = _told_again(telling, names)
    telling, parts = ([part for part in some if part not in again] for some in (telling, parts))
    found = _Found()
    for part in telling:
        assert part.best is not None
        found.add(part.best.meaning)
    if bare is not None and not found.answers:
        found.add(bare)
    told = found.told()
    if told is None or found.contradicts:
        return _which(words, telling, whole)
    if found.count < 2:
        return _one(words, telling, parts, whole) or _left_over(words, telling, parts, whole, names)
    chance = prod(part.chance for part in telling)
    if not all(_is_told_besides(part, whole, names) for part in telling):
        return None
    unsure = any(part.chance < SURE for part in telling)
    doubt = f'"{words.strip()}" was not wholly understood.' if unsure or any(map(_is_unclear, parts)) else ""
    return Interpretation(words=words, meaning=told, doubt=doubt, chance=chance)


def _left_over(
    words: str, telling: list[Part], parts: list[Part], whole: Balance, names: Names
) -> Interpretation | None:
    """One clause tells what the sentence tells as a whole, and another names another part: it is asked back."""
    best = next(iter(whole.ranked()), None)
    if best is None or len(telling) != 1 or not isinstance(best.meaning, Told) or telling[0].best is None:
        return None
    if meaning_key(telling[0].best.meaning) != meaning_key(best.meaning):
        return None
    if not any(_is_unclear(part) and names.another(part.words, best.meaning) for part in parts):
        return None
    doubt = f'"{words.strip()}" was not wholly understood.'
    return Interpretation(words=words, meaning=best.meaning, doubt=doubt, chance=best.chance)


def _is_unclear(part: Part) -> bool:
    """Whether a clause tells something, and nobody knows what."""
    return part.chance < MAYBE and part.nothing < TELLS_NOTHING


def _told_again(telling: list[Part], names: Names) -> list[Part]:
    """Clauses that tell in other words what one before them told."""
    again: list[Part] = []
    for at, part in enumerate(telling):
        if any(
            part.best is not None and one.best is not None and names.the_same(part.best.meaning, one.best.meaning)
            for one in telling[:at]
        ):
            again.append(part)
    return again


def _which(words: str, telling: list[Part], whole: Balance) -> Interpretation | None:
    """The first clause surely answers one thing and the sentence as a whole another: it is asked which."""
    first = telling[0].best if telling else None
    best = next(iter(whole.ranked()), None)
    if first is None or best is None or first.doubt or first.chance < BESIDES:
        return None
    if not isinstance(first.meaning, Finding) or not isinstance(best.meaning, Finding) or first.meaning == best.meaning:
        return None
    return Interpretation(words=words, meaning=first.meaning, options=(first.meaning, best.meaning), chance=0.5)


def _part(words: str, weigh: Weigh) -> Part:
    balance = weigh(words)
    ranked = balance.ranked()
    return Part(words, ranked[0] if ranked else None, balance.nothing_chance())


def _joined(parts: list[Part], weigh: Weigh) -> list[Part]:
    """Clauses of which the one names what the other tells, as one: "I megged the compressor, two hundred megs"."""
    made: list[Part] = []
    for part in parts:
        before = made[-1] if made else None
        if before is not None and min(before.chance, part.chance) < SURE:
            both = _part(f"{before.words}, {part.words}", weigh)
            if _is_told_reading(both) and both.chance >= max(TOGETHER, before.chance, part.chance):
                made[-1] = both
                continue
        made.append(part)
    return made


def _is_told(part: Part, names: Names) -> bool:
    """Whether a clause that tells a symptom beside another tells one of its own."""
    return part.best is not None and part.chance >= BESIDES and names.about(part.words, part.best.meaning)


def _is_told_besides(part: Part, whole: Balance, names: Names) -> bool:
    """Whether a clause tells a thing of its own, where the sentence as a whole surely tells another one."""
    best = next(iter(whole.ranked()), None)
    if best is None or best.chance < WHOLE or best.doubt or part.best is None or part.chance >= BESIDES:
        return True
    if meaning_key(part.best.meaning) == meaning_key(best.meaning):
        return True
    return isinstance(part.best.meaning, Told) and names.elsewhere(part.words)


def _is_told_reading(part: Part) -> bool:
    told = part.best.meaning if part.best is not None else None
    return isinstance(told, Told) and any(
        isinstance(fact, ToldAnswer) and isinstance(fact.answer, Readings) for fact in told.facts
    )


def _may_join(meaning: Meaning) -> bool:
    return isinstance(meaning, Finding | Indication | Readings | Told)


class _Found:
    """Answers and facts of the clauses, each once."""

    def __init__(self) -> None:
        self.answers: dict[object, Finding | Indication | Readings] = {}
        self.facts: dict[object, ToldFact] = {}
        self.contradicts = False

    @property
    def count(self) -> int:
        return len(self.answers) + len(self.facts)

    def add(self, meaning: Meaning) -> None:
        if isinstance(meaning, Told):
            if meaning.answer is not None:
                self.add(meaning.answer)
            for fact in meaning.facts:
                matter = fact.question if isinstance(fact, ToldAnswer) else fact.choice
                if self.facts.setdefault(matter, fact) != fact:
                    self.contradicts = True
        elif isinstance(meaning, Finding | Indication | Readings):
            self.answers.setdefault(meaning_key(meaning), meaning)

    def told(self) -> Told | None:
        """All of it as one meaning; of several symptoms at the question for them, the first is the answer."""
        answers = list(self.answers.values())
        others = [one for one in answers[1:] if isinstance(one, Indication)]
        if len(others) < len(answers) - 1:
            self.contradicts = True
        if not answers and not self.facts:
            return None
        return Told(answer=answers[0] if answers else None, facts=(*others, *self.facts.values()))


def _one(words: str, telling: list[Part], parts: list[Part], whole: Balance) -> Interpretation | None:
    """One clause tells something and the others nothing: it is taken, unless the whole sentence means something."""
    ranked = whole.ranked()
    if len(telling) != 1 or telling[0].chance < SURE or (ranked and ranked[0].chance >= MAYBE):
        return None
    if any(part is not telling[0] and part.nothing < TELLS_NOTHING for part in parts):
        return None
    best = telling[0].best
    assert best is not None
    return Interpretation(words=words, meaning=best.meaning, chance=best.chance)
