"""Keys of meanings, as the net ranks them, and the meanings behind them. ``net/protocol.py`` tells their forms."""

from __future__ import annotations

from functools import lru_cache
from typing import get_args

from assistant.language.meaning import (
    BackQuestion,
    BackTopic,
    Cannot,
    CannotReason,
    Command,
    Correction,
    Emergency,
    EmergencyKind,
    Finding,
    Indication,
    Meaning,
    Told,
    ToldAnswer,
)
from assistant.language.net import TALK
from assistant.language.scope import Scope, Tellable
from assistant.language.state import command_phrases

#: What is not in the grammar of commands: "check the ..." without its target, and "correction".
_MORE_COMMANDS = ("check", "correction")


@lru_cache(maxsize=1)
def anytime() -> tuple[str, ...]:
    """The keys of what may be said whatever is asked."""
    commands = dict.fromkeys(phrase.tag.removeprefix("command ") for phrase in command_phrases())
    return (
        *(f"command:{name}" for name in (*commands, *_MORE_COMMANDS)),
        *(f"cannot:{reason}" for reason in get_args(CannotReason)),
        *(f"ask:{topic}" for topic in get_args(BackTopic)),
        *(f"emergency:{kind}" for kind in get_args(EmergencyKind)),
        TALK,
    )


def own(scope: Scope) -> tuple[str, ...]:
    """The keys of the answers to the open question."""
    asked = scope.expectation
    if asked.choice_kind == "indication":
        return tuple(f"indication:{choice.id}" for choice in asked.choices)
    return tuple(f"{scope.key}=choice:{choice.id}" for choice in asked.choices)


@lru_cache(maxsize=4)
def told(tellable: Tellable) -> tuple[str, ...]:
    """The keys of all facts that may be told, but for readings."""
    findings = (
        f"{question}=choice:{choice.id}"
        for question, asked in tellable.questions.items()
        if question not in tellable.barred
        for choice in asked.choices
    )
    return (*(f"indication:{choice.id}" for choice in tellable.indications), *findings)


def candidates(scope: Scope) -> tuple[str, ...]:
    """Everything that may be meant now, the answers to the open question first; no key twice."""
    return tuple(dict.fromkeys((*own(scope), *anytime(), *told(scope.tellable))))


def meaning_of(key: str, scope: Scope) -> Meaning | None:
    """The meaning behind a key; None for talk."""
    kind, _, name = key.partition(":")
    question, named, answer = key.partition("=choice:")
    if named:
        finding = Finding(choice=answer)
        return finding if question == scope.key else Told(facts=(ToldAnswer(question=question, answer=finding),))
    match kind:
        case "indication":
            shown = Indication(choice=name)
            is_asked = scope.expectation.choice_kind == "indication" and bool(scope.expectation.choices)
            return shown if is_asked else Told(facts=(shown,))
        case "command":
            return Correction() if name == "correction" else Command(name=name)
        case "cannot":
            return Cannot.model_validate({"reason": name})
        case "ask":
            return BackQuestion.model_validate({"topic": name})
        case "emergency":
            return Emergency.model_validate({"what": name})
    return None


def key_of(meaning: Meaning, scope: Scope) -> str | None:
    """The key of a meaning; None for readings, free words, sums and whatever else the net does not rank."""
    match meaning:
        case Finding(choice=choice):
            return f"{scope.key}=choice:{choice}"
        case Indication(choice=choice):
            return f"indication:{choice}"
        case Command(name=name):
            return f"command:{name}"
        case Correction(meaning=None):
            return "command:correction"
        case Cannot(reason=reason):
            return f"cannot:{reason}"
        case BackQuestion(topic=topic):
            return f"ask:{topic}"
        case Emergency(what=what):
            return f"emergency:{what}"
        case Told(answer=None, facts=(ToldAnswer(question=question, answer=Finding(choice=choice)),)):
            return f"{question}=choice:{choice}"
        case Told(answer=None, facts=(Indication(choice=choice),)):
            return f"indication:{choice}"
    return None
