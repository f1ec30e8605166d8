"""Every fault shows, every repair named for it mends it, and nothing else does."""

import random

import pytest

from tests.field.adapter import SYMPTOMS
from tests.field.faults import BY_ID, FAULTS, Fault
from tests.field.machine.units import BUILD
from tests.field.machine.wiring import Switching
from tests.field.people.words import COMPLAINTS
from tests.field.world.repairs import REPAIRS, has
from tests.field.world.signs import signs
from tests.field.world.site import apply, draw, weather_for
from tests.field.world.world import World

SEEN = [fault for fault in FAULTS if not fault.hidden]


@pytest.mark.parametrize("fault", SEEN, ids=lambda fault: fault.id)
def test_a_fault_shows_to_the_customer_and_is_mended_by_what_is_named_for_it(fault: Fault) -> None:
    site = draw(1, fault)
    assert site.signs_bad
    assert set(site.signs_bad) <= set(SYMPTOMS)
    assert set(site.signs_bad) <= set(COMPLAINTS)
    for mend in fault.mends:
        world = World(draw(1, fault))
        assert world.still_wrong() == (fault.id,)
        assert world.repair(mend), f"{mend} found nothing to put right"
        assert world.still_wrong() == (), mend
        assert not world.signs(bad=True), f"{mend} left {world.signs(bad=True)}"


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.id)
def test_each_level_changes_what_the_machine_has(fault: Fault) -> None:
    for unit in fault.units:
        for level in fault.levels:
            machine = BUILD[unit]()
            assert all(has(machine, path) for path in level), unit
            before = machine.copy()
            apply(machine, level, weather_for(random.Random(1), [fault]))
            assert machine != before


def test_a_dear_part_changed_in_vain_leaves_the_fault() -> None:
    world = World(draw(4, BY_ID["signal-wire-broken"]))
    assert "replace-compressor" in world.truth().wasteful
    assert not world.repair("replace-compressor")
    assert world.still_wrong() == ("signal-wire-broken",)


def test_charge_alone_does_not_mend_a_leak() -> None:
    world = World(draw(4, BY_ID["leak-outdoor-joint"]))
    assert not world.repair("weigh-charge")
    assert world.still_wrong()


def test_there_are_faults_enough_and_each_says_its_physics() -> None:
    assert len(SEEN) >= 60
    assert len(BY_ID) == len(FAULTS)
    assert all(fault.physics.endswith(".") and fault.mends and set(fault.mends) <= set(REPAIRS) for fault in FAULTS)


def test_a_sound_site_shows_nothing() -> None:
    for unit, build in BUILD.items():
        machine = build()
        for seed in range(4):
            weather = weather_for(random.Random(seed), [])
            for zone in machine.zones:
                zone.settings.mode = weather.wanted
                zone.room.load = 0.5
            assert signs(machine, machine, weather, bad=True) == {}, (unit, weather, Switching())
