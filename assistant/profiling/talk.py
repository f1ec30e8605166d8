"""The interview as a fold over what was said: every answer is read back, may be taken back, and nothing is lost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from assistant.language.closed import YES_NO
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    Cannot,
    Command,
    Expectation,
    Finding,
    Heard,
    Meaning,
    ReadingExpectation,
    Readings,
    Text,
)
from assistant.language.units import from_canonical, say, to_canonical
from assistant.library.loader import Library
from assistant.messages.catalogue import catalogue
from assistant.messages.message import message
from assistant.profiling.steps import LATER, Answers, Step, steps

Value = str | float | None


@dataclass(frozen=True)
class Interview:
    """Where the interview stands. ``given`` holds the answers in their order; ``doubtful`` waits for a yes or no."""

    library: Library
    given: tuple[tuple[str, Value], ...] = ()
    doubtful: str | float | None = None

    @property
    def answers(self) -> Answers:
        """The answers by step."""
        return dict(self.given)

    def step(self) -> Step | None:
        """The question that waits for an answer, or None when all were asked."""
        answers = self.answers
        return next((step for step in steps(answers, self.library) if step.id not in answers), None)

    @property
    def expectation(self) -> Expectation:
        """What may be answered now."""
        step = self.step()
        if self.doubtful is not None:
            return Expectation(question="profile.confirm", choices=YES_NO, topic=_words("profile-confirm-topic"))
        return expectation(step) if step is not None else Expectation(question="profile.done")

    def say(self, words: str) -> tuple[Interview, str]:
        """The interview after typed ``words`` and what to reply: a read-back, or why the words do not fit."""
        if _is_not_there(words):
            return self.take(Command(name="skip"))
        made = interpret(words, self.expectation)
        return self.take(made.meaning, sure=not made.doubt)

    def hear(self, heard: Heard) -> tuple[Interview, str]:
        """The same for a judged utterance."""
        if _is_not_there(heard.words) and heard.trust != "again":
            return self.take(Command(name="skip"), sure=heard.trust == "sure")
        if heard.trust == "again":
            return self.take(None)
        return self.take(heard.meaning, sure=heard.trust == "sure")

    def take(self, meaning: Meaning | None, sure: bool = True) -> tuple[Interview, str]:
        """The interview after a meaning; one that is not sure is read back and asked."""
        step = self.step()
        if step is None:
            return self, _words("profile-all-asked")
        if isinstance(meaning, Cannot):  # nobody knows, there is none; "later" is an answer where it is asked
            later = any(choice.id == LATER.id for choice in step.choices)
            meaning, sure = (Finding(choice=LATER.id), True) if later else (Command(name="skip"), sure)
        if isinstance(meaning, Command):
            return replace(self, doubtful=None)._command(meaning.name, step)
        if self.doubtful is not None:
            return self._confirmed(meaning, step, self.doubtful)
        value = _VALUE[_kind(step)](step, meaning)
        if value is None:
            return self, f"{_words('profile-not-heard')} {_help(step)}"
        if isinstance(value, float) and not step.bounds[0] <= value <= step.bounds[1]:
            low, high = step.bounds
            outside = _words("profile-outside", value=f"{value:g}", low=f"{low:g}", high=f"{high:g}")
            return self, f"{outside} {step.say}"
        if not sure:
            return replace(self, doubtful=value), _words("profile-heard-right", value=_read_back(step, value)[:-1])
        return self._given(step, value)

    def _given(self, step: Step, value: str | float) -> tuple[Interview, str]:
        return replace(self, given=(*self.given, (step.id, value)), doubtful=None), _read_back(step, value)

    def _confirmed(self, meaning: Meaning | None, step: Step, value: str | float) -> tuple[Interview, str]:
        if not isinstance(meaning, Finding):
            asked = _words("profile-yes-or-no", value=_read_back(step, value)[:-1])
            return self, f"{_words('profile-not-heard')} {asked}"
        if meaning.choice == "yes":
            return self._given(step, value)
        return replace(self, doubtful=None), step.say

    def _command(self, name: str, step: Step) -> tuple[Interview, str]:
        if name == "go-back" and self.given:
            return replace(self, given=self.given[:-1]), _words("profile-going-back")
        if name == "skip" and not step.needed:
            return replace(self, given=(*self.given, (step.id, None))), _words("profile-skipped")
        if name == "skip":
            return self, f"{_words('profile-needed')} {step.say}"
        if name == "repeat":
            return self, step.say
        return self, _help(step)


def _is_not_there(words: str) -> bool:
    """ "Not in the manual": it is left out, and asked for when it matters."""
    said = words.lower().strip(" .")
    return "manual" in said and any(no in said.split() for no in ("not", "no", "doesn't", "isn't"))


def expectation(step: Step) -> Expectation:
    """What the step's question may be answered with, for any ear and for the keyboard."""
    question = f"profile.{step.id.replace('_', '-')}"
    if step.quantity is not None:
        # Wider than allowed: a number out of bounds is answered with the bounds rather than not understood.
        low, high = (to_canonical(bound, step.unit, step.quantity) for bound in step.bounds)
        margin = 9 * (high - low)
        reading = ReadingExpectation(quantity=step.quantity, unit=step.unit, plausible=(low - margin, high + margin))
        return Expectation(question=question, reading=reading, topic=step.say)
    return Expectation(question=question, choices=step.choices, text=not step.choices, topic=step.say)


def _kind(step: Step) -> str:
    return "number" if step.quantity is not None else "choice" if step.choices else "text"


def _number(step: Step, meaning: object) -> str | float | None:
    if not isinstance(meaning, Readings) or len(meaning.items) != 1 or meaning.items[0].value is None:
        return None
    if step.quantity is None:
        return None
    return round(from_canonical(meaning.items[0].value, step.unit, step.quantity), 9)


def _choice(step: Step, meaning: object) -> str | float | None:
    return meaning.choice if isinstance(meaning, Finding) else None


def _text(step: Step, meaning: object) -> str | float | None:
    return meaning.words.strip() or None if isinstance(meaning, Text) else None


_VALUE: dict[str, Callable[[Step, object], str | float | None]] = {"number": _number, "choice": _choice, "text": _text}


def _read_back(step: Step, value: str | float) -> str:
    if isinstance(value, float) and step.quantity is not None:
        unit = "" if step.unit == "1" else f" {say(step.unit, step.quantity, value)}"
        return f"{value:g}{unit}."
    chosen = next((choice.phrases[0] for choice in step.choices if choice.id == value), value)
    return f"{chosen}."


def _help(step: Step) -> str:
    if not step.choices:
        return f"{step.say} {_words('profile-help-needed' if step.needed else 'profile-help-open')}"
    ways = ", ".join(choice.phrases[0] for choice in step.choices[:12])
    return f"{step.say} {_words('profile-help-choices', ways=ways)}"


def _words(name: str, **values: str) -> str:
    return catalogue().words(message(name, **values), None)
