"""A sentence of several clauses: facts told together, an answer with an addition, or one thing said at length."""

from __future__ import annotations

from collections.abc import Sequence
from math import prod

from assistant.language.compare import meaning_key
from assistant.language.meaning import (
    Cannot,
    Finding,
    Indication,
    Interpretation,
    Meaning,
    Readings,
    Told,
    ToldAnswer,
    ToldFact,
)
from assistant.language.number_words import has_number
from assistant.language.part import MAYBE, SURE, Names, Part, Weigh, parts_of
from assistant.language.several_shown import (
    BESIDES,
    hardly_shown,
    is_apart,
    likest_shown,
    one_of_those_shown,
    shown_or_both,
)
from assistant.language.subjects import notions
from assistant.language.weighing import Balance, Weighed

#: A clause for which "none of these" has this chance tells nothing.
TELLS_NOTHING = 0.6
#: So sure must a sentence be as a whole that its clauses do not count, where one that tells another thing is less sure
#: than ``BESIDES``.
WHOLE = 0.95
#: So sure must an answer be that a sentence gives as a whole and by its last clause, whatever the first one told.
SURELY = 0.97
#: What praises the thing of which it is said.
_PRAISE = frozenset({"+clean", "+strong"})
#: A clause surely tells something for which "none of these" has no more than this chance.
SURELY_SOMETHING = 0.05
#: From this chance on a sentence may tell as one what its clauses tell otherwise.
AS_ONE = 0.7
#: From these chances on a clause tells something of a part that it does not name: where nothing was asked, and where
#: it may be more words for an answer.
UNNAMED, UNNAMED_SURELY = 0.5, 0.9


def by_parts(
    words: str, clauses: Sequence[str], bare: Finding | None, weigh: Weigh, whole: Balance, names: Names
) -> Interpretation | None:
    """What the clauses tell together; None when the sentence is rather one thing.

    ``bare``: the answer that a bare "yes" or "no" among them gives.
    """
    parts = parts_of(clauses, weigh, names)
    telling = [part for part in parts if part.chance >= MAYBE and not _is_excuse(part)]
    strange = [part for part in telling if part.chance < BESIDES and not _may_join_of(part)]
    telling = [part for part in telling if part not in strange]
    if any(part.is_sure and part.answers for part in telling):
        telling = [part for part in telling if not _is_more_words(part, names)]
    if any(not _may_join(part.best.meaning) for part in telling if part.best is not None):
        return None
    all_told = next(iter(whole.ranked()), None)
    if (shown := shown_or_both(telling, names)) is not None:
        return Interpretation(words=words, meaning=shown[0], options=shown, chance=0.5)
    said = telling
    telling, disputed = _told_besides(likest_shown(telling, all_told, names), all_told, names)
    again = _told_again(telling, names)
    telling, parts = ([part for part in some if part not in again] for some in (telling, parts))
    found = _Found()
    if disputed:
        assert all_told is not None
        found.add(all_told.meaning)
    for part in telling:
        assert part.best is not None
        found.add(part.best.meaning)
    if bare is not None and not found.answers:
        found.add(bare)
    told = found.told()
    if told is None or found.contradicts or (found.count < 2 and disputed):
        answers = said if disputed else telling
        which = None if _said_at_last(answers, whole) else _which(words, answers, whole)
        return which or _left_over(words, parts, whole, names)
    if found.count < 2:
        return _one(words, telling, parts, whole) or _left_over(words, parts, whole, names)
    chance = prod(part.chance for part in telling)
    if _is_one_thing(telling, chance, all_told, names):
        return None
    unsure = bool(disputed or strange) or not all(part.is_sure for part in telling)
    unsure = unsure or _hardly_besides(telling, all_told, names) or hardly_shown(telling, whole)
    if (shown := one_of_those_shown(told, telling, whole)) is not None:
        return Interpretation(words=words, meaning=shown[0], options=shown, chance=0.5)
    doubt = f'"{words.strip()}" was not wholly understood.' if unsure or any(map(_is_unclear, parts)) else ""
    return Interpretation(words=words, meaning=told, doubt=doubt, chance=chance)


def _told_besides(telling: list[Part], all_told: Weighed | None, names: Names) -> tuple[list[Part], bool]:
    """The parts that tell more than the sentence does as a whole, and whether some told its matter otherwise.

    Where the sentence surely tells one thing, a clause that tells the same matter otherwise ("a little dusty, but you
    can see through") is a part of that; one that names nothing and is not sure itself says an answer at length.
    """
    if all_told is None or all_told.chance < WHOLE or all_told.doubt or not _may_join(all_told.meaning):
        return telling, False
    matter = names.matter(all_told.meaning)
    kept: list[Part] = []
    disputed = False
    for part in telling:
        assert part.best is not None
        mine = meaning_key(part.best.meaning) == meaning_key(all_told.meaning)
        if not mine and matter and names.matter(part.best.meaning) == matter:
            disputed = True
        elif mine or part.chance >= BESIDES or _is_told(part, names, all_told):
            kept.append(part)
    return kept, disputed


def _is_one_thing(telling: list[Part], chance: float, all_told: Weighed | None, names: Names) -> bool:
    """Whether the sentence as a whole tells one thing that no clause tells, likelier than what they tell together:
    "the fan spins but the compressor never comes on"."""
    if all_told is None or all_told.chance < max(AS_ONE, chance):
        return False
    return not any(
        part.best is not None
        and (
            meaning_key(part.best.meaning) == meaning_key(all_told.meaning)
            or names.the_same(part.best.meaning, all_told.meaning)
        )
        for part in telling
    )


def _hardly_besides(telling: list[Part], all_told: Weighed | None, names: Names) -> bool:
    """Whether the sentence surely tells one thing, and a clause another that may only be more words for it."""
    if all_told is None or all_told.chance < WHOLE or all_told.doubt:
        return False
    mine = meaning_key(all_told.meaning)
    alone = any(part.best is not None and meaning_key(part.best.meaning) == mine and part.is_sure for part in telling)

    def besides(part: Part) -> bool:
        of_its_own = names.another(part.words, all_told.meaning) or (alone and is_apart(part, names))
        return part.chance >= BESIDES and of_its_own

    others = (part for part in telling if part.best is not None and meaning_key(part.best.meaning) != mine)
    return not all(map(besides, others))


def _left_over(words: str, parts: list[Part], whole: Balance, names: Names) -> Interpretation | None:
    """What the sentence tells as a whole, asked back where a clause tells something else besides that it leaves out."""
    best = next(iter(whole.ranked()), None)
    if best is None or best.doubt or best.chance < MAYBE or not _may_join(best.meaning):
        return None
    if not any(_is_left_out(part, best, names) for part in parts):
        return None
    doubt = f'"{words.strip()}" was not wholly understood.'
    return Interpretation(words=words, meaning=best.meaning, doubt=doubt, chance=best.chance)


def _is_left_out(part: Part, best: Weighed, names: Names) -> bool:
    """Whether a clause tells something that is not what ``best`` tells, be it of a part that it does not name."""
    told = part.best
    if told is not None and part.chance >= SURE and _may_join(told.meaning):
        same = meaning_key(told.meaning) == meaning_key(best.meaning) or names.the_same(told.meaning, best.meaning)
        if isinstance(best.meaning, Readings | Indication):
            return not same and isinstance(told.meaning, Told) and names.about(part.words, told.meaning)
        return not same and names.matter(told.meaning) != names.matter(best.meaning)
    if isinstance(best.meaning, Readings | Indication) or not (_is_unclear(part) or has_number(part.words)):
        return False
    if isinstance(best.meaning, Told) and _tells_more(part):
        return True
    return part.unnamed >= UNNAMED_SURELY or names.another(part.words, best.meaning)


def _tells_more(part: Part) -> bool:
    """Whether a clause surely tells something, be it of a part that it does not name or a number."""
    return part.unnamed >= UNNAMED or part.nothing < SURELY_SOMETHING or has_number(part.words)


def _is_unclear(part: Part) -> bool:
    """Whether a clause tells something, and nobody knows what."""
    return part.chance < MAYBE and part.nothing < TELLS_NOTHING


def _told_again(telling: list[Part], names: Names) -> list[Part]:
    """Clauses that tell in other words what one before them told."""
    again: list[Part] = []
    for at, part in enumerate(telling):
        if any(
            part.best is not None and one.best is not None and names.the_same(part.best.meaning, one.best.meaning)
            for one in telling[:at]
        ):
            again.append(part)
    return again


def _which(words: str, telling: list[Part], whole: Balance) -> Interpretation | None:
    """The first clause surely answers one thing and the sentence as a whole another: it is asked which."""
    first = telling[0].best if telling else None
    best = next(iter(whole.ranked()), None)
    if first is None or best is None or first.doubt or first.chance < BESIDES:
        return None
    if not isinstance(first.meaning, Finding) or not isinstance(best.meaning, Finding) or first.meaning == best.meaning:
        return None
    return Interpretation(words=words, meaning=first.meaning, options=(first.meaning, best.meaning), chance=0.5)


def _said_at_last(telling: list[Part], whole: Balance) -> bool:
    """Whether the sentence surely answers one thing and ends with it, told for sure: "pushed it, held it, nothing".

    What praises may be of another thing: "it does it in heat, cooling's fine".
    """
    best = next(iter(whole.ranked()), None)
    last = telling[-1] if telling else None
    if best is None or last is None or last.best is None or best.doubt or best.chance < SURELY or last.chance < SURELY:
        return False
    return meaning_key(last.best.meaning) == meaning_key(best.meaning) and not _PRAISE.intersection(notions(last.words))


def _is_told(part: Part, names: Names, all_told: Weighed) -> bool:
    """Whether a clause that is not sure tells something beside what the sentence does: a reading, a thing of the part
    that it names, a symptom where no answer was asked for."""
    assert part.best is not None
    meaning = part.best.meaning
    alone = isinstance(all_told.meaning, Told) and not names.named(part.words)
    return part.is_told_reading or names.about(part.words, meaning) or alone


def _is_excuse(part: Part) -> bool:
    """Whether a clause may say why something cannot be done: beside a clause that tells something it seldom does."""
    return part.best is not None and isinstance(part.best.meaning, Cannot) and part.chance < SURE


def _is_more_words(part: Part, names: Names) -> bool:
    """Whether a clause beside a sure answer may tell something, of nothing that it names or of what came before."""
    told = part.best.meaning if part.best is not None else None
    if not isinstance(told, Told | Indication) or part.is_told_reading:
        return False
    return part.carried if part.chance >= SURE else (part.carried or not names.about(part.words, told))


def _may_join_of(part: Part) -> bool:
    return part.best is not None and _may_join(part.best.meaning)


def _may_join(meaning: Meaning) -> bool:
    return isinstance(meaning, Finding | Indication | Readings | Told)


class _Found:
    """Answers and facts of the clauses, each once."""

    def __init__(self) -> None:
        self.answers: dict[object, Finding | Indication | Readings] = {}
        self.facts: dict[object, ToldFact] = {}
        self.contradicts = False

    @property
    def count(self) -> int:
        return len(self.answers) + len(self.facts)

    def add(self, meaning: Meaning) -> None:
        if isinstance(meaning, Told):
            if meaning.answer is not None:
                self.add(meaning.answer)
            for fact in meaning.facts:
                matter = fact.question if isinstance(fact, ToldAnswer) else fact.choice
                if self.facts.setdefault(matter, fact) != fact:
                    self.contradicts = True
        elif isinstance(meaning, Finding | Indication | Readings):
            self.answers.setdefault(meaning_key(meaning), meaning)

    def told(self) -> Told | None:
        """All of it as one meaning; of several symptoms at the question for them, the first is the answer."""
        answers = list(self.answers.values())
        others = [one for one in answers[1:] if isinstance(one, Indication)]
        if len(others) < len(answers) - 1:
            self.contradicts = True
        if not answers and not self.facts:
            return None
        return Told(answer=answers[0] if answers else None, facts=(*others, *self.facts.values()))


def _one(words: str, telling: list[Part], parts: list[Part], whole: Balance) -> Interpretation | None:
    """One clause tells something and the others nothing: it is taken, unless the whole sentence means something."""
    ranked = whole.ranked()
    if len(telling) != 1 or not telling[0].is_sure or (ranked and ranked[0].chance >= MAYBE):
        return None
    if any(part is not telling[0] and (part.nothing < TELLS_NOTHING or has_number(part.words)) for part in parts):
        return None
    best = telling[0].best
    assert best is not None
    return Interpretation(words=words, meaning=best.meaning, chance=best.chance)
