"""One state's language: the shipped grammars joined with what its question expects."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from functools import lru_cache, partial
from threading import Lock

from assistant.language import places, sums
from assistant.language.automaton import Automaton, Lookup, compile_automaton
from assistant.language.jsgf import NULL, VOID, Alt, Expansion, Ref, Seq, Tagged, phrase
from assistant.language.meaning import Choice, Expectation, ReadingExpectation
from assistant.language.sources import Problem, shipped, strings
from assistant.language.written import as_words

#: Rules of what may be said whatever is asked, besides commands.
ANYTIME = ("cannot.cannot", "questions.ask", "emergencies.emergency")
#: Quantities whose value has more forms than a number and a unit: rules of grammars/readings.jsgf.
_OWN_VALUE = ("temperature", "resistance", "mass", "length", "duration")


@dataclass(frozen=True)
class Phrase:
    """A closed phrase and what it means: ``tag`` is "choice ID", "command ID", "check ID", or as in ``ANYTIME``."""

    words: str
    tag: str


@dataclass(frozen=True)
class Part:
    """A part of a state's language. Equal keys mean equal languages whatever the question, so each is made once."""

    key: Hashable
    make: Callable[[], Expansion]


def _one_of(choices: tuple[Choice, ...], kind: str, good: str = "") -> Expansion:
    return Alt(tuple((1.0, Tagged(_said(choice, good), f"{kind} {choice.id}")) for choice in choices))


def _said(choice: Choice, good: str = "") -> Expansion:
    """Every way to say a choice; ``good`` is the one that "all good" means."""
    ways: list[Expansion] = [phrase(as_words(text)) for text in choice.phrases]
    if choice.id in ("yes", "no"):
        ways.append(Ref(f"answers.{choice.id}"))
    if choice.id == good:
        ways.append(Ref("answers.good"))
    return Alt(tuple((1.0, way) for way in ways))


def _readings(reading: ReadingExpectation | None) -> dict[str, Expansion]:
    if reading is None:
        return {"unit": NULL, "value": VOID, "place": VOID, "readings": VOID}
    own = reading.quantity if reading.quantity in _OWN_VALUE else "value"
    return {
        "unit": Ref(f"units.{reading.quantity}"),
        "value": Ref(f"readings.{own}"),
        "place": places.expansion(reading.places, reading.quantity),
        "readings": Ref("readings.several" if reading.places else "readings.one"),
    }


def parts(expectation: Expectation) -> list[Part]:
    """Everything that may be said in this state."""
    now, before = expectation.reading, corrected(expectation)
    found = [Part("commands", lambda: Ref("commands.command")), Part("again", lambda: Ref("corrections.again"))]
    found += [Part(rule, partial(Ref, rule)) for rule in ANYTIME]
    found.append(Part("ledger", lambda: Ref("ledger.entry")))
    if expectation.choices:
        key = ("choices", expectation.choices, expectation.good)
        found.append(Part(key, lambda: Ref("corrections.choice")))
    if now is not None:
        found.append(Part(("readings", now.quantity, now.places), lambda: Ref("corrections.reading")))
    if before is not None or expectation.corrects_choices:
        earlier = ("earlier", before and (before.quantity, before.places), expectation.corrects_choices)
        found.append(Part(earlier, lambda: Ref("corrections.earlier")))
    if not expectation.text:
        found.append(Part("sums", lambda: Ref("calculations.calculation")))
    if expectation.checks:
        found.append(Part(("checks", expectation.checks), lambda: _checking(expectation.checks)))
    if not any(choice.id == "no" for choice in expectation.choices):
        found.append(Part("no", lambda: Tagged(phrase("no"), "correct")))
    return found


def _checking(checks: tuple[Choice, ...]) -> Expansion:
    return Seq((Ref("commands.check"), _one_of(_with_article(checks), "check")))


def _with_article(checks: tuple[Choice, ...]) -> tuple[Choice, ...]:
    """Components are named with and without "the"; a phrase that begins with "check" loses it."""
    return tuple(
        Choice(id=check.id, phrases=tuple(dict.fromkeys(way for text in check.phrases for way in _named(text))))
        for check in checks
    )


def _named(text: str) -> tuple[str, ...]:
    words = as_words(text)
    verb = next((verb for verb in ("check ", "test ", "look at ") if words.startswith(verb)), "")
    name = words.removeprefix(verb).removeprefix("the ").removeprefix("a ")
    return (name, f"the {name}")


def corrected(expectation: Expectation) -> ReadingExpectation | None:
    """The reading that "correction" would replace, where it was asked differently from the present one."""
    before, now = expectation.corrects, expectation.reading
    if before is None or (now is not None and _alike(before, now)):
        return None
    return before


def _alike(one: ReadingExpectation, other: ReadingExpectation) -> bool:
    """The same question but for the order of its places."""
    return one.model_copy(update={"places": ()}) == other.model_copy(update={"places": ()}) and set(one.places) == set(
        other.places
    )


def lookup(expectation: Expectation) -> Lookup:
    """Resolves the references of this state's rules."""
    now = (
        _readings(expectation.reading)
        | {"choice": _one_of(expectation.choices, "choice", expectation.good)}
        | sums.rules()
    )
    before = _readings(corrected(expectation)) | {"choice": _one_of(expectation.corrects_choices, "choice")}
    return shipped().lookup({"now": now, "before": before})


def quantities(expectation: Expectation) -> dict[str, str]:
    """The quantity asked now and the one that a correction replaces, "" where there is none."""
    before = corrected(expectation)
    return {
        "now": expectation.reading.quantity if expectation.reading else "",
        "before": before.quantity if before else "",
    }


#: Automata of parts, the one that was used last at the end. A state has some fifteen, and a day comes to hundreds: what
#: was not used for so long goes, 0.1 MB each, and is made again in some ms.
AUTOMATA: dict[Hashable, Automaton] = {}
KEPT = 96
#: They are made ahead in a thread of its own, too.
_MAKING = Lock()


@lru_cache(maxsize=16)
def automata(expectation: Expectation) -> tuple[Automaton, ...]:
    """The tagged automata of all that may be said in this state, one for each part."""
    with _MAKING:
        made = tuple(_automaton(part, expectation) for part in parts(expectation))
        while len(AUTOMATA) > KEPT:
            del AUTOMATA[next(iter(AUTOMATA))]
    return made


def _automaton(part: Part, expectation: Expectation) -> Automaton:
    made = AUTOMATA.pop(part.key, None) or compile_automaton(part.make(), "state@now", lookup(expectation))
    AUTOMATA[part.key] = made
    return made


@lru_cache(maxsize=1)
def command_phrases() -> tuple[Phrase, ...]:
    """Every command phrase of the grammars, in order."""
    find = shipped().lookup({})
    rule = find("commands.command", "commands")[0]
    assert isinstance(rule, Alt)
    return tuple(
        Phrase(text, item.tag)
        for _, item in rule.items
        if isinstance(item, Tagged)
        for text in strings(item.item, find, "commands")
    )


@lru_cache(maxsize=16)
def closed_phrases(expectation: Expectation) -> tuple[Phrase, ...]:
    """Every answer and command of this state that can be matched whole, answers first; no sentence twice."""
    find = shipped().lookup({})
    found: dict[str, Phrase] = {}
    for choice in expectation.choices:
        for text in strings(_said(choice, expectation.good), find, "state@now"):
            found.setdefault(text, Phrase(text, f"choice {choice.id}"))
    for known in command_phrases():
        found.setdefault(known.words, known)
    return tuple(found.values())


def check_phrases(expectation: Expectation) -> tuple[Phrase, ...]:
    """ "check the ..." for each component and check that this state allows."""
    return _checks(expectation.checks)


@lru_cache(maxsize=8)
def _checks(checks: tuple[Choice, ...]) -> tuple[Phrase, ...]:
    named = ((check.id, as_words(text)) for check in _with_article(checks) for text in check.phrases)
    return tuple(Phrase(f"check {text}", f"check {name}") for name, text in named)


#: Commands that are meant only where the same words are no answer.
_ANSWERS_FIRST = frozenset({"command done", "command acknowledged"})


def clashes(expectation: Expectation) -> list[Problem]:
    """Phrases of one question that mean two things, or that take a command's words away."""
    found: list[Problem] = []
    commands = {known.words: known.tag for known in command_phrases()}
    meant: dict[str, str] = {}
    for choice in expectation.choices:
        for text in {as_words(written) for written in choice.phrases}:
            if not text:
                what = f'The answer "{choice.id}" of {expectation.question} has an empty phrase.'
                found.append(Problem(expectation.question, 0, what, "Write words that can be said."))
            elif meant.setdefault(text, choice.id) != choice.id:
                what = f'"{text}" means both "{meant[text]}" and "{choice.id}" in {expectation.question}.'
                found.append(Problem(expectation.question, 0, what, "Word one of them differently."))
            tag = commands.get(text, "")
            if tag and tag not in _ANSWERS_FIRST:
                what = f'"{text}" is an answer of {expectation.question} and also the {tag}.'
                found.append(Problem(expectation.question, 0, what, "Word the answer differently."))
    return found
