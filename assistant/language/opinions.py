"""What the net makes of a clause with all that hints at its meaning: one chance for each meaning that can be ranked."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from assistant.language import keys
from assistant.language.cues import sign
from assistant.language.lexical import word_counts
from assistant.language.net import ANY, NONE, Hint, Net, Ranked
from assistant.language.scope import Scope
from assistant.language.subjects import subjects


@dataclass(frozen=True)
class Opinion:
    """``chances`` of keys, ``nothing`` of none of them; ``silent``: there is no net, so nothing speaks against."""

    chances: dict[str, float]
    nothing: float
    silent: bool


def opinion(words: str, scope: Scope, net: Net) -> Opinion:
    """How likely each answer to the open question is, each thing that may be said whatever is asked, and each fact."""
    said = words.lower()
    own = tuple(dict.fromkeys((*keys.own(scope), *keys.anytime())))
    ranked = net.rank(said, own, scope.key or ANY, keys.told(scope.tellable), lambda wanted: hints(said, wanted, scope))
    if ranked == (Ranked(NONE, 1.0),):
        return Opinion({}, 1.0, True)
    nothing = next((one.chance for one in ranked if one.key == NONE), 0.0)
    return Opinion({one.key: one.chance for one in ranked if one.key != NONE}, nothing, False)


def hints(words: str, wanted: Sequence[str], scope: Scope) -> Mapping[str, Hint]:
    """What speaks for each of ``wanted`` besides its likeness to what is known."""
    counted = word_counts(scope.tellable).opinion(words, wanted)
    about = subjects(scope.tellable)
    named = about.named(words)
    found: dict[str, Hint] = {}
    for key in wanted:
        part = about.about(named, key.partition("=")[0])
        found[key] = Hint(counted[key], math.log(sign(key, words)), part.share, part.named, part.unnamed)
    return found
