"""A question's own words as answers: the phrases of its choices, whatever small words and endings stand around them.

"Is it level, lower at the drain side, or lower at the other side?" is answered by "lower at the drain", "the drain
side's lower" and "level". No negation, number word or letter may differ.
"""

from __future__ import annotations

import re
from functools import lru_cache

from assistant.language.closeness import is_letter
from assistant.language.lattice import NEVER_SKIPPED
from assistant.language.meaning import Choice, Expectation
from assistant.language.number_words import NUMBER_WORDS
from assistant.language.written import as_words

#: Words that carry nothing of an answer.
_SMALL = frozenset(
    [
        *("a", "an", "the", "it", "its", "it's", "is", "are", "was", "were", "be", "been", "has", "have", "had"),
        *(
            "there",
            "there's",
            "that",
            "that's",
            "this",
            "they",
            "they're",
            "them",
            "these",
            "those",
            "does",
            "do",
            "did",
        ),
        *("at", "of", "to", "on", "in", "with", "and", "for", "from", "by", "than", "then", "as", "you", "he", "she"),
        *(
            "she's",
            "we",
            "my",
            "your",
            "i",
            "i'd",
            "say",
            "yeah",
            "yep",
            "yes",
            "well",
            "okay",
            "so",
            "uh",
            "um",
            "just",
        ),
        *("really", "pretty", "now", "here", "looks", "look", "like", "seems", "still", "all", "both", "right", "very"),
        "nice",
    ]
)
#: Of these, words that are an answer where nothing else is said.
_SMALL_ANSWERS = frozenset({"all", "both", "on", "same", "right"})
_ENDINGS = ("ing", "ed", "es", "ly", "s")
#: Words whose endings are no endings.
_AS_THEY_ARE = frozenset({"ring", "spring", "nothing", "string", "ceiling", "opening", "bed", "feed", "speed", "seed"})
#: "Dies" and "ties" are no "dy" and "ty".
_SHORT = 4


@lru_cache(maxsize=1 << 14)
def stem(word: str) -> str:
    """A word without its ending: "drips", "dripping" and "dripped" are one."""
    word = word.removesuffix("'s")
    if word.endswith("ies") and len(word) > _SHORT:
        return word.removesuffix("ies") + "y"
    if word in _AS_THEY_ARE:
        return word
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) > len(ending) + 2:
            word = word.removesuffix(ending)
            break
    doubled = len(word) > 3 and word[-1] == word[-2] and word[-1] not in "aeiouls"
    return (word[:-1] if doubled else word).removesuffix("e")


def stems(text: str) -> frozenset[str]:
    """The words of ``text`` that carry its meaning, without their endings."""
    words = as_words(text).split()
    found = frozenset(stem(word) for word in words if word not in _SMALL)
    return found or frozenset(word for word in words if word in _SMALL_ANSWERS)


def _exact(text: str) -> frozenset[str]:
    """What may not differ: negations, numbers, letters."""
    words = as_words(text).split()
    return frozenset(word for word in words if word in NEVER_SKIPPED or word in NUMBER_WORDS or is_letter(word))


def answers_in_own_words(words: str, expectation: Expectation, asked: str = "") -> tuple[str | None, bool]:
    """The choice that ``words`` name, and whether they name it wholly; None when they name none, or several.

    Wholly: with all the words of one of its phrases. Else with some of them, which no other choice has. What the
    question as ``asked`` speaks of may be named besides: "the blade sits tight" where "it sits tight" is an answer.
    """
    said, exact = stems(words), _exact(words)
    if not said:
        return None, False
    about, of_question = stems(asked), _exact(asked) - NEVER_SKIPPED
    whole: dict[str, int] = {}
    part: set[str] = set()
    for choice, phrases in _phrases(expectation.choices):
        for wanted, kept in phrases:
            if kept <= exact <= kept | of_question and wanted <= said <= wanted | about:
                whole[choice] = max(whole.get(choice, 0), len(wanted))
            elif kept == exact and said < wanted:
                part.add(choice)
    most = [choice for choice, count in whole.items() if count == max(whole.values())]
    if len(most) == 1:
        return most[0], True
    return (next(iter(part)), False) if not whole and len(part) == 1 else (None, False)


@lru_cache(maxsize=256)
def _phrases(choices: tuple[Choice, ...]) -> tuple[tuple[str, tuple[tuple[frozenset[str], frozenset[str]], ...]], ...]:
    return tuple((one.id, tuple((stems(text), _exact(text)) for text in one.phrases)) for one in choices)


_VERBS = r"(?:is|are|was|were|does|do|did|has|have|had|can you|can)"
_OR = re.compile(r"\bor\b", re.IGNORECASE)
_WHICH = r"(?:which|where|what|how|when)"
#: "Is there only one zone" offers "there is only one zone".
_THERE = re.compile(r"^(is|are|was|were) there ", re.IGNORECASE)
#: Before a question's verb stands what it begins with: "after an hour's rest, does it run".
_BEGINS = re.compile(rf"^(?:.*?,\s+)??(?:or\s+)?(?=(?:{_VERBS}|{_WHICH})\b)", re.IGNORECASE)
_VERB = re.compile(rf"^{_VERBS}\s+", re.IGNORECASE)
_PARTS = re.compile(r"^or\s+|,\s*(?:or\s+)?|\s+or\s+", re.IGNORECASE)
#: "Only one of them" is no answer yet: it is said which.
_WHICHEVER = re.compile(r"\bone of (?:them|the two)\b", re.IGNORECASE)
_ASKS_WHICH = re.compile(rf"^{_WHICH}\b", re.IGNORECASE)


def _turned(found: re.Match[str]) -> str:
    return f"there {found.group(1).lower()} "


def offered(question: str) -> tuple[str, ...]:
    """What a question offers as its answers: the parts of its questioning sentences between commas and "or".

    None where it offers nothing to choose from.
    """
    asking = [one.rstrip("?") for one in re.split(r"(?<=[.!?])\s+", question.strip()) if one.endswith("?")]
    parts: list[str] = []
    for one in asking:
        text = (one.partition(":")[2] or one).strip()
        some = [part.strip() for part in _PARTS.split(_BEGINS.sub("", text, count=1))] if _OR.search(text) else []
        some = [part for part in some if part and not (_ASKS_WHICH.match(part) or _WHICHEVER.search(part))]
        parts += [_VERB.sub("", _THERE.sub(_turned, part)) for part in some]
    return tuple(parts) if len(parts) > 1 else ()
