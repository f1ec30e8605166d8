"""One visit under way: an event goes in, its facts are committed, and only then its replies may be spoken."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import lru_cache
from typing import Protocol

from assistant.dialogue.commands import commands
from assistant.dialogue.evolve import evolve, fold
from assistant.dialogue.facts import EnergyChanged, Fact, WordsHeard
from assistant.dialogue.state import Stage, VisitState
from assistant.dialogue.step import (
    Elapsed,
    Event,
    NotGoneOver,
    Opened,
    Resumed,
    Words,
    expected,
    heard_in,
    is_due,
    step,
)
from assistant.dialogue.turn import Learnt, Turn
from assistant.errors import LaddersideError
from assistant.job.memory import Memory
from assistant.language.meaning import Expectation, Heard
from assistant.language.net import Net, default_net
from assistant.language.scope import Scope
from assistant.language.understand import understand
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile, features_of
from assistant.messages.catalogue import catalogue
from assistant.messages.message import message
from assistant.reasoning.belief import Belief
from assistant.reasoning.reasoner import Reasoner
from assistant.reasoning.recurrence import MendedBefore
from assistant.reasoning.waiting import wait_minutes
from assistant.visit import bootclock
from assistant.visit.journal import Journal
from assistant.visit.memory import memory_of
from assistant.visit.screen.taps import Tap, tapped
from assistant.visit.standing import standing

#: Longest line that is looked at, characters: a minute of speech.
_LONGEST_LINE = 2000
_TOO_LONG = message("line-too-long")
#: Beliefs kept, 0.12 MB each: one step and any step that is gone back to follow from one of them at once.
_KEPT = 32
#: Kinds of unit of which the reasoner is kept, 3 MB each.
_UNITS = 3

_Kind = tuple[frozenset[str], float]


@dataclass
class Knowledgeable:
    """The dialogue's ``Context``: the library, a reasoner for each of the last kinds of unit, and the beliefs they came
    to. What a long day brings is bounded: memory stays as the first visits leave it."""

    library: Library
    memory: Memory = field(default_factory=Memory)
    _kinds: dict[str, _Kind] = field(default_factory=dict)
    _reasoners: dict[_Kind, Reasoner] = field(default_factory=dict)
    _beliefs: dict[tuple[object, ...], Belief] = field(default_factory=dict)

    def reasoner(self, profile: UnitProfile | None) -> Reasoner:
        """The reasoner for a profile; without one, for the first of the general values."""
        profile = profile or next(iter(self.library.generals.values()))
        kind = self._kind(profile)
        if kind not in self._reasoners:
            while len(self._reasoners) >= _UNITS:
                del self._reasoners[next(iter(self._reasoners))]
            self._reasoners[kind] = Reasoner(self.library, profile)
        return self._reasoners[kind]

    def _kind(self, profile: UnitProfile) -> _Kind:
        """All of a unit that is reasoned with."""
        name = f"{profile.id}/{profile.refrigerant.name}/{len(profile.zones)}/{profile.supply.breaker_a}"
        if name not in self._kinds:
            self._kinds[name] = (features_of(profile), wait_minutes(profile))
        return self._kinds[name]

    def believe(self, profile: UnitProfile | None, symptoms: tuple[str, ...], learnt: tuple[Learnt, ...]) -> Belief:
        """Each belief is the one before it and one thing more, so a turn costs one update."""
        reasoner = self.reasoner(profile)
        key = (self._kind(profile or next(iter(self.library.generals.values()))), symptoms, learnt)
        if key not in self._beliefs:
            new = self._believed(reasoner, profile, symptoms, learnt)
            while len(self._beliefs) >= _KEPT:  # the oldest goes; the next belief follows from the newest
                del self._beliefs[next(iter(self._beliefs))]
            self._beliefs[key] = new
        return self._beliefs[key]

    def _believed(
        self, reasoner: Reasoner, profile: UnitProfile | None, symptoms: tuple[str, ...], learnt: tuple[Learnt, ...]
    ) -> Belief:
        if not learnt:
            return reasoner.start(symptoms)
        before = self.believe(profile, symptoms, learnt[:-1])
        newest = learnt[-1]
        if isinstance(newest, MendedBefore):
            return reasoner.recurring(before, newest.suspects)
        if isinstance(newest, str):
            return reasoner.after_repair(before, newest)
        return reasoner.update(before, *newest)


class Clock(Protocol):
    """Seconds since the visit began: of the wall, or of the audio taken in. A resumed visit sets ``offset_s``."""

    offset_s: float

    def now_s(self) -> float: ...


class RealClock:
    """Real time, for a typed visit: the machine's own clock, which nobody can set and sleep does not stop."""

    def __init__(self, offset_s: float = 0.0, now_s: Callable[[], float] = bootclock.now_s) -> None:
        self.offset_s = offset_s
        self._now_s = now_s
        self._start_s = now_s()

    def now_s(self) -> float:
        return self.offset_s + self._now_s() - self._start_s


class Session:
    """Drives the dialogue over one visit of a journal, as its one writer, until ``close``."""

    def __init__(
        self, context: Knowledgeable, journal: Journal, visit: str, opened_at: datetime, clock: Clock, state: VisitState
    ) -> None:
        self.context = context
        self.journal = journal
        self.visit = visit
        self.clock = clock
        self.state = state
        self.opened_at = opened_at
        self.words_at = 0  # the number in the journal of the words that were heard last
        self.seen = 0
        self._before: tuple[Fact, ...] = ()
        self._lock = journal.lock(visit)
        self._last_s: float | None = None  # when something last happened in it; None where nobody knows

    @classmethod
    def begin(cls, context: Knowledgeable, journal: Journal, clock: Clock, origin: str, at: datetime) -> Session:
        """A new visit; say ``open`` to hear its first words."""
        visit = journal.open_visit(at, origin)
        return cls(context, journal, visit, at, clock, VisitState())

    @classmethod
    def resume(cls, context: Knowledgeable, journal: Journal, visit: str, clock: Clock | None = None) -> Session:
        """A visit that was cut short: its state is the fold of what was committed; its time goes on.

        The time it lay still counts as well, by the machine's own clock: a wait for capacitors does not begin anew.
        Where the machine was started anew only the wall clock could tell, and it may be wrong: then lock and proof
        begin anew. Where facts were lost nothing counts as dead. Raises VisitTaken and JournalError.
        """
        row = journal.row(visit)
        session = cls(context, journal, visit, row.opened_at, clock or RealClock(), VisitState())
        facts = journal.facts(visit)  # under the lock: nobody adds to them now
        session.seen = max(row.facts, journal.last_seq(visit))
        session.state = fold(item.fact for item in facts)
        last_s = facts[-1].at_s if facts else 0.0
        passed_s = journal.elapsed_s(visit)
        session._last_s = None if passed_s is None else last_s
        if passed_s is None:
            lay_s = (datetime.now() - row.opened_at).total_seconds() - last_s
            passed_s = last_s + max(0.0, lay_s)
        if journal.lost(visit):
            session._distrust()
        session.clock.offset_s += passed_s - session.clock.now_s()
        return session

    def _distrust(self) -> None:
        """What was lost may have been that the power came back."""
        if self.state.energy != "live":
            self._first(EnergyChanged(to="live", because=message("because-lost")))

    def _first(self, fact: Fact) -> None:
        """A fact that goes before those of the next turn."""
        self._before = (*self._before, fact)
        self.state = evolve(self.state, fact)

    def close(self) -> None:
        """Let another program go on with the visit."""
        self._lock.close()

    @property
    def closed(self) -> bool:
        return self.state.stage is Stage.CLOSED

    @property
    def expectation(self) -> Expectation:
        """What the present question may be answered with."""
        return expected(self.context, self.state)

    @property
    def scope(self) -> Scope:
        """All that may be said now."""
        return heard_in(self.context, self.state)

    def open(self, technician: str = "", on: str = "") -> Turn:
        """The first words of a new visit; ``on`` is its day (ISO 8601)."""
        return self._do(Opened(library_mark(self.context.library), technician, self.clock.now_s(), on))

    def reopen(self, technician: str = "") -> Turn:
        """The first words of a resumed visit; one whose beginning was lost begins. ``technician``: who goes on."""
        if self.state == VisitState():
            return self.open(technician)
        now_s = self.clock.now_s()
        away_s = None if self._last_s is None else max(0.0, now_s - self._last_s)
        return self._do(Resumed(now_s, away_s, technician))

    def hear(self, heard: Heard) -> Turn:
        """One judged utterance."""
        return self._do(Words(heard, self.clock.now_s()))

    def tap(self, tap: Tap) -> Turn:
        """What was tapped on a screen, by the rules of a typed answer. Raises TapError when it answers nothing."""
        return self.hear(tapped(tap, self.expectation, frozenset(commands(self.context.library))))

    def type(self, line: str) -> Turn:
        """One typed utterance: the same dialogue without ears."""
        return self.hear(typed(line, self.scope, default_net()))

    def tick(self) -> Turn | None:
        """Let time pass: ends a wait that is due."""
        now = self.clock.now_s()
        return self._do(Elapsed(now)) if is_due(self.state, now) else None

    def _go_over(self, turn: Turn) -> Turn:
        """On with an open visit: this one ends, and its words are not said. Where it cannot be, this one goes on."""
        wanted, technician = turn.state.job.over, turn.state.technician
        before = self.clock.offset_s
        try:
            other = Session.resume(self.context, self.journal, wanted, self.clock)
        except LaddersideError as error:
            self.clock.offset_s = before
            return self._do(NotGoneOver(str(error), self.clock.now_s()))
        self._commit(turn)
        self.close()
        vars(self).update(vars(other))
        self.context.memory = memory_of(self.journal, self.context.library, self.context.memory.jobs, but=wanted)
        return self.reopen(technician)

    def _do(self, event: Event | NotGoneOver) -> Turn:
        turn = step(self.context, self.state, event)
        if turn.state.job.over:
            return self._go_over(turn)
        self._commit(turn)
        return turn

    def _commit(self, turn: Turn) -> None:
        """Keep its facts; only then may its replies be spoken."""
        at = self.opened_at + timedelta(seconds=turn.now_s)
        stands = standing(turn.state, self.context.library)
        facts = (*self._before, *turn.facts)
        self.seen = self.journal.append(self.visit, at, turn.now_s, facts, self.seen, stands)
        first = self.seen - len(facts) + 1
        heard = (first + place for place, fact in enumerate(facts) if isinstance(fact, WordsHeard))
        self.words_at = next(heard, self.words_at)
        self._before = ()
        self._last_s = turn.now_s
        self.state = turn.state


def typed(line: str, scope: Scope, net: Net | None = None) -> Heard:
    """A typed line as if it had been heard perfectly; what language doubts is asked."""
    line = line.encode("utf-8", "replace").decode("utf-8")  # half a pair of UTF-16 cannot be kept
    if len(line) > _LONGEST_LINE:  # something was pasted, or a key was stuck
        start = f"{line[:100]}…"
        return Heard(
            words=start, meaning=None, trust="again", doubt=catalogue().words(_TOO_LONG, None), ears=(("typed", start),)
        )
    understood = understand(line, scope, net)
    trust = "again" if understood.meaning is None else "confirm" if understood.doubt or understood.options else "sure"
    return Heard(
        words=line,
        meaning=understood.meaning,
        trust=trust,  # type: ignore[arg-type]
        # Its last digits depend on how a library's sums lie in memory; the same words leave the same journal.
        probability=round(understood.chance, 4),
        doubt=understood.doubt,
        options=understood.options,
        talk=understood.talk,
        ears=(("typed", line),),
    )


@lru_cache(maxsize=4)
def library_mark(library: Library) -> str:
    """A short fingerprint of the knowledge that a visit used, for its record."""
    digest = hashlib.sha256()
    safety = (library.precautions, library.hazards, library.things)
    for group in (library.checks, library.suspects, library.symptoms, *safety, library.profiles):
        for item in group.values():
            digest.update(item.model_dump_json().encode())
    return digest.hexdigest()[:12]
