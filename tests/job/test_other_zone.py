"""The wrong indoor unit was named, or the technician stands at the wrong one: found in the middle of a search."""

from datetime import datetime

import pytest

from assistant.language.another_zone import another_zone
from assistant.language.meaning import Choice
from assistant.visit.journal import Journal
from tests.job.technician import Technician

ZONES = tuple(
    Choice(id=f"zone-{at}", phrases=(name, f"the {name}"))
    for at, name in enumerate(("kitchen", "den", "zone three"), start=1)
)


@pytest.fixture
def searching(tmp_path):
    """At a trio's zone one, asked how warm the air goes in there."""
    who = Technician(Journal(tmp_path / "journal.sqlite"))
    who.arrive(datetime(2026, 5, 6, 9, 0))
    who.say("Mill Shop", "lantern hill trio", "zone one", "it blows cold air when heating", "by itself", "nothing")
    who.go_on(until="first-split-heating.*")
    assert who.session.expectation.question == "first-split-heating.inlet"
    yield who
    who.leave()


@pytest.mark.parametrize(
    ("said", "zone"),
    [
        ("it's the den not the kitchen", "zone-2"),
        ("wrong head, I'm at zone three", "zone-3"),
        ("correction, the den", "zone-2"),
        ("I meant the kitchen", "zone-1"),
        ("not the kitchen, the den", "zone-2"),
        ("the den is not heating", None),
        ("not the den", None),
        ("actually the den and the kitchen are fine", None),
        ("wrong wire in the box", None),
    ],
)
def test_which_unit_is_named_instead(said, zone):
    assert another_zone(said, ZONES) == zone


def test_before_anything_was_found_there_it_is_changed_at_once(searching):
    assert searching.say("sorry, it's zone two, not zone one")[0] == "Now zone two."
    assert searching.session.state.zone == "zone-2"
    assert searching.session.state.note("zone") == "zone-2"
    assert searching.session.expectation.question == "first-split-heating.inlet"


@pytest.mark.parametrize("said", [("wrong zone", "zone two"), ("I'm at the wrong head, it's zone two",)])
def test_what_was_measured_at_the_wrong_unit_does_not_count(searching, said):
    searching.say("twenty one celsius", *said)
    assert searching.session.expectation.question == "aside.zone-wrong"
    said = searching.say("another unit")
    assert said[:2] == ["Now zone two.", "What was found at zone one does not count there."]
    assert searching.session.expectation.question == "first-split-heating.inlet"  # asked once more


def test_a_judged_check_of_the_wrong_unit_counts_no_more_and_go_back_brings_it_again(searching):
    searching.say("twenty one celsius", "thirty eight celsius")
    assert [r.zone for r in searching.session.state.results if r.check == "first-split-heating"] == ["zone-1"]
    searching.say("it's zone three not zone one", "another unit")
    state = searching.session.state
    assert not [r for r in state.results if r.check == "first-split-heating"]
    assert [r for r in state.results if r.check == "work-done-lately"]  # of no one unit
    searching.say("go back")
    assert [r.zone for r in searching.session.state.results if r.check == "first-split-heating"] == ["zone-1"]


def test_where_only_the_name_was_wrong_all_stays(searching):
    searching.say("twenty one celsius", "thirty eight celsius", "it's zone three not zone one", "only the name")
    state = searching.session.state
    assert [r.zone for r in state.results if r.check == "first-split-heating"] == ["zone-3"]
    assert state.zone == "zone-3"


def test_the_other_unit_is_not_proved_dead_by_the_first(searching):
    searching.say("check the indoor fan plug")
    searching.go_on(until="indoor-fan-plug.*")
    assert searching.session.state.power.at("indoor/zone-1") == "proved-dead"
    told = searching.say("wrong zone", "zone two", "another unit")
    assert "First put back what is off at zone one. Then name the other unit again." in told
    searching.say("all back on")
    searching.say("wrong zone", "zone two", "another unit")
    assert searching.session.state.power.at("indoor/zone-2") == "isolated"
    assert "Not yet at the indoor unit" in " ".join(searching.say("is it safe"))


def test_one_indoor_unit_has_no_other(tmp_path):
    who = Technician(Journal(tmp_path / "journal.sqlite"))
    who.arrive(datetime(2026, 5, 6, 9, 0))
    who.say("Mill Shop", "copper wren solo", "it blows cold air when heating")
    assert who.say("wrong room")[0] == "This visit has only one indoor unit."
    who.leave()
