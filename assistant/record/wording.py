"""How the record writes readings, places and what the journal keeps as messages."""

from __future__ import annotations

from assistant.language.meaning import Choice, Reading
from assistant.library.loader import Library
from assistant.library.models import Question
from assistant.messages.catalogue import MessageError, catalogue, number
from assistant.messages.message import Message
from assistant.quantities.table import sign

_SPECIAL = {"open_line": "open line", "no_reading": "no reading", "unstable": "not steady"}


def words(said: object, library: Library) -> str:
    """A text of the journal: as it stands, or a message put into words; its id where the words are gone."""
    if not isinstance(said, Message):
        return "" if said is None else str(said)
    try:
        return catalogue().in_words(said, library)
    except MessageError:
        return said.id.replace("-", " ")


def quantity(value: float, unit: str) -> str:
    """ "1.9 Ω", "250 kPa": a number with its unit's sign."""
    return f"{number(value)} {sign(unit)}".strip()


def reading(item: Reading) -> str:
    """ "1.9 Ω", "open line", "10 to 28 V": value and unit as they were spoken."""
    if item.special is not None and item.spoken_value is None and item.span is None:
        return _SPECIAL[item.special]
    if item.span is not None:
        low, high = item.span
        factor = (item.spoken_value / item.value) if item.spoken_value and item.value else 1.0
        return f"{number(low * factor)} to {quantity(high * factor, item.spoken_unit)}"
    if item.spoken_value is None:
        return ""
    return quantity(item.spoken_value, item.spoken_unit)


def choice(choices: tuple[Choice, ...], choice_id: str) -> str:
    """A choice as it is said: its first phrase."""
    found = next((each for each in choices if each.id == choice_id), None)
    return found.phrases[0] if found else choice_id.replace("-", " ")


def place(question: Question | None, place_id: str | None) -> str:
    """A place of a question as it is written ("U to V"), or ""."""
    places = question.reading.places if question and question.reading else ()
    found = next((each for each in places if each.id == place_id), None)
    return found.in_writing if found else (place_id or "").replace("-", " ")


def sentence(text: str) -> str:
    """Capital first letter and a full stop."""
    text = text.strip()
    if not text:
        return ""
    text = text[0].upper() + text[1:]
    return text if text[-1] in ".?!" else text + "."
