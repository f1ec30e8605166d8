"""Who says what in a measuring set: usual sentences of the states in ``states.yaml``, dealt out to the voices."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator, Sequence
from itertools import cycle, islice
from pathlib import Path
from typing import Literal, NamedTuple

from assistant.errors import LaddersideError
from assistant.language.compare import meaning_key
from assistant.language.generate import Sentence, sentences
from assistant.language.interpret import interpret
from assistant.language.meaning import Correction, Expectation, Meaning, Reading, ReadingExpectation, Readings
from assistant.language.units import from_canonical, to_canonical
from assistant.library.loader import read_as
from assistant.model import Model
from recordings_synthetic.voices import Voice

STATES = Path(__file__).parent / "states.yaml"
#: One sentence in so many may be about an open line, a jumping display or no reading; one in so many in a way of
#: speaking that the grammar allows oftener than people use it; one in so many gives several places in one breath.
_SPECIAL_SHARE = 8
_RARE_SHARE = 6
SEVERAL_SHARE = 3
_RARE = re.compile(
    r"\b(k|meg) (one|two|three|four|five|six|seven|eight|nine)\b|\b(all|both|pins?|terminals?|chassis|case|across)\b"
)
_Group = Literal["plain", "rare", "special"]
ROUNDS = 200


class Usual(Model):
    """What an instrument shows there on an ordinary day: units, and the range in the first of them, without sign."""

    units: tuple[str, ...]
    least: float
    most: float


class State(Model):
    """One kind of the set: see ``states.yaml``."""

    expects: Expectation
    takes: tuple[str, ...] = ("reading", "finding")
    usual: Usual | None = None


class StatesFile(Model):
    """``states.yaml``."""

    kinds: dict[str, State]


class Utterance(NamedTuple):
    """What is to be said: by whom, in answer to what."""

    voice: Voice
    kind: str
    sentence: Sentence


def states() -> dict[str, State]:
    """The kinds of the set."""
    return dict(read_as(StatesFile, STATES).kinds)


def plan(voices: Sequence[Voice], count: int, seed: int) -> list[Utterance]:
    """``count`` utterances: every voice says every kind as equally often as can be."""
    pairs = [(voice, kind) for voice in voices for kind in states()]
    random.Random(seed).shuffle(pairs)
    chosen = list(islice(cycle(pairs), count))
    stock = {kind: stock_of(state, sum(other == kind for _, other in chosen), seed) for kind, state in states().items()}
    return [Utterance(voice, kind, next(stock[kind])) for voice, kind in chosen]


def stock_of(state: State, count: int, seed: int) -> Iterator[Sentence]:
    """``count`` usual sentences of the state, drawn where readings are usual, in a mixed order.

    What is not certain in the state as it is asked ("two fifty" may be 2.50 there) has no one true meaning and is
    left out.
    """
    draw = random.Random(seed)
    groups: dict[_Group, list[Sentence]] = {"plain": [], "rare": [], "special": []}
    several = bool(state.expects.reading and state.expects.reading.places)
    for attempt in range(ROUNDS):
        for sentence in sentences(narrowed(state), 3 * count + 20, seed + 1000 * attempt):
            if _belongs(sentence, state):
                groups[_group(sentence)].append(sentence)
        special, rare = groups["special"][: count // _SPECIAL_SHARE], groups["rare"][: count // _RARE_SHARE]
        joined = joined_readings(groups["plain"], state, count // SEVERAL_SHARE, draw) if several else []
        left = count - len(special) - len(rare) - len(joined)
        if len(groups["plain"]) >= left:
            mixed = [*special, *rare, *joined, *groups["plain"][:left]]
            draw.shuffle(mixed)
            return iter(mixed)
    raise LaddersideError(f"The state {state.expects.question} gives too few usual sentences; widen its range.")


def _group(sentence: Sentence) -> _Group:
    if any(reading.special for reading in _readings(sentence.meaning)) or sentence.meaning == Correction():
        return "special"
    return "rare" if _RARE.search(sentence.words) else "plain"


def joined_readings(plain: Sequence[Sentence], state: State, count: int, draw: random.Random) -> list[Sentence]:
    """Several readings in one breath: plain ones of different places one after the other."""
    by_place: dict[str, list[Sentence]] = {}
    for sentence in plain:
        items = _readings(sentence.meaning)
        if len(items) == 1 and items[0].place:
            by_place.setdefault(items[0].place, []).append(sentence)
    found: list[Sentence] = []
    for _ in range(20 * count if len(by_place) > 1 else 0):
        places = draw.sample(sorted(by_place), draw.choice([2, len(by_place)]))
        parts = [draw.choice(by_place[place]) for place in places]
        words = " ".join(part.words for part in parts)
        meaning = Readings(items=tuple(item for part in parts for item in _readings(part.meaning)))
        told = interpret(words, state.expects)
        if told.meaning and not told.doubt and meaning_key(told.meaning) == meaning_key(meaning) and len(found) < count:
            found.append(Sentence(words, meaning, "reading"))
    return found


def narrowed(state: State) -> Expectation:
    """The state with the usual range for the plausible one: sentences are drawn from there."""

    def narrow(reading: ReadingExpectation | None) -> ReadingExpectation | None:
        if reading is None or state.usual is None:
            return reading
        unit = state.usual.units[0]
        least, most = (to_canonical(end, unit, reading.quantity) for end in (state.usual.least, state.usual.most))
        low = max(reading.plausible[0], -most) if reading.plausible[0] < 0 else least
        return reading.model_copy(update={"plausible": (low, most)})

    update = {"reading": narrow(state.expects.reading), "corrects": narrow(state.expects.corrects)}
    return state.expects.model_copy(update=update)


def _belongs(sentence: Sentence, state: State) -> bool:
    if sentence.kind not in state.takes:
        return False
    if state.usual and not all(_shows(reading, state.usual) for reading in _readings(sentence.meaning)):
        return False
    told = interpret(sentence.words, state.expects)
    return told.meaning is not None and not told.doubt


def _readings(meaning: Meaning | None) -> tuple[Reading, ...]:
    if isinstance(meaning, Correction):
        return _readings(meaning.meaning)
    return meaning.items if isinstance(meaning, Readings) else ()


def _shows(reading: Reading, usual: Usual) -> bool:
    """Whether an ordinary display would show the reading: its size, and no more than four digits."""
    if reading.spoken_unit not in usual.units:
        return False
    canonical = reading.span or (() if reading.value is None else (reading.value,))
    shown = [abs(from_canonical(value, usual.units[0], reading.quantity)) for value in canonical]
    digits = f"{abs(reading.spoken_value or 0.0):g}".replace(".", "").strip("0")
    return all(usual.least <= value <= usual.most for value in shown) and len(digits) <= 4
