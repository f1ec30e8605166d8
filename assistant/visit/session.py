"""One visit under way: an event goes in, its facts are committed, and only then its replies may be spoken."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Protocol

from assistant.dialogue.evolve import fold
from assistant.dialogue.state import Stage, VisitState
from assistant.dialogue.step import Elapsed, Event, Opened, Resumed, Words, expected, is_due, step
from assistant.dialogue.turn import Learnt, Turn
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, Heard
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.reasoning.belief import Belief
from assistant.reasoning.reasoner import Reasoner
from assistant.visit.journal import Journal

#: Beliefs kept, 0.12 MB each: a long visit with some going back has fewer.
_KEPT = 100


@dataclass
class Knowledgeable:
    """The dialogue's ``Context``: the library, one reasoner a profile, and the beliefs it came to."""

    library: Library
    _reasoners: dict[str, Reasoner] = field(default_factory=dict)
    _beliefs: dict[tuple[object, ...], Belief] = field(default_factory=dict)

    def reasoner(self, profile: UnitProfile | None) -> Reasoner:
        """The reasoner for a profile; without one, for the first of the general values."""
        profile = profile or next(iter(self.library.generals.values()))
        key = _name(profile)
        if key not in self._reasoners:
            self._reasoners[key] = Reasoner(self.library, profile)
        return self._reasoners[key]

    def believe(self, profile: UnitProfile | None, symptoms: tuple[str, ...], learnt: tuple[Learnt, ...]) -> Belief:
        """Each belief is the one before it and one thing more, so a turn costs one update."""
        reasoner = self.reasoner(profile)
        key = (id(reasoner), symptoms, learnt)
        if key not in self._beliefs:
            if len(self._beliefs) >= _KEPT:
                self._beliefs.clear()
            self._beliefs[key] = self._believed(reasoner, profile, symptoms, learnt)
        return self._beliefs[key]

    def _believed(
        self, reasoner: Reasoner, profile: UnitProfile | None, symptoms: tuple[str, ...], learnt: tuple[Learnt, ...]
    ) -> Belief:
        if not learnt:
            return reasoner.start(symptoms)
        before = self.believe(profile, symptoms, learnt[:-1])
        newest = learnt[-1]
        if isinstance(newest, str):
            return reasoner.after_repair(before, newest)
        return reasoner.update(before, *newest)


def _name(profile: UnitProfile) -> str:
    return f"{profile.id}/{profile.refrigerant.name}"


class Clock(Protocol):
    """Seconds since the visit began: of the wall, or of the audio taken in. A resumed visit sets ``offset_s``."""

    offset_s: float

    def now_s(self) -> float: ...


class WallClock:
    """Real time, for a typed visit."""

    def __init__(self, offset_s: float = 0.0, now: Callable[[], datetime] = datetime.now) -> None:
        self.offset_s = offset_s
        self._now = now
        self._start = now()

    def now_s(self) -> float:
        return self.offset_s + (self._now() - self._start).total_seconds()


class Session:
    """Drives the dialogue over one visit of a journal."""

    def __init__(
        self, context: Knowledgeable, journal: Journal, visit: str, opened_at: datetime, clock: Clock, state: VisitState
    ) -> None:
        self.context = context
        self.journal = journal
        self.visit = visit
        self.clock = clock
        self.state = state
        self._opened_at = opened_at

    @classmethod
    def begin(cls, context: Knowledgeable, journal: Journal, clock: Clock, origin: str, at: datetime) -> Session:
        """A new visit; say ``open`` to hear its first words."""
        visit = journal.open_visit(at, origin)
        return cls(context, journal, visit, at, clock, VisitState())

    @classmethod
    def resume(cls, context: Knowledgeable, journal: Journal, visit: str, clock: Clock | None = None) -> Session:
        """A visit that was cut short: its state is the fold of what was committed; its time goes on.

        The time it lay still counts as well: a wait for capacitors does not begin anew.
        """
        state = fold(item.fact for item in journal.facts(visit))
        opened_at = journal.row(visit).opened_at
        passed_s = max(0.0, (datetime.now() - opened_at).total_seconds())
        if clock is None:
            clock = WallClock(passed_s)
        else:
            clock.offset_s = passed_s
        return cls(context, journal, visit, opened_at, clock, state)

    @property
    def closed(self) -> bool:
        return self.state.stage is Stage.CLOSED

    @property
    def expectation(self) -> Expectation:
        """What the present question may be answered with."""
        return expected(self.context, self.state)

    def open(self, technician: str = "") -> Turn:
        """The first words of a new visit."""
        return self._do(Opened(library_mark(self.context.library), technician, self.clock.now_s()))

    def reopen(self) -> Turn:
        """The first words of a resumed visit; one whose beginning was lost begins."""
        if self.state == VisitState():
            return self.open()
        return self._do(Resumed(self.clock.now_s()))

    def hear(self, heard: Heard) -> Turn:
        """One judged utterance."""
        return self._do(Words(heard, self.clock.now_s()))

    def type(self, line: str) -> Turn:
        """One typed utterance: the same dialogue without ears."""
        return self.hear(typed(line, self.expectation))

    def tick(self) -> Turn | None:
        """Let time pass: ends a wait that is due."""
        now = self.clock.now_s()
        return self._do(Elapsed(now)) if is_due(self.state, now) else None

    def _do(self, event: Event) -> Turn:
        turn = step(self.context, self.state, event)
        at = self._opened_at + timedelta(seconds=event.now_s)
        self.journal.append(self.visit, at, event.now_s, turn.facts)
        self.state = turn.state
        return turn


def typed(line: str, expectation: Expectation) -> Heard:
    """A typed line as if it had been heard perfectly; what language doubts is asked."""
    understood = interpret(line, expectation)
    trust = "again" if understood.meaning is None else "confirm" if understood.doubt else "sure"
    return Heard(
        words=line,
        meaning=understood.meaning,
        trust=trust,  # type: ignore[arg-type]
        doubt=understood.doubt,
        ears=(("typed", line),),
    )


def library_mark(library: Library) -> str:
    """A short fingerprint of the knowledge that a visit used, for its record."""
    digest = hashlib.sha256()
    for group in (library.checks, library.suspects, library.symptoms, library.precautions, library.profiles):
        for item in group.values():
            digest.update(item.model_dump_json().encode())
    return digest.hexdigest()[:12]
