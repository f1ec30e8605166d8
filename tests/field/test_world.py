"""Energy, meters, people and the way from a question to an answer."""

import random
from typing import Any

import pytest

from assistant.visit.session import Knowledgeable
from tests.field.adapter import KNOWN, Asked, Reply, answer
from tests.field.faults import BY_ID
from tests.field.people.meters import CLASSES, Meters
from tests.field.people.technician import Habits, Technician
from tests.field.questions import TABLE
from tests.field.questions.entry import Customer, Do, Hear, Judge, Look, Measure, Smell
from tests.field.terms import canonical, own
from tests.field.work import work_of
from tests.field.world import Found, World
from tests.field.world.repairs import REPAIRS
from tests.field.world.site import draw
from tests.field.world.world import ACTIONS, CUSTOMER, LOOKS, MEASURES, SMELLS, SOUNDS

SURE = Habits(dont_know=0, cant_reach=0, misreads=0, customary=0)


def shown(world: World, quantity: str, place: str) -> float:
    """The one value that an ideal meter shows."""
    found = world.measure(quantity, place)
    assert found is not None
    assert found.value is not None
    return found.value


def at(fault: str, unit: str | None = None, seed: int = 2) -> World:
    return World(draw(seed, BY_ID[fault], unit))


def test_the_bus_holds_its_charge_after_locking_out_and_ohms_on_it_are_noted() -> None:
    world = at("outdoor-rails-dead", "trio")  # nothing but the bleed empties this bus
    assert world.measure("resistance", "compressor leads") is None
    world.operate("lock out")
    assert shown(world, "voltage_dc", "outdoor bus") > 300
    assert world.measure("resistance", "compressor leads") is None
    assert len(world.hazards) == 2
    world.pass_time(600)
    assert shown(world, "voltage_dc", "outdoor bus") < 30
    leads = world.measure("resistance", "compressor leads")
    assert leads is not None
    assert leads.values["u-v"] == pytest.approx(0.72, rel=0.1)
    assert len(world.hazards) == 2


def test_each_place_is_live_until_it_is_locked_out_and_then_runs_down() -> None:
    world = at("filter-blocked", "trio")
    places = ("outdoor mains", "indoor mains", "line mains", "mains behind the lock")

    def mains(place: str) -> float:
        found = world.measure("voltage_ac", place)
        assert found is not None
        return max(found.values.values())

    assert min(map(mains, places)) > 100
    assert shown(world, "voltage_dc", "indoor bus") > 300
    world.operate("lock out")
    assert max(map(mains, places)) < 1
    assert shown(world, "voltage_dc", "indoor bus") > 200
    world.pass_time(120)
    assert shown(world, "voltage_dc", "indoor bus") < 5


def test_a_breaker_that_trips_leaves_the_unit_off() -> None:
    world = at("whip-chewed")
    world.operate("lock out")
    assert world.operate("switch on") == "trips"
    assert not world.live
    assert world.operate("press the breaker in with the disconnect off") == "trips"


def test_volts_without_power_are_nothing() -> None:
    world = at("filter-blocked", "solo-240")
    assert shown(world, "voltage_ac", "outdoor line to line") > 200
    world.operate("lock out")
    assert shown(world, "voltage_ac", "outdoor line to line") < 1
    assert world.look("signal meter outdoors") == "none"


def test_a_loose_contact_is_bad_now_and_then() -> None:
    world = at("signal-screw-loose", "solo-240")
    seen = set()
    for _ in range(30):
        seen.add(world.bad)
        world.pass_time(1300)
    assert seen == {True, False}


@pytest.mark.parametrize("quantity", sorted(CLASSES))
def test_a_meter_is_off_by_what_its_class_allows_and_no_more(quantity: str) -> None:
    kind = CLASSES[quantity]
    meters = [Meters(random.Random(seed)) for seed in range(40)]
    for true in (kind.resolution * 50, kind.resolution * 3000):
        shown = [meter.shows(quantity, true) for meter in meters]
        allowed = 2.5 * (kind.percent / 100 * true + kind.offset) + kind.resolution + true / 500
        assert max(abs(value - true) for value in shown) < allowed
        assert len(set(shown)) > 1


def test_beyond_its_range_a_meter_shows_an_open_line() -> None:
    assert Meters(random.Random(1)).reads("resistance", Found(6e10)).open_line


def test_a_technician_errs_as_often_as_told() -> None:
    careless = Technician(random.Random(1), Habits(dont_know=0, cant_reach=0, misreads=0.3))
    wrong = sum(careless.chooses("yes", ("yes", "no")).slip for _ in range(600))
    assert 120 < wrong < 240
    shy = Technician(random.Random(1), Habits(dont_know=0.2, cant_reach=0.2))
    assert {shy.unable(hands_on=True) for _ in range(50)} == {None, "dont-know", "cant-reach"}


def test_every_row_asks_for_something_the_world_has() -> None:
    registry = {Look: LOOKS, Hear: SOUNDS, Smell: SMELLS, Customer: CUSTOMER, Do: ACTIONS}
    for key, entry in TABLE.items():
        match entry:
            case Measure(quantity=quantity, place=place):
                assert (quantity, place) in MEASURES, key
            case Judge():
                pass
            case Customer(topic=name) | Do(action=name) | Look(thing=name) | Hear(thing=name) | Smell(thing=name):
                assert name in registry[type(entry)], key


def test_a_row_answers_in_choices_that_the_program_still_has(context: Knowledgeable) -> None:
    outdated = []
    for check in context.library.checks.values():
        for question in check.ask:
            key = f"{check.id}.{question.key}"
            entry = TABLE.get(key)
            if entry is None or isinstance(entry, Measure | Judge):
                continue
            if not set(entry.choices.values()) <= {choice.id for choice in question.choices}:
                outdated.append(key)
    assert len(outdated) <= 10, f"adapt tests/field/questions: {', '.join(outdated)}"


def test_most_questions_of_the_program_are_known(context: Knowledgeable) -> None:
    keys = {f"{check.id}.{question.key}" for check in context.library.checks.values() for question in check.ask}
    assert len(keys & KNOWN) >= 0.8 * len(keys), "many new questions: add them to tests/field/questions"


def test_most_repairs_of_the_program_are_understood(context: Knowledgeable) -> None:
    suspects = context.library.suspects.values()
    works = [work_of(each.id, each.name, each.component, each.repair.say) for each in suspects]
    assert {name for names in works for name in names} <= set(REPAIRS)
    assert sum(map(bool, works)) >= 0.9 * len(works)


def replied(world: World, key: str, **more: Any) -> Reply:
    reply = asked(world, key, **more)
    assert reply is not None
    return reply


def asked(world: World, key: str, **more: Any) -> Reply | None:
    technician = Technician(random.Random(3), SURE)
    return answer(world, technician, Asked(key, **more), canonical, own)


def test_an_answer_comes_from_the_state_in_words_and_in_the_questions_terms() -> None:
    world = at("filter-blocked", "solo-240")
    reply = replied(world, "filter-look.filter", choices=("clear", "dusty", "blocked"))
    assert reply.choice == "blocked"
    assert reply.words
    assert asked(world, "no-such-check.question") is None
    weather = replied(
        world, "new.weather", text="What is the outdoor temperature?", quantity="temperature", unit="degC"
    )
    assert weather.numbers[0].value == pytest.approx(world.weather.outdoor_c, abs=2)


def test_readings_by_place_and_an_open_line() -> None:
    world = at("winding-open", "solo-240")
    world.operate("lock out")
    world.pass_time(1200)
    places = ("u-v", "v-w", "w-u")
    reply = replied(
        world,
        "winding-resistance.resistances",
        quantity="resistance", unit="ohm", low=0, high=100, places=places, open_line=True,
    )  # fmt: skip
    assert [number.place for number in reply.numbers] == list(places)
    assert sum(number.value is None for number in reply.numbers) == 2


def test_what_this_unit_has_not_is_not_answered() -> None:
    world = at("filter-blocked", "basic-208")
    assert asked(world, "eev-coil-seat.seat", choices=("locked", "lifted")) is None
    assert asked(world, "drain-float-move.float", choices=("freely", "sticks")) is None
