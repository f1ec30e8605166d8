"""The dialogue's expectations in the adapter's plain terms, and the adapter's answers as meanings."""

from __future__ import annotations

from assistant.language.meaning import (
    Cannot,
    Command,
    Expectation,
    Finding,
    Indication,
    Meaning,
    Quantity,
    Reading,
    Readings,
)
from assistant.language.units import from_canonical, to_canonical
from tests.field.adapter import Asked, Number, Reply


def asked_of(now: Expectation, text: str) -> Asked:
    """The dialogue's question in the adapter's plain terms; a place at the end of its key is one of its places."""
    key = ".".join(now.question.split(".")[:2])
    choices = tuple(choice.id for choice in now.choices)
    reading = now.reading
    if reading is None:
        return Asked(key, text, choices)
    low, high = (from_canonical(bound, reading.unit, reading.quantity) for bound in reading.plausible)
    wanted = now.question.split(".")[2:]
    places = tuple(place.id for place in reading.places)
    places = tuple(place for place in places if place in wanted) or places
    low, high = min(low, high), max(low, high)
    return Asked(key, text, choices, reading.quantity, reading.unit, low, high, places, reading.open_line)


def canonical(value: float, unit: str, quantity: str) -> float:
    return to_canonical(value, unit, quantity)  # type: ignore[arg-type]


def own(value: float, unit: str, quantity: str) -> float:
    return from_canonical(value, unit, quantity)  # type: ignore[arg-type]


def meaning_of(reply: Reply, now: Expectation) -> Meaning:
    if reply.choice is not None:
        return Finding(choice=reply.choice)
    assert now.reading is not None
    return Readings(items=tuple(_item(number, now.reading.quantity) for number in reply.numbers))


def _item(number: Number, quantity: Quantity) -> Reading:
    if number.value is None:
        return Reading(
            quantity=quantity, value=None, spoken_value=None, spoken_unit="", special="open_line", place=number.place
        )
    span = None
    if number.span is not None:
        low, high = (to_canonical(end, number.unit, quantity) for end in number.span)
        span = (low, high)
    return Reading(
        quantity=quantity,
        value=to_canonical(number.value, number.unit, quantity),
        spoken_value=number.value,
        spoken_unit=number.unit,
        place=number.place,
        span=span,
    )


def brief(meaning: Meaning) -> str:
    match meaning:
        case Finding(choice=choice) | Indication(choice=choice):
            return choice
        case Cannot(reason=reason):
            return f"cannot: {reason}"
        case Command(name=name):
            return f"command {name}"
        case Readings(items=items):
            return "; ".join(f"{item.place or ''} {item.value if item.value is not None else 'OL'}" for item in items)
    return meaning.kind
