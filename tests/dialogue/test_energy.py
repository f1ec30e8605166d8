"""The state of each place: nothing is dead without a lock and a measurement there, and doubt falls to the less safe."""

import itertools

import pytest

from assistant.dialogue.energy import EVERYWHERE, ORDER, Power, Stored, allows, less_safe, overall, place_key
from assistant.dialogue.waiting import LONGEST_S, discharge_wait

LOCKED = Power().with_lock()
OUTDOOR = LOCKED.measured("outdoor", "mains", 0.0, 1.0, True).measured("outdoor", "stored", 3.0, 2.0, True)
DEAD = OUTDOOR.proved("outdoor")


def test_nothing_is_proved_of_a_unit_that_is_not_locked_out():
    assert Power().proved("outdoor").at("outdoor") == "live"
    assert LOCKED.at("outdoor") == "isolated"


def test_a_proof_holds_for_its_own_place_only():
    assert DEAD.at("outdoor") == "proved-dead"
    for other in ("indoor", "indoor/zone-2", "signal", "line", "supply"):
        assert DEAD.at(other) == "isolated"


def test_a_voltage_found_takes_the_proof_of_its_place_back():
    again = DEAD.measured("outdoor", "stored", 310.0, 9.0, False)
    assert again.at("outdoor") == "isolated"
    assert not again.has_shown("outdoor", "stored")
    assert again.has_shown("outdoor", "mains")


def test_a_meter_that_was_not_good_has_shown_nothing_there():
    assert DEAD.doubted("outdoor") == LOCKED
    assert DEAD.doubted("indoor") == DEAD


@pytest.mark.parametrize(("one", "other"), [*itertools.product((Power(), LOCKED, OUTDOOR, DEAD), repeat=2)])
def test_doubt_leaves_what_holds_in_both(one, other):
    left = less_safe(one, other)
    for place in ("outdoor", "indoor"):
        worst = min(one.at(place), other.at(place), key=ORDER.index)
        assert ORDER.index(left.at(place)) <= ORDER.index(worst)
    assert left == less_safe(other, one)


def test_live_work_is_refused_on_a_locked_unit_and_isolated_work_on_a_live_one():
    assert not allows("isolated", "live")
    assert not allows("proved-dead", "live")
    assert not allows("live", "isolated")
    assert not allows("isolated", "proved-dead")
    assert allows("proved-dead", "isolated")
    assert all(allows(now, "any") for now in ORDER)


def test_a_visit_of_before_the_places_was_proved_as_a_whole():
    old = LOCKED.proved(EVERYWHERE)
    assert old.at("indoor/zone-1") == old.at("outdoor") == "proved-dead"
    assert overall(old) == "proved-dead"


def test_each_indoor_unit_is_a_place_of_its_own():
    assert place_key("indoor", "zone-2") != place_key("indoor", "zone-1")
    assert place_key("outdoor", "zone-2") == "outdoor"


# ---- how long the capacitors need -------------------------------------------------------------------------------


def readings(*pairs):
    return [Stored(place="outdoor", volts=volts, at_s=at_s) for at_s, volts in pairs]


def test_two_readings_show_the_decay_as_it_is(context):
    solo = context.library.profiles["copper-wren-solo"]
    wait = discharge_wait(solo, readings((0, 200.0), (60, 100.0)))
    assert wait.falls
    assert wait.why == "wait-decay"
    assert wait.seconds == pytest.approx(60 * 1.737, rel=0.01)  # ln(100/30) / ln 2 half-lives of a minute


@pytest.mark.parametrize("volts", [300.0, 305.0, 310.0])
def test_a_bus_that_hardly_falls_is_still_fed_or_has_no_bleed(context, volts):
    solo = context.library.profiles["copper-wren-solo"]
    wait = discharge_wait(solo, readings((0, 310.0), (60, volts)))
    assert (wait.falls, wait.seconds) == (False, 0.0)


def test_one_reading_waits_only_the_rest(context):
    solo = context.library.profiles["copper-wren-solo"]
    assert discharge_wait(solo, readings((0, 60.0))).seconds < discharge_wait(solo).seconds <= LONGEST_S


def test_a_lower_limit_is_waited_for_longer(context):
    solo = context.library.profiles["copper-wren-solo"]
    measured = readings((0, 100.0), (60, 50.0))
    assert discharge_wait(solo, measured, 1.0).seconds > discharge_wait(solo, measured).seconds
