"""Everything that one clause may mean: the grammar, readings among other words and the net, put on one balance."""

from __future__ import annotations

from assistant.language import keys
from assistant.language.asked_frames import topics_within
from assistant.language.clauses import tells_little
from assistant.language.deciding import ASKED
from assistant.language.interpret import interpret
from assistant.language.lexical import word_counts
from assistant.language.meaning import (
    BackQuestion,
    Command,
    Correction,
    Expectation,
    Finding,
    Indication,
    Interpretation,
    Meaning,
    Readings,
    Told,
    ToldAnswer,
    ToldFact,
)
from assistant.language.mention_rows import is_pair
from assistant.language.named_choices import named_within
from assistant.language.net import Net
from assistant.language.number_words import NUMBER_WORDS
from assistant.language.opinions import Opinion, leaning, opinion
from assistant.language.own_words import answers_in_own_words
from assistant.language.requested import targets_within
from assistant.language.scope import Scope
from assistant.language.subjects import nameless, notions, subjects
from assistant.language.told_readings import told_readings
from assistant.language.twins import join_twins
from assistant.language.weighing import (
    AMONG_OTHERS,
    ASKED_FRAME,
    BESIDE_THE_NET,
    CHECK,
    EXACT,
    LEAST,
    NEAR,
    OWN_WORDS,
    OWN_WORDS_IN_PART,
    STANDS_IN_A_REQUEST,
    STANDS_IN_THE_GRAMMAR,
    TOLD_READING,
    Balance,
)
from assistant.language.within import is_bare_reading, is_bare_temperature, reading_within
from assistant.language.written import as_words

#: A symptom in so many words needs no part to be named, unless another one is; fewer do beside another clause.
_PLAIN, PLAIN_CLAUSE, PLAIN_BESIDE_A_READING = 3, 2, 4


def weighed(
    words: str,
    scope: Scope,
    net: Net,
    exact: Interpretation | None = None,
    before: str = "",
    plain: int = _PLAIN,
) -> Balance:
    """Everything that one clause may mean, behind what was said ``before``; in ``plain`` words a symptom is one."""
    exact = exact or interpret(words, scope.expectation)
    told = leaning(opinion(words, scope, net), words, before, scope)
    balance = Balance(nothing=told.nothing)
    reading = reading_within(words, scope) if exact.meaning is None or exact.doubt else None
    outside = _is_outside(exact.meaning, scope) or _is_pointed_once(exact.meaning)
    if outside and (other := reading_within(words, scope)) is not None and not _is_outside(other.meaning, scope):
        reading = other
    else:
        outside = False
    is_read = reading is not None or _is_reading(exact.meaning)
    _add_ranked(balance, words, told, scope, is_read, plain)
    in_its_words = exact.meaning is not None and not exact.doubt  # "next leak check" asks for the duties
    for target, likeness in () if in_its_words else targets_within(words, scope.expectation.checks):
        share = max(told.chances.get("command:check", 0.0), told.nothing, STANDS_IN_A_REQUEST)
        doubt = f'"{words.strip()}" may tell what is done anyway.' if likeness == "told" else ""
        balance.add(Command(name="check", argument=target), CHECK[likeness] * share, doubt)
    _add_asked(balance, words, told, scope)
    _add_own_words(balance, words, told, scope)
    if scope.expectation.names and exact.meaning is None:
        for choice in named_within(words, scope.expectation.choices):
            balance.add(Finding(choice=choice), OWN_WORDS)
    if not outside and (reading is None or reading.doubt or not _is_reading(exact.meaning)):
        _add_exact(balance, exact, told, scope)
    if reading is not None:
        balance.add(reading.meaning, reading.weight * max(told.nothing, AMONG_OTHERS), reading.doubt)
    _add_told_readings(balance, words, told, scope, is_read)
    _add_shown(balance, words, scope)
    join_twins(balance, scope)
    return balance


#: Words are likely for others from this chance of "none of these" on: then a frame without a part is a weak sign.
_TALK, _WEAK = 0.8, 0.08


def _add_asked(balance: Balance, words: str, told: Opinion, scope: Scope) -> None:
    """A question back in one of its frames, whatever it is about."""
    about = subjects(scope.tellable)
    topics = topics_within(words, lambda part: bool(about.named(part)))
    for topic in topics:
        kind, _, name = topic.partition(" ")
        meaning: Meaning = Command(name=name) if kind == "command" else BackQuestion(topic=name)  # type: ignore[arg-type]
        may_be_talk = not told.silent and told.nothing >= _TALK and not about.named(words)
        stands = _WEAK if may_be_talk else STANDS_IN_A_REQUEST
        share = max(told.chances.get(topic.replace(" ", ":"), 0.0), stands)
        balance.add(meaning, ASKED_FRAME * share / len(topics))


def _add_shown(balance: Balance, words: str, scope: Scope) -> None:
    """What the unit's own profile calls a fault, told while something else is asked."""
    if not scope.shown or any(choice in scope.expectation.choices for choice in scope.shown):
        return
    choice, wholly = answers_in_own_words(words, Expectation(question="shown", choices=scope.shown))
    if choice is not None and wholly:
        balance.add(Told(facts=(Indication(choice=choice),)), OWN_WORDS)


#: So much of the parts that are named must be what a fact is about.
_MINE = 0.45
#: Or it must be this likely.
_SURELY = 0.99


#: A fact of a part that nobody named is asked back where it is so likely and told in so many words.
_UNNAMED, _MANY = 0.95, 4

#: Of so few words one at least must be known of what they are taken for, or it is asked back, and is yes or no only
#: where it is this likely: the net finds something near to any word ("fahrenheit"). What the question is about does
#: not tell what was found.
_FEW, _LIKELY = 2, 0.9


def _add_ranked(balance: Balance, words: str, told: Opinion, scope: Scope, is_read: bool, plain: int) -> None:
    """The net's opinion. What falls away, as no fact at all, speaks for nothing that is left."""
    about = subjects(scope.tellable)
    named = about.named(words)
    asked = about.about(named, scope.key).named
    no_fact = is_bare_reading(words)  # a number alone tells nothing of what a unit shows
    of_air = is_bare_temperature(words)
    counts = word_counts(scope.tellable)
    has_unit = not NUMBER_WORDS.issuperset(as_words(words).split())
    bare = tells_little(words)  # a "nope" answers a question of yes and no alone
    said = notions(words)
    for key, chance in told.chances.items():
        meaning = keys.meaning_of(key, scope)
        if meaning is None or chance < LEAST or meaning == Command(name="check"):
            continue
        part = about.about(named, key.partition("=")[0])
        mine = part.named
        is_told = isinstance(meaning, Told)
        if is_told and is_read and mine <= asked:
            continue
        telling = [one for one in said if one not in about.of_title(key.partition("=")[0])] if _is_said_of(key) else []
        no_answer = (no_fact and has_unit) or (bare and not key.endswith(("choice:yes", "choice:no", "choice:done")))
        if no_answer and "=" in key:
            balance.nothing += chance
            continue
        strange = 0 < len(telling) <= _FEW and not counts.speaks_for(telling, key)
        is_plain_answer = key.endswith(("choice:yes", "choice:no")) and chance < _LIKELY
        if strange and (is_plain_answer or not NUMBER_WORDS.isdisjoint(telling)):
            balance.nothing += chance
            continue
        may_be = not is_told or mine > 0 or _may_go_unnamed(key, words, told, scope, plain)
        if not may_be and chance >= _UNNAMED and len(words.split()) >= _MANY and not no_fact:
            balance.add(meaning, chance, f'"{words.strip()}" names nothing that it may be about.')
            continue
        if of_air and isinstance(meaning, Indication):
            continue
        if not may_be or (no_fact and (is_told or isinstance(meaning, Indication))):
            balance.unnamed += chance
            continue
        is_plain = "=" not in key and not named and len(words.split()) >= plain  # "it's not cooling much"
        is_mine = part.share >= _MINE or is_plain or (mine > 0 and chance >= _SURELY)
        doubt = f'"{words.strip()}" may be about something else.' if is_told and not is_mine else ""
        if strange and not doubt:
            doubt = f'"{words.strip()}" was not wholly understood.'
        balance.add(meaning, chance, doubt)


def _is_said_of(key: str) -> bool:
    """Whether a key is something said of the unit: an answer, a fact, a symptom."""
    return "=" in key or key.startswith("indication:")


#: So likely must a symptom be that is also a finding, to be told without its part's name.
_SHOWN = 0.2


def _may_go_unnamed(key: str, words: str, told: Opinion, scope: Scope, plain: int) -> bool:
    """Whether a fact may be told without its part's name: a symptom in so many words, "it only does it in the heat"."""
    enough = len(words.split()) >= plain
    if "=" not in key:
        return enough
    twins = scope.tellable.twins.get(key, frozenset())
    shown = enough and any(told.chances.get(one, 0.0) >= _SHOWN for one in twins if one.startswith("indication:"))
    return shown or key.partition("=")[0] in nameless(scope.tellable)


def _add_told_readings(balance: Balance, words: str, told: Opinion, scope: Scope, is_read: bool) -> None:
    """Readings of other checks, where something was named that the open question is not about."""
    found = [one for one in told_readings(words, scope.tellable) if one.facts[0].question != scope.key]
    if not found:
        return
    about = subjects(scope.tellable)
    named = about.named(words)
    mine = about.about(named, scope.key).named
    slipped = scope.expectation.reading is not None and is_bare_reading(words)  # a wrong unit, or another reading
    mine_already = 0.0 if is_bare_temperature(words) else sum(told.chances.get(key, 0.0) for key in keys.own(scope))
    left = TOLD_READING * (1.0 - mine_already)
    for one in found:
        if is_read and about.about(named, one.facts[0].question).named <= mine:
            continue
        odds = one.chance / (1.0 - one.chance)
        facts = (*_found_with(one.facts[0], told, scope), *one.facts)
        doubt = f'"{words.strip()}" is no answer to what was asked.' if slipped else ""
        balance.add(Told(facts=facts), odds * max(told.nothing, left), doubt)


def _found_with(reading: ToldAnswer, told: Opinion, scope: Scope) -> tuple[ToldFact, ...]:
    """What the same words say besides to another question of the same check: "it jumps between twelve and forty"."""
    check = reading.question.partition(".")[0]
    for key, chance in told.chances.items():
        if key.startswith(f"{check}.") and "=" in key and chance >= ASKED:
            meaning = keys.meaning_of(key, scope)
            return meaning.facts if isinstance(meaning, Told) else ()
    return ()


def _is_reading(meaning: Meaning | None) -> bool:
    return isinstance(meaning.meaning if isinstance(meaning, Correction) else meaning, Readings)


def _is_outside(meaning: Meaning | None, scope: Scope) -> bool:
    """Whether any of several readings is none that can be read here: another way to put the row together may be."""
    wanted = scope.expectation.reading
    if wanted is None or not isinstance(meaning, Readings) or len(meaning.items) < _ROW:
        return False
    low, high = wanted.plausible
    return any(one.value is not None and not low <= one.value <= high for one in meaning.items)


def _is_pointed_once(meaning: Meaning | None) -> bool:
    """Whether of a row of readings one has a point and another is two digits: "ten point one, nine eight"."""
    items = meaning.items if isinstance(meaning, Readings) else ()
    pointed = any("point" in one.words.split() for one in items)
    return pointed and any(one.unit_assumed and is_pair(one.words) for one in items)


_ROW = 2


def _add_exact(balance: Balance, exact: Interpretation, told: Opinion, scope: Scope) -> None:
    """The grammar's opinion, weighed with the net's where it has one."""
    near = "is not quite" in exact.doubt
    answered = any(told.chances.get(key, 0.0) >= ASKED for key in keys.own(scope))
    for at, meaning in enumerate((exact.meaning, *exact.alternatives) if exact.meaning is not None else ()):
        key = keys.key_of(meaning, scope)
        chance = max(told.nothing, AMONG_OTHERS) if key is None else _chance(key, told, scope)
        if not (near or at or answered):  # a sentence of the grammar is meant, however little the net thinks of it
            chance = max(chance, STANDS_IN_THE_GRAMMAR)
        balance.add(meaning, (NEAR if near or at else EXACT) * chance, "" if near else exact.doubt)


def _add_own_words(balance: Balance, words: str, told: Opinion, scope: Scope) -> None:
    """A choice in the question's own words, with other small words and endings."""
    called = scope.tellable.called.get(scope.key)
    choice, wholly = answers_in_own_words(words, scope.expectation, called.asked if called is not None else "")
    if choice is None:
        return
    is_shown = scope.expectation.choice_kind == "indication"
    meaning: Meaning = Indication(choice=choice) if is_shown else Finding(choice=choice)
    chance = _chance(keys.key_of(meaning, scope) or "", told, scope)
    weight = OWN_WORDS if wholly else OWN_WORDS_IN_PART
    balance.add(meaning, (weight if told.silent else weight * BESIDE_THE_NET) * chance)


def _chance(key: str, told: Opinion, scope: Scope) -> float:
    """The net's chance of a key; certain for what it cannot know: a maker's display texts, yes to a read-back."""
    if told.silent or not (key in keys.anytime() or key in keys.told(scope.tellable)):
        return 1.0
    return max(told.chances.get(key, 0.0), LEAST)
