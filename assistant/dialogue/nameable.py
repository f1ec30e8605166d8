"""What may be named at any time: checks and components by what they are called, and what a unit may show."""

from __future__ import annotations

import re
from functools import lru_cache

from assistant.language.meaning import Choice
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile

#: Marks a suspect among the targets of "check the ...": the check that confirms it is meant.
OF_SUSPECT = "suspect:"


@lru_cache(maxsize=4)
def components(library: Library) -> tuple[Choice, ...]:
    """What "check the ..." may name: every check by its own phrases, and every component by its suspects'.

    A component with several suspects leads to the likeliest one; a check's own phrase comes before a component's.
    """
    target: dict[str, str] = {}
    for check in library.checks.values():
        for phrase in map(_bare, check.phrases):
            target.setdefault(phrase, check.id)
    for suspect in sorted(library.suspects.values(), key=lambda item: -item.weight):
        for phrase in map(_bare, suspect.phrases):
            target.setdefault(phrase, OF_SUSPECT + suspect.id)
    phrases: dict[str, list[str]] = {}
    for phrase, wanted in target.items():
        phrases.setdefault(wanted, []).append(phrase)
    return tuple(Choice(id=wanted, phrases=tuple(said)) for wanted, said in phrases.items())


#: How "check the ..." may begin; the grammar of commands takes these words for the command itself.
_COMMAND_WORDS = re.compile(r"^(?:check on |check |test |look at |do )?(?:the )?")


def _bare(phrase: str) -> str:
    """A phrase without what the command says already: "look at the breaker" wishes no other thing than "breaker"."""
    return _COMMAND_WORDS.sub("", phrase)


@lru_cache(maxsize=4)
def _symptoms(library: Library) -> tuple[Choice, ...]:
    return tuple(Choice(id=symptom.id, phrases=symptom.phrases) for symptom in library.symptoms.values())


def indications(library: Library, profile: UnitProfile | None) -> tuple[Choice, ...]:
    """What a unit may show: the profile's own indications first, then the symptoms in plain words."""
    own = tuple(
        Choice(id=f"shown:{number}", phrases=shown.phrases)
        for number, shown in enumerate(profile.indications if profile else ())
    )
    return own + _symptoms(library)
