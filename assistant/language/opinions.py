"""What the net makes of a clause with all that hints at its meaning: one chance for each meaning that can be ranked."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from assistant.language import keys
from assistant.language.cues import sign
from assistant.language.lexical import word_counts
from assistant.language.net import ANY, NONE, Hint, Net, Ranked
from assistant.language.notions import shipped
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


#: How much likelier a fact is told of what was spoken of before than of anything else.
_SPOKEN_OF = 2.0


#: The two places of a split unit: of which one a clause speaks, the next one does too unless it names the other.
_PLACES = frozenset({"+indoor", "+outdoor"})
_ELSEWHERE = 0.1


def leaning(told: Opinion, words: str, before: str, scope: Scope) -> Opinion:
    """The opinion of a clause where something was said ``before`` it, or is asked: facts of the same part and place are
    likelier than those of others ("the outdoor fan spins, and its plug is tight"). All facts together stay as likely.
    """
    about = subjects(scope.tellable)
    called = scope.tellable.called.get(scope.key)
    context = about.named(before) or about.named(called.names[0] if called is not None and called.names else "")
    mine = frozenset((*keys.own(scope), *keys.anytime()))
    facts = {key: chance for key, chance in told.chances.items() if key not in mine}
    if not context or not facts:
        return told
    place = _PLACES.intersection(shipped().notions(before))
    here = _PLACES.intersection(shipped().notions(words))
    leant = {
        key: chance
        * math.exp(_SPOKEN_OF * about.about(context, key.partition("=")[0]).share)
        * (_ELSEWHERE if place and not here and about.is_at(key.partition("=")[0], _PLACES - place) else 1.0)
        for key, chance in facts.items()
    }
    scale = sum(facts.values()) / sum(leant.values())
    return replace(told, chances=told.chances | {key: scale * chance for key, chance in leant.items()})
