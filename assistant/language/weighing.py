"""Puts together what the grammar, the readings and the net make of the same words: one chance for each meaning."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from assistant.language.compare import meaning_key
from assistant.language.meaning import Meaning

#: What the grammar's opinion of a meaning counts against another, as odds. A sentence of the grammar, one that is
#: nearly one, a reading with its unit or without, among words that nobody knows. Set on the development set.
EXACT = 60.0
NEAR = 2.5
#: An answer in the words of one of its phrases, or in some of them that no other answer has.
OWN_WORDS = 40.0
OWN_WORDS_IN_PART = 8.0
#: The net knows a question's own words too: what they count beside it.
BESIDE_THE_NET = 0.225
#: The net's chance of a sentence of the grammar counts as this much at least.
STANDS_IN_THE_GRAMMAR = 0.1
#: And of what is named in the frame of a request.
STANDS_IN_A_REQUEST = 0.5
#: A question back in one of its frames.
ASKED_FRAME = 24.0
#: "Check the ..." with a target that is known by its whole name, or by most of it; the name alone, which may be
#: something else's too.
CHECK = {"named": 60.0, "whole": 24.0, "most": 4.0, "part": 2.0, "told": 2.0, "alone": 60.0}
READING = 60.0
READING_UNIT = 20.0
READING_AMONG_WORDS = 4.0
#: What the net leaves at least to a reading that was named, of what it does not give to the open question: it knows no
#: readings.
TOLD_READING = 0.5
#: A meaning that the net cannot rank, or ranks at nothing, may yet be meant.
LEAST = 0.02
#: What the net leaves at least to what it cannot rank: it knows no readings.
AMONG_OTHERS = 0.4


@dataclass
class Weighed:
    """A meaning with its weight; ``doubt`` is the grammar's."""

    meaning: Meaning
    weight: float
    doubt: str = ""
    chance: float = 0.0


@dataclass
class Balance:
    """Meanings by what they say. ``nothing`` is the weight of "none of these", ``unnamed`` of what may have been told
    of a part that nobody named."""

    meanings: dict[tuple[object, ...], Weighed] = field(default_factory=dict)
    nothing: float = 0.0
    unnamed: float = 0.0

    def ranked(self) -> list[Weighed]:
        """The meanings, the likeliest first, each with its chance."""
        whole = self._whole()
        for one in self.meanings.values():
            one.chance = one.weight / whole if whole else 0.0
        return sorted(self.meanings.values(), key=lambda one: -one.weight)

    def nothing_chance(self) -> float:
        """The chance that the words mean none of the meanings, nor anything of a part that was not named."""
        whole = self._whole()
        return self.nothing / whole if whole else 0.0

    def unnamed_chance(self) -> float:
        """The chance that the words tell something of a part that they do not name."""
        whole = self._whole()
        return self.unnamed / whole if whole else 0.0

    def _whole(self) -> float:
        return self.nothing + self.unnamed + sum(one.weight for one in self.meanings.values())

    def add(self, meaning: Meaning, weight: float, doubt: str = "") -> None:
        """Puts a meaning on the balance; one that lies there already becomes as heavy as its heaviest opinion."""
        key = meaning_key(meaning)
        known = self.meanings.get(key)
        if known is None:
            self.meanings[key] = Weighed(meaning, weight, doubt)
        elif weight > known.weight:
            known.weight, known.doubt = weight, doubt

    def join(self, meaning: Meaning, others: Iterable[Meaning]) -> None:
        """Gives ``meaning`` all the weight of ``others``, which leave the balance; doubtful where all of them are."""
        found = [one for other in others if (one := self.meanings.pop(meaning_key(other), None)) is not None]
        if found:
            doubt = "" if any(not one.doubt for one in found) else found[0].doubt
            self.meanings[meaning_key(meaning)] = Weighed(meaning, sum(one.weight for one in found), doubt)
