"""One turn of the dialogue while it is being decided: facts and replies, applied as they are made."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Literal, Protocol

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import evolve
from assistant.dialogue.state import VisitState
from assistant.dialogue.units import unit_of
from assistant.job.memory import Memory
from assistant.library.loader import Library
from assistant.library.models import Check
from assistant.library.profile import UnitProfile, features_of
from assistant.messages.catalogue import catalogue
from assistant.messages.measured_in import in_system
from assistant.messages.message import Message, Ref, Value, message
from assistant.reasoning.belief import Belief
from assistant.reasoning.reasoner import Reasoner
from assistant.reasoning.recurrence import MendedBefore

About = Literal["caution", "result", "instruction", "question", "remark"]


#: A judged check with the chances of its outcomes, a suspect whose repair did not help, or what was mended before.
Learnt = tuple[str, tuple[tuple[str, float], ...]] | str | MendedBefore


@dataclass(frozen=True)
class Reply:
    """One thing to say, short enough for one breath. ``about`` tells a transcript and a voice what it is.

    ``message`` is what it means, apart from its words.
    """

    text: str
    about: About
    message: Message | None = None


class Context(Protocol):
    """What the dialogue may ask of the world: knowledge, reasoning and earlier visits, never a clock or a device."""

    library: Library
    memory: Memory

    def reasoner(self, profile: UnitProfile | None) -> Reasoner:
        """The reasoner for a profile (kept: it is built once a profile)."""

    def believe(self, profile: UnitProfile | None, symptoms: tuple[str, ...], learnt: tuple[Learnt, ...]) -> Belief:
        """What follows from the symptoms and all that was ``learnt``, in order (kept, as each turn adds one)."""


@dataclass
class Turn:
    """Collects what one event causes. ``state`` is always the fold of everything emitted so far."""

    context: Context
    state: VisitState
    now_s: float
    facts: list[f.Fact] = field(default_factory=list)
    replies: list[Reply] = field(default_factory=list)
    previous_words: tuple[f.Why, ...] = ()
    _unit: tuple[object, object, object, UnitProfile | None] | None = field(default=None, repr=False)
    _features: tuple[object, frozenset[str]] = field(default=(None, frozenset()), repr=False)

    def emit(self, fact: f.Fact) -> None:
        """Let a fact happen."""
        self.facts.append(fact)
        self.state = evolve(self.state, fact)

    def tell(self, what: str | Message | Ref, about: About = "remark", /, **values: Value) -> None:
        """Reply with a message: its id and values, one made before, or a text of the knowledge.

        What is said is a fact too, as a message and in the words that were used, so that the record can show it.
        """
        if isinstance(what, Ref):
            what = message("knowledge", text=what)
        elif isinstance(what, str):
            what = message(what, **values)
        what = in_system(what, self.state.system)
        self._reply(catalogue().words(what, self.library), what, about)

    def tell_why(self, why: f.Why, about: About = "remark") -> None:
        """Reply with a reason or an earlier reply: a message, or the words that an older visit kept of one."""
        what = why if isinstance(why, Message) else message("in-words", words=why)
        parts = [part for _, part in what.values if isinstance(part, Message)]
        if what.id == "two-sentences" and len(parts) == len(what.values):
            for part in parts:  # each is one breath
                self.tell_why(part, about)
            return
        self._reply(catalogue().in_words(what, self.library), what, about)

    def _reply(self, text: str, what: Message, about: About) -> None:
        if text:
            self.replies.append(Reply(text, about, what))
            self.emit(f.Said(text=text, about=about, message=what))

    @property
    def library(self) -> Library:
        return self.context.library

    @property
    def profile(self) -> UnitProfile | None:
        """The unit profile of this visit: the chosen one, else general values, else None while not known."""
        state, kept = self.state, self._unit
        if kept is not None and (kept[0] is state.profile and kept[1] is state.course and kept[2] is state.job.plate):
            return kept[3]  # asked for a dozen times a turn, and it follows from these three
        found = unit_of(self.state, self.library)
        self._unit = (state.profile, state.course, state.job.plate, found)
        return found

    @property
    def features(self) -> frozenset[str]:
        """What checks and suspects may need of this unit; nothing while it is not known."""
        unit = self.profile
        if unit is not None and self._features[0] is not unit:
            self._features = (unit, features_of(unit))
        return self._features[1] if unit is not None else frozenset()

    def has(self, needs: Collection[str]) -> bool:
        """Whether this unit has all that a check, a caution or a suspect ``needs``."""
        return self.features.issuperset(needs)

    @property
    def altitude_m(self) -> float | None:
        """The altitude of the site in meters; None while it is not known."""
        noted = self.state.note("altitude")
        return float(noted) if noted else None

    @property
    def reasoner(self) -> Reasoner:
        return self.context.reasoner(self.profile)

    def check(self, check_id: str) -> Check:
        return self.library.checks[check_id]

    def belief(self, but_last: bool = False) -> Belief:
        """The weights of the suspects: a fold over symptoms, earlier repairs, judged checks, repairs that did not help.

        ``but_last`` leaves the newest result out: what was believed before it.
        """
        results = self.state.results[:-1] if but_last else self.state.results
        before = tuple(self.state.job.mended_lately)
        learnt: list[Learnt] = [MendedBefore(before)] if before else []
        for place, result in enumerate(results):
            learnt += [suspect for suspect, at in self.state.mended if at == place]
            if result.role != "changeover":
                learnt.append((result.check, result.judgement.chances))
        return self.context.believe(self.profile, self.state.symptoms, tuple(learnt))
