"""What is read back, named or waited for, as messages: the catalogue words them, ``speaking.text`` makes them sound."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from assistant.dialogue.facts import Answer
from assistant.language.meaning import Choice, Correction, Finding, Meaning, Reading, Readings, Text
from assistant.library.models import Question
from assistant.messages.message import Message, Value, known, listed, message
from assistant.quantities.table import sign


@dataclass(frozen=True)
class Labels:
    """What the choices and places of one question are called: by the knowledge's words, else by their own.

    ``check`` and ``key`` name the question in the knowledge; empty where it is none of a check. ``symptoms`` are the
    choices that are symptoms of the knowledge.
    """

    choices: tuple[Choice, ...] = ()
    places: tuple[Choice, ...] = ()
    check: str = ""
    key: str = ""
    symptoms: Collection[str] = ()

    def choice(self, choice_id: str) -> Value:
        """A choice as it is said: its first phrase."""
        found = next((choice for choice in self.choices if choice.id == choice_id), None)
        if found is None:
            return choice_id.replace("-", " ")
        if self.check:
            return known("checks", self.check, f"ask.{self.key}.choices.{choice_id}.said")
        return known("symptoms", choice_id, "phrases.0") if choice_id in self.symptoms else found.said

    def place(self, place_id: str | None) -> Value:
        """A place as it is said first ("U to V"), or None where there is none."""
        found = next((place for place in self.places if place.id == place_id), None)
        if found is None:
            return None
        where = f"ask.{self.key}.reading.places.{place_id}.in_writing"
        return known("checks", self.check, where) if self.check else found.in_writing


def labels(check: str, question: Question) -> Labels:
    """The labels of a question of a check."""
    places = question.reading.places if question.reading else ()
    return Labels(question.choices, places, check, question.key)


def reading(item: Reading) -> Message:
    """ "1.9 Ω", "open line", "jumping between 4 and 5 V": value and unit as they were spoken, without the place."""
    unit = sign(item.spoken_unit)
    if item.special is not None and item.spoken_value is None and item.span is None:
        return message(f"reading-{item.special.replace('_', '-')}")
    if item.span is not None:
        low, high = item.span
        factor = (item.spoken_value / item.value) if item.spoken_value and item.value else 1.0
        return message("reading-jumping", low=low * factor, high=high * factor, unit=unit)
    assert item.spoken_value is not None
    return message("reading", value=float(item.spoken_value), unit=unit)


def answer(item: Answer, names: Labels, place: str | None = None) -> Value:
    """One answer read back: "U to V: 1.2 Ω", "same order", or the free words."""
    if isinstance(item, Reading):
        where = names.place(place or item.place)
        return message("at-place", place=where, reading=reading(item)) if where is not None else reading(item)
    return names.choice(item.choice) if isinstance(item, Finding) else item.words


def meaning(item: Meaning, names: Labels) -> Value:
    """A whole meaning read back for "I heard ..., right?"."""
    match item:
        case Readings(items=items):
            return listed([answer(one, names) for one in items])
        case Finding() | Text():
            return answer(item, names)
        case Correction(meaning=None):
            return message("a-correction-of-the-last")
    choice = getattr(item, "choice", None)
    if choice is not None:
        return names.choice(choice)
    inner = getattr(item, "meaning", None)
    if inner is not None:
        return message("a-correction", what=meaning(inner, names))
    return getattr(item, "name", "").replace("-", " ")


def span_of_time(seconds: float) -> Message:
    """ "40 seconds", "3 minutes", "3 and a half minutes": rounded up to what a person waits for."""
    if seconds < 60:
        return message("seconds", count=max(1, -(-int(seconds) // 5) * 5))
    whole, half = divmod(-(-int(seconds) // 30), 2)
    return message("minutes-and-a-half" if half else "minutes", count=whole)
