"""Two days of an invented company, typed: Harbour Lane Heating, three sites, five units, two technicians.

A commissioning with a leak found under nitrogen, a maintenance with a fault met on the way, a repair that is left for
a night and handed over, a leak check, a return. The days are lived twice: every fact must be the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from html import unescape
from pathlib import Path

import pytest

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import fold
from assistant.dialogue.state import VisitState
from assistant.job.memory import Job
from assistant.job.refrigerant import balance
from assistant.library.loader import load
from assistant.record.build import build
from assistant.record.forms import FORMATS
from assistant.record.model import ROLE_WORDS, Record
from assistant.visit.journal import Journal
from assistant.visit.memory import memory_of
from tests.job.technician import Technician

FIRST = datetime(2026, 3, 4, 8, 30)
JOBS = (
    Job(at="08:30", customer="Mrs Alvar", site="Old Dairy", address="12 Mill Street", kind="commissioning"),
    Job(at="13:00", customer="Quay Insurance", site="Quay Office", address="3 Quay Road", kind="maintenance"),
    Job(at="15:30", customer="Quay Insurance", site="Quay Office", address="3 Quay Road", about="server room warm"),
)
COMMISSIONING: dict[str, str | list[str]] = {
    "aside.plate-serial": "L H 4 7 1 1", "aside.plate-pipe-m": "32 meters", "aside.plate-lift-m": "4 meters",
    "aside.plate-name": "main house", "visit-outdoor-air.air": "20 degrees",
    "install-line-length.length": "32 m", "install-line-length.height": "4 m",
    "commission-nitrogen-hold.start": "4000 kPa", "commission-nitrogen-hold.*-air": "20 degrees",
    "commission-nitrogen-hold.end": ["3700 kPa", "4000 kPa"], "visit-leak-place.place": "an indoor nut",
    "commission-vacuum-decay.reached": "35 Pa", "commission-vacuum-decay.middle": "40 Pa",
    "commission-vacuum-decay.after": "42 Pa",
    "visit-charge-by-length.mass": "charged 0.21 kilos from cylinder 7", "visit-charge-by-length.length": "32 m",
    "commission-insulation.insulation": "200 megohms", "supply-volts.voltage": "240 volts",
    "commission-split-cooling.inlet": "24 degrees", "commission-split-cooling.outlet": "12 degrees",
    "commission-split-heating.inlet": "20 degrees", "commission-split-heating.outlet": "40 degrees",
    "running-current.current": "9 amps", "visit.altitude": "sea level",
}  # fmt: skip
MAINTENANCE = {
    "aside.plate-serial": "CW 1299", "aside.plate-breaker-a": "16 amps", "aside.plate-pipe-m": "6 meters",
    "aside.plate-lift-m": "2 meters", "aside.plate-name": "front office", "visit-outdoor-air.air": "28 degrees",
    "filter-look.filter": ["it is blocked", "clear"], "aside.open-point": ["it is mended", "look for it", "note it"],
    "airflow-outdoor-space.*": "40 centimeters", "supply-volts.voltage": "230 volts",
    "running-current.current": "4.1 amps", "commission-split-cooling.inlet": "26 degrees",
    "commission-split-cooling.outlet": "14 degrees", "visit.altitude": "sea level",
    "commission-drain-test.leaves": ["some is left", "all of it"], "drain-hose-end.drip": "dry",
    "drain-hose-suction.suction": "it is blocked", "drain-water-start.start": "low end",
    "drain-pan-pour.level": "it stays", "work-done-lately.history": "it failed by itself",
    "nothing-story.when": "always", "visit.repair-note": "blew the hose through",
    "noise-mount-look.feet": "no", "visit-customer-shown.shown": "nobody is here",
}  # fmt: skip
CROSSED = {
    "work-done-lately.history": "failed after work", "nothing-story.when": "all the time",
    "terminal-order.order": ["two are swapped", "same at both ends"], "signal-volts.behaviour": "jumps up and down",
    "signal-volts.voltage": "it jumps between 10 and 28 volts", "commission-split-cooling.inlet": "26.5 degrees",
    "commission-split-cooling.outlet": "14 degrees", "visit.altitude": "sea level",
}  # fmt: skip
LEAK_CHECK = {
    "aside.plate-serial": "LH 4712", "aside.plate-pipe-m": "20 meters", "aside.plate-lift-m": "3 meters",
    "leak-detector-sweep.place": "nowhere", "leak-soap-joints.bubbles": "no bubbles",
    "leak-coil-sniff.gas": "it stays silent",
    "aside.plate-name": "hall", "circuit-standing-pressure.pressure": "1095 kPa",
    "circuit-standing-pressure.temperature": "15 degrees", "visit.altitude": "sea level",
}  # fmt: skip


@dataclass
class Days:
    """What the two days left: the journal, the visits by name, what was said at some moments."""

    journal: Journal
    visits: dict[str, str]
    said: dict[str, list[str]]

    def state(self, name: str) -> VisitState:
        return fold(item.fact for item in self.journal.facts(self.visits[name]))

    def facts(self, name: str) -> list[f.Fact]:
        return [item.fact for item in self.journal.facts(self.visits[name])]


def live(folder: Path) -> Days:
    """Two working days in the journal of ``folder``."""
    journal = Journal(folder / "journal.sqlite")
    days = Days(journal, {}, {})

    def technician(name: str, so: dict, visit: str) -> Technician:
        who = Technician(journal, name=name, so=so)
        days.said.setdefault(visit, [])
        return who

    rosa = technician("Rosa Lind", COMMISSIONING, "commissioning")
    rosa.arrive(FIRST, JOBS)
    days.said["morning"] = list(rosa.replies)
    rosa.say("first job", "lantern hill trio", "travel 40 min", "start the clock")
    rosa.go_on(until="commission-leak-check*")
    days.said["law"] = [*rosa.say("next leak check"), *rosa.say("european union")]
    rosa.say("note: gate code is with the neighbour", "photo taken", "correction, note: gate code is 42 41")
    rosa.go_on()
    days.visits["commissioning"] = rosa.session.visit
    rosa.leave()

    rosa = technician("Rosa Lind", MAINTENANCE, "maintenance")
    rosa.arrive(FIRST.replace(hour=13), JOBS)
    rosa.say("the one in quay road", "copper wren solo")
    rosa.go_on(until="supply-volts*")
    rosa.say("part: drain hose, 2, from the van", "recovered 2 lb 10 oz into cylinder 3")
    days.said["noted"] = rosa.say("what have I noted")
    rosa.go_on()
    days.visits["maintenance"] = rosa.session.visit
    rosa.leave()

    rosa = technician("Rosa Lind", {}, "night")
    rosa.arrive(FIRST.replace(hour=15), JOBS)
    rosa.say("quay office")
    days.said["which"] = list(rosa.replies)
    rosa.say("it's a Nordwind NW-12", "yes", "two thirty", "thirty two", "it blows warm air when cooling")
    rosa.say("prove it dead")
    rosa.go_on(until="prove-dead.tried")
    rosa.say("still good")
    days.visits["night"] = rosa.session.visit
    assert "outdoor" in rosa.session.state.power.dead
    rosa.leave()

    tom = technician("Tom Abara", {}, "handover")
    tom.clock = rosa.clock
    tom.resume(days.visits["night"], timedelta(hours=16), "Tom Abara")
    days.said["handover"] = list(tom.replies)
    assert not tom.session.state.power.locked
    tom.say("note: key is at the desk", "finish", "yes")
    tom.go_on()
    tom.leave()

    tom = technician("Tom Abara", CROSSED, "repair")
    tom.arrive(FIRST + timedelta(days=1))
    tom.say("Alder House", "yes", "copper wren solo", "leaf lamp blinks slowly", "check the terminal order")
    tom.go_on()
    days.visits["repair"] = tom.session.visit
    tom.leave()

    tom = technician("Tom Abara", LEAK_CHECK, "leak check")
    tom.arrive(FIRST + timedelta(days=1, hours=3))
    tom.say("alder house", "lantern hill trio")
    tom.say("refrigerant leak check")
    tom.go_on()
    days.visits["leak check"] = tom.session.visit
    tom.leave()

    tom = technician("Tom Abara", {}, "return")
    tom.arrive(FIRST + timedelta(days=7))
    tom.say("quay office", "front office")
    days.said["return"] = list(tom.replies)
    days.said["history"] = tom.say("last time")
    days.visits["return"] = tom.session.visit
    tom.leave()
    return days


@pytest.fixture(scope="module")
def days(tmp_path_factory: pytest.TempPathFactory) -> Days:
    return live(tmp_path_factory.mktemp("days"))


def test_the_morning_names_the_first_job(days: Days) -> None:
    assert "3 jobs today. The first is Old Dairy." in days.said["morning"]


def test_a_leak_found_in_a_commissioning_is_mended_before_anything_is_charged(days: Days) -> None:
    state = days.state("commissioning")
    assert state.closing == "commissioned"
    assert state.job.customer == "Mrs Alvar"
    order = [result.check for result in state.results if result.role == "course"]
    held = [at for at, check in enumerate(order) if check == "commission-nitrogen-hold"]
    assert len(held) == 2
    assert held[0] < order.index("visit-leak-place") < held[1] < order.index("commission-vacuum-decay")
    assert order.index("commission-vacuum-decay") < order.index("visit-charge-by-length")
    assert state.circuit == ("charged",)


def test_power_comes_only_to_a_tight_dry_charged_circuit(days: Days) -> None:
    facts = days.facts("commissioning")
    changes = [(at, x) for at, x in enumerate(facts) if isinstance(x, f.CircuitChanged)]
    charged = next(at for at, x in changes if x.to == "charged" and x.certain)
    live = [at for at, x in enumerate(facts) if isinstance(x, f.EnergyChanged) and x.to == "live"]
    assert live
    assert min(live) > charged


def test_nitrogen_stands_half_an_hour_and_vacuum_twenty_minutes(days: Days) -> None:
    waits = [x for x in days.facts("commissioning") if isinstance(x, f.WaitStarted) and x.question]
    assert [(x.question, x.seconds) for x in waits] == [
        ("end", 1800), ("end", 1800), ("middle", 600), ("after", 600),
    ]  # fmt: skip


def test_every_zone_was_tried_in_both_modes(days: Days) -> None:
    results = [r for r in days.state("commissioning").results if r.role == "course"]
    for check in ("commission-split-cooling", "commission-split-heating"):
        assert {r.zone for r in results if r.check == check} == {"zone-1", "zone-2", "zone-3"}


def test_the_plate_is_kept(days: Days) -> None:
    plate = days.state("commissioning").job.plate
    assert (plate.serial, plate.name, plate.pipe_m, plate.refrigerant) == ("LH4711", "main house", 32.0, "R454B")


def test_a_charge_is_noted_and_answers_the_question(days: Days) -> None:
    """(32 m - 22.5 m) x 22 g/m = 209 g were due; 0.21 kg went in."""
    state = days.state("commissioning")
    result = next(r for r in state.results if r.check == "visit-charge-by-length")
    assert result.judgement.outcome == "ok"
    assert balance(state.job.ledger).cylinders == {"7": pytest.approx(-0.21)}


def test_the_law_is_told_with_its_article(days: Days) -> None:
    """2.6 kg + 0.209 kg of R454B: 2.809 x 465.23 / 1000 = 1.31 t, below 5 t."""
    assert any("1.31 tonnes" in text for text in days.said["law"])
    at = next(at for at, text in enumerate(days.said["law"]) if "No regular leak check" in text)
    assert days.said["law"][at + 1] == "Regulation (EU) 2024/573, Article 5(1)."


def test_a_note_is_corrected_and_both_stay(days: Days) -> None:
    lines = days.state("commissioning").job.ledger
    notes = [(line.entry.text, line.struck) for line in lines if line.entry.what == "note"]
    assert notes == [("gate code is with the neighbour", True), ("gate code is 42 41", False)]


def test_a_fault_met_in_a_maintenance_is_looked_for_and_the_course_goes_on(days: Days) -> None:
    state = days.state("maintenance")
    kinds = [fact.kind for fact in days.facts("maintenance")]
    assert kinds.index("search-opened") < kinds.index("repair-done") < kinds.index("search-closed")
    assert [suspect for suspect, _ in state.mended] == ["drain-hose-blocked"]
    assert state.closing == "maintained, 2 points open"
    assert [point.check for point in state.job.points] == ["noise-mount-look", "visit-customer-shown"]


def test_what_was_noted_is_listed(days: Days) -> None:
    assert any("Part, drain hose, 2, from van." in text for text in days.said["noted"])
    assert any("Recovered 2 lb 10 oz, 1.19 kg into cylinder 3." in text for text in days.said["noted"])


def test_the_units_of_a_known_site_are_offered(days: Days) -> None:
    assert any("front office" in text for text in days.said["which"])


def test_a_colleague_takes_over_with_a_lock_of_their_own(days: Days) -> None:
    told = days.said["handover"]
    assert "Quay Office, Nordwind NW-12." in told
    assert "The outdoor unit was measured dead then." in told
    assert "Tom Abara goes on from here." in told
    assert any(line.startswith("Hang your own lock, and measure again before you touch.") for line in told)
    state = days.state("night")
    assert state.technician == "Tom Abara"
    assert state.job.technicians == ("Rosa Lind", "Tom Abara")
    by = {line.entry.text: line.by for line in state.job.ledger}
    assert by == {"key is at the desk": "Tom Abara"}
    assert (state.job.plate.make, state.job.plate.model) == ("Nordwind", "NW-12")


def test_the_repair_and_the_leak_check_end_as_they_should(days: Days) -> None:
    assert days.state("repair").closing == "mended"
    assert days.state("leak check").closing == "checked, no leak found"


def test_who_comes_back_hears_what_was_done(days: Days) -> None:
    told = " ".join(days.said["return"])
    assert "Last time, 4 March 2026" in told
    assert "the drain hose is blocked" in told.lower()
    assert "Left open then" in told


def test_five_units_at_three_sites_are_remembered(days: Days) -> None:
    memory = memory_of(days.journal, load())
    units = {site.name: sorted(unit.plate.called for unit in site.units) for site in memory.sites}
    assert {name: len(each) for name, each in units.items()} == {"Quay Office": 2, "Alder House": 2, "Old Dairy": 1}


@pytest.mark.parametrize("name", ["commissioning", "maintenance", "night", "repair", "leak check", "return"])
def test_every_visit_has_its_record_in_every_form(days: Days, name: str) -> None:
    visit = days.visits[name]
    record = build(days.journal.row(visit), days.journal.facts(visit), load())
    pages = {kind: make(record) for kind, make in FORMATS.items()}
    page = str(pages["html"])
    titles = {check.title for check in record.checks}
    assert all(title in unescape(page) for title in titles)
    assert all(words in page for words in {ROLE_WORDS[check.role] for check in record.checks})
    assert bytes(pages["pdf"]).startswith(b"%PDF-")  # type: ignore[arg-type]


def record_of(days: Days, name: str) -> Record:
    visit = days.visits[name]
    return build(days.journal.row(visit), days.journal.facts(visit), load())


def test_a_complaint_that_was_not_solved_stays_open_on_the_customers_page(days: Days) -> None:
    record = record_of(days, "night")
    assert record.summary.wrong == ("The cause was not found in this visit.",)
    assert record.summary.open == (
        "A lock may still hang there. Whose it is takes it off.",
        "The cause still has to be found of this: it blows warm air when cooling.",
    )


def test_a_night_between_is_no_time_on_the_visit_and_both_technicians_are_named(days: Days) -> None:
    record = record_of(days, "night")
    assert record.technicians == ("Rosa Lind", "Tom Abara")
    assert record.away_min == pytest.approx(16 * 60, abs=5)
    page = str(FORMATS["html"](record))
    assert "Rosa Lind, then Tom Abara" in page
    assert "to Thursday, 05 March 2026, 07:41" in page
    assert '<b>11 min <span class="soft">(interrupted for 16 h 0 min)' in page


def test_what_a_course_put_right_on_its_way_is_told(days: Days) -> None:
    record = record_of(days, "commissioning")
    assert "Put right on the way, then good: Nitrogen held under pressure." in record.summary.done
    assert record.unit.zone == ""  # it went to each
    assert "weights" not in {picture.kind for picture in record.pictures}  # nothing was searched for
    assert "weights" in {picture.kind for picture in record_of(days, "maintenance").pictures}


def test_what_was_looked_at_is_told_by_what_it_means(days: Days) -> None:
    (pair,) = record_of(days, "maintenance").summary.pairs
    assert (pair.before, pair.after) == ("The drain does not carry a liter", "The drain carries a liter")


def test_pounds_that_were_said_have_their_kilograms_beside_them(days: Days) -> None:
    (move,) = record_of(days, "maintenance").refrigerant
    assert move.said == "2 lb 10 oz (1.19 kg)"


def test_a_leak_check_that_finds_nothing_leaves_the_unit_switched_on(days: Days) -> None:
    """It is locked out for the search in the units, and nothing else of the check ever needs the power again."""
    said = [fact.message.id for fact in days.facts("leak check") if isinstance(fact, f.Said) and fact.message]
    described = [fact.check for fact in days.facts("leak check") if isinstance(fact, f.CheckDescribed)]
    assert described[-1] == "restore-power"
    assert "lock-out-power" in described
    assert not days.state("leak check").power.locked
    assert "left-proved-dead" not in said
    assert record_of(days, "leak check").left.safety == "in service"


def test_the_same_days_again_leave_the_same_journal(days: Days, tmp_path: Path) -> None:
    again = live(tmp_path)
    assert again.visits == days.visits
    for name in days.visits:
        assert again.facts(name) == days.facts(name), name
