"""The clock on the wall set at random, the machine asleep, started anew: no wait gets shorter by it, none longer."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from unittest.mock import patch

from assistant.library.loader import load
from assistant.visit import bootclock
from assistant.visit import session as session_module
from assistant.visit.journal import Journal
from assistant.visit.session import Knowledgeable, RealClock, Session
from tests.robust.campaign.report import Report

#: What leads from the lock to the wait.
_LEADING = {"lock-out-power.state": "locked", "mains-dead-outdoor.mains": "both zero", "confirm": "yes"}


class Machine:
    """True time since some moment, the machine's own clock, which start it is, and the clock on the wall."""

    def __init__(self) -> None:
        self.true_s = 0.0
        self.started_s = -1000.0
        self.start = 0
        self.wall_is_off = timedelta()

    def now_s(self) -> float:
        """Seconds since this start."""
        return self.true_s - self.started_s

    def boot(self) -> str:
        """The name of this start."""
        return str(self.start)

    def wall(self) -> datetime:
        """What the clock on the wall shows."""
        return datetime(2026, 3, 4, 9, 30) + timedelta(seconds=self.true_s) + self.wall_is_off

    def restart(self) -> None:
        """Started anew."""
        self.start, self.started_s = self.start + 1, self.true_s


def jumps(count: int, seed: int, folder: Path) -> Report:
    """Waits for capacitors, each with clocks set, sleep, kills and restarts at random."""
    report = Report("clocks")
    context = Knowledgeable(load(user=folder / "nobody"))
    chance = Random(seed)
    machine = Machine()

    class Wall(datetime):
        @classmethod
        def now(cls, tz: object = None) -> datetime:  # type: ignore[override]
            return machine.wall()

    with (
        patch.object(bootclock, "now_s", machine.now_s),
        patch.object(bootclock, "boot", machine.boot),
        patch.object(session_module, "datetime", Wall),
    ):
        for number in range(count):
            journal = Journal(folder / f"{number}.sqlite")
            _wait(report, context, journal, machine, chance, f"seed {seed}, wait {number}")
            journal.close()
            report.tried += 1
    return report


def _clock() -> RealClock:
    return RealClock(now_s=bootclock.now_s)


def _waiting(context: Knowledgeable, journal: Journal, machine: Machine) -> Session | None:
    session = Session.begin(context, journal, _clock(), "typed", machine.wall())
    session.open()
    for words in ("mill lane", "copper wren solo", "leaf lamp blinks slowly", "prove it dead"):
        session.type(words)
    for _ in range(40):
        if session.state.wait_until_s is not None:
            return session
        machine.true_s += 5
        question = session.expectation.question
        session.type(_LEADING.get(question, "understood" if question.startswith("precaution") else "done"))
    return None


def _wait(
    report: Report, context: Knowledgeable, journal: Journal, machine: Machine, chance: Random, where: str
) -> None:
    session = _waiting(context, journal, machine)
    if session is None:
        report.failures.append(f"{where}: it does not come to a wait")
        return
    began_s, wait_s = machine.true_s, (session.state.wait_until_s or 0.0) - session.clock.now_s()
    while machine.true_s < began_s + wait_s - 1:
        machine.true_s += chance.uniform(0, (began_s + wait_s - machine.true_s) * 0.9)
        match chance.randrange(4):
            case 0:
                machine.wall_is_off = timedelta(seconds=chance.uniform(-2, 2) * 86_400)
            case 1:
                session.close()
                session = Session.resume(context, journal, session.visit, _clock())
                session.reopen()
            case 2 if chance.random() < 0.3:
                session.close()
                machine.restart()
                machine.wall_is_off = timedelta(seconds=chance.uniform(-2, 2) * 86_400)
                session = Session.resume(context, journal, session.visit, _clock())
                session.reopen()
                # Nobody knows how long it lay: nothing that was shown counts, the lock neither.
                report.hold(session.state.energy == "live", f"{where}: still {session.state.energy} after a restart")
                break
        if session.state.wait_until_s is None:
            away = session.state.energy == "live"  # after a long time away it begins at the lock
            report.hold(away, f"{where}: over after {machine.true_s - began_s:.0f} of {wait_s:.0f} s")
            break
        report.hold(session.tick() is None, f"{where}: ended after {machine.true_s - began_s:.0f} of {wait_s:.0f} s")
    else:
        machine.true_s = began_s + wait_s + 1
        report.hold(session.tick() is not None, f"{where}: not over after {wait_s:.0f} s")
    times = [item.at_s for item in journal.facts(session.visit)]
    report.hold(times == sorted(times), f"{where}: time runs backwards in the journal")
    report.kept += len(times)
    session.close()
