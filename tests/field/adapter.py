"""Between the program's questions and the world: a question's key, text and what may be answered go in as plain
strings and numbers, and an answer in a technician's words and in the question's own terms comes out.

It knows the program only by the list of its questions; each row of ``questions/`` tells which query of the world
answers one. None: the question cannot be decided here ("I don't know").
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from math import inf

from tests.field.people import words
from tests.field.people.technician import Cannot, Said, Technician
from tests.field.questions import ALWAYS, NONE_HERE, TABLE
from tests.field.questions.entry import Customer, Look, Measure, Own, choice_of, found_by, word_of
from tests.field.world import Found, World

#: Questions that this adapter knows by their key.
KNOWN = frozenset(TABLE) | NONE_HERE | frozenset(ALWAYS)
#: How the checks begin that are part of making safe.
_SURE = ("lock-out-power", "prove-dead", "mains-dead", "bus-lower", "restore-power", "circuit-told")
#: Questions that are plain from their quantity and words, whatever their key.
PLAIN: tuple[tuple[str, str, Measure], ...] = (
    ("temperature", r"outdoor|outside|weather", Measure("temperature", "outdoor air in the shade")),
    ("temperature", r"room|indoor|inside", Measure("temperature", "room")),
    ("length", r"long are the pipes|line set|pipes, one way", Measure("length", "pipes one way")),
)

#: The program's symptom for each sign of the world.
SYMPTOMS: dict[str, str] = {
    "dead": "dead-unit",
    "display-dark": "display-dark",
    "display-frozen": "display-frozen",
    "display-nonsense": "display-nonsense",
    "ignores-remote": "remote-ignored",
    "breaker-at-once": "breaker-trips-at-once",
    "breaker-later": "breaker-trips-later",
    "lights-dim": "lights-dim",
    "shows:communication": "no-communication",
    "shows:indoor-fan": "indoor-fan-indication",
    "shows:outdoor-fan": "outdoor-fan-indication",
    "shows:inverter": "inverter-trip",
    "shows:high-pressure": "high-pressure-indication",
    "shows:low-pressure": "low-pressure-indication",
    "shows:hot-discharge": "hot-discharge-indication",
    "shows:sensor": "sensor-indication",
    "shows:supply": "supply-indication",
    "shows:water": "water-indication",
    "shows:gas": "refrigerant-alarm",
    "shows:zone-conflict": "zone-conflict-indication",
    "communication-drops": "communication-drops",
    "fan-still": "indoor-fan-still",
    "fan-weak": "indoor-fan-weak",
    "wrong-way": "heats-in-cooling",
    "cold-in-heating": "blows-cold-heating",
    "warm-in-cooling": "blows-warm-cooling",
    "weak": "weak-output",
    "high-bill": "high-bill",
    "compressor-noise": "compressor-noisy",
    "compressor-silent": "compressor-never-starts",
    "stops-soon": "compressor-stops-soon",
    "on-off": "starts-and-stops",
    "outdoor-fan-still": "outdoor-fan-still",
    "vane": "vane-still",
    "hiss": "noise-hiss",
    "zones-wait": "zones-opposite",
    "zone-dead": "one-zone-dead",
    "zone-weak": "one-zone-weak",
    "wrong-room": "wrong-zone-answers",
    "idle-zone-active": "idle-zone-active",
    "ice-out": "ice-outdoor",
    "ice-in": "ice-indoor",
    "ice-pipe": "ice-on-line",
    "water-down-wall": "water-down-wall",
    "steam": "steam-outdoor",
    "draught": "draught-at-wall",
    "rattle": "noise-rattle",
    "musty": "smell-musty",
    "drain-smell": "smell-drain",
    "stops-early": "stops-before-setpoint",
    "room-off": "room-temperature-off",
    "never-right": "never-worked-right",
}


@dataclass(frozen=True)
class Asked:
    """One question as the program puts it.

    ``key``: check and question, e.g. "supply-drop.idle". ``unit`` is the one the program assumes; ``low`` and ``high``
    bound what it takes, in ``unit``. ``places``: ids of the places it wants readings of, in order.
    """

    key: str
    text: str = ""
    choices: tuple[str, ...] = ()
    quantity: str | None = None
    unit: str = ""
    low: float = -inf
    high: float = inf
    places: tuple[str, ...] = ()
    open_line: bool = False


@dataclass(frozen=True)
class Number:
    """One reading in the unit in which it is said; ``value`` None is an open line. ``span``: it jumps between two."""

    place: str | None
    value: float | None
    unit: str
    span: tuple[float, float] | None = None


@dataclass(frozen=True)
class Reply:
    """An answer: a choice of the question, or numbers, or why there is none. ``slip``: it is wrong."""

    words: str
    choice: str | None = None
    numbers: tuple[Number, ...] = ()
    cannot: Cannot | None = None
    slip: bool = False


#: (value, unit, quantity) to the value in the quantity's canonical unit, and back.
Convert = Callable[[float, str, str], float]


def symptom_of(sign: str) -> str | None:
    """The program's symptom for a sign of the world, or None when its list has none."""
    return SYMPTOMS.get(sign)


def answer(
    world: World, technician: Technician, asked: Asked, to_canonical: Convert, from_canonical: Convert
) -> Reply | None:
    """The technician's answer to a question of the program; None when the world cannot decide it or it is unknown."""
    if asked.key in ALWAYS:
        return Reply(ALWAYS[asked.key], choice=ALWAYS[asked.key])
    entry = TABLE.get(asked.key) or _plain(asked)
    if entry is None or asked.key in NONE_HERE:
        return None
    unable = None if _procedure(asked.key) else technician.unable(hands_on=not isinstance(entry, Customer | Look))
    if unable is not None:
        return Reply(unable, cannot=unable)
    if isinstance(entry, Own):
        meter = entry.owned if entry.tool in technician.tools else entry.not_owned
        return Reply(words.of_choice(meter, technician.rng), choice=meter)
    if isinstance(entry, Measure):
        found = found_by(entry, world)
        return _reading(technician, asked, entry.quantity, found, to_canonical, from_canonical) if found else None
    word = word_of(entry, world)
    choice = choice_of(entry, word)
    if word is None or choice is None or choice not in asked.choices:
        return None
    said = technician.chooses(choice, () if _procedure(asked.key) else asked.choices)
    spoken = words.of_choice(word if not said.slip else said.choice or word, technician.rng)
    return Reply(spoken, choice=said.choice, slip=said.slip)


def known(asked: Asked) -> bool:
    """Whether this adapter has an answer for such a question at all."""
    return asked.key in KNOWN or _plain(asked) is not None


def _plain(asked: Asked) -> Measure | None:
    text = asked.text.lower()
    fits = (entry for quantity, words_, entry in PLAIN if quantity == asked.quantity and re.search(words_, text))
    return next(fits, None)


def _procedure(key: str) -> bool:
    """Locking out, proving dead and switching on: nobody guesses at these."""
    return key.startswith(_SURE)


def _reading(
    technician: Technician, asked: Asked, quantity: str, found: Found, to_canonical: Convert, from_canonical: Convert
) -> Reply | None:
    said = technician.measures(quantity, found)
    reply = _numbers(technician, asked, quantity, said, to_canonical, from_canonical)
    if reply is None and said.slip:  # a slip beyond all reason is noticed, and read again
        sure = Said(found=technician.meters.reads(quantity, found))
        reply = _numbers(technician, asked, quantity, sure, to_canonical, from_canonical)
    return reply


def _numbers(
    technician: Technician, asked: Asked, quantity: str, said: Said, to_canonical: Convert, from_canonical: Convert
) -> Reply | None:
    assert said.found is not None
    unit = words.unit_said(asked.unit, technician.customary)
    numbers = []
    for place, value in _values(said.found, asked.places):
        if value is None or value == inf:
            if not asked.open_line and not _fits(asked, inf):
                return None
            numbers.append(Number(place, None, unit))
            continue
        own = from_canonical(value, asked.unit, quantity)
        own = max(own, asked.low) if own < asked.low and own > asked.low - 1 else own
        if not asked.low <= own <= asked.high:
            if not asked.open_line or own < asked.low:
                return None
            numbers.append(Number(place, None, unit))
            continue
        spoken = from_canonical(to_canonical(own, asked.unit, quantity), unit, quantity)
        numbers.append(
            Number(place, words.rounded(spoken, unit), unit, _span(said.found, unit, quantity, from_canonical))
        )
    if not numbers:
        return None
    values = [number.value for number in numbers]
    span = numbers[0].span
    spoken_words = words.of_finding(said.found, unit, list(span) if span else values)
    return Reply(spoken_words, numbers=tuple(numbers), slip=said.slip)


def _fits(asked: Asked, value: float) -> bool:
    return asked.low <= value <= asked.high


def _values(found: Found, places: tuple[str, ...]) -> list[tuple[str | None, float | None]]:
    """Readings by place in the order asked; a place that was not found is left out."""
    if places:
        return [(place, found.values[place]) for place in places if place in found.values]
    if found.open_line:
        return [(None, None)]
    if found.span is not None:
        return [(None, sum(found.span) / 2)]
    return [(None, found.value)]


def _span(found: Found, unit: str, quantity: str, from_canonical: Convert) -> tuple[float, float] | None:
    if found.span is None:
        return None
    low, high = (words.rounded(from_canonical(end, unit, quantity), unit) for end in found.span)
    return low, high
