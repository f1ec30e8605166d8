"""A typed technician: answers each question by its key from a script of what is so, waits where it is told to wait."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from fnmatch import fnmatch

from assistant.dialogue.facts import Fact
from assistant.library.loader import load
from assistant.visit.journal import Journal
from assistant.visit.memory import memory_of
from assistant.visit.session import Knowledgeable, Session

#: What is answered to every sound step, where a visit's own script says nothing else. A list is used up in order, its
#: last answer again and again.
SOUND: dict[str, str | list[str]] = {
    "precaution.*": "understood",
    "either": "degrees celsius",
    "lock-out-power.state": "locked",
    "mains-dead-*.mains": "line to line 0.2 volts, to ground 0.1 volts",
    "*.mains": "line to line 0.2 volts, to ground 0.1 volts",
    "prove-dead*.voltage": "1.2 volts",
    "*.tried": "still good",
    "put-back.state": "all back on",
    "restore-power.state": "power is on",
    "recover-charge.state": "recovered",
    "visit-outdoor-air.air": "70 degrees fahrenheit",
    "circuit-told.state": "charged",
    "visit.customer-note": "no note",
    "visit.repair-note": "mended it",
    "visit.finish": "yes",
    "repair.*": "done",
}


@dataclass
class Clock:
    """The visit's time: five seconds an answer, more where a script says so."""

    offset_s: float = 0.0
    at_s: float = 0.0

    def now_s(self) -> float:
        return self.offset_s + self.at_s


@dataclass
class Technician:
    """Leads visits in one journal. ``so`` is what is so at the unit, by question key or pattern."""

    journal: Journal
    name: str = "Rosa Lind"
    so: Mapping[str, str | list[str]] = field(default_factory=dict)
    replies: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    session: Session | None = None
    clock: Clock = field(default_factory=Clock)
    _used: dict[str, int] = field(default_factory=dict)

    def arrive(self, at: datetime, jobs: tuple = ()) -> None:
        """Begin a visit at ``at``."""
        context = Knowledgeable(load())
        context.memory = memory_of(self.journal, context.library, jobs)
        self.clock, self._used = Clock(), {}
        self.session = Session.begin(context, self.journal, self.clock, "typed", at)
        self._take(self.session.open(self.name, at.date().isoformat()))

    def resume(self, visit: str, away: timedelta, name: str = "") -> None:
        """Go on with a visit that lay still; ``name``: a colleague who takes it over."""
        context = Knowledgeable(load())
        context.memory = memory_of(self.journal, context.library, but=visit)
        self.session = Session.resume(context, self.journal, visit, self.clock)
        # The machine's own clock told how long it lay still; here the script does.
        self.clock.offset_s, self.clock.at_s = 0.0, self.journal.facts(visit)[-1].at_s + away.total_seconds()
        self._take(self.session.reopen(name))

    def leave(self) -> None:
        """The program ends; the visit stays open."""
        assert self.session is not None
        self.session.close()

    def say(self, *lines: str) -> list[str]:
        """Type these lines; gives the last replies."""
        assert self.session is not None
        for line in lines:
            self.clock.at_s += 5
            self._take(self.session.type(line))
        return self.replies

    def go_on(self, until: str = "", most: int = 400) -> None:
        """Answer what is asked, by what is so, until a question that fits ``until`` or the end of the visit."""
        assert self.session is not None
        for _ in range(most):
            if self.session.closed:
                return
            if self.session.state.wait_until_s is not None:
                self.clock.at_s += max(0.0, self.session.state.wait_until_s - self.clock.now_s()) + 1
                turn = self.session.tick()
                assert turn is not None
                self._take(turn)
                continue
            question = self.session.expectation.question
            if until and fnmatch(question, until):
                return
            self.say(self.answer(question))
        raise AssertionError(f"no end: {self.asked[-12:]} {self.replies}")

    def answer(self, question: str) -> str:
        """What is so about ``question``, else what a sound unit shows."""
        zone = self.session.state.zone if self.session else None
        self.asked.append(question)
        for book in (self.so, SOUND):
            for key in (f"{question}@{zone}", question):
                for pattern, answer in book.items():
                    if fnmatch(key, pattern):
                        return self._next(pattern, answer)
        sound = self._sound(question)
        if sound:
            return sound
        raise AssertionError(f"nothing to say to {question}: {self.replies}")

    def _sound(self, question: str) -> str:
        """The answer of a sound unit to a question with choices; "" where it asks for a number."""
        assert self.session is not None
        check_id, _, key = question.partition(".")
        check = self.session.context.library.checks.get(check_id)
        asked = next((one for one in check.ask if one.key == key), None) if check else None
        for choice in asked.choices if check and asked else ():
            outcome = check.judge.options.get("map", {}).get(choice.id, choice.id)
            if outcome in check.outcomes and check.outcomes[outcome].verdict in ("pass", "noted"):
                return choice.phrases[0]
        return ""

    def _next(self, pattern: str, answer: str | list[str]) -> str:
        if isinstance(answer, str):
            return answer
        used = self._used.get(pattern, 0)
        self._used[pattern] = used + 1
        return answer[min(used, len(answer) - 1)]

    def _take(self, turn) -> None:
        self.replies = [reply.text for reply in turn.replies]

    @property
    def facts(self) -> list[Fact]:
        """All facts of the visit so far."""
        assert self.session is not None
        return [item.fact for item in self.journal.facts(self.session.visit)]
