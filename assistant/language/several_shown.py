"""Several symptoms in one sentence: both, or one of which the other is only more words."""

from __future__ import annotations

from assistant.language.compare import meaning_key
from assistant.language.meaning import Indication, Meaning, Told
from assistant.language.part import Names, Part
from assistant.language.weighing import Balance, Weighed

#: A clause that tells something beside another must be as sure as this.
BESIDES = 0.92
#: So likely must each of several symptoms be by the sentence as a whole, that all are taken at once.
SHOWN_BESIDES = 0.15
#: Of so many it can be asked which was meant.
MOST_ASKED = 3
_TWO = 2
#: So sure must each of two symptoms be that it is asked whether both were meant.
FAIRLY = 0.87


def shown_or_both(telling: list[Part], names: Names) -> tuple[Meaning, ...] | None:
    """Of two symptoms that two clauses tell for sure, the one, the other, or both: one may be words for the other.

    None where they are surely two, or anything else is told.
    """
    if any(part.best is None or not isinstance(part.best.meaning, Indication) for part in telling):
        return None
    first: dict[object, Part] = {}
    for part in telling:
        assert part.best is not None
        if part.chance >= FAIRLY:
            first.setdefault(meaning_key(part.best.meaning), part)
    found = [part.best.meaning for part in first.values() if part.best is not None]
    if len(found) != _TWO or names.the_same(*found) or all(is_apart(part, names) for part in first.values()):
        return None
    one, other = found
    assert isinstance(one, Indication)
    assert isinstance(other, Indication)
    return one, other, Told(answer=one, facts=(other,))


def likest_shown(telling: list[Part], all_told: Weighed | None, names: Names) -> list[Part]:
    """Of several symptoms the likeliest, and those that are told with their part: else it is one in two clauses."""
    shown = [part for part in telling if part.best is not None and isinstance(part.best.meaning, Indication)]
    if len({meaning_key(part.best.meaning) for part in shown if part.best is not None}) < 2:
        return telling
    meant = all_told.meaning if all_told is not None else None
    likest = max(shown, key=lambda part: (part.best is not None and part.best.meaning == meant, part.chance))
    return [part for part in telling if part not in shown or part is likest or is_apart(part, names)]


def hardly_shown(telling: list[Part], whole: Balance) -> bool:
    """Whether of several symptoms one is hardly told by the sentence as a whole: it may be a word of another."""
    shown = {meaning_key(one.best.meaning) for one in telling if one.best and isinstance(one.best.meaning, Indication)}
    chances = {meaning_key(one.meaning): one.chance for one in whole.ranked()}
    return len(shown) > 1 and any(chances.get(key, 0.0) < SHOWN_BESIDES for key in shown)


def one_of_those_shown(told: Told, telling: list[Part], whole: Balance) -> tuple[Meaning, ...] | None:
    """The symptoms of which one is meant, where a complaint in two clauses is rather one as a whole; else None."""
    shown = [told.answer, *told.facts]
    ranked = [one.meaning for one in whole.ranked() if one.meaning in shown]
    alone = all(isinstance(one, Indication) for one in shown) and len(shown) == len(ranked) <= MOST_ASKED
    if not alone or not hardly_shown(telling, whole):
        return None
    return (*ranked, told) if len(ranked) == _TWO else tuple(ranked)


def is_apart(part: Part, names: Names) -> bool:
    """Whether a clause that tells a symptom beside another tells one of its own."""
    return part.best is not None and part.chance >= BESIDES and names.about(part.words, part.best.meaning)
