"""What can be found within words that are no sentence of the grammar: a reading, or what is to be checked."""

from __future__ import annotations

import re
from dataclasses import dataclass

from assistant.language.loose_readings import Loose, loose_readings
from assistant.language.meaning import Meaning, Reading, ReadingExpectation, Readings, Told, ToldAnswer
from assistant.language.number_words import NUMBER_WORDS
from assistant.language.said_units import unit_phrases, unit_words
from assistant.language.scope import Scope
from assistant.language.weighing import READING, READING_AMONG_WORDS, READING_UNIT
from assistant.language.written import as_words

#: Words around a reading that nobody knows and that may yet stand there when its unit was said.
_MOST_UNKNOWN = 4
#: And where it was not: then the reading is asked back.
_MOST_STRANGE = 2


@dataclass(frozen=True)
class Within:
    """A meaning with its weight and doubt, as ``weighing`` takes them."""

    meaning: Meaning
    weight: float
    doubt: str = ""


def reading_within(words: str, scope: Scope) -> Within | None:
    """Readings with other words around them; the answers to two questions of a check said in one breath."""
    expected = scope.expectation.reading
    if expected is None:
        return None
    found = loose_readings(words, expected, scope.tellable.words)
    if found is None or len(found.unknown) > (_MOST_UNKNOWN if found.units else _MOST_STRANGE):
        return None
    meaning, doubt = found.meaning, found.doubt
    if isinstance(meaning, Readings) and not expected.places and len(meaning.items) > 1:
        two = _for_two_questions(meaning, scope)
        if two is None:
            return None
        meaning = two
    if not doubt and not found.units and (other := _other_unit(found, expected)):
        doubt = f'"{other}" is no unit of what was asked.'
    if not doubt and found.unknown and not found.units:
        doubt = f'"{found.unknown[0]}" was not understood.'
    return Within(meaning, _weight(found), doubt)


#: What may stand beside a number and its unit that says nothing of what was read.
_BESIDE_A_NUMBER = frozenset(
    [
        "it",
        "it's",
        "its",
        "is",
        "about",
        "around",
        "roughly",
        "just",
        "at",
        "a",
        "an",
        "the",
        "and",
        "to",
        "say",
        "says",
        "reads",
        "reading",
    ]
)


def is_bare_reading(words: str) -> bool:
    """Whether words are a number, with or without a unit, and nothing else."""
    said = [word for word in as_words(words).split() if word not in _BESIDE_A_NUMBER]
    return any(word in NUMBER_WORDS for word in said) and all(
        word in NUMBER_WORDS or word in unit_words() for word in said
    )


#: Where air is that is warm or cold, and when: beside a number they tell how warm it is, and no complaint.
_OF_AIR = frozenset(
    [
        *("in", "here", "there", "out", "outside", "outdoors", "inside", "indoors", "right", "now", "today", "room"),
        *("degrees", "fahrenheit", "celsius"),
    ]
)
_FEW = frozenset({"one", "two", "three"})


def is_bare_temperature(words: str) -> bool:
    """Whether words tell how warm it is somewhere, and nothing else: "it's seventy in here"."""
    said = [word for word in as_words(words).split() if word not in _BESIDE_A_NUMBER | _OF_AIR]
    return not _FEW.issuperset(said) and NUMBER_WORDS.issuperset(said)


def _other_unit(found: Loose, expected: ReadingExpectation) -> str:
    """A unit of another quantity among the words around a reading: "compressor amps were twelve"; "" for none."""
    own = {word for phrase in unit_phrases(expected.quantity) for word in phrase.split()}
    around = [word for text in (*found.strange, *found.unknown) for word in text.split()]
    return next((word for word in around if word in unit_words() and len(word) > 2 and word not in own), "")


def _weight(found: Loose) -> float:
    if not (found.unknown or found.strange):
        return READING
    if found.units:
        return READING_UNIT
    return READING_AMONG_WORDS / max(1, len(found.strange) - 1)


def _for_two_questions(said: Readings, scope: Scope) -> Told | None:
    """ "Three eighteen and four point two": the answer, and that of the next question of the same check."""
    for key in scope.following[:1]:
        asked = scope.tellable.questions.get(key)
        if asked is None or asked.reading is None:
            return None
        first, second = said.items
        if second.quantity != asked.reading.quantity or not _inside(second, asked.reading):
            return None
        return Told(
            answer=Readings(items=(first,)), facts=(ToldAnswer(question=key, answer=Readings(items=(second,))),)
        )
    return None


def _inside(reading: Reading, expected: ReadingExpectation) -> bool:
    low, high = expected.plausible
    return reading.value is not None and low <= reading.value <= high


#: Before what a question about an earlier answer is about: "what did I say for U to V".
_ABOUT = re.compile(r"\b(?:for|about|on)\s+(?:the\s+)?(.+)$")


def asked_about(words: str) -> str:
    """What a question back names ("u to v"); "" when it names nothing."""
    found = _ABOUT.search(as_words(words))
    return found.group(1) if found else ""
