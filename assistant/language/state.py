"""One state's language: the shipped grammars joined with what its question expects."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from assistant.language import places
from assistant.language.automaton import Automaton, Lookup, compile_automaton
from assistant.language.jsgf import NULL, VOID, Alt, Expansion, Ref, Seq, Tagged, phrase
from assistant.language.meaning import Choice, Expectation
from assistant.language.sources import Problem, shipped, strings
from assistant.language.written import Token, spoken_ways, tokens

#: Quantities whose value has more forms than a number and a unit: rules of grammars/readings.jsgf.
_OWN_VALUE = ("temperature", "resistance", "mass", "length", "duration")


@dataclass(frozen=True)
class Phrase:
    """A closed phrase and what it means: ``tag`` is "choice ID", "command ID" or "check ID"."""

    words: str
    tag: str


def _one_of(choices: tuple[Choice, ...], kind: str) -> Expansion:
    return Alt(tuple((1.0, Tagged(_said(choice), f"{kind} {choice.id}")) for choice in choices))


def _said(choice: Choice) -> Expansion:
    ways: list[Expansion] = [phrase(spoken(text)) for text in choice.phrases]
    if choice.id in ("yes", "no"):
        ways.append(Ref(f"answers.{choice.id}"))
    return Alt(tuple((1.0, way) for way in ways))


def spoken(text: str) -> str:
    """A phrase from the knowledge as grammar words: hyphens opened, digits and signs said, case folded."""
    return " ".join(said for token in tokens(text) for said in _plain(token))


def _plain(token: Token) -> list[str]:
    return ["oh" if word == "o" else word for word in spoken_ways(token)[0]]


def _readings(expectation: Expectation) -> dict[str, Expansion]:
    reading = expectation.reading
    if reading is None:
        return {"unit": NULL, "value": VOID, "place": VOID, "readings": VOID}
    own = reading.quantity if reading.quantity in _OWN_VALUE else "value"
    return {
        "unit": Ref(f"units.{reading.quantity}"),
        "value": Ref(f"readings.{own}"),
        "place": places.expansion(reading.places, reading.quantity),
        "readings": Ref("readings.several" if reading.places else "readings.one"),
    }


def top(expectation: Expectation) -> Expansion:
    """Everything that may be said in this state."""
    parts: list[Expansion] = [Ref("commands.command"), Ref("corrections.correction"), Ref("state.choice")]
    if expectation.checks:
        parts.append(Seq((Ref("commands.check"), _one_of(_with_article(expectation.checks), "check"))))
    if not any(choice.id == "no" for choice in expectation.choices):
        parts.append(Tagged(phrase("no"), "correct"))
    return Alt(tuple((1.0, part) for part in parts))


def _with_article(checks: tuple[Choice, ...]) -> tuple[Choice, ...]:
    """Components are named with and without "the"."""

    def both(text: str) -> tuple[str, ...]:
        return (text,) if text.startswith(("the ", "a ")) else (text, f"the {text}")

    return tuple(Choice(id=check.id, phrases=tuple(s for t in check.phrases for s in both(t))) for check in checks)


def _rules(expectation: Expectation) -> dict[str, Expansion]:
    return {**_readings(expectation), "choice": _one_of(expectation.choices, "choice")}


def lookup(expectation: Expectation) -> Lookup:
    """Resolves the references of this state's rules."""
    return shipped().lookup(_rules(expectation))


@lru_cache(maxsize=128)
def automaton(expectation: Expectation) -> Automaton:
    """The tagged automaton of all that may be said in this state."""
    return compile_automaton(top(expectation), "state", lookup(expectation))


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


@lru_cache(maxsize=128)
def closed_phrases(expectation: Expectation) -> tuple[Phrase, ...]:
    """Every answer and command of this state that can be matched whole, answers first; no sentence twice."""
    find = lookup(expectation)
    found: dict[str, Phrase] = {}
    for choice in expectation.choices:
        for text in strings(_said(choice), find, "state"):
            found.setdefault(text, Phrase(text, f"choice {choice.id}"))
    for known in command_phrases():
        found.setdefault(known.words, known)
    return tuple(found.values())


def check_phrases(expectation: Expectation) -> tuple[Phrase, ...]:
    """ "check the ..." for each component and check that this state allows."""
    return tuple(
        Phrase(f"check {text}", f"check {check.id}")
        for check in _with_article(expectation.checks)
        for text in strings(_said(check), lookup(expectation), "state")
    )


def clashes(expectation: Expectation) -> list[Problem]:
    """Phrases of one question that mean two things, or that take a command's words away."""
    found: list[Problem] = []
    commands = {known.words: known.tag for known in command_phrases()}
    meant: dict[str, str] = {}
    for choice in expectation.choices:
        for text in {spoken(written) for written in choice.phrases}:
            if not text:
                what = f'The answer "{choice.id}" of {expectation.question} has an empty phrase.'
                found.append(Problem(expectation.question, 0, what, "Write words that can be said."))
            elif meant.setdefault(text, choice.id) != choice.id:
                what = f'"{text}" means both "{meant[text]}" and "{choice.id}" in {expectation.question}.'
                found.append(Problem(expectation.question, 0, what, "Word one of them differently."))
            tag = commands.get(text, "")
            if tag and tag != "command done":
                what = f'"{text}" is an answer of {expectation.question} and also the {tag}.'
                found.append(Problem(expectation.question, 0, what, "Word the answer differently."))
    return found
