"""Puts together what the grammar, the readings and the net make of the same words: one chance for each meaning."""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.language.compare import meaning_key
from assistant.language.meaning import Meaning

#: What the grammar's opinion of a meaning counts against another, as odds. A sentence of the grammar, one that is
#: nearly one, a reading with its unit or without, among words that nobody knows. Set on the development set.
EXACT = 60.0
NEAR = 2.5
#: An answer in the words of one of its phrases, or in some of them that no other answer has.
OWN_WORDS = 30.0
OWN_WORDS_IN_PART = 6.0
READING = 60.0
READING_UNIT = 20.0
READING_AMONG_WORDS = 4.0
#: A meaning that the net cannot rank, or ranks at nothing, may yet be meant.
LEAST = 0.02


@dataclass
class Weighed:
    """A meaning with its weight; ``doubt`` is the grammar's."""

    meaning: Meaning
    weight: float
    doubt: str = ""
    chance: float = 0.0


@dataclass
class Balance:
    """Meanings by what they say. ``nothing`` is the weight of "none of these", ``talk`` that of words for others."""

    meanings: dict[tuple[object, ...], Weighed] = field(default_factory=dict)
    nothing: float = 0.0
    talk: float = 0.0

    def ranked(self) -> list[Weighed]:
        """The meanings, the likeliest first, each with its chance."""
        whole = self.nothing + self.talk + sum(one.weight for one in self.meanings.values())
        for one in self.meanings.values():
            one.chance = one.weight / whole if whole else 0.0
        return sorted(self.meanings.values(), key=lambda one: -one.weight)

    def talk_chance(self) -> float:
        """The chance that the words are not for the assistant."""
        whole = self.nothing + self.talk + sum(one.weight for one in self.meanings.values())
        return self.talk / whole if whole else 0.0

    def add(self, meaning: Meaning, weight: float, doubt: str = "") -> None:
        """Puts a meaning on the balance; one that lies there already becomes as heavy as its heaviest opinion."""
        key = meaning_key(meaning)
        known = self.meanings.get(key)
        if known is None:
            self.meanings[key] = Weighed(meaning, weight, doubt)
        elif weight > known.weight:
            known.weight, known.doubt = weight, doubt
