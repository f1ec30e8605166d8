"""At a unit without a profile people read its plate aloud; what was named is not asked again."""

from datetime import UTC, datetime

import pytest

from assistant.visit.journal import Journal
from tests.job.technician import Technician


def test_supply_and_refrigerant_of_one_sentence(tmp_path):
    rosa = Technician(Journal(tmp_path / "journal.sqlite"))
    rosa.arrive(datetime(2026, 3, 2, 9, tzinfo=UTC))
    said = rosa.say("Quay Office", "no profile", "it's a brinewell, two forty volt, r thirty two")
    assert said[:2] == ["Split phase.", "R32."]
    assert rosa.session is not None
    state = rosa.session.state
    assert (state.note("supply"), state.note("refrigerant")) == ("split-phase-240", "R32")
    assert (state.job.plate.supply, state.job.plate.refrigerant) == ("split-phase-240", "R32")
    assert rosa.session.expectation.question == "visit.indication"
    rosa.leave()


def test_words_without_a_digit_are_no_serial_number(tmp_path):
    who = Technician(Journal(tmp_path / "journal.sqlite"))
    who.arrive(datetime(2026, 5, 6, 9, 0))
    who.say("Mill Shop", "copper wren solo", "weak airflow", "take the plate")
    assert who.session.expectation.question == "aside.plate-serial"
    who.say("who am I")
    assert who.session.expectation.question == "aside.plate-serial"
    who.say("A B C 9 9")
    assert who.session.state.job.plate.serial == "ABC99"


def test_a_supply_that_cannot_be_read_is_told_by_the_building(tmp_path):
    who = Technician(Journal(tmp_path / "journal.sqlite"))
    who.arrive(datetime(2026, 5, 6, 9, 0))
    who.say("Mill Shop", "no profile")
    for said in ("skip", "I don't know"):
        assert who.say(said)[0].startswith("Then what the building has: two forty in a home"), said
        assert who.session.expectation.question == "visit.supply"


@pytest.mark.parametrize(
    ("said", "unit", "supply", "refrigerant"),
    [
        ("it's a Brinewell NW-12, 240 volts, R32", ("Brinewell", "NW-12"), "split-phase-240", "R32"),
        ("its a brinewell wall mount two forty volt", ("brinewell", "wall mount"), "split-phase-240", None),
        ("brinewell slim, r four ten a", ("brinewell", "slim"), None, "R410A"),
        ("brinewell nine thousand", ("brinewell", "nine thousand"), None, None),
    ],
)
def test_what_is_told_with_the_make_is_not_asked_again(tmp_path, said, unit, supply, refrigerant):
    who = Technician(Journal(tmp_path / "journal.sqlite"))
    who.arrive(datetime(2026, 5, 6, 9, 0))
    who.say("Mill Shop", said, "yes")
    plate = who.session.state.job.plate
    assert ((plate.make, plate.model), plate.supply, plate.refrigerant) == (unit, supply, refrigerant)
    state = who.session.state
    assert (state.note("supply"), state.note("refrigerant")) == (supply, refrigerant)
    asked = "supply" if supply is None else "refrigerant" if refrigerant is None else "indication"
    assert who.session.expectation.question == f"visit.{asked}"
    who.leave()


@pytest.mark.parametrize(
    ("said", "zones"),
    [
        ("just one head", ()),
        ("three heads", ("zone one", "zone two", "zone three")),
        ("two: kitchen and den", ("kitchen", "den")),
        ("one bedroom, the hall", ("one bedroom", "the hall")),
    ],
)
def test_indoor_units_may_be_counted(tmp_path, said, zones):
    who = Technician(Journal(tmp_path / "journal.sqlite"))
    who.arrive(datetime(2026, 5, 6, 9, 0))
    who.say("Mill Shop", "no profile", "two forty", "r thirty two", "weak airflow", "take the plate")
    while who.session.expectation.question != "aside.plate-zones":
        who.say("skip")
    who.say(said)
    assert who.session.state.job.plate.zones == zones
    who.leave()
