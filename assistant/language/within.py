"""What can be found within words that are no sentence of the grammar: a reading, or what is to be checked."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.language.loose_readings import Loose, loose_readings
from assistant.language.meaning import Choice, Meaning, Reading, ReadingExpectation, Readings, Told, ToldAnswer
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
    if not doubt and found.unknown and not found.units:
        doubt = f'"{found.unknown[0]}" was not understood.'
    return Within(meaning, _weight(found), doubt)


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


def targets_within(words: str, checks: tuple[Choice, ...]) -> list[str]:
    """What of ``checks`` is named in ``words``: that with the longest name, or all whose names are as long."""
    said = f" {as_words(words)} "
    named = [(len(phrase.split()), check.id) for check in checks for phrase in check.phrases if f" {phrase} " in said]
    most = max((length for length, _ in named), default=0)
    return list(dict.fromkeys(target for length, target in named if length == most))
