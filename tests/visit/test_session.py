"""A session over one visit: one writer, time that nobody can set, and no trust where facts were lost."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from assistant.dialogue import facts as f
from assistant.messages.message import message
from assistant.visit import bootclock
from assistant.visit.journal import Journal, Overtaken
from assistant.visit.lock import VisitTaken
from assistant.visit.session import RealClock, Session

#: Typed words that lead to the wait for the capacitors, for whatever is asked.
ANSWERS = {
    "visit.site": "mill lane",
    "visit.profile": "copper wren solo",
    "visit.indication": "leaf lamp blinks slowly",
    "lock-out-power.state": "locked",
    "mains-dead-outdoor.mains": "both zero",
    "confirm": "yes",
}


class Machine:
    """The machine's clock, its start, and the clock on the wall."""

    def __init__(self, monkeypatch):
        self.now, self.start, self.wall = 1000.0, "one", datetime(2026, 3, 4, 9, 30)
        monkeypatch.setattr(bootclock, "now_s", lambda: self.now)
        monkeypatch.setattr(bootclock, "boot", lambda: self.start)

        class Wall(datetime):
            @classmethod
            def now(cls, tz=None):
                return this.wall

        this = self
        monkeypatch.setattr("assistant.visit.session.datetime", Wall)

    def passes(self, seconds: float) -> None:
        self.now += seconds
        self.wall += timedelta(seconds=seconds)


@pytest.fixture
def machine(monkeypatch):
    return Machine(monkeypatch)


def clock() -> RealClock:
    return RealClock(now_s=bootclock.now_s)


@pytest.fixture
def waiting(machine, context, tmp_path: Path):
    """A session that waits for the capacitors, reached by whatever is asked."""
    journal = Journal(tmp_path / "journal.sqlite")
    session = Session.begin(context, journal, clock(), "typed", machine.wall)
    session.open()
    session.type("mill lane")
    session.type("copper wren solo")
    session.type("leaf lamp blinks slowly")
    session.type("prove it dead")
    for _ in range(30):
        if session.state.wait_until_s is not None:
            return session
        machine.passes(5)
        question = session.expectation.question
        session.type(ANSWERS.get(question, "understood" if question.startswith("precaution") else "done"))
    raise AssertionError(f"it does not wait: {session.state.spoken}")


def left_s(session: Session) -> float:
    assert session.state.wait_until_s is not None
    return session.state.wait_until_s - session.clock.now_s()


def resumed(session: Session) -> Session:
    session.close()
    again = Session.resume(session.context, session.journal, session.visit, clock())
    again.reopen()
    return again


def test_a_clock_that_is_set_changes_no_wait(machine, waiting):
    before = left_s(waiting)
    assert before > 60
    machine.wall += timedelta(hours=1)
    assert waiting.tick() is None
    assert left_s(waiting) == before
    machine.wall -= timedelta(hours=3)
    assert left_s(waiting) == before
    machine.passes(before + 1)
    assert waiting.tick() is not None


@pytest.mark.parametrize("hours", [-49, -1, 0, 1, 49])
def test_a_clock_that_was_set_while_it_lay_still_changes_no_wait(machine, waiting, hours):
    before = left_s(waiting)
    machine.passes(30)
    machine.wall += timedelta(hours=hours)
    assert left_s(resumed(waiting)) == pytest.approx(before - 30)


@pytest.mark.parametrize("hours", [-49, 0, 49])
def test_after_a_new_start_of_the_machine_nobody_knows_how_long_so_lock_and_proof_begin_anew(machine, waiting, hours):
    machine.passes(30)
    machine.start, machine.now = "two", 5.0
    machine.wall += timedelta(hours=hours)
    again = resumed(waiting)
    assert again.state.energy == "live"
    assert again.state.wait_until_s is None
    assert again.expectation.question == "lock-out-power.state"


def test_time_in_the_journal_never_runs_backwards(machine, waiting):
    machine.start = "two"
    machine.wall -= timedelta(days=2)
    again = resumed(waiting)
    machine.passes(5)
    again.type("where am i")
    times = [item.at_s for item in again.journal.facts(again.visit)]
    assert times == sorted(times)
    assert all(at >= 0 for at in times)


def test_a_visit_that_is_under_way_cannot_be_resumed_elsewhere(waiting):
    with pytest.raises(VisitTaken):
        Session.resume(waiting.context, waiting.journal, waiting.visit, clock())
    waiting.close()
    Session.resume(waiting.context, waiting.journal, waiting.visit, clock()).close()


def test_who_was_overtaken_adds_nothing_and_keeps_its_state(waiting):
    other = Journal(waiting.journal.path)
    other.append(waiting.visit, datetime(2026, 3, 4), 500.0, [f.EnergyChanged(to="live", because="restored")])
    state, count = waiting.state, len(other.facts(waiting.visit))
    with pytest.raises(Overtaken):
        waiting.type("three volts")
    assert waiting.state is state
    assert len(other.facts(waiting.visit)) == count


def test_where_facts_were_lost_nothing_counts_as_dead(machine, waiting):
    assert waiting.state.energy == "isolated"
    path = waiting.journal.path
    waiting.journal.db.execute("pragma wal_checkpoint(truncate)")
    waiting.journal.close()
    data = path.read_bytes()
    said = b'"Copper Wren Solo."'
    assert said in data
    path.write_bytes(data.replace(said, b'"Copper Wren Silo."'))
    waiting.close()
    with Journal(path) as journal:
        again = Session.resume(waiting.context, journal, waiting.visit, clock())
        assert again.state.energy == "live"
        assert again.journal.lost(again.visit) > 0
        again.reopen()
        told = [item.fact for item in journal.facts(again.visit) if isinstance(item.fact, f.EnergyChanged)]
        assert told[-1].to == "live"
        assert told[-1].because == message("because-lost")
        again.type("where am i")
        again.close()


def test_the_list_tells_where_the_visit_stands(waiting):
    row = waiting.journal.row(waiting.visit)
    assert row.standing.site == "mill lane"
    assert row.standing.unit == "Copper Wren Solo"
    assert row.standing.energy == "isolated"
    assert row.standing.outcome == "open"
