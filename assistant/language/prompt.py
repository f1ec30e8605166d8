"""The few words that tell a free-text ear what kind of thing it will hear."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language import units
from assistant.language.meaning import Expectation, ReadingExpectation

#: A free-text ear looks at its last few dozen tokens only, and takes longer with each.
MOST_WORDS = 32


def prompt(expectation: Expectation) -> str:
    """A heading in the state's words: the topic, readings as they may be said, and the first choices.

    Only whole phrases, for an ear that reads a broken one goes on with it ("trips the" became "wall. Blows cold").
    """
    phrases: list[str] = []
    for phrase in _phrases(expectation):
        if phrases and len(" ".join([*phrases, phrase]).split()) > MOST_WORDS:
            break
        phrases.append(phrase[:1].upper() + phrase[1:])
    return " ".join(phrases)


def _phrases(expectation: Expectation) -> Iterator[str]:
    topic, reading = expectation.topic.strip(), expectation.reading
    if topic:
        yield topic
    if reading is not None:
        unit = units.say(reading.unit, reading.quantity)
        if not topic:
            name = reading.quantity.replace("_", " ")
            yield f"{name} in {unit}." if unit else f"{name}."
        if unit:
            yield from _examples(reading, unit)
    for choice in expectation.choices:
        yield f"{choice.phrases[0]}."


def _examples(reading: ReadingExpectation, unit: str) -> Iterator[str]:
    """Two readings. After them Whisper wrote 85 of 100 readings of natural synthetic voices right instead of 80."""
    if not reading.places:
        yield f"It reads oh point four two {unit}."
        yield f"Three hundred sixty one {unit}."
        return
    first, *others = (place.in_writing for place in reading.places)
    yield f"{first}, oh point four two {unit}."
    yield f"{others[0] if others else first} reads three hundred sixty one {unit}."
