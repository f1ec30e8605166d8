"""A removal and a leak check, led to their ends as their technician types them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.job.refrigerant import balance
from assistant.visit.journal import Journal
from tests.job.technician import Technician

DAY = datetime(2026, 5, 4, 9, tzinfo=UTC)
PLATE: dict[str, str | list[str]] = {
    "aside.plate-serial": "C W 9 9 1", "aside.plate-breaker-a": "16 amps", "aside.plate-pipe-m": "6 meters",
    "aside.plate-lift-m": "2 meters", "aside.plate-name": "shop", "visit.altitude": "sea level",
}  # fmt: skip
REMOVAL = PLATE | {
    "circuit-recover-weigh.mass": "recovered 2 lb 1 oz into cylinder 4", "circuit-recover-weigh.length": "6 m",
    "visit-recovered-holds.off": "yes", "visit-recovered-holds.holds": "yes",
}  # fmt: skip
LEAK_CHECK = PLATE | {
    "leak-oil-look.oil": "nowhere", "leak-detector-sweep.place": "nowhere", "leak-soap-joints.bubbles": "no bubbles",
    "leak-coil-sniff.gas": "it stays silent", "circuit-standing-pressure.pressure": "1400 kPa",
    "circuit-standing-pressure.temperature": "20 celsius",
}  # fmt: skip


def led(folder: Path, kind: str, so: Mapping[str, str | list[str]], until: str = "") -> Technician:
    who = Technician(Journal(folder / "journal.sqlite"), so=so)
    who.arrive(DAY)
    who.say("Mill Shop", "copper wren solo", kind)
    who.go_on(until)
    return who


def test_a_removal_ends_with_the_charge_out_and_the_wires_capped(tmp_path):
    who = led(tmp_path, "recovery and removal", REMOVAL)
    state = who.session.state
    order = [result.check for result in state.results if result.role == "course"]
    assert order == [
        "circuit-recover-weigh", "recover-charge", "visit-recovered-holds", "visit-conductors-safe",
        "visit-recovery-label",
    ]  # fmt: skip
    assert state.closing == "recovered and removed"
    assert state.circuit == ("recovered",)
    assert balance(state.job.ledger).cylinders == {"4": pytest.approx(0.935534)}  # 33 oz at 28.349523125 g
    assert who.replies[-1] == "Visit closed: recovered and removed. The record is written."


def test_nothing_goes_back_on_a_unit_that_is_taken_away(tmp_path):
    who = led(tmp_path, "recovery and removal", REMOVAL)
    assert "put-back.state" not in who.asked
    assert [item.thing for item in who.session.state.off if item.thing == "supply-wires"] == ["supply-wires"]
    assert any(text.startswith("Left off:") for text in who.replies)
    assert who.session.state.power.locked


def test_a_removal_keeps_the_power_off_from_before_the_recovery_machine_runs(tmp_path):
    who = led(tmp_path, "recovery and removal", REMOVAL, until="circuit-recover-weigh.mass")
    assert who.session.state.power.locked


def test_gas_that_comes_out_of_the_oil_is_recovered_too(tmp_path):
    who = led(tmp_path, "recovery and removal", REMOVAL | {"visit-recovered-holds.holds": ["no", "yes"]})
    order = [result.check for result in who.session.state.results if result.role == "course"]
    assert order.count("visit-recovered-holds") == 2
    assert who.session.state.closing == "recovered and removed"


def test_a_leak_check_that_finds_nothing_says_so(tmp_path):
    who = led(tmp_path, "refrigerant leak check", LEAK_CHECK)
    assert who.session.state.closing == "checked, no leak found"
    assert who.replies[-1] == "Visit closed: checked, no leak found. The record is written."


def test_a_leak_that_is_found_and_left_is_the_visits_open_point(tmp_path):
    found = LEAK_CHECK | {"leak-soap-joints.bubbles": "at the indoor joint", "aside.open-point": "note it"}
    who = led(tmp_path, "refrigerant leak check", found)
    assert who.session.state.closing == "checked for leaks, one point open"
    assert [point.check for point in who.session.state.job.points] == ["leak-soap-joints"]


def test_a_visit_that_follows_a_course_does_not_become_another_kind(tmp_path):
    who = led(tmp_path, "yearly maintenance", PLATE | {"visit-outdoor-air.air": "20 celsius"}, until="filter-look*")
    question = who.session.expectation.question
    who.say("commissioning")
    assert who.replies[0] == "This visit is maintenance. Finish it first, or begin another visit."
    assert who.session.state.job.visit_kind == "maintenance"
    assert who.session.expectation.question == question
