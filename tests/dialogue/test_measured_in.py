"""One system of measurement a visit: bare numbers are never taken to be in one by guess."""

import pytest

from assistant.dialogue.step import Words, heard_in
from assistant.language.meaning import Text
from assistant.quantities.systems import system_of
from assistant.quantities.table import QUANTITIES
from assistant.visit.session import typed


def say(visit, line):
    visit.now_s += 5
    return visit.do(Words(typed(line, heard_in(visit.context, visit.state)), visit.now_s))


@pytest.fixture
def at_the_pipe(visit):
    """A visit that asks how warm it is."""
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("copper-wren-solo")
    visit.command("check", "visit-outdoor-air")
    while visit.state.acknowledging:
        visit.choose("understood")
    assert visit.question == "visit-outdoor-air.air"
    return visit


def test_a_number_that_may_be_in_either_is_asked_about(at_the_pipe):
    visit = at_the_pipe
    say(visit, "forty five")
    assert visit.says == ["Degrees Celsius, or degrees Fahrenheit?"]
    assert "answer-given" not in visit.kinds()[-4:]
    say(visit, "fahrenheit")
    assert visit.says[0] == "45 °F."
    given = next(fact for fact in visit.facts if fact.kind == "answer-given")
    assert given.answer.value == pytest.approx((45 - 32) / 1.8)
    assert visit.state.system == "us"


@pytest.mark.parametrize(
    ("answer", "value", "system"),
    [
        ("the first", 45.0, "si"),
        ("degrees celsius", 45.0, "si"),
        ("45 fahrenheit", 7.222, "us"),
        ("the second", 7.222, "us"),
    ],
)
def test_the_answer_may_be_a_place_a_unit_or_the_whole_again(at_the_pipe, answer, value, system):
    say(at_the_pipe, "forty five")
    say(at_the_pipe, answer)
    given = next(fact for fact in at_the_pipe.facts if fact.kind == "answer-given")
    assert given.answer.value == pytest.approx(value, abs=1e-3)
    assert at_the_pipe.state.system == system


def test_a_moving_display_is_asked_about_too(at_the_pipe):
    say(at_the_pipe, "it jumps between ten and twenty eight")
    assert at_the_pipe.says == ["Degrees Celsius, or degrees Fahrenheit?"]
    say(at_the_pipe, "fahrenheit")
    given = next(fact for fact in at_the_pipe.facts if fact.kind == "answer-given")
    assert given.answer.span == (pytest.approx((10 - 32) / 1.8), pytest.approx((28 - 32) / 1.8))


def test_neither_records_nothing(at_the_pipe):
    say(at_the_pipe, "forty five")
    say(at_the_pipe, "neither")
    assert "answer-given" not in at_the_pipe.kinds()
    assert at_the_pipe.question == "visit-outdoor-air.air"


def test_the_unit_alone_is_a_yes_to_the_number_that_was_asked_back(at_the_pipe):
    say(at_the_pipe, "ninety five")
    assert at_the_pipe.question == "confirm"
    say(at_the_pipe, "fahrenheit")
    assert at_the_pipe.says[0] == "95 °F."


@pytest.mark.parametrize("said", ["forty five fahrenheit", "ninety five"])
def test_a_unit_that_was_said_and_a_number_that_can_be_in_one_only_are_not_asked_about(at_the_pipe, said):
    """95 degrees outdoors are Fahrenheit; the language asks whether it was heard right, and no more."""
    say(at_the_pipe, said)
    if at_the_pipe.question == "confirm":
        at_the_pipe.choose("yes")
    assert at_the_pipe.state.system == "us"


def test_once_settled_bare_numbers_are_in_it_corrections_too(at_the_pipe):
    say(at_the_pipe, "forty five fahrenheit")
    say(at_the_pipe, "correction fifty")
    given = [fact for fact in at_the_pipe.facts if fact.kind == "answer-given"][-1]
    assert (given.answer.value, given.answer.spoken_unit) == (pytest.approx(10.0), "degF")


def test_going_back_does_not_forget_the_system(at_the_pipe):
    say(at_the_pipe, "forty five fahrenheit")
    at_the_pipe.command("go-back")
    assert at_the_pipe.state.system == "us"


def test_every_unit_beside_another_belongs_to_a_system():
    """Each quantity that is shown in two systems has units of both; what is common to both tells none."""
    for name, kind in QUANTITIES.items():
        if kind.beside and name in ("temperature", "pressure_gauge", "length", "mass", "airflow", "area"):
            assert system_of(kind.beside, name) == "us", name
            assert system_of(kind.units[0].symbol, name) == "si", name
    for name in ("temperature", "temperature_difference", "length", "area", "airflow"):
        known = {unit.symbol: system_of(unit.symbol, name) for unit in QUANTITIES[name].units}
        assert all(system for symbol, system in known.items() if symbol != "km"), known
    assert system_of("V", "voltage_ac") == system_of("micron", "vacuum") == ""


def test_what_is_said_after_correction_alone_is_an_answer_to_the_question_that_is_corrected(at_the_pipe):
    """Volts were read; temperatures are asked. Before, the new volts were refused as an impossible temperature."""
    visit = at_the_pipe
    visit.command("check", "supply-volts")
    while visit.state.acknowledging:
        visit.choose("understood")
    say(visit, "230 volts")
    visit.command("check", "visit-outdoor-air")
    say(visit, "correction")
    assert visit.says == ["The last answer was 230 V. What should it be?"]
    visit.command("repeat")
    assert visit.says == ["The last answer was 230 V. What should it be?"]
    say(visit, "236")
    given = [fact for fact in visit.facts if fact.kind == "answer-given"][-1]
    assert (given.check, given.answer.value, given.replaces) == ("supply-volts", 236.0, given.number - 1)
    assert visit.question == "visit-outdoor-air.air"
