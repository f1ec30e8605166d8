"""How a question of the program becomes a query of the world: a row a question, of one of these kinds.

``choices`` maps the world's plain word to the question's choice id; a word that is missing there is no answer.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from tests.field.world import Found, World

Choices = Mapping[str, str]


@dataclass(frozen=True)
class Look:
    thing: str
    choices: Choices


@dataclass(frozen=True)
class Hear:
    thing: str
    choices: Choices


@dataclass(frozen=True)
class Smell:
    thing: str
    choices: Choices


@dataclass(frozen=True)
class Customer:
    topic: str
    choices: Choices


@dataclass(frozen=True)
class Do:
    action: str
    choices: Choices


@dataclass(frozen=True)
class Measure:
    """``place`` as the world names it; ``conditions``: how it is run, or which plugs are off."""

    quantity: str
    place: str
    conditions: frozenset[str] = field(default_factory=frozenset)


@dataclass(frozen=True)
class Judge:
    """A choice that takes more than one query."""

    by: Callable[[World], str | None]


@dataclass(frozen=True)
class Own:
    """Which instrument the technician has with them: the question's choice if they own ``tool``, and if not."""

    tool: str
    owned: str
    not_owned: str

    @property
    def choices(self) -> Choices:
        return {"owned": self.owned, "not owned": self.not_owned}


Entry = Look | Hear | Smell | Customer | Do | Measure | Judge | Own


def same(*words: str) -> dict[str, str]:
    """Choices whose ids are the world's own words."""
    return {word: word for word in words}


def word_of(entry: Entry, world: World) -> str | None:
    """The world's plain word for a row that is no measurement."""
    match entry:
        case Look(thing=thing):
            return world.look(thing)
        case Hear(thing=thing):
            return world.hear(thing)
        case Smell(thing=thing):
            return world.smell(thing)
        case Customer(topic=topic):
            return world.ask_customer(topic)
        case Do(action=action):
            return world.operate(action)
        case Judge(by=by):
            return by(world)
        case Measure() | Own():
            return None


def choice_of(entry: Entry, word: str | None) -> str | None:
    """The question's choice for the world's word; None where there is none."""
    if word is None:
        return None
    if isinstance(entry, Judge | Measure | Own):
        return word
    return entry.choices.get(word)


def found_by(entry: Measure, world: World) -> Found | None:
    return world.measure(entry.quantity, entry.place, entry.conditions)
