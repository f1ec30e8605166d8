"""One visit, several programs: its journal on the disk, and whoever holds its lock; the others are refused."""

from __future__ import annotations

import os
import random
import tempfile
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from unittest.mock import patch

from assistant.dialogue.state import VisitState
from assistant.dialogue.step import Elapsed, Event, Opened, Resumed, Words, step
from assistant.dialogue.turn import Context, Turn
from assistant.language.meaning import Finding, Heard
from assistant.visit import bootclock
from assistant.visit.journal import Journal, Overtaken
from assistant.visit.lock import VisitTaken
from assistant.visit.session import Knowledgeable, RealClock, Session

_DAY = datetime(2026, 3, 4, 8)
#: Where the journals are written: in memory if the machine has such a folder, since nobody cuts the power here.
_MEMORY = next((name for name in ("/dev/shm",) if os.access(name, os.W_OK)), None)
NAMES = ("", "Mara", "Iven")
_UNDERSTOOD = Heard(
    words="understood", meaning=Finding(choice="understood"), trust="sure", ears=(("one", "understood"),)
)


@dataclass
class Alone:
    """The dialogue alone: one program that never ends."""

    context: Context
    state: VisitState = field(default_factory=VisitState)

    def do(self, event: Event) -> tuple[Event, Turn]:
        turn = step(self.context, self.state, event)
        self.state = turn.state
        return event, turn

    def close(self) -> None:
        """Nothing is held."""


class Programs:
    """Two programs on one visit. ``faults``: what one of them could do that only the visit's one writer may.

    Every time a visit is resumed, the program that leads it is ended, or is still at it: then the other is refused, and
    after the ended one is gone what it still has to say is refused as well.
    """

    def __init__(self, context: Knowledgeable, rng: random.Random) -> None:
        self.context, self.rng = context, rng
        self.faults: list[str] = []
        self.refused = self.changes = 0
        self.now_s = 0.0
        self._left = ExitStack()
        folder = Path(self._left.enter_context(tempfile.TemporaryDirectory(prefix="watched-", dir=_MEMORY)))
        self._left.enter_context(patch.object(bootclock, "now_s", lambda: self.now_s))
        self.journal = self._left.enter_context(Journal(folder / "visits.db"))
        self.session = Session.begin(context, self.journal, self._clock(), "watched", _DAY)

    @property
    def state(self) -> VisitState:
        return self.session.state

    def do(self, event: Event) -> tuple[Event, Turn | None]:
        """What really happened, and what came of it; no turn where a wait was not due."""
        self.now_s = max(self.now_s, event.now_s)
        event = replace(event, now_s=self.now_s)
        match event:
            case Opened():
                return event, self.session.open()
            case Words(heard=heard):
                return event, self.session.hear(heard)
            case Elapsed():
                return event, self.session.tick()
            case Resumed():
                return self._another(event)

    def close(self) -> None:
        """End whoever leads, and throw the journal away."""
        self.session.close()
        self._left.close()

    def _clock(self) -> RealClock:
        return RealClock(now_s=lambda: self.now_s)

    def _another(self, event: Resumed) -> tuple[Event, Turn]:
        before = self.session
        try:
            Session.resume(self.context, self.journal, before.visit, self._clock()).close()
            self.faults.append("a second program took a visit that is under way")
        except VisitTaken:
            self.refused += 1
        if event.away_s is not None:
            self.now_s += event.away_s
        before.close()
        self.session = Session.resume(self.context, self.journal, before.visit, self._clock())
        if _now(self.session) != _now(before):
            self.faults.append("who goes on finds another visit than was left")
        turn = self.session.reopen(event.technician)
        self.changes += 1
        self._late(before)
        return Resumed(self.now_s, event.away_s or 0.0, event.technician), turn

    def _late(self, before: Session) -> None:
        """The program that was ended still has an answer to give."""
        count = self.journal.last_seq(before.visit)
        try:
            before.tick() or before.hear(_UNDERSTOOD)
        except Overtaken:
            self.refused += 1
        if self.journal.last_seq(before.visit) != count:
            self.faults.append("a program that was ended wrote behind the back of who goes on")


def _now(session: Session) -> VisitState:
    """Where it stands, without where "go back" leads."""
    return session.state.model_copy(update={"previous": None})
