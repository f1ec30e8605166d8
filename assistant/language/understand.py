"""From words that were heard well to what they mean now: the grammar, the trade's vocabulary, and the net beneath."""

from __future__ import annotations

from assistant.language.interpret import interpret
from assistant.language.loose_readings import loose_readings
from assistant.language.meaning import Interpretation, Reading, ReadingExpectation, Readings, Told, ToldAnswer
from assistant.language.net import KnowsNothing, Net
from assistant.language.scope import Scope


def understand(words: str, scope: Scope, net: Net | None = None) -> Interpretation:
    """What ``words`` mean in ``scope``, and whether to take it at once, to confirm it or to ask which of two or three.

    ``meaning`` None: nothing is near (or, with ``talk``, the words are not for the assistant).
    """
    net = net or KnowsNothing()
    exact = interpret(words, scope.expectation)
    if exact.meaning is not None and not exact.doubt:
        return exact
    loose = _reading(words, scope)
    if loose is not None and (exact.meaning is None or not loose.doubt):
        return loose
    return exact


#: Words around a reading that nobody knows and that may yet stand there when its unit was said.
_MOST_UNKNOWN = 4
#: And where it was not: then the reading is asked back.
_MOST_STRANGE = 2


def _reading(words: str, scope: Scope) -> Interpretation | None:
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
    return Interpretation(words=words, meaning=meaning, doubt=doubt)


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
