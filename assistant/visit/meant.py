"""What the ears that write mean, where the grammar's answer is not borne out: words are understood as they are typed.

The ear that hears sounds finds something of the grammar in any sentence at all ("look at the wheel" in "flat zero when
I roll the wheel"). So where no writing ear wrote what was answered, what each of them wrote is understood, as if typed.
What both mean is asked back, what one of them means too, and of two that differ it is asked which. Nothing comes this
way unasked, and nothing that bears on the power: for that the words of the grammar are needed, heard by two.

Of 80 plain complaints and answers, spoken by four synthetic voices, the grammar's answer alone had 10 right in the
clear and 10 in a fan's noise of 10 dB (2 and 13 wrong and not asked); so 68 of 79 and 58 of 80 are right, all asked
back, and none is wrong unasked. Typed, 75 of the 80 are understood.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence

from rapidfuzz import fuzz

from assistant.errors import LaddersideError
from assistant.language import soundalikes
from assistant.language.compare import is_both, meaning_key
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Command,
    Correction,
    Emergency,
    Finding,
    Heard,
    Indication,
    Interpretation,
    LedgerSaid,
    Meaning,
    Readings,
    Text,
    Told,
    ToldAnswer,
)
from assistant.language.net import Net
from assistant.language.number_words import NUMBER_WORDS
from assistant.language.scope import Scope
from assistant.language.understand import understand
from assistant.language.written import as_words

#: The ear that hears sounds and not words: it writes what the grammar has.
_BY_SOUND = "phoneme"
#: Nobody says more in one breath, characters.
_LONGEST = 300
#: So many may be asked about at once.
_MOST = 3
#: Below this likeness (of 100) to what was answered an ear wrote something else.
_LIKE = 55.0

#: Commands that are obeyed though the ears were not sure, and after which the visit goes on.
_LEADS_ON = frozenset({"acknowledged", "ready", "done", "resume"})

_Key = tuple[object, ...]


def as_meant(heard: Heard, scope: Scope, net: Callable[[], Net]) -> Heard:
    """``heard``, or what is to be asked back instead; ``net`` is called only where it is needed.

    Readings that the ears were sure of stay: numbers among other words are not heard better by reading around them.
    Words that all writing ears take for talk to others are marked as such, and mean nothing.
    """
    written = [words for name, words in heard.ears if name != _BY_SOUND and 0 < len(words.strip()) <= _LONGEST]
    inner = heard.meaning.meaning if isinstance(heard.meaning, Correction) else heard.meaning
    if isinstance(inner, Text) or (isinstance(inner, Readings) and heard.trust == "sure"):
        return heard
    if not written or _is_borne_out(heard, inner, written, scope):
        return heard
    try:
        understood = _understood(written, scope, net())
    except LaddersideError:  # a visit goes on by the grammar alone
        return heard
    offered = _offered(understood, scope)
    if heard.trust == "sure" and not (offered and _mean_another(understood, heard.meaning)):
        return heard
    if offered:
        offered = _with_what_was_heard(offered, heard, written, scope)
        best = next(each for each in understood if offered[0] in (each.options or (each.meaning,)))
        return heard.model_copy(
            update={
                "words": best.words,
                "meaning": offered[0],
                "options": tuple(offered) if len(offered) > 1 else (),
                "trust": "confirm",
                "probability": round(min(each.chance for each in understood), 4),
                "doubt": "",
            }
        )
    like = _has_numbers_of if isinstance(inner, Readings) else _is_like
    near = (heard.poor_sound or isinstance(inner, Finding)) and _is_as_short(heard, written)
    if heard.trust == "confirm" and not (near or any(like(as_words(words), heard.words) for words in written)):
        heard = heard.model_copy(update={"words": "", "meaning": None, "trust": "again", "options": (), "doubt": ""})
    talk = heard.trust == "again" and all(one.talk for one in understood)
    return heard.model_copy(update={"talk": talk})


def _understood(written: Sequence[str], scope: Scope, net: Net) -> list[Interpretation]:
    """What each text means; two that are the same words but for their signs are understood once."""
    known: dict[str, Interpretation] = {}
    for words in written:
        spoken = as_words(words)
        if spoken not in known:
            known[spoken] = understand(words, scope, net)
    return [known[as_words(words)] for words in written]


def _is_borne_out(heard: Heard, inner: Meaning | None, written: Sequence[str], scope: Scope) -> bool:
    """Whether a writing ear wrote what was answered; of numbers also in words that only sound so ("fife")."""
    if heard.trust == "again" or heard.meaning is None:
        return False
    loose = (False, True) if isinstance(inner, Readings | LedgerSaid) else (False,)
    mine = _key(heard.meaning)
    return any(
        meant is not None and _key(meant) == mine
        for words in written
        for loosely in loose
        for meant in (interpret(words, scope.expectation, loose=loosely).meaning,)
    )


def _mean_another(understood: Sequence[Interpretation], answer: Meaning | None) -> bool:
    """Whether two ears mean alike, and not what was answered."""
    first, *others = (each.meaning and _key(each.meaning) for each in understood)
    return bool(others) and all(first == other for other in others) and first not in (None, answer and _key(answer))


def _offered(understood: Sequence[Interpretation], scope: Scope) -> list[Meaning]:
    """What is to be asked about, the likeliest first: one meaning, or the few between which somebody must choose."""
    chances: dict[_Key, float] = {}
    meanings: dict[_Key, Meaning] = {}
    by: dict[_Key, set[int]] = {}
    plainly: set[_Key] = set()
    for ear, each in enumerate(understood):
        options = [one for one in (each.options or (each.meaning,)) if one is not None]
        if not all(_is_ordinary(one, scope) for one in options):
            continue
        left = max(0.0, 1 - each.chance) / max(1, len(options) - 1)
        for place, one in enumerate(options):
            key = _key(one)
            meanings.setdefault(key, one)
            chances[key] = chances.get(key, 0.0) + (each.chance if place == 0 else left)
            by.setdefault(key, set()).add(ear)
            if len(options) == 1:
                plainly.add(key)
    ranked = sorted(
        (key for key in chances if len(by[key]) > 1 or not _leads_on(meanings[key])),
        key=lambda key: (-len(by[key]), isinstance(meanings[key], Emergency), -chances[key]),
    )
    if not ranked:
        return []
    if len(by[ranked[0]]) > 1 and ranked[0] in plainly:
        ranked = ranked[:1]
    if not isinstance(meanings[ranked[0]], Emergency):  # an alarm is no part of an either-or, and one slip raises none
        ranked = [key for key in ranked if not isinstance(meanings[key], Emergency)]
    ranked.sort(key=lambda key: is_both(meanings[key]))  # "both" is asked last
    return [meanings[key] for key in ranked[:_MOST]]


def _with_what_was_heard(offered: list[Meaning], heard: Heard, written: Sequence[str], scope: Scope) -> list[Meaning]:
    """Also what the sound was taken for, where that is the same sort of answer, and like what was written.

    "Smells of melting" is near "it smells of mould": it is asked which.
    """
    other = heard.meaning if heard.trust == "confirm" else None
    if not isinstance(other, Indication | Finding) or not isinstance(offered[0], type(other)):
        return offered
    if len(offered) == _MOST or not _is_ordinary(other, scope) or other in offered:
        return offered
    return [*offered, other] if any(_is_like(as_words(words), heard.words) for words in written) else offered


def _key(meaning: Meaning) -> _Key:
    """Two questions back about one thing are one, in whatever words; and so are two entries of the ledger."""
    match meaning:
        case BackQuestion(topic=topic):
            return ("back", topic)
        case LedgerSaid(entry=entry):
            return ("ledger", entry.what)
    return meaning_key(meaning)


def _leads_on(meaning: Meaning) -> bool:
    """Whether it is obeyed unasked and what comes next hangs on it: one ear is not enough."""
    return isinstance(meaning, Command) and meaning.name in _LEADS_ON


def _is_as_short(heard: Heard, written: Sequence[str]) -> bool:
    """Whether an ear wrote as few words as were answered: "lacks" may be "locked", and the sound alone is right.

    A short answer found in a long sentence is no such thing.
    """
    return min(len(as_words(words).split()) for words in written) <= len(heard.words.split()) + 1


def _is_like(wrote: str, answer: str) -> bool:
    """Whether what an ear wrote is anything like what was answered."""
    return fuzz.ratio(wrote, answer) >= _LIKE


def _has_numbers_of(wrote: str, answer: str) -> bool:
    """Whether an ear wrote half of the numbers that were answered, or words that sound so."""
    near = soundalikes.shipped().near
    said = Counter(word for word in answer.split() if word in NUMBER_WORDS)
    found = Counter(other for word in wrote.split() for other in {word, *near.get(word, ())} & said.keys())
    return 2 * (said & found).total() >= said.total()


def _is_ordinary(meaning: Meaning, scope: Scope) -> bool:
    """Whether a meaning may come from words that no grammar has."""
    match meaning:
        case Finding() | Readings():
            return not scope.of_energy
        case Told(answer=answer, facts=facts):
            told = [fact.answer for fact in facts if isinstance(fact, ToldAnswer)]
            return all(isinstance(one, Finding) for one in told) and (answer is None or _is_ordinary(answer, scope))
    return isinstance(meaning, Indication | Command | Cannot | BackQuestion | Emergency)
