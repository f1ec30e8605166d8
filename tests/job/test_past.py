"""The unit's past at a new visit: a repair that comes again, and how a reading went, against its limits."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.job.memory import COMPUTED, KnownSite, KnownUnit, Measured, Memory, PastVisit
from assistant.job.plate import Plate
from assistant.library.loader import load
from assistant.visit.journal import Journal
from assistant.visit.session import Knowledgeable, Session
from tests.job.technician import Clock

TODAY = datetime(2026, 7, 2, 9, tzinfo=UTC)


def read(value: float, said: str, question: str = COMPUTED) -> Measured:
    return Measured(
        key=f"circuit-superheat.{question}", title="Superheat", value=value, said=said, low="3 K", high="8 K"
    )


def session(tmp_path: Path, *past: PastVisit) -> Session:
    context = Knowledgeable(load())
    plate = Plate(id="solo", profile="copper-wren-solo", make="Copper Wren", model="Solo")
    context.memory = Memory(sites=(KnownSite(name="Mill", units=(KnownUnit(plate=plate, past=past),)),))
    led = Session.begin(context, Journal(tmp_path / "journal.sqlite"), Clock(), "typed", TODAY)
    led.open("Rosa Lind", TODAY.date().isoformat())
    led.type("Mill")
    return led


def said(led: Session, *lines: str) -> list[str]:
    return [reply.text for line in lines for reply in led.type(line).replies]


def rows(*values: tuple[str, float, str]) -> tuple[PastVisit, ...]:
    return tuple(PastVisit(visit=on, on=on, outcome="mended", measured=(read(v, text),)) for on, v, text in values)


SUPERHEAT = rows(("2026-05-01", 3.0, "3 K"), ("2025-06-01", 5.5, "5.5 K"), ("2024-06-01", 7.0, "7 K"))


@pytest.mark.parametrize("words", ["trend of the superheat", "what was the superheat last time", "the superheat trend"])
def test_the_trend_is_told_oldest_first_with_its_direction_and_limits(tmp_path, words):
    led = session(tmp_path, *SUPERHEAT)
    said(led, "copper wren solo")
    told = said(led, words)
    assert told[0] == "Superheat at the gas valve: 1 June 2024 7 K, 1 June 2025 5.5 K, 1 May 2026 3 K."
    assert told[1] == "It falls."
    assert told[2:4] == ["It should be at least 3 K.", "It should be at most 8 K."]
    assert told[-1] == "What does the unit show or do?"


def test_what_is_open_is_meant_where_nothing_is_named(tmp_path):
    past = PastVisit(visit="a", on="2026-05-01", outcome="mended", measured=(read(830.0, "120 psi", "pressure"),))
    led = session(tmp_path, past)
    said(led, "copper wren solo", "it blows warm air when cooling", "check the superheat")
    for _ in range(8):
        if led.expectation.question.startswith("circuit-superheat"):
            break
        said(led, "sea level" if led.expectation.question == "visit.altitude" else "understood")
    told = said(led, "how was that last time")
    assert told[0] == "Superheat at the gas valve: 1 May 2026 120 psi."


def test_nothing_remembered_is_said(tmp_path):
    led = session(tmp_path, *SUPERHEAT)
    said(led, "copper wren solo")
    assert said(led, "trend of the gas pressure")[0].startswith("I remember no earlier reading of")


def test_a_repair_that_was_made_before_is_pointed_out_and_weighs(tmp_path):
    mended = PastVisit(visit="a", on="2026-05-01", outcome="mended", mended=("drain-hose-blocked",))
    led = session(tmp_path, mended)
    told = said(led, "copper wren solo")
    assert "What may be behind that is looked at sooner." in told
    led.type("water comes out of the indoor unit")
    again = dict(led.context.reasoner(led.context.library.profiles["copper-wren-solo"]).ranked(_belief(led)))
    (tmp_path / "new").mkdir()
    fresh = session(tmp_path / "new")
    said(fresh, "copper wren solo", "water comes out of the indoor unit")
    first = dict(fresh.context.reasoner(fresh.context.library.profiles["copper-wren-solo"]).ranked(_belief(fresh)))
    assert again["drain-slope-wrong"] > 1.5 * first["drain-slope-wrong"]


def test_a_repair_of_long_ago_does_not(tmp_path):
    led = session(tmp_path, PastVisit(visit="a", on="2023-05-01", outcome="mended", mended=("drain-hose-blocked",)))
    assert "What may be behind that is looked at sooner." not in said(led, "copper wren solo")
    assert not led.state.job.mended_lately


def _belief(led: Session):
    from assistant.dialogue.turn import Turn

    return Turn(led.context, led.state, 0.0).belief()
