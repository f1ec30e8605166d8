"""One thing that has two names: what a unit shows, and what a check finds ("the display is dark").

The knowledge declares them (``Symptom.same_as``). Whoever tells the one has told the other, so their chances are one
chance, and the open question's own answer is what was meant where it is one of them.
"""

from __future__ import annotations

from assistant.language import keys
from assistant.language.compare import meaning_key
from assistant.language.meaning import Meaning
from assistant.language.scope import Scope
from assistant.language.weighing import Balance


def join_twins(balance: Balance, scope: Scope) -> None:
    """Puts together on the balance what is one thing."""
    mine = frozenset(keys.own(scope))
    for one in sorted(balance.meanings.values(), key=lambda each: -each.weight):
        alike = scope.tellable.twins.get(keys.key_of(one.meaning, scope) or "", frozenset())
        if not alike or meaning_key(one.meaning) not in balance.meanings:
            continue
        others = [meaning for key in alike if (meaning := keys.meaning_of(key, scope)) is not None]
        asked = next((other for other in others if keys.key_of(other, scope) in mine), None)
        balance.join(asked or one.meaning, (one.meaning, *others))


def are_twins(one: Meaning, other: Meaning, scope: Scope) -> bool:
    """Whether both are one thing in other words."""
    return keys.key_of(other, scope) in scope.tellable.twins.get(keys.key_of(one, scope) or "", frozenset())
