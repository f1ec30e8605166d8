"""What a sentence is about: the parts that it names, held against those that a question is about.

"By the way the filter is plugged" answers no question about a display, however near "plugged" lies to its answers.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from assistant.language.clause_tables import told_clauses
from assistant.language.notions import SMALL, shipped
from assistant.language.scope import Tellable
from assistant.language.written import as_words

#: Notions, and stems of words, that stand in the names of checks and yet name no part: states, times, small words.
_STATES = (
    "not yes all one other same cold warm run start stop turn back broken burnt clean customer dark dirty "
    "down dusty empty gone kinked later level lit loose now open quiet see sometimes steady strong stuck "
    "tight up weak"
)
_SMALL_WORDS = (
    "acros add after against along amp around as auto automatic backward befor behaviour behind below "
    "besid between big by call chang check clos compar control cross decay did differenc dim dip do drag "
    "end enter ever explain extra extrem fac fail feel fifteen fill final find fiv flat follow forc found "
    "four fre giv happen has height hidden high hol hour how idl into itself kind label larg lat left "
    "lift lik listen liter litr liv load long lost mad main manual many mark measur mild minut miss "
    "moment mor much new obey off once onc or order outer output over own past pattern plac pour pres "
    "prov pull put read rest right ring set shift short show shown sid sign sit six siz slid soft spac "
    "spot stand sum tak taken test th their thre three through tighten tim together too torqu touch try "
    "tug two under unit unplug used wall watch way weigh weight what when wher which whil word worn yourself"
)
NO_PART = frozenset(f"+{notion}" for notion in _STATES.split()) | frozenset(_SMALL_WORDS.split())


@dataclass(frozen=True)
class About:
    """``share`` of the parts that were named which a question is about, by weight; ``named`` of them and the rest."""

    share: float
    named: float
    unnamed: float


NOTHING = About(0.0, 0.0, 0.0)


class Subjects:
    """``parts`` are the notions of each question, by its key, ``titles`` those of its check's title; ``names`` those
    that name a part at all."""

    def __init__(
        self, parts: Mapping[str, frozenset[str]], names: frozenset[str], titles: Mapping[str, frozenset[str]]
    ) -> None:
        self._parts = parts
        self._titles = titles
        counts = Counter(notion for notions in parts.values() for notion in notions)
        self._weights = {
            notion: math.log(len(parts) / (counts[notion] + 0.5))
            for notion in names - NO_PART
            if counts[notion] and counts[notion] < len(parts)
        }

    def named(self, words: str) -> dict[str, float]:
        """The parts that a clause names, each with its weight: the fewer questions are about it, the more."""
        return {notion: self._weights[notion] for notion in dict.fromkeys(notions(words)) if notion in self._weights}

    def of_title(self, question: str) -> frozenset[str]:
        """The notions of what the check of a question is called first; of a symptom none."""
        return self._titles.get(question, frozenset())

    def is_at(self, question: str, places: frozenset[str]) -> bool:
        """Whether what a question's check is called first names one of ``places``."""
        return not places.isdisjoint(self.of_title(question))

    def about(self, named: Mapping[str, float], question: str) -> About:
        """How far a question is about the parts that were named."""
        whole = sum(named.values())
        if whole <= 0:
            return NOTHING
        mine = self._parts.get(question, frozenset())
        found = sum(weight for notion, weight in named.items() if notion in mine)
        return About(found / whole, found, whole - found)


def notions(text: str) -> list[str]:
    """The notions of a text without small words."""
    return [notion for notion in shipped().notions(as_words(text)) if notion not in SMALL]


@lru_cache(maxsize=4)
def subjects(tellable: Tellable) -> Subjects:
    """What every question that may be told of is about."""

    def of(texts: Iterable[str]) -> frozenset[str]:
        return frozenset(notion for text in texts for notion in notions(text))

    names = of(text for key, called in tellable.called.items() if "." in key for text in called.names)
    titles = {key: of(called.names[:1]) for key, called in tellable.called.items() if "." in key}
    return Subjects({key: of((*called.names, called.asked)) for key, called in tellable.called.items()}, names, titles)


@lru_cache(maxsize=4)
def nameless(tellable: Tellable) -> frozenset[str]:
    """The questions whose facts are told without a part's name as often as with it: "it comes and goes"."""
    about = subjects(tellable)
    found: set[str] = set()
    for question, said in told_clauses().items():
        without = sum(not about.about(about.named(clause), question).named for clause in said)
        if 2 * without >= len(said):
            found.add(question)
    return frozenset(found)
