"""What can be found within words that are no sentence of the grammar: a reading, or what is to be checked."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from assistant.language.loose_readings import Loose, loose_readings
from assistant.language.meaning import Choice, Meaning, Reading, ReadingExpectation, Readings, Told, ToldAnswer
from assistant.language.notions import SMALL, shipped
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


#: How somebody says that he wants another check.
_LEADS = (
    r"(?:so|okay|ok|alright|well|hey|um|uh|now|can we|could we|can you|could you|i want to|i wanna|i need to|wanna"
    r"|let's|let me|lemme|let us|how about we|how about|i'd like to|we should|we ought to|please|have me|want me to"
    r"|i'll|i'm gonna|gonna|next|first|maybe|just|want to|go ahead and|time to|go|run and)"
)
_VERBS = (
    r"(?:check(?: out| on| over)?|test|look at|look over|look into|take a look at|have a look at|inspect|examine"
    r"|measure|go to|go for|go with|take me to|get me to|bring me to|jump to|jump over to|skip to|move to|move on to"
    r"|switch (?:over )?to|start with|do|try|verify|pull up|bring up|ohm out|ohm|megger|meg|run me through|walk|run"
    r"|go over|go look at|see about|see|back to|head to|onto|on to)"
)
#: Said of many another thing too: only a whole name behind them is a request.
_LOOSE = r"(?:look for|hunt(?: for| down)?|search(?: for)?|find|track down|chase(?: down)?|take|get|grab|pull|read|see)"
_WANTS = re.compile(rf"^(?:{_LEADS}\s+)*(?:go\s+)?(?:to\s+)?(({_VERBS}|{_LOOSE})\s+(.+))$")
#: What is measured with a verb of its own: "meg the compressor", "ohm out the coil".
_MEASURES = {"meg": "megger", "megger": "megger", "ohm": "ohms", "ohm out": "ohms"}
_ARTICLE = re.compile(r"^(?:the|my|a|an|another|that|some)\s+")
_TAIL = re.compile(
    r"\s+(?:next|now|first|please|for me|with me|test|check|instead|again|too|then|out|over|thing|real quick)$"
)
#: So much of the words and of a name must be the same.
_SAME_NAME = 0.65
#: Of so many it can be asked which.
_FEW = 3
#: "The", as a stem.
_THE = "th"


def targets_within(words: str, checks: tuple[Choice, ...]) -> list[tuple[str, str]]:
    """What of ``checks`` is asked for: "named" word by word, by its "whole" name, by "most" of it or "part".

    "alone": nothing but the name was said, of at least two words.
    """
    alone = as_words(words).removeprefix("the ")
    named = [check.id for check in checks if " " in alone and alone in check.phrases]
    if named:
        return [(target, "alone") for target in named]
    found = _WANTS.match(words.lower().rstrip(" .?!"))
    if found is None:
        return []
    order, verb, wanted = (_without_tail(text) for text in found.groups())
    name = _ARTICLE.sub("", as_words(wanted))
    if verb in _MEASURES:
        name = wanted = f"{name} {_MEASURES[verb]}"
    exact = [check.id for check in checks if name in check.phrases or as_words(order) in check.phrases]
    if exact:
        return [(exact[0], "named")]
    said = _notions(wanted)
    if not said:
        return []
    scored = [
        (2 * len(said & name) / (len(said) + len(name)), target) for target, name in _names(checks) if said & name
    ]
    best = max((score for score, _ in scored), default=0.0)
    if best < 1 - 1e-9 and re.fullmatch(_LOOSE, verb):
        return []
    if best < _SAME_NAME:
        parts = [(len(name), target) for target, name in _names(checks) if said < name]
        fewest = min((count for count, _ in parts), default=0)
        some = dict.fromkeys(target for count, target in parts if count == fewest)
        return [(target, "part") for target in some] if len(some) <= _FEW else []
    likeness = "whole" if best > 1 - 1e-9 else "most"
    return list(dict.fromkeys((target, likeness) for score, target in scored if score > best - 1e-9))[:_FEW]


def _without_tail(text: str) -> str:
    while _TAIL.search(text):
        text = _TAIL.sub("", text)
    return text


def _notions(name: str) -> frozenset[str]:
    return frozenset(notion for notion in shipped().notions(name) if notion not in SMALL and notion != _THE)


@lru_cache(maxsize=8)
def _names(checks: tuple[Choice, ...]) -> tuple[tuple[str, frozenset[str]], ...]:
    return tuple((check.id, _notions(phrase)) for check in checks for phrase in check.phrases)


#: Before what a question about an earlier answer is about: "what did I say for U to V".
_ABOUT = re.compile(r"\b(?:for|about|on)\s+(?:the\s+)?(.+)$")


def asked_about(words: str) -> str:
    """What a question back names ("u to v"); "" when it names nothing."""
    found = _ABOUT.search(as_words(words))
    return found.group(1) if found else ""
