"""From words that were heard well to what they mean now: the grammar, readings among other words, the net beneath.

One rule decides (``deciding``): a meaning that is likely enough is taken at once, one that is fairly likely is asked
back, of two or three that are near each other it is asked which; else nothing is near.
"""

from __future__ import annotations

from assistant.language import keys
from assistant.language.clauses import clauses, tells_little
from assistant.language.cues import denies, is_asked, speaks_of_power
from assistant.language.deciding import ASKED, decided
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    Choice,
    Command,
    Correction,
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
    ToldFact,
)
from assistant.language.named_choices import named_within
from assistant.language.net import KnowsNothing, Net
from assistant.language.opinions import Opinion, opinion
from assistant.language.own_words import answers_in_own_words
from assistant.language.parts import by_parts
from assistant.language.scope import Scope
from assistant.language.subjects import nameless, subjects
from assistant.language.told_readings import told_readings
from assistant.language.trends import trend_asked
from assistant.language.twins import are_twins, join_twins
from assistant.language.weighing import (
    AMONG_OTHERS,
    BESIDE_THE_NET,
    CHECK,
    EXACT,
    LEAST,
    NEAR,
    OWN_WORDS,
    OWN_WORDS_IN_PART,
    STANDS_IN_THE_GRAMMAR,
    TOLD_READING,
    Balance,
)
from assistant.language.within import is_bare_reading, reading_within, targets_within
from assistant.language.written import as_words


def understand(words: str, scope: Scope, net: Net | None = None) -> Interpretation:
    """What ``words`` mean in ``scope``, and whether to take it at once, to confirm it or to ask which of two or three.

    ``meaning`` None: nothing is near (or, with ``talk``, the words are not for the assistant). Who is asked whether or
    which something was meant, and neither says so nor asks for something, may answer the question beneath anew.
    """
    net = net or KnowsNothing()
    found = _understood(words, scope, net)
    if scope.beneath is None or _is_settled(found):
        return found
    anew = _understood(words, scope.beneath, net)
    return anew if _is_sure(anew) and isinstance(anew.meaning, Finding | Indication | Readings | Command) else found


def _is_sure(found: Interpretation) -> bool:
    return found.meaning is not None and not (found.doubt or found.options)


def _is_settled(found: Interpretation) -> bool:
    """Whether words settle what was asked back, or are a request or another matter that goes before it."""
    return _is_sure(found) and not isinstance(found.meaning, Told)


def _understood(words: str, scope: Scope, net: Net) -> Interpretation:
    exact = interpret(words, scope.expectation)
    if isinstance(exact.meaning, Text) or _names_check(exact):
        return exact
    if isinstance(exact.meaning, LedgerSaid) and not exact.doubt:  # it begins with its own word
        return exact
    named = _check_named(words, scope) if exact.meaning is None or exact.doubt else None
    if named is None and (exact.meaning is None or exact.doubt):
        named = trend_asked(words, scope.expectation.checks)
    if named is not None:
        return Interpretation(words=words, meaning=named)
    whole = _weighed(words, scope, net, exact)
    silent = isinstance(net, KnowsNothing)
    cut = clauses(words)
    parts = [part for part in cut if not tells_little(part)]
    if len(cut) > 1 and parts and not silent:
        bare = _bare_answer(cut, scope)
        told = by_parts(words, parts, bare, lambda part: _weighed(part, scope, net), whole, _Names(scope))
        if told is not None:
            return told
    found = decided(words, whole, scope, silent)
    return _asked_back(found, exact, scope) if scope.of_energy else found


def _asked_back(found: Interpretation, exact: Interpretation, scope: Scope) -> Interpretation:
    """An answer that changes what is shown of the power is asked back, unless it was given in the question's words.

    The first choice of such a question gives safety: it counts in its own words alone, and is put into nobody's mouth
    ("it is on" is not "locked"). A question, a number and words of power that is there are no choice at all.
    """
    words, asked = found.words, scope.expectation
    exactly = exact.meaning if not exact.doubt else None
    in_its_words = _in_its_very_words(words, asked)
    first = Finding(choice=asked.choices[0].id) if asked.choices else None
    of_another = speaks_of_power(words) or is_bare_reading(words) or is_asked(words)

    def may_be(one: Meaning | None) -> bool:
        if not isinstance(one, Finding) or one == exactly:
            return True
        return not of_another and (one != first or _has_its_words(words, asked.choices[0]))

    said = found.options or (found.meaning,)
    left = tuple(one for one in said if may_be(one))
    if left != said:
        doubt = found.doubt if left else ""
        meaning, options = (left[0], left) if left[1:] else (left[0] if left else None, ())
        found = found.model_copy(update={"meaning": meaning, "options": options, "doubt": doubt})
    if not isinstance(found.meaning, Finding | Command) or found.doubt or found.options:
        return found
    if found.meaning in (exactly, in_its_words):
        return found
    return found.model_copy(update={"doubt": f'"{words.strip()}" is not how it is said here.'})


#: Words of a phrase that may be left out.
_LITTLE = frozenset({"it", "it's", "is", "and", "the", "a", "that", "that's"})


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


class _Names:
    """What words name, held against what a meaning and the open question are about."""

    def __init__(self, scope: Scope) -> None:
        self._scope = scope
        self._about = subjects(scope.tellable)

    def about(self, words: str, meaning: Meaning) -> bool:
        return self._share(words, keys.key_of(meaning, self._scope) or _matter(meaning)) > 0

    def another(self, words: str, meaning: Meaning) -> bool:
        return bool(self._about.named(words)) and not self.about(words, meaning)

    def elsewhere(self, words: str) -> bool:
        return not self._share(words, self._scope.key)

    def the_same(self, one: Meaning, other: Meaning) -> bool:
        return are_twins(one, other, self._scope)

    def _share(self, words: str, key: str) -> float:
        return self._about.about(self._about.named(words), key.partition("=")[0]).share


def _matter(meaning: Meaning) -> str:
    """The question of a fact that the net does not rank: a reading."""
    fact = meaning.facts[0] if isinstance(meaning, Told) and meaning.facts else None
    return fact.question if isinstance(fact, ToldAnswer) else ""


def _bare_answer(cut: tuple[str, ...], scope: Scope) -> Finding | None:
    """What a bare "yes" or "no" at the beginning answers, where it is an answer."""
    found = interpret(cut[0], scope.expectation).meaning if tells_little(cut[0]) else None
    return found if isinstance(found, Finding) else None


def _names_check(exact: Interpretation) -> bool:
    """ "Check the float switch" in the grammar's own words needs no second opinion."""
    return isinstance(exact.meaning, Command) and bool(exact.meaning.argument) and not exact.doubt


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


# ---- one clause -------------------------------------------------------------------------------------------------


def _weighed(words: str, scope: Scope, net: Net, exact: Interpretation | None = None) -> Balance:
    """Everything that one clause may mean."""
    exact = exact or interpret(words, scope.expectation)
    told = opinion(words, scope, net)
    balance = Balance(nothing=told.nothing)
    reading = reading_within(words, scope) if exact.meaning is None or exact.doubt else None
    is_read = reading is not None or _is_reading(exact.meaning)
    _add_ranked(balance, words, told, scope, is_read)
    for target, likeness in targets_within(words, scope.expectation.checks):
        share = max(told.chances.get("command:check", 0.0), told.nothing, STANDS_IN_THE_GRAMMAR)
        balance.add(Command(name="check", argument=target), CHECK[likeness] * share)
    _add_own_words(balance, words, told, scope)
    if scope.expectation.names and exact.meaning is None:
        for choice in named_within(words, scope.expectation.choices):
            balance.add(Finding(choice=choice), OWN_WORDS)
    if reading is None or reading.doubt or not _is_reading(exact.meaning):
        _add_exact(balance, exact, told, scope)
    if reading is not None:
        balance.add(reading.meaning, reading.weight * max(told.nothing, AMONG_OTHERS), reading.doubt)
    _add_told_readings(balance, words, told, scope, is_read)
    _add_shown(balance, words, scope)
    join_twins(balance, scope)
    return balance


def _add_shown(balance: Balance, words: str, scope: Scope) -> None:
    """What the unit's own profile calls a fault, told while something else is asked."""
    if not scope.shown or any(choice in scope.expectation.choices for choice in scope.shown):
        return
    choice, wholly = answers_in_own_words(words, Expectation(question="shown", choices=scope.shown))
    if choice is not None and wholly:
        balance.add(Told(facts=(Indication(choice=choice),)), OWN_WORDS)


#: So much of the parts that are named must be what a fact is about.
_MINE = 0.45
#: A symptom in so many words needs no part to be named, unless another one is.
_PLAIN = 3


def _add_ranked(balance: Balance, words: str, told: Opinion, scope: Scope, is_read: bool) -> None:
    """The net's opinion. What falls away, as no fact at all, speaks for nothing that is left."""
    about = subjects(scope.tellable)
    named = about.named(words)
    asked = about.about(named, scope.key).named
    no_fact = is_bare_reading(words)  # a number alone tells nothing of what a unit shows
    for key, chance in told.chances.items():
        meaning = keys.meaning_of(key, scope)
        if meaning is None or chance < LEAST or meaning == Command(name="check"):
            continue
        part = about.about(named, key.partition("=")[0])
        mine = part.named
        is_told = isinstance(meaning, Told)
        if is_told and is_read and mine <= asked:
            continue
        may_be = not is_told or mine > 0 or _may_go_unnamed(key, words, scope)
        if not may_be or (no_fact and (is_told or isinstance(meaning, Indication))):
            balance.unnamed += chance
            continue
        is_plain = "=" not in key and not named and len(words.split()) >= _PLAIN  # "it's not cooling much"
        is_mine = part.share >= _MINE or is_plain
        doubt = f'"{words.strip()}" may be about something else.' if is_told and not is_mine else ""
        balance.add(meaning, chance, doubt)


def _may_go_unnamed(key: str, words: str, scope: Scope) -> bool:
    """Whether a fact may be told without its part's name: a symptom in so many words, "it only does it in the heat"."""
    if "=" in key:
        return key.partition("=")[0] in nameless(scope.tellable)
    return len(words.split()) >= _PLAIN


def _add_told_readings(balance: Balance, words: str, told: Opinion, scope: Scope, is_read: bool) -> None:
    """Readings of other checks, where something was named that the open question is not about."""
    found = [one for one in told_readings(words, scope.tellable) if one.fact.question != scope.key]
    if not found:
        return
    about = subjects(scope.tellable)
    named = about.named(words)
    mine = about.about(named, scope.key).named
    left = TOLD_READING * (1.0 - sum(told.chances.get(key, 0.0) for key in keys.own(scope)))
    for one in found:
        if is_read and about.about(named, one.fact.question).named <= mine:
            continue
        odds = one.chance / (1.0 - one.chance)
        facts = (*_found_with(one.fact, told, scope), one.fact)
        balance.add(Told(facts=facts), odds * max(told.nothing, left))


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
    choice, wholly = answers_in_own_words(words, scope.expectation)
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
