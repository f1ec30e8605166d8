"""Two programs on one visit: one restores the power, and the other sends no hand to the windings any more."""

from __future__ import annotations

from datetime import datetime

import pytest

from assistant.dialogue import facts as f
from assistant.visit import bootclock
from assistant.visit.journal import Journal, Overtaken
from assistant.visit.lock import VisitTaken
from assistant.visit.session import RealClock, Session


class Machine:
    now = 1000.0


@pytest.fixture
def machine(monkeypatch):
    monkeypatch.setattr(bootclock, "now_s", lambda: Machine.now)
    return Machine


def clock():
    return RealClock(now_s=bootclock.now_s)


def answer(session):
    """What a willing technician types to the present question."""
    now = session.expectation
    if now.reading is not None:
        return " ".join("zero point four volts" for _ in now.reading.places or (None,))
    ids = [choice.id for choice in now.choices]
    return next((word for word in ("understood", "done", "yes") if word in ids), "skip")


def lead(session, until, most=60):
    for _ in range(most):
        if until(session):
            return
        Machine.now += 400
        session.tick()
        if not until(session):
            session.type(answer(session))
    raise AssertionError(f"not reached; it was last asked {session.expectation.question}")


def described(session, check):
    return [item for item in session.journal.facts(session.visit) if getattr(item.fact, "check", "") == check
            and item.fact.kind == "check-described"]  # fmt: skip


@pytest.fixture
def at_the_windings(machine, context, tmp_path):
    """The first program: the bus proved dead, and the caution of the winding test is open."""
    journal = Journal(tmp_path / "journal.sqlite")
    session = Session.begin(context, journal, clock(), "typed", datetime(2026, 3, 4, 9, 30))
    session.open()
    for line in ("mill lane", "copper wren solo", "leaf lamp blinks slowly", "check the windings"):
        session.type(line)
    lead(session, lambda it: it.state.power.at("outdoor") == "proved-dead")
    return session


def test_a_second_program_is_refused_while_the_first_is_at_it(at_the_windings):
    with pytest.raises(VisitTaken, match="One visit has one writer"):
        Session.resume(at_the_windings.context, Journal(at_the_windings.journal.path), at_the_windings.visit, clock())
    at_the_windings.close()


def test_the_first_says_nothing_more_once_the_second_has_restored_the_power(at_the_windings):
    first = at_the_windings
    first.close()  # it hangs, and its lock is gone with the machine's patience
    second = Session.resume(first.context, Journal(first.journal.path), first.visit, clock())
    second.reopen()
    second.type("switch it on")
    lead(second, lambda it: it.state.power.at("outdoor") == "live" and it.state.run is not None
         and it.state.run.check == "restore-power" and it.state.run.described)  # fmt: skip
    assert first.state.power.at("outdoor") == "proved-dead", "what the first believes is wrong now"
    before = len(first.journal.facts(first.visit))
    for line in ("understood", "u to v one point four two", "is it safe", "check the windings"):
        with pytest.raises(Overtaken, match="resume the visit"):
            first.type(line)
    assert len(first.journal.facts(first.visit)) == before, "nothing it would have said is kept or spoken"
    second.close()


def test_who_resumes_the_first_again_begins_from_the_lock(at_the_windings):
    first = at_the_windings
    first.close()
    second = Session.resume(first.context, Journal(first.journal.path), first.visit, clock())
    second.reopen()
    second.type("switch it on")
    lead(second, lambda it: any(isinstance(item.fact, f.EnergyChanged) and item.fact.to == "live"
                                for item in it.journal.facts(it.visit)))  # fmt: skip
    second.close()
    again = Session.resume(first.context, Journal(first.journal.path), first.visit, clock())
    assert again.state.power.at("outdoor") == "live"
    again.reopen()
    count = len(described(again, "winding-resistance"))
    again.type("check the windings")
    lead(again, lambda it: it.expectation.question == "lock-out-power.state")
    assert len(described(again, "winding-resistance")) == count
    again.close()
