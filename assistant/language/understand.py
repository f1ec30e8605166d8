"""From words that were heard well to what they mean now: the grammar, readings among other words, the net beneath.

One rule decides (``deciding``): a meaning that is likely enough is taken at once, one that is fairly likely is asked
back, of two or three that are near each other it is asked which; else nothing is near.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from assistant.language import keys
from assistant.language.another_zone import another_zone
from assistant.language.clauses import clauses, tells_little
from assistant.language.covering import particular
from assistant.language.deciding import decided
from assistant.language.giving_safety import asked_back
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Command,
    Correction,
    Emergency,
    Expectation,
    Finding,
    Indication,
    Interpretation,
    LedgerSaid,
    Meaning,
    Readings,
    Text,
    Told,
    ToldAnswer,
)
from assistant.language.names import without_lead
from assistant.language.net import ANY, KnowsNothing, Net
from assistant.language.one_clause import PLAIN_BESIDE_A_READING, PLAIN_CLAUSE, weighed
from assistant.language.parts import by_parts
from assistant.language.scope import Scope
from assistant.language.slips import mended
from assistant.language.subjects import subjects
from assistant.language.to_others import is_to_others
from assistant.language.trends import trend_asked
from assistant.language.twins import are_twins
from assistant.language.weighing import Balance
from assistant.language.written import as_words


def understand(words: str, scope: Scope, net: Net | None = None) -> Interpretation:
    """What ``words`` mean in ``scope``, and whether to take it at once, to confirm it or to ask which of two or three.

    ``meaning`` None: nothing is near (or, with ``talk``, the words are not for the assistant). Who is asked whether or
    which something was meant, and neither says so nor asks for something, may answer the question beneath anew.
    """
    net = net or KnowsNothing()
    found = _said(words, scope, net)
    if _is_sure(found) or scope.expectation.text or (meant := mended(words, scope.tellable)) == words:
        return found
    anew = _said(meant, scope, net)
    if anew.meaning is None:
        return found
    slip = isinstance(anew.meaning, Command | BackQuestion | Emergency) or anew.options
    doubt = anew.doubt if slip else anew.doubt or f'"{words.strip()}" may be a slip for "{meant.strip()}".'
    return anew.model_copy(update={"words": words, "doubt": doubt})


def _said(words: str, scope: Scope, net: Net) -> Interpretation:
    """What ``words`` mean as they stand."""
    found = _understood(words, scope, net)
    if _is_for_others(found, scope):
        return Interpretation(words=words, meaning=None, talk=True)
    if scope.beneath is not None and not _is_settled(found):
        anew = _understood(words, scope.beneath, net)
        if _is_sure(anew) and isinstance(anew.meaning, Finding | Indication | Readings | Command):
            return anew
        offered = _offered(anew, scope.expectation)
        if offered is not None:
            return Interpretation(words=words, meaning=offered, chance=anew.chance)
    if scope.complaint is not None and (not _is_sure(found) or _tells(found) or _tells_only(found)):
        return _complaint(words, scope.complaint, net, found)
    return found


#: From this chance the likelier of two offered meanings is the one that was meant.
_LIKELIER = 0.6


def _offered(anew: Interpretation, asked: Expectation) -> Meaning | None:
    """Which of the meanings that are offered in an either-or other words for it may mean, where only one may."""
    if asked.question != "either" or anew.meaning is None:
        return None
    ids = {choice.id for choice in asked.choices}
    told = [one for one in (anew.options or (anew.meaning,)) if isinstance(one, Finding | Indication)]
    mine = [one for one in told if one.choice in ids]
    return mine[0] if len(mine) == 1 or (mine and mine[0] == told[0] and anew.chance >= _LIKELIER) else None


def _is_sure(found: Interpretation) -> bool:
    return found.meaning is not None and not (found.doubt or found.options)


#: No name has such a verb, however much it sounds of ice or of a dead zone.
_TELLS = re.compile(
    r"\b(?:it's|isn't|is|are|aren't|was|won't|doesn't|don't|does|can't|keeps|been|not|quit|stopped|lights)\b",
    re.IGNORECASE,
)


def _tells_only(found: Interpretation) -> bool:
    return isinstance(found.meaning, Told) and found.meaning.answer is None


def _tells(found: Interpretation) -> bool:
    """Whether what was taken for a name is a sentence."""
    said = without_lead(found.words.replace("’", "'"))
    return isinstance(found.meaning, Text) and _TELLS.search(said) is not None


def _complaint(words: str, scope: Scope, net: Net, found: Interpretation) -> Interpretation:
    """What the unit does, said while something else about it is asked, as a fact told; else what was ``found``."""
    said = _understood(words, scope, net)
    meant = tuple(_as_told(one) for one in (said.options or (said.meaning,)))
    if said.doubt or any(one is None for one in meant):
        return found
    told = tuple(one for one in meant if one is not None)
    return said.model_copy(update={"meaning": told[0], "options": told if said.options else ()})


def _as_told(meaning: Meaning | None) -> Told | None:
    if isinstance(meaning, Indication):
        return Told(facts=(meaning,))
    if isinstance(meaning, Told) and isinstance(meaning.answer, Indication):
        return Told(facts=(meaning.answer, *meaning.facts))
    return meaning if isinstance(meaning, Told) and meaning.answer is None else None


def _is_settled(found: Interpretation) -> bool:
    """Whether words settle what was asked back, or are a request or another matter that goes before it."""
    return _is_sure(found) and not isinstance(found.meaning, Told)


def _understood(words: str, scope: Scope, net: Net) -> Interpretation:
    return particular(_weighed_out(words, scope, net), scope.tellable.covers)


def _weighed_out(words: str, scope: Scope, net: Net) -> Interpretation:
    exact = interpret(words, scope.expectation)
    if isinstance(exact.meaning, Text):
        return _request_for_a_name(words, scope, net) or exact
    if _names_check(exact):
        return exact
    if isinstance(exact.meaning, Emergency) and not exact.doubt:  # called out: whatever else a unit may show so
        return exact
    if isinstance(exact.meaning, LedgerSaid) and not exact.doubt:  # it begins with its own word
        return exact
    named = _check_named(words, scope) if exact.meaning is None or exact.doubt else None
    if named is None and (exact.meaning is None or exact.doubt):
        named = trend_asked(words, scope.expectation.checks)
        if named is None and _hands_over(words, scope):
            named = Command(name="take-over")
        if named is None and (zone := another_zone(words, scope.zones)) is not None:
            named = Command(name="other-zone", argument=zone)
    if named is not None:
        return Interpretation(words=words, meaning=named)
    silent = isinstance(net, KnowsNothing)
    cut = clauses(words)
    parts = [part for part in cut if not tells_little(part)]
    net.expect([one.lower() for one in dict.fromkeys((words, *parts))], scope.key or ANY)
    whole = weighed(words, scope, net, exact)
    if len(cut) > 1 and parts and not silent:
        bare = _bare_answer(cut, scope)
        told = by_parts(words, parts, bare, _Clauses(scope, net), whole, _Names(scope))
        if told is not None:
            return asked_back(told, exact, scope) if scope.of_energy else told
    found = decided(words, whole, scope, silent)
    return asked_back(found, exact, scope) if scope.of_energy else found


def _is_for_others(found: Interpretation, scope: Scope) -> bool:
    """Whether words that seem to tell something are said to others, and of no part."""
    told = isinstance(found.meaning, Finding | Indication | Readings | Told | Cannot | Correction)
    return told and is_to_others(found.words) and not subjects(scope.tellable).named(found.words)


class _Clauses:
    """Weighs the clauses of a sentence."""

    def __init__(self, scope: Scope, net: Net) -> None:
        self._scope, self._net = scope, net

    def __call__(self, words: str, before: str = "") -> Balance:
        plain = PLAIN_CLAUSE if self._scope.expectation.reading is None else PLAIN_BESIDE_A_READING
        return weighed(words, self._scope, self._net, before=before, plain=plain)


class _Names:
    """What words name, held against what a meaning and the open question are about."""

    def __init__(self, scope: Scope) -> None:
        self._scope = scope
        self._about = subjects(scope.tellable)

    def named(self, words: str) -> Mapping[str, float]:
        return self._about.named(words)

    def about(self, words: str, meaning: Meaning) -> bool:
        return self._share(words, keys.key_of(meaning, self._scope) or _matter(meaning)) > 0

    def another(self, words: str, meaning: Meaning) -> bool:
        return bool(self._about.named(words)) and not self.about(words, meaning)

    def the_same(self, one: Meaning, other: Meaning) -> bool:
        return are_twins(one, other, self._scope)

    def matter(self, meaning: Meaning) -> str:
        if isinstance(meaning, Finding | Readings):
            return self._scope.key
        return _matter(meaning) or keys.key_of(meaning, self._scope) or ""

    def _share(self, words: str, key: str) -> float:
        return self._about.about(self._about.named(words), key.partition("=")[0]).share


def _matter(meaning: Meaning) -> str:
    """The question of a fact that was told; "" for a symptom and for what is no fact."""
    fact = meaning.facts[0] if isinstance(meaning, Told) and meaning.facts else None
    return fact.question if isinstance(fact, ToldAnswer) else ""


def _bare_answer(cut: tuple[str, ...], scope: Scope) -> Finding | None:
    """What a bare "yes" or "no" at the beginning answers, where it is an answer."""
    found = interpret(cut[0], scope.expectation).meaning if tells_little(cut[0]) else None
    return found if isinstance(found, Finding) else None


#: Questions for a name that one of a list may have; a note is free words whatever they mean.
_FOR_A_NAME = frozenset({"visit.site", "visit.profile"})
#: So many words at least has a request, or a question back, that is no name, and so likely must it be.
_REQUEST_WORDS, _SURELY = 4, 0.97


def _request_for_a_name(words: str, scope: Scope, net: Net) -> Interpretation | None:
    """What was asked for instead of a name: "can you say that again please" is no unit's."""
    if scope.expectation.question not in _FOR_A_NAME or len(words.split()) < _REQUEST_WORDS:
        return None
    found = decided(words, weighed(words, scope, net, Interpretation(words=words, meaning=None)), scope, False)
    asks = isinstance(found.meaning, Command | BackQuestion) and not (found.doubt or found.options)
    return found if asks and found.chance >= _SURELY else None


def _names_check(exact: Interpretation) -> bool:
    """ "Check the float switch" in the grammar's own words needs no second opinion."""
    return isinstance(exact.meaning, Command) and bool(exact.meaning.argument) and not exact.doubt


#: Somebody by his name: "Tom Berry takes over", "handing over to Tom".
_HANDS_OVER = re.compile(
    r"(?:\w+(?:[ '-]\w+){0,3} (?:takes|is taking|'s taking|will take|gonna take) (?:it |this |this one |the job )?over"
    r"|(?:i'm |i am |we're |i'll |i )?(?:hand|handing|turning|passing)(?: it| this| this one| the job)? (?:over )?to"
    r"(?: \w+){1,3})(?: now| here| from here)?",
    re.IGNORECASE,
)


_HAND = re.compile(r"\bhand(?:ing)?\b", re.IGNORECASE)


def _hands_over(words: str, scope: Scope) -> bool:
    """Whether somebody is said to go on with the job, and no part of the machine."""
    told = _HANDS_OVER.fullmatch(words.strip().rstrip(" .!")) is not None
    return told and not subjects(scope.tellable).named(_HAND.sub(" ", words))


#: So many words of a check's own phrase ("prove it dead") are a request for it; fewer may be a part that is named.
_A_REQUEST = 3


def _check_named(words: str, scope: Scope) -> Command | None:
    """A check asked for in its own words, without "check the" before them."""
    spoken = as_words(words)
    if len(spoken.split()) < _A_REQUEST:
        return None
    for check in scope.expectation.checks:
        if any(as_words(phrase) == spoken for phrase in check.phrases):
            return Command(name="check", argument=check.id)
    return None
