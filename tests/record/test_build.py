"""The record is a fold over the journal's facts: what was truly so, when, and what counts."""

import pytest

from assistant.dialogue import facts as f
from assistant.record.build import build
from assistant.visit.session import Knowledgeable
from tests.record.material import Told


def made(told, library):
    return build(told.row(), told.stamped(), library)


def test_each_reading_has_its_limit_margin_source_and_whether_its_unit_was_said(record):
    sensor = [line for line in record.answers if line.check_id == "pipe-sensor-resistance"]
    assert [(line.value, line.unit, line.unit_assumed) for line in sensor[:2]] == [
        (21.0, "degC", True),
        (19.4, "kohm", True),
    ]
    supply = record.answers[0]
    assert {bound.name: bound.value for bound in supply.bounds if bound.unit == "V"} == {"low": 207.0, "high": 253.0}
    assert supply.margin.value == pytest.approx(22.0)
    assert supply.margin.unit == "V"
    assert all(bound.source for bound in supply.bounds)
    assert supply.at.utcoffset() is not None


def test_the_energy_state_is_that_of_the_place_and_not_the_wish_of_the_check(record):
    windings = next(check for check in record.checks if check.id == "winding-resistance")
    assert ("outdoor unit", "proved-dead") in {(e.place, e.state) for e in windings.energy}
    sensor = next(check for check in record.checks if check.id == "pipe-sensor-resistance")
    assert [(e.place, e.state) for e in sensor.energy] == [("indoor unit", "isolated")]
    assert sensor.needs == "proved-dead"  # the indoor unit was never measured: the record does not pretend
    whole = [(span.state, span.because) for span in record.energy if span.place == "whole unit"]
    assert [state for state, _ in whole] == ["live", "isolated", "live"]
    assert whole[1][1] == "Lock out the power: done"
    outdoor = [span for span in record.energy if span.place == "outdoor unit"]
    assert [span.state for span in outdoor] == ["proved-dead", "live"]
    assert outdoor[0].until == outdoor[1].since


def test_holds_and_waits_last_as_long_as_they_truly_did(record):
    by_kind = {line.kind: line for line in record.holds}
    assert by_kind["hold"].seconds == pytest.approx(7 * 60)
    assert by_kind["wait"].seconds == pytest.approx(4 * 60)
    assert by_kind["wait"].asked_s == 180


def test_a_caution_shows_its_own_acknowledgement(library):
    told = Told(library).arrive()
    told.add(
        f.PrecautionGiven(precaution="lock-and-tag", waits=True), f.PrecautionAcknowledged(precaution="lock-and-tag")
    )
    told.add(f.PrecautionGiven(precaution="lock-and-tag", waits=True, length="again"))
    first, second = made(told, library).cautions
    assert first.acknowledged_at is not None
    assert first.text == library.precautions["lock-and-tag"].say
    assert second.acknowledged_at is None


def test_a_failed_and_retaken_reading_is_in_the_appendix_alone(record):
    (pair,) = record.summary.pairs
    assert (pair.before, pair.after) == ("19.4 kΩ", "11 kΩ")
    assert record.summary.wrong == ("The pipe sensor has drifted off its curve.",)
    assert record.summary.open == ()
    words = " ".join([*record.summary.wrong, *record.summary.done, *record.summary.watch])
    assert "percent" not in words


def test_a_correction_keeps_both_and_only_one_counts(library):
    told = Told(library).arrive().check("supply-volts", voltage=184.0)
    fact = told.facts[-2][1]
    old = next(x.answer for _, x in told.facts if x.kind == "answer-given")
    new = old.model_copy(update={"value": 229.0, "spoken_value": 229.0})
    told.add(
        f.AnswerGiven(
            number=2, check="supply-volts", question="voltage", place=None, answer=new, how="typed", words="229",
            probability=1.0, replaces=1,
        ),
        fact.model_copy(update={"answers": (2,)}),
    )  # fmt: skip
    record = made(told, library)
    assert [(line.said, line.status, line.replaces) for line in record.answers] == [
        ("184 V", "corrected", None),
        ("229 V", "counts", 1),
    ]
    assert [check.standing for check in record.checks] == [False, True]


def test_what_was_told_on_the_way_and_is_wrong_stands_on_the_first_page(library):
    told = Told(library).arrive().check("filter-look", "told", filter="blocked")
    also = "Also noticed: the filter is blocked."
    assert made(told, library).summary.wrong == (also,)
    searched = Told(library, facts=list(told.facts), at=told.at, numbers=told.numbers).close(outcome="not mended")
    assert made(searched, library).summary.wrong == ("The cause was not found in this visit.", also)
    looked = Told(library, facts=list(told.facts), at=told.at, numbers=told.numbers)
    looked.check("filter-look", filter="clear").close(outcome="not mended")
    assert made(looked, library).summary.wrong == ("The cause was not found in this visit.",)
    told.name("filter-dirty", reason="The filter is blocked.").mend("filter-dirty", "washed it").prove()
    (found,) = made(told.close(), library).summary.wrong
    assert "filter" in found
    assert "noticed" not in found


def test_what_was_not_checked_says_why(library):
    told = Told(library).arrive()
    told.add(f.CheckSkipped(check="supply-volts", reason="no-meter"))
    (line,) = made(told, library).not_checked
    assert (line.title, line.reason) == (library.checks["supply-volts"].title, "the instrument was missing")
    assert "Not checked" in " ".join(made(told, library).summary.open)


@pytest.mark.parametrize(
    ("facts", "safety"),
    [
        ([f.HazardRaised(hazard="insulation-low", by="compressor-to-earth")], "barred"),
        ([f.EnergyChanged(to="isolated", because="locked")], "locked"),
        ([f.TakenOff(things=("outdoor-cover",), places=("outdoor",), by="look")], "apart"),
        ([f.CircuitChanged(to="recovered", because="recovered")], "apart"),
        ([], "in service"),
    ],
)
def test_safe_or_not_is_the_first_thing(library, facts, safety):
    told = Told(library).arrive().add(*facts).close(outcome="not mended")
    left = made(told, library).left
    assert left.safety == safety
    assert left.headline
    assert bool(left.sentences) == (safety != "in service")


def test_an_open_visit_is_not_told_to_be_safe(library):
    assert made(Told(library).arrive(), library).left.safety == "open visit"


def test_the_weights_are_those_of_the_dialogue(record, told, library):
    context = Knowledgeable(library)
    profile = library.profiles["copper-wren-solo"]
    judged = [fact for _, fact in told.facts if fact.kind == "check-judged"][:-1]  # those before the repair
    learnt = tuple((fact.check, fact.judgement.chances) for fact in judged)
    belief = context.believe(profile, ("sensor-indication",), learnt)
    ranked = context.reasoner(profile).ranked(belief)[: len(record.suspects[-2].weights)]
    assert [(weight.suspect, weight.share) for weight in record.suspects[-2].weights] == ranked
    assert ranked[0][0] == "pipe-sensor-drifted"
    assert record.suspects[0].check == ""


def test_an_amendment_stands_beside_the_old(library, told):
    facts = told.stamped()
    amended = f.Amended(about="answer:1", was="229 V", now="231 V", who="Dana", why="misread", value=231.0, unit="V")
    later = facts[-1].__class__(facts[-1].seq + 1, facts[-1].at, facts[-1].at_s, amended)
    record = build(told.row(), [*facts, later], library)
    (change,) = record.amendments
    assert (change.was, change.now, change.who, change.why) == ("229 V", "231 V", "Dana", "misread")
    assert record.answers[0].said == "229 V"
    assert change.what.startswith("no. 1: ")
