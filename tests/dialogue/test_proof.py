"""After the repair: what this unit is proved by, work not finished yet, and what a failed proof leaves known."""

import pytest

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import fold
from assistant.dialogue.mending import next_proof
from assistant.dialogue.settling import done_checks
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn
from assistant.job.ledger import Entry, counting
from assistant.language.meaning import Indication, LedgerSaid, Text


def repaired(visit, profile, symptom, suspect):
    """A visit in which this suspect was just mended."""
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose(profile)
    visit.say(Indication(choice=symptom))
    visit.understood()
    named = f.FaultNamed(suspect=suspect, probability=0.97, reason="a test")
    visit.state = fold([named, f.RepairDone(suspect=suspect, done=True)], visit.state)
    visit.say(Text(words="all new"))
    assert visit.state.stage is Stage.PROOF
    return visit


def proofs(visit):
    return [fact for fact in visit.facts if isinstance(fact, f.ProofBegun)][-1].checks


def at(visit, question):
    """Answer procedures and cautions on the way to a question."""
    for _ in range(20):
        if visit.question.startswith(question):
            return visit
        visit.understood() if visit.state.acknowledging else visit.choose("done")
    pytest.fail(f"{question} was not reached, but {visit.question}")


@pytest.fixture
def leak(visit):
    return repaired(visit, "copper-wren-solo", "oil-at-joint", "leak-indoor-joint")


def test_a_unit_is_proved_only_by_what_it_has(visit):
    repaired(visit, "copper-wren-solo", "supply-indication", "supply-low")
    assert "supply-volts" in proofs(visit)
    assert "supply-volts-phases" not in proofs(visit)


def test_an_opened_circuit_is_held_evacuated_weighed_in_and_searched_before_the_power_returns(leak):
    first = ("commission-nitrogen-hold", "commission-vacuum-decay", "commission-charge", "commission-leak-check")
    assert proofs(leak)[:4] == first
    assert all(leak.context.library.checks[name].energy == "isolated" for name in first)


def hold_nitrogen(visit, end_kpa):
    at(visit, "commission-nitrogen-hold.start")
    for value in (3000.0, 20.0):
        visit.read(value)
    visit.read(end_kpa)
    assert visit.question == "commission-nitrogen-hold.wait", "a hold of half an hour is no answer of five seconds"
    visit.pass_time(1801)
    for value in (end_kpa, 20.0):
        visit.read(value)


def test_unfinished_work_is_finished_and_proved_again_not_taken_for_another_fault(leak):
    hold_nitrogen(leak, 2700.0)
    redo = leak.context.library.checks["commission-nitrogen-hold"].outcomes["falls"].redo
    assert redo in leak.says
    assert leak.state.stage is Stage.PROOF
    hold_nitrogen(leak, 3000.0)
    at(leak, "commission-vacuum-decay")
    assert not any(isinstance(fact, f.ProofSettled) for fact in leak.facts)
    assert [result.judgement.verdict for result in leak.state.results if result.role == "proof"] == ["pass"]


def test_a_mass_that_is_told_again_with_its_cylinder_went_in_once(leak):
    hold_nitrogen(leak, 3000.0)
    at(leak, "commission-vacuum-decay.reached")
    for value in (25.0, 30.0, 35.0):
        leak.read(value)
        leak.pass_time(1300)
    at(leak, "commission-charge.mass")
    leak.read(0.95)
    leak.say(LedgerSaid(entry=Entry(what="charged", kg=0.95, spoken="0.95 kg", cylinder="12")))
    assert [(line.entry.kg, line.entry.cylinder) for line in counting(leak.state.job.ledger)] == [(0.95, "12")]
    leak.say(LedgerSaid(entry=Entry(what="charged", kg=0.95, spoken="0.95 kg", cylinder="12")))
    assert len(counting(leak.state.job.ledger)) == 2, "the same again out of the same cylinder is more"


def test_a_proof_that_fails_for_the_third_time_reopens_the_search(leak):
    for _ in range(3):
        assert leak.state.stage is Stage.PROOF
        hold_nitrogen(leak, 2700.0)
    assert [fact.proof for fact in leak.facts if isinstance(fact, f.ProofSettled)] == ["failed"]
    assert leak.state.stage is Stage.CHECK


def test_what_the_customer_told_is_not_asked_again_after_a_repair(visit):
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="blows-warm-cooling"))
    visit.command("check", "work-done-lately")
    visit.choose("by-itself")
    visit.command("check", "filter-look")
    visit.understood()
    visit.choose("clear")
    named = f.FaultNamed(suspect="leak-indoor-joint", probability=0.97, reason="a test")
    mended = f.RepairDone(suspect="leak-indoor-joint", done=True)
    failed = f.ProofSettled(suspect="leak-indoor-joint", proof="failed")
    visit.state = fold([named, mended, failed], visit.state)
    done = done_checks(Turn(visit.context, visit.state, 0.0))
    assert "work-done-lately" in done
    assert "filter-look" not in done


def test_while_the_unit_is_locked_what_needs_no_power_is_proved_first(visit):
    """Poured before the trap is heard: the unit is not locked a second time for the pouring."""
    repaired(visit, "copper-wren-solo", "water-indication", "drain-trap-faulty")
    library = visit.context.library
    assert library.checks[proofs(visit)[0]].energy == "live"
    assert next_proof(Turn(visit.context, visit.state, 0.0)) == proofs(visit)[0]
    locked = visit.state.model_copy(update={"power": visit.state.power.model_copy(update={"locked": True})})
    first = next_proof(Turn(visit.context, locked, 0.0))
    assert (first, library.checks[first].energy) == ("commission-drain-test", "isolated")
