"""The watcher watches: visits break no rule, and each hole that was found once is named when it is put in again."""

import re
from collections import Counter

import pytest

from assistant.library.loader import load
from assistant.visit.session import Knowledgeable
from tests.safety.every_step import begun, repaired
from tests.safety.holes import holes
from tests.safety.scripted import Led
from tests.safety.things import MENDED, THING_WORDS
from tests.safety.visits import WANTED, watch
from tests.safety.words import places

LIBRARY = load()
HOLES = holes(LIBRARY)
#: ``python -m tests.safety.run --visits 20000`` watches as many as one likes; these are other seeds.
FIRST, COUNT, AT_ONCE = 2_000_000, 36, 12
#: What so few visits need not come to; ``run`` prints how often each came about in many.
RARE = {"visit for return", "visit for removal", "visit for commissioning"}


@pytest.fixture(scope="module")
def sound():
    return Knowledgeable(LIBRARY)


@pytest.fixture(scope="module")
def met():
    return Counter()


@pytest.mark.parametrize("first", range(FIRST, FIRST + COUNT, AT_ONCE))
def test_no_random_visit_breaks_a_rule(sound, met, first):
    watched = [watch(sound, seed) for seed in range(first, first + AT_ONCE)]
    broken = [f"seed {one.seed}, utterance {turn}: {each}" for one in watched for turn, each in one.breaks]
    assert not broken, "\n".join(broken)
    assert sum(one.turns for one in watched) > 20 * AT_ONCE, "the visits end before anything is done"
    met.update(sum((one.met for one in watched), Counter()))


def test_random_visits_come_to_all_that_could_break_a_rule(met):
    if sum(met[name] for name in WANTED if name.startswith("visit for")) < COUNT:
        pytest.skip("needs the visits above")
    assert not [name for name in WANTED if not met[name] and name not in RARE]


@pytest.mark.parametrize("hole", HOLES, ids=[f"{hole.number}: {hole.what}" for hole in HOLES])
def test_a_hole_is_named_when_it_is_put_in_again(sound, hole):
    led = Led(sound)
    hole.visit(led)
    assert not led.breaks, "the visit itself breaks a rule"
    with hole.made():
        holed = Led(Knowledgeable(hole.library(LIBRARY)))
        hole.visit(holed)
    assert hole.rule in holed.broken, f"{holed.broken or 'nothing'} instead; it was last asked {holed.question}"


def test_every_hole_of_the_list_is_tried():
    assert {hole.number for hole in HOLES} == {str(number) for number in range(1, 14)}


#: Repairs whose words send hands to both units: data that knows of one only proves and warns of one only.
AT_BOTH = [
    name for name, suspect in LIBRARY.suspects.items() if {"outdoor", "indoor"} <= set(places(suspect.repair.say))
]


@pytest.mark.parametrize("suspect", AT_BOTH)
def test_a_repair_at_both_units_is_led_to_as_its_words_say(sound, suspect):
    led = repaired(suspect, begun(sound, "one zone"))
    assert led.breaks == []


def test_a_repair_puts_back_only_what_its_words_put_back():
    """What is not said is not done: everything else is ordered back before power, one thing after another."""
    unsaid = [
        f"{suspect.id}: {thing}"
        for suspect in LIBRARY.suspects.values()
        for thing in suspect.repair.puts_back
        for name, _, back in THING_WORDS
        if back.search(LIBRARY.things[thing].say.lower())
        and not re.search(MENDED[name], f"{suspect.name}. {suspect.repair.say}".lower())
    ]
    assert not unsaid
