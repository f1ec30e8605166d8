"""Rooms that an indoor unit may be called by before it has a name of its own: the table ``grammars/rooms.txt``."""

from __future__ import annotations

from functools import lru_cache

from assistant.language.meaning import Choice
from assistant.language.sources import folder, lines_of

FILE = "rooms.txt"
#: The id of a choice that is a room begins so; the room's name follows.
ROOM = "room:"
#: Rooms of which a house has several, told apart by a word before them.
_SEVERAL = ("bedroom", "office", "hall", "room", "bathroom", "porch")


def phrases_of(name: str) -> tuple[str, ...]:
    """How an indoor unit of this name is said: "bedroom", "the bedroom", "the bedroom unit"."""
    return (name, f"the {name}", f"in the {name}", f"{name} unit", f"the {name} unit", f"the {name} head")


@lru_cache(maxsize=1)
def rooms() -> tuple[Choice, ...]:
    """Every room of the table as an answer that is understood and not offered."""
    sections: dict[str, list[str]] = {"rooms": [], "before": []}
    current = "rooms"
    for _, line in lines_of(folder() / FILE):
        if line.startswith("["):
            current = line.strip("[]")
        else:
            sections[current].append(line)
    told_apart = [f"{before} {room}" for room in _SEVERAL for before in sections["before"]]
    names = dict.fromkeys((*sections["rooms"], *told_apart))
    return tuple(Choice(id=ROOM + name, phrases=phrases_of(name), offered=False) for name in names)
