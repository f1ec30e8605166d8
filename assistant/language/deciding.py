"""The one decision rule: what was weighed is taken at once, asked back, asked as an either-or, or left."""

from __future__ import annotations

from assistant.language import keys
from assistant.language.clause_tables import says_the_same
from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Command,
    Correction,
    Emergency,
    Finding,
    Indication,
    Interpretation,
    Meaning,
    Readings,
    Told,
)
from assistant.language.scope import Scope
from assistant.language.weighing import Balance, Weighed
from assistant.language.within import asked_about

#: From these chances on a meaning is taken at once. Set by fivefold cross-validation on sentences that the sentence
#: model was never taught with, each ranked as if it were not known: so that at most 1 % of complaints, answers
#: and facts, and 0.5 % of requests and questions back, are taken wrongly.
AT_ONCE_ANSWER, AT_ONCE_SHOWN, AT_ONCE_COMMAND, AT_ONCE_ASKED, AT_ONCE_EMERGENCY = 0.95, 0.9, 0.9, 0.9, 0.6
AT_ONCE_READING, AT_ONCE_CANNOT = 0.75, 0.9
#: A fact of another check, and a clause that tells something beside an answer; a symptom that nobody asked for.
AT_ONCE_TOLD, AT_ONCE_TOLD_SHOWN = 0.9, 0.7
#: From this chance a meaning is asked back; so likely together must two or three be to be asked as an either-or, each
#: at least ``EACH`` and no less than a part ``NO_LESS`` of the likeliest.
ASKED, ASKED_EMERGENCY = 0.6, 0.35
TOGETHER, EACH, NO_LESS = 0.68, 0.03, 0.03
#: So likely must the likeliest of several facts be that nobody asked for.
MOSTLY = 0.4
#: Words are surely for others from this chance of "none of these" on.
TALKS = 0.9


def decided(words: str, balance: Balance, scope: Scope, silent: bool) -> Interpretation:
    """The one decision rule; a question back gets what it asks about."""
    found = _chosen(words, balance, scope, silent)
    if isinstance(found.meaning, BackQuestion) and not found.options:
        return found.model_copy(update={"meaning": found.meaning.model_copy(update={"argument": asked_about(words)})})
    return found


def _chosen(words: str, balance: Balance, scope: Scope, silent: bool) -> Interpretation:
    ranked = balance.ranked()
    talk = balance.nothing_chance() >= TALKS and not silent
    if not ranked:
        return Interpretation(words=words, meaning=None, talk=talk)
    best = ranked[0]
    mine = keys.key_of(best.meaning, scope)
    same = [one for one in ranked[1:4] if says_the_same(mine, keys.key_of(one.meaning, scope))]
    if isinstance(best.meaning, Told):  # told unasked, near is not the same: it is asked which
        same = []
    alike = sum(one.chance for one in same)
    if isinstance(best.meaning, Cannot):  # "there is none", where that is an answer
        best = next((one for one in same if isinstance(one.meaning, Finding) and one.chance >= EACH), best)
        alike = sum(one.chance for one in (ranked[0], *same) if one is not best)
    if best.chance + alike >= _at_once(best.meaning):
        doubt = best.doubt or _another_time(words, best, ranked)
        others = tuple(one.meaning for one in ranked[1:3] if doubt and one.chance >= EACH)
        return Interpretation(words=words, meaning=best.meaning, alternatives=others, doubt=doubt, chance=best.chance)
    called = next((one for one in ranked[:3] if isinstance(one.meaning, Emergency)), None)
    if called is not None and called.chance >= ASKED_EMERGENCY:  # asked back alone, and what to do first is said yet
        doubt = best.doubt or f'"{words.strip()}" was not wholly understood.'
        return Interpretation(words=words, meaning=called.meaning, doubt=doubt, chance=called.chance)
    near = [one for one in ranked[:3] if one.chance >= max(EACH, NO_LESS * best.chance)]
    near = [one for one in near if not isinstance(one.meaning, Emergency)]
    if all(isinstance(one.meaning, Told) for one in near) and best.chance < MOSTLY:
        near = []  # nobody is asked which of several things he meant that were not asked about
    if len(near) > 1 and sum(one.chance for one in near) >= TOGETHER:
        return Interpretation(
            words=words, meaning=best.meaning, options=tuple(one.meaning for one in near), chance=best.chance
        )
    if best.chance >= ASKED and best is not called:
        doubt = best.doubt or f'"{words.strip()}" was not wholly understood.'
        return Interpretation(words=words, meaning=best.meaning, doubt=doubt, chance=best.chance)
    return Interpretation(words=words, meaning=None, talk=talk)


def _another_time(words: str, best: Weighed, ranked: list[Weighed]) -> str:
    """Why an emergency is asked back that may be a tale ("it smelled last week"): what to do first is said yet."""
    told = any(isinstance(one.meaning, Indication | Told) and one.chance >= EACH for one in ranked[1:3])
    return f'"{words.strip()}" may be of another time.' if isinstance(best.meaning, Emergency) and told else ""


def _at_once(meaning: Meaning) -> float:
    match meaning:
        case Emergency():
            return AT_ONCE_EMERGENCY
        case Command() | Correction():
            return AT_ONCE_COMMAND
        case BackQuestion():
            return AT_ONCE_ASKED
        case Told(answer=None, facts=(Indication(),)):
            return AT_ONCE_TOLD_SHOWN
        case Told():
            return AT_ONCE_TOLD
        case Cannot():
            return AT_ONCE_CANNOT
        case Indication():
            return AT_ONCE_SHOWN
        case Readings():
            return AT_ONCE_READING
    return AT_ONCE_ANSWER
