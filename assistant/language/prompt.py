"""The few words that tell a free-text ear what kind of thing it will hear."""

from __future__ import annotations

from assistant.language import units
from assistant.language.meaning import Expectation

#: A free-text ear looks at its last few dozen tokens only, and takes longer with each.
MOST_WORDS = 24


def prompt(expectation: Expectation) -> str:
    """A heading in the state's words: the topic, the unit, the places and the first choices."""
    parts: list[str] = [expectation.topic.strip()] if expectation.topic.strip() else []
    reading = expectation.reading
    if reading is not None and not parts:
        name = reading.quantity.replace("_", " ")
        unit = units.say(reading.unit, reading.quantity)
        parts.append(f"{name} in {unit}." if unit else f"{name}.")
    if reading is not None and reading.places:
        parts.append(", ".join(place.phrases[0] for place in reading.places) + ".")
    parts += [f"{choice.phrases[0]}." for choice in expectation.choices]
    words = " ".join(part[:1].upper() + part[1:] for part in parts).split()
    return " ".join(words[:MOST_WORDS])
