"""What the net and the counts of words make of a clause together: one chance for each meaning that can be ranked."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.language import keys
from assistant.language.cues import sign
from assistant.language.lexical import word_counts
from assistant.language.net import ANY, NONE, Net, Ranked
from assistant.language.scope import Scope, Tellable

#: What the counts of words are worth beside the net. Set on clauses kept apart: less gains less, more harms.
LEXICAL = 0.06
#: From this chance of "none of these" on, facts of other checks are thought of.
TOLD_FROM = 0.35


@dataclass(frozen=True)
class Opinion:
    """``chances`` of keys, ``nothing`` of none of them; ``silent``: there is no net, so nothing speaks against."""

    chances: dict[str, float]
    nothing: float
    silent: bool


def opinion(words: str, scope: Scope, net: Net) -> Opinion:
    """How likely each answer to the open question is, each thing that may be said whatever is asked, and each fact.

    Facts of other checks are looked at only where the words are no likely answer.
    """
    said = words.lower()
    first = _ranked(said, tuple(dict.fromkeys((*keys.own(scope), *keys.anytime()))), scope, net)
    if first.silent or first.nothing < TOLD_FROM:
        return first
    known = {*keys.own(scope), *keys.anytime()}
    others = tuple(key for key in keys.told(scope.tellable) if key not in known)
    facts = _ranked(said, others, scope, net)
    told = {key: chance * first.nothing for key, chance in facts.chances.items()}
    return Opinion(first.chances | told, first.nothing * facts.nothing, False)


def _ranked(words: str, wanted: Sequence[str], scope: Scope, net: Net) -> Opinion:
    ranked = net.rank(words, wanted, scope.key or ANY)
    if ranked == (Ranked(NONE, 1.0),):
        return Opinion({}, 1.0, True)
    nothing = next((one.chance for one in ranked if one.key == NONE), 0.0)
    likely = {one.key: one.chance for one in ranked if one.key != NONE}
    return Opinion(_weighed(words, likely, scope.tellable, 1.0 - nothing), nothing, False)


def _weighed(words: str, chances: dict[str, float], tellable: Tellable, whole: float) -> dict[str, float]:
    """The net's chances with the opinion of the words; what speaks for nothing stays as it is."""
    if not chances:
        return {}
    counted = word_counts(tellable).opinion(words, tuple(chances))
    scores = {
        key: math.log(max(chance, 1e-12) * sign(key, words)) + LEXICAL * counted[key] for key, chance in chances.items()
    }
    top = max(scores.values())
    shares = {key: math.exp(score - top) for key, score in scores.items()}
    total = sum(shares.values())
    return {key: whole * share / total for key, share in shares.items()}
