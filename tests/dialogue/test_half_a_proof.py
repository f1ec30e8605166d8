"""Half a proof is none: what was read before it was left counts for nothing, and bars hands and tests."""

import pytest

from assistant.dialogue import facts as f
from assistant.dialogue.step import Resumed
from assistant.language.meaning import Indication, Text

LOW = 0.05
HANDS = ("winding-resistance", "module-diodes")


def skip(visit):
    visit.command("skip")


def go_back(visit):
    visit.command("go-back")


def short_hold(visit):
    visit.command("wait")
    visit.now_s += 60
    visit.command("resume")


def long_hold(visit):
    visit.command("wait")
    visit.now_s += 4000
    visit.command("resume")


def another_check(visit):
    visit.command("check", "filter-look")
    visit.understood()


def cut_short(visit):
    visit.do(Resumed(visit.now_s, 20.0))


def cut_long(visit):
    visit.do(Resumed(visit.now_s, None))


def another_person(visit):
    visit.do(Resumed(visit.now_s, 20.0, "Mara"))


def meter_not_good(visit):
    if visit.question.endswith("tried"):
        visit.choose("no")
    else:
        visit.command("skip")


LEFT = (skip, go_back, short_hold, long_hold, another_check, cut_short, cut_long, another_person, meter_not_good)


def at_one_capacitor(visit):
    """A unit with two capacitors in series, of which one was read."""
    visit.at_two_capacitors()
    visit.say(visit.readings(LOW))
    return visit


def at_the_meter(visit):
    """The bus was read, and whether the meter is still good was not said."""
    visit.say(Text(words="mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="no-communication"))
    visit.command("check", "winding-resistance")
    visit.locked_out()
    visit.say(visit.readings(0.0, 0.0))
    visit.pass_time(4000)
    visit.read(LOW)
    assert visit.question == "prove-dead.tried"
    return visit


def hands_in(visit):
    return [fact.check for fact in visit.facts if isinstance(fact, f.CheckDescribed) and fact.check in HANDS]


@pytest.mark.parametrize("half", [at_one_capacitor, at_the_meter])
@pytest.mark.parametrize("leave", LEFT)
def test_a_proof_that_was_left_counts_for_nothing(visit, half, leave):
    visit = half(visit)
    assert visit.state.power.stored_v("outdoor") is None, "a reading counts before its proof is made"
    leave(visit)
    assert visit.state.power.at("outdoor") != "proved-dead"
    assert visit.state.power.stored_v("outdoor") is None
    for check in HANDS:
        visit.command("check", check)
        for _ in range(4):
            visit.understood()
            if visit.question == "lock-out-power.state":
                visit.choose("done")
        assert not hands_in(visit)
        assert visit.state.power.at("outdoor") != "proved-dead"


def test_the_whole_proof_lets_hands_in(visit):
    visit = at_the_meter(visit)
    visit.choose("yes")
    assert visit.state.power.at("outdoor") == "proved-dead"
    assert visit.state.power.stored_v("outdoor") == LOW
    visit.understood()
    assert hands_in(visit) == ["winding-resistance"]
