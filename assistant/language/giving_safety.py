"""Answers that change what is shown of the power: taken in the question's own words alone, else asked back.

The first choice of such a question gives safety. It counts in its own words, and is put into nobody's mouth ("it is on"
is not "locked"): it is asked back only where something of the question, or of that answer, was said and nothing denied.
"""

from __future__ import annotations

from assistant.language.cues import denies, is_asked, runs_now, speaks_of_power, without_source
from assistant.language.meaning import Choice, Command, Expectation, Finding, Interpretation, Meaning, Told
from assistant.language.notions import shipped
from assistant.language.own_words import answers_in_own_words, stems
from assistant.language.scope import Scope
from assistant.language.within import is_bare_reading
from assistant.language.written import as_words

#: Words of a phrase that may be left out.
_LITTLE = frozenset({"it", "it's", "is", "and", "the", "a", "that", "that's"})
#: What stands in many a question and tells nothing of what was done.
_NO_MATTER = frozenset({"when", "good", "+not", "+steady", "+strong", "+clean", "+now", "+yes", "+outdoor", "+indoor"})


def asked_back(found: Interpretation, exact: Interpretation, scope: Scope) -> Interpretation:
    """``found`` at a question of the power, as far as it may be taken; ``exact`` is what the grammar understood."""
    words, asked = found.words, scope.expectation
    exactly = exact.meaning if not exact.doubt else None
    first = Finding(choice=asked.choices[0].id) if asked.choices else None
    is_of_another = _is_of_another(words, scope)
    may_be_first = first is not None and not is_of_another and _may_be_first(words, scope)

    def may_be(one: Meaning | None) -> bool:
        if one == Command(name="power-back") and may_be_first:  # "power is on" is what was asked for
            return False
        answer = one.answer if isinstance(one, Told) else one
        if not isinstance(answer, Finding) or one == exactly:
            return True
        return may_be_first if answer == first else not is_of_another or _tells_power(answer, asked, words)

    said = found.options or (found.meaning,)
    left = tuple(one for one in said if may_be(one))
    if left != said:
        doubt = found.doubt if left else ""
        meaning, options = (left[0], left) if left[1:] else (left[0] if left else None, ())
        found = found.model_copy(update={"meaning": meaning, "options": options, "doubt": doubt})
    strange = f'"{words.strip()}" is not how it is said here.'
    if may_be_first and found.meaning is None:
        return found.model_copy(update={"meaning": first, "options": (), "doubt": strange, "talk": False})
    if not isinstance(found.meaning, Finding | Command | Told) or found.doubt or found.options:
        return found
    if found.meaning in (exactly, _in_its_very_words(words, asked)):
        return found
    return found.model_copy(update={"doubt": strange})


def _is_of_another(words: str, scope: Scope) -> bool:
    """Whether words are no answer: a question, a number, or power that is there where its being there is no answer.

    The live source on which a meter is tried is another one.
    """
    said = without_source(words) if speaks_of_power(_asked(scope)) else words
    tells_power = speaks_of_power(said) and not _is_power_wanted(scope.expectation)
    return tells_power or runs_now(said) or is_bare_reading(words) or is_asked(words)


def _is_power_wanted(asked: Expectation) -> bool:
    """Whether the first choice itself says that power is there."""
    return bool(asked.choices) and any(map(speaks_of_power, asked.choices[0].phrases))


def _tells_power(answer: Finding, asked: Expectation, words: str) -> bool:
    """Whether words tell of power and the answer does so too: "it still runs" where the lock is asked for."""
    choice = next((one for one in asked.choices if one.id == answer.choice), None)
    told = speaks_of_power(words) and not is_bare_reading(words) and not is_asked(words)
    return told and choice is not None and any(map(_tells_of_power, choice.phrases))


def _tells_of_power(phrase: str) -> bool:
    return speaks_of_power(phrase) or runs_now(phrase) or "has power" in phrase


def _asked(scope: Scope) -> str:
    called = scope.tellable.called.get(scope.key)
    return called.asked if called is not None else ""


def _may_be_first(words: str, scope: Scope) -> bool:
    """Whether words say something of the question, or of its first choice, and nothing that denies it."""
    first = scope.expectation.choices[0]
    if denies(words):
        return False
    wanted = _matter(" ".join((_asked(scope), *first.phrases)))
    return any(one in wanted or any(_is_sort_of(one, other) for other in wanted) for one in _matter(words))


#: Of so many letters must a word be that another is a sort of: a padlock is a lock.
_WORD = 4


def _is_sort_of(word: str, other: str) -> bool:
    return len(other) >= _WORD and not other.startswith("+") and word.endswith(other)


def _matter(text: str) -> frozenset[str]:
    """The stems and notions of a text that tell what it is about."""
    return (stems(text) | {one for one in shipped().notions(as_words(text)) if one.startswith("+")}) - _NO_MATTER


def _in_its_very_words(words: str, expectation: Expectation) -> Finding | None:
    """The choice that is answered with the very words of one of its phrases: "lock it" is not yet "locked"."""
    name = answers_in_own_words(words, expectation)[0]
    choice = next((one for one in expectation.choices if one.id == name), None)
    return Finding(choice=choice.id) if choice is not None and _has_its_words(words, choice) else None


def _has_its_words(words: str, choice: Choice) -> bool:
    """Whether a phrase of the choice stands among the words, whatever else does, and nothing is denied."""
    said = set(as_words(words).split())
    wanted = (set(as_words(phrase).split()) - _LITTLE for phrase in choice.phrases)
    return not denies(words) and any(one and one <= said for one in wanted)
