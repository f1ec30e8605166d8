"""How the dialogue words things: reading back, waiting, confirming. Written; ``speaking.text`` makes it sound."""

from __future__ import annotations

import re

from assistant.dialogue.facts import Answer
from assistant.language.meaning import Choice, Finding, Meaning, Reading, Readings, Text
from assistant.quantities.table import sign

_SPECIAL = {"open_line": "open line", "no_reading": "no reading", "unstable": "not steady"}


def number(value: float) -> str:
    """A number as it was said: no trailing zeros, no exponent."""
    text = f"{value:.6g}" if abs(value) >= 1e-3 or value == 0 else f"{value:.9f}".rstrip("0")
    return text if "e" not in text else f"{value:.0f}"


def reading(item: Reading) -> str:
    """ "1.9 Ω", "open line", "4 to 5 V": value and unit as they were spoken, without the place."""
    unit = sign(item.spoken_unit)
    if item.special is not None and item.spoken_value is None and item.span is None:
        return _SPECIAL[item.special]
    if item.span is not None:
        low, high = item.span
        factor = (item.spoken_value / item.value) if item.spoken_value and item.value else 1.0
        return f"jumping between {number(low * factor)} and {number(high * factor)} {unit}".strip()
    assert item.spoken_value is not None
    return f"{number(item.spoken_value)} {unit}".strip()


def place_name(places: tuple[Choice, ...], place: str | None) -> str:
    """A place as it is said first in the knowledge ("U to V"), or ""."""
    found = next((choice for choice in places if choice.id == place), None)
    return found.in_writing if found else ""


def answer(item: Answer, places: tuple[Choice, ...], choices: tuple[Choice, ...], place: str | None) -> str:
    """One answer read back: "U to V: 1.2 Ω", "same order", or the free words."""
    if isinstance(item, Reading):
        name = place_name(places, place or item.place)
        return f"{name}: {reading(item)}" if name else reading(item)
    if isinstance(item, Finding):
        return choice_words(choices, item.choice)
    return item.words


def choice_words(choices: tuple[Choice, ...], choice_id: str) -> str:
    """A choice as it is said: its first phrase."""
    found = next((choice for choice in choices if choice.id == choice_id), None)
    return found.phrases[0] if found else choice_id.replace("-", " ")


def meaning(item: Meaning, places: tuple[Choice, ...], choices: tuple[Choice, ...]) -> str:
    """A whole meaning read back for "I heard ..., right?"."""
    match item:
        case Readings(items=items):
            return ", ".join(answer(one, places, choices, one.place) for one in items)
        case Finding():
            return choice_words(choices, item.choice)
        case Text(words=words):
            return words
    choice = getattr(item, "choice", None)
    if choice is not None:
        return choice_words(choices, choice)
    inner = getattr(item, "meaning", None)
    if inner is not None:
        return "correction, " + meaning(inner, places, choices)
    return getattr(item, "name", "").replace("-", " ")


def span_of_time(seconds: float) -> str:
    """ "40 seconds", "3 minutes", "3 and a half minutes": rounded up to what a person waits for."""
    if seconds < 60:
        return f"{max(1, -(-int(seconds) // 5) * 5)} seconds"
    halves = -(-int(seconds) // 30)
    whole, half = divmod(halves, 2)
    if half:
        return f"{whole} and a half minutes"
    return "1 minute" if whole == 1 else f"{whole} minutes"


def sentence(text: str) -> str:
    """Capital first letter and a full stop, for composing replies."""
    text = text.strip()
    if not text:
        return ""
    text = text[0].upper() + text[1:]
    return text if text[-1] in ".?!" else text + "."


def sentences(text: str) -> list[str]:
    """Each sentence of a text for itself, so that each is one breath."""
    return [sentence(part) for part in re.split(r"(?<=[.?!])\s+", text) if part]
