"""What two writing ears mean alike where no grammar had it: ordinary words are understood by ear as they are typed.

Only what is asked back anyway comes this way: no reading, no ledger, nothing that bears on the power, no emergency; for
these the words of the grammar and the agreement of the ears are needed.
"""

from __future__ import annotations

from collections.abc import Callable

from assistant.errors import LaddersideError
from assistant.language.compare import same_meaning
from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Command,
    Finding,
    Heard,
    Indication,
    Interpretation,
    Meaning,
    Told,
    ToldAnswer,
)
from assistant.language.net import Net
from assistant.language.scope import Scope
from assistant.language.understand import understand

#: The ear that hears sounds and not words: it writes what the grammar has.
_BY_SOUND = "phoneme"
#: So many ears must mean the same.
_TWO = 2
#: Nobody says more in one breath, characters.
_LONGEST = 300


def as_meant(heard: Heard, scope: Scope, net: Callable[[], Net]) -> Heard:
    """``heard`` with what two ears that write free words mean alike, to be asked back; else as it was.

    ``net`` is called only where it is needed. Words that both ears take for talk to others are marked as such.
    """
    written = [words for name, words in heard.ears if name != _BY_SOUND and 0 < len(words.strip()) <= _LONGEST]
    if heard.trust != "again" or len(written) < _TWO:
        return heard
    try:
        understood = [understand(words, scope, net()) for words in written]
    except LaddersideError:  # a visit goes on by the grammar alone
        return heard
    for at, one in enumerate(understood):
        alike = [other for other in understood[at + 1 :] if same_meaning(one.meaning, other.meaning)]
        if alike and _may_be_taken(one, scope):
            options = one.options if all(one.options == other.options for other in alike) else ()
            return heard.model_copy(
                update={
                    "words": one.words,
                    "meaning": one.meaning,
                    "options": options,
                    "trust": "confirm",
                    "probability": round(min(one.chance, *(other.chance for other in alike)), 4),
                    "doubt": "",
                }
            )
    return heard.model_copy(update={"talk": all(one.talk for one in understood)})


def _may_be_taken(found: Interpretation, scope: Scope) -> bool:
    options = found.options or (found.meaning,)
    return found.meaning is not None and all(_is_ordinary(one, scope) for one in options)


def _is_ordinary(meaning: Meaning | None, scope: Scope) -> bool:
    """Whether a meaning may come from words that no grammar has."""
    match meaning:
        case Finding():
            return not scope.of_energy
        case Told(answer=answer, facts=facts):
            told = [fact.answer for fact in facts if isinstance(fact, ToldAnswer)]
            return all(isinstance(one, Finding) for one in told) and (answer is None or _is_ordinary(answer, scope))
    return isinstance(meaning, Indication | Command | Cannot | BackQuestion)
