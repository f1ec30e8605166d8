"""The altitude of the site: asked once, before the first check whose verdict hangs on it, and used by every sum."""

import pytest

from assistant.dialogue.step import expected
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    Calculation,
    Cannot,
    Command,
    Correction,
    Finding,
    Indication,
    Reading,
    Readings,
    Text,
)
from assistant.reasoning.judges import uses_altitude

DENVER_M = 1609.3


def _unit(visit):
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="blows-warm-cooling"))
    return visit


def _asked(visit):
    _unit(visit).command("check", "circuit-superheat")
    assert visit.question == "visit.altitude"
    assert "above the sea" in visit.says[-1]
    return visit


def _superheat(visit, psi=118.0, line_f=52.0):
    """The superheat in K of the working, at a pressure and a temperature that are told to the check under way."""
    visit.understood()
    visit.read(psi * 6.894757)
    visit.read((line_f - 32) / 1.8)
    result = next(result for result in reversed(visit.state.results) if result.check == "circuit-superheat")
    (working,) = result.judgement.working
    assert "altitude" in working.numbers
    return float(working.result.split("superheat ")[1].split(" K")[0])


def _sum(visit, **values):
    given = tuple(
        (name, Reading(quantity=quantity, value=value, spoken_value=value, spoken_unit=unit))
        for name, (quantity, value, unit) in values.items()
    )
    visit.say(Calculation(name="superheat", values=given))
    return next(fact for fact in reversed(visit.facts) if fact.kind == "calculation-made")


PRESSURE_AND_LINE = {"suction": ("pressure_gauge", 813.6, "kPa"), "line": ("temperature", 11.1, "degC")}


@pytest.fixture
def low(visit):
    _asked(visit).choose("sea-level")
    return visit


@pytest.fixture
def high(visit):
    _asked(visit).read(DENVER_M)
    return visit


def test_the_answer_is_said_back_and_the_check_goes_on(high):
    assert any("1609.3 m" in text for text in high.says)
    assert high.state.run.check == "circuit-superheat"
    assert high.state.note("altitude") == "1609.3"


def test_superheat_counts_from_the_air_of_the_site(context, low):
    """The review's figures: R-410A at 118 psig shows 1.15 °F too much at 5,280 ft when the altitude is left out."""
    at_sea = _superheat(low)
    other = type(low)(context)
    other.open()
    _asked(other).read(DENVER_M)
    assert (_superheat(other) - at_sea) * 1.8 == pytest.approx(1.15, abs=0.1)


def test_it_is_asked_once(high):
    _superheat(high)
    high.command("check", "circuit-superheat")
    assert high.question != "visit.altitude"
    assert high.kinds().count("altitude-asked") == 1


@pytest.mark.parametrize("leave", [lambda v: v.command("skip"), lambda v: v.say(Cannot(reason="dont-know"))])
def test_who_does_not_know_it_goes_on_from_the_sea_and_is_not_asked_again(visit, leave):
    leave(_asked(visit))
    assert any("sea level" in text for text in visit.says)
    assert visit.state.run.check == "circuit-superheat"
    assert visit.state.note("altitude") == ""


def test_what_no_town_has_is_refused(visit):
    _asked(visit).read(50_000.0)
    assert visit.question == "visit.altitude"
    assert visit.state.note("altitude") is None


def test_another_answer_is_asked_again(visit):
    _asked(visit).say(Finding(choice="yes"))
    assert visit.question == "visit.altitude"


def test_back_asks_it_again(high):
    high.command("go-back")
    assert high.question == "visit.altitude"
    assert high.state.note("altitude") is None


def test_another_check_may_be_named_instead(visit):
    _asked(visit).command("check", "outdoor-unit-look")
    assert visit.question != "visit.altitude"
    assert visit.state.run.check == "outdoor-unit-look"


def test_finish_leaves_it(visit):
    _asked(visit).command("finish")
    visit.choose("yes")
    assert visit.question == "visit.customer-note"


def test_a_correction_of_the_check_before_is_understood_meanwhile(visit):
    _asked(visit)
    assert expected(visit.context, visit.state).reading.unit == "ft"


def test_a_spoken_sum_takes_the_altitude_that_was_told(visit):
    _unit(visit)
    at_sea = _sum(visit, **PRESSURE_AND_LINE)
    assert any("sea level" in text for text in visit.says)
    named = _sum(visit, **PRESSURE_AND_LINE, altitude=("length", DENVER_M, "m"))
    assert named.result != at_sea.result
    assert not any("sea level" in text for text in visit.says)
    assert _sum(visit, **PRESSURE_AND_LINE).result == named.result, "said once, it is that of the site"
    visit.command("check", "circuit-superheat")
    assert visit.question != "visit.altitude"


def test_exactly_the_judges_whose_verdict_moves_with_the_altitude_ask_for_it(context):
    """Those that do not ask compare one gauge pressure with another; a nitrogen test moves by a thousandth of it."""
    asking = {check.judge.by for check in context.library.checks.values() if uses_altitude(check)}
    gauged = {
        check.judge.by
        for check in context.library.checks.values()
        if any(one.reading and one.reading.quantity == "pressure_gauge" for one in check.ask)
    }
    assert asking <= gauged
    assert gauged - asking <= {"range", "at-least", "at-most", "relative", "compare", "nitrogen-hold"}
    assert {"superheat", "subcooling", "saturation", "pressure-switch"} <= asking


def test_readings_for_it_may_come_in_feet_or_meters(visit):
    _asked(visit).say(
        Readings(items=(Reading(quantity="length", value=DENVER_M, spoken_value=5280.0, spoken_unit="ft"),))
    )
    assert any("5280 ft" in text for text in visit.says)


def _feet(feet):
    meters = feet * 0.3048
    return Readings(items=(Reading(quantity="length", value=meters, spoken_value=feet, spoken_unit="ft"),))


def test_a_correction_right_after_it_is_of_the_altitude(low):
    low.understood()
    low.say(Correction(meaning=_feet(5280.0)))
    assert any("5280 ft" in text for text in low.says)
    assert float(low.state.note("altitude")) == pytest.approx(DENVER_M, abs=0.1)
    assert low.state.run.check == "circuit-superheat", "the check goes on"
    low.command("go-back")
    assert low.state.note("altitude") == "0"


def test_a_correction_is_understood_in_words(low):
    low.understood()
    expectation = expected(low.context, low.state)
    heard = interpret("correction five thousand feet", expectation).meaning
    assert isinstance(heard, Correction)
    low.say(heard)
    assert float(low.state.note("altitude")) == pytest.approx(1524, abs=0.1)


def test_correction_alone_asks_it_again(low):
    low.understood()
    low.say(Command(name="correction"))
    assert low.question == "visit.altitude"
    low.say(_feet(5280.0))
    assert float(low.state.note("altitude")) == pytest.approx(DENVER_M, abs=0.1)


def test_a_correction_that_no_town_has_changes_nothing(low):
    low.understood()
    low.say(Correction(meaning=_feet(200_000.0)))
    assert low.state.note("altitude") == "0"


def test_a_correction_after_a_reading_is_of_the_reading(low):
    low.understood()
    low.read(813.6)
    low.say(
        Correction(
            meaning=Readings(
                items=(Reading(quantity="pressure_gauge", value=800.0, spoken_value=800.0, spoken_unit="kPa"),)
            )
        )
    )
    assert low.state.note("altitude") == "0"
    assert low.state.last_answer().answer.value == 800.0


def test_an_altitude_told_in_a_sum_and_corrected_judges_the_check_anew(low):
    before = _superheat(low)
    _sum(low, **PRESSURE_AND_LINE, altitude=("length", 500.0, "m"))
    low.say(Correction(meaning=_feet(5280.0)))
    result = next(result for result in reversed(low.state.results) if result.check == "circuit-superheat")
    (working,) = result.judgement.working
    now = float(working.result.split("superheat ")[1].split(" K")[0])
    assert (now - before) * 1.8 == pytest.approx(1.15, abs=0.1)


def test_a_sum_of_the_unit_takes_what_its_profile_says(visit):
    """Nobody can say "grams a metre" in a sum, and which supply it is was said when the visit began."""
    _unit(visit)
    unit = visit.context.library.profiles["copper-wren-solo"]

    def asked(name, given, value, quantity, unit_said):
        reading = Reading(quantity=quantity, value=value, spoken_value=value, spoken_unit=unit_said)
        visit.say(Calculation(name=name, values=((given, reading),)))
        return next(fact for fact in reversed(visit.facts) if fact.kind == "calculation-made").result

    due = unit.refrigerant
    long = due.free_length_m + 10
    total = due.charge_kg + 10 * due.added_g_per_m / 1000
    assert asked("charge", "length", long, "length", "m").startswith(f"charge = {total:.4g} kg")
    assert asked("supply-band", "voltage", 231.0, "voltage_ac", "V").endswith("pass")
