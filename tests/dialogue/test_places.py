"""Power by place: what each place is proved by, what takes it back, and what is put back before the power."""

import pytest

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import fold
from assistant.dialogue.facts import FACT
from assistant.dialogue.proving import ground
from assistant.dialogue.turn import Turn
from assistant.dialogue.way import way_to_check
from assistant.language.meaning import Finding, Indication, Reading, Text


def way(visit, check):
    turn = Turn(visit.context, visit.state, visit.now_s)
    return way_to_check(ground(turn), visit.context.library.checks[check])


def test_the_bus_says_nothing_of_the_mains_beside_it(diagnosing):
    """An open fuse or the wrong breaker: 0 V on the bus, live terminals beside it."""
    visit = diagnosing
    visit.command("check", "prove-dead")
    visit.locked_out()
    assert visit.question == "mains-dead-outdoor.mains"
    visit.say(visit.readings(0.0, 121.0))
    assert visit.state.power.at("outdoor") == "live"


def test_the_outdoor_proof_is_not_spent_indoors(proving_dead):
    visit = proving_dead
    visit.dead()
    assert visit.state.power.at("outdoor") == "proved-dead"
    assert way(visit, "room-sensor-resistance").steps == ("mains-dead-indoor", "prove-dead-indoor")
    visit.command("check", "room-sensor-resistance")
    visit.understood()
    assert visit.question == "mains-dead-indoor.mains"
    visit.say(visit.readings(0.0, 180.0))
    assert visit.state.power.at("indoor") == "live"
    assert visit.state.power.at("outdoor") == "live", "a lock that lets 180 V through proves nothing anywhere"


def test_a_charge_indoors_is_judged_and_not_only_a_yes(proving_dead):
    visit = proving_dead
    visit.dead()
    visit.command("check", "room-sensor-resistance")
    visit.understood()
    visit.say(visit.readings(0.0, 0.0))
    visit.read(180.0)
    assert visit.state.power.at("indoor") == "isolated"
    assert "prove-dead-indoor" in visit.question


def at_the_first_of_three(visit):
    """The unit with three indoor units reports a sensor; zone one is in question."""
    visit.say(Text(words="mill lane"))
    visit.choose("lantern-hill-trio")
    visit.choose("zone-1")
    visit.say(Indication(choice="sensor-indication"))
    visit.understood()


def test_another_indoor_unit_is_another_place(visit):
    at_the_first_of_three(visit)
    visit.command("check", "room-sensor-resistance")
    visit.locked_out()
    visit.dead()
    assert visit.state.power.at("indoor/zone-1") == "proved-dead"
    visit.state = fold([f.Noted(topic="zone", value="zone-2")], visit.state)
    assert way(visit, "room-sensor-resistance").steps == ("mains-dead-indoor", "prove-dead-indoor")


def test_two_capacitors_in_series_are_both_read(context, visit):
    visit.at_two_capacitors()
    visit.say(visit.readings(20.0, 20.0))
    assert visit.state.power.at("outdoor") == "isolated", "40 V over both"


def test_a_meter_that_failed_in_between_has_shown_nothing(proving_dead):
    visit = proving_dead
    visit.pass_time(4000)
    visit.read(0.0)
    visit.choose("no")
    assert visit.state.power.at("outdoor") == "isolated"
    assert not visit.state.power.has_shown("outdoor", "mains")
    assert visit.question == "mains-dead-outdoor.mains"


def test_a_corrected_reading_takes_the_proof_back_and_never_makes_one(proving_dead):
    visit = proving_dead
    visit.dead()
    number = next(g.number for r in visit.state.results for g in r.answers if g.question == "voltage")
    high = Reading(quantity="voltage_dc", value=310.0, spoken_value=310.0, spoken_unit="V")
    assert number
    visit.command("go-back")
    visit.correct(310.0)
    assert visit.state.power.at("outdoor") == "isolated"
    assert high.value == 310.0


def test_a_reading_is_taken_during_the_wait(proving_dead):
    visit = proving_dead
    assert visit.question == "prove-dead.wait"
    visit.read(310.0)
    assert any("still charged" in text for text in visit.says)
    visit.pass_time(60)
    visit.read(200.0)
    assert any("By how it falls" in text for text in visit.says)


def test_a_bus_that_does_not_fall_is_still_fed_or_has_no_bleed(proving_dead):
    visit = proving_dead
    for volts in (310.0, 305.0, 300.0):
        visit.read(volts)
        visit.pass_time(60)
    assert any("It does not fall" in fact.text for fact in visit.facts if isinstance(fact, f.Said))
    assert visit.question == "prove-dead.voltage", "nothing more is waited for"


def test_skipping_the_proof_touches_nothing(proving_dead):
    visit = proving_dead
    visit.command("skip")
    assert visit.says[0] == "Skipped. Without the proof nothing is touched there."
    visit.command("check", "compressor-leads-order")
    for _ in range(60):
        described = [x.check for x in visit.facts if isinstance(x, f.CheckDescribed)]
        assert "compressor-leads-order" not in described or visit.state.power.at("outdoor") == "proved-dead"
        visit.understood()
        visit.command("skip")


def test_a_diode_test_wants_a_lower_bus_than_hands_do(proving_dead):
    visit = proving_dead
    visit.dead(volts=12.0)
    assert visit.state.power.at("outdoor") == "proved-dead"
    assert visit.context.library.checks["rectifier-diodes"].bus_below_v == 1
    assert way(visit, "rectifier-diodes").steps == ("bus-lower",)
    visit.command("check", "rectifier-diodes")
    visit.understood()
    visit.pass_time(4000)
    visit.read(0.4)
    visit.understood()
    assert visit.question.startswith("rectifier-diodes")


def test_what_was_taken_off_goes_back_before_the_power(proving_dead):
    visit = proving_dead
    visit.dead()
    visit.command("check", "winding-resistance")
    visit.understood()
    assert {item.thing for item in visit.state.off} == {"cover-outdoor", "compressor-leads"}
    visit.command("check", "supply-volts")
    assert visit.question == "put-back.state"
    assert visit.says[1].startswith("Compressor leads back on U, V")
    visit.choose("cannot")
    assert visit.state.power.locked, "no power to a unit that is apart"
    visit.command("check", "supply-volts")
    visit.choose("done")
    assert {item.thing for item in visit.state.off} == {"cover-outdoor"}, "that test is made with the cover off"
    visit.understood()
    visit.choose("done")
    assert not visit.state.power.locked
    visit.understood()
    visit.command("check", "line-feel")
    assert visit.question == "put-back.state", "that one is not"


def test_what_was_taken_off_goes_back_before_the_end(proving_dead):
    visit = proving_dead
    visit.dead()
    visit.command("finish")
    visit.choose("yes")
    assert visit.question == "put-back.state"
    visit.choose("done")
    assert visit.question == "visit.customer-note"


def test_conductors_that_a_live_test_needs_off_stay_off_for_it_alone(proving_dead):
    visit = proving_dead
    visit.dead()
    library = visit.context.library
    assert "signal-wires" in library.checks["signal-source"].with_off
    taken = f.TakenOff(things=("signal-wires", "compressor-leads"), places=("outdoor",), by="a test")
    visit.state = fold([taken], visit.state)
    visit.command("check", "signal-source")
    assert visit.question == "put-back.state"
    ordered = next(x for x in reversed(visit.facts) if isinstance(x, f.PutBackOrdered))
    assert "signal-wires" not in ordered.things
    visit.choose("done")
    visit.understood()
    visit.choose("done")
    assert not visit.state.power.locked
    assert {item.thing for item in visit.state.off} == {"signal-wires", "cover-outdoor"}
    visit.understood()
    visit.command("check", "running-current")
    assert visit.state.run.check == "lock-out-power", "for those the conductors go back on, and that is done dead"


@pytest.mark.parametrize("name", ["breaker-look", "remote-look"])
def test_looking_at_the_breaker_changes_nothing(proving_dead, name):
    visit = proving_dead
    visit.dead()
    before = visit.state.power
    visit.command("check", name)
    visit.understood()
    assert visit.state.power == before
    assert not visit.context.library.checks["breaker-look"].may_energize
    assert "reset nothing" in visit.context.library.checks["breaker-look"].probes.lower()


def test_whatever_can_close_the_power_makes_every_place_live(context, proving_dead):
    visit = proving_dead
    visit.dead()
    energizing = [check for check in context.library.checks.values() if check.may_energize]
    repairs = [name for name, item in context.library.suspects.items() if item.repair.may_energize]
    assert {"restore-power", "power-rest", "breaker-unit-off"} <= {check.id for check in energizing}
    assert "control-frozen" in repairs
    for check in energizing:
        if check.id != "restore-power":
            assert way(visit, check.id).steps[-1] == "restore-power", check.id


# ---- the refrigerant circuit ------------------------------------------------------------------------------------


def test_no_power_to_a_circuit_that_no_compressor_may_run_on(proving_dead):
    visit = proving_dead
    for state in ("recovered", "opened", "purged", "under-nitrogen", "evacuated"):
        visit.state = fold([f.CircuitChanged(to=state, because="a test")], visit.state)
        assert way(visit, "supply-volts").bar is not None
        assert way(visit, "restore-power").bar is not None
    visit.state = fold([f.CircuitChanged(to="charged", because="a test")], visit.state)
    assert way(visit, "supply-volts").bar is None


def test_no_flame_before_the_circuit_was_emptied_and_purged(context):
    for suspect in context.library.suspects.values():
        if any(touch.what == "flame" for touch in suspect.repair.touches):
            assert suspect.repair.circuit.needs, suspect.id
            assert "charged" not in suspect.repair.circuit.needs, suspect.id
            assert "recovered" not in suspect.repair.circuit.needs, suspect.id


def test_a_circuit_in_doubt_is_told_by_the_gauge(proving_dead):
    visit = proving_dead
    begun = f.CircuitChanged(to="evacuated", because="a test", certain=False)
    visit.state = fold([begun], visit.state)
    assert visit.state.circuit == ("charged", "evacuated")
    assert way(visit, "supply-volts").steps[0] == "circuit-told"
    visit.command("check", "circuit-told")
    visit.understood()
    visit.choose("charged")
    assert visit.state.circuit == ("charged",)


# ---- visits of before -------------------------------------------------------------------------------------------


def test_a_visit_of_before_the_places_still_opens(context):
    lines = [
        '{"kind":"visit-opened","library":"x"}',
        '{"kind":"noted","topic":"profile","value":"copper-wren-solo"}',
        '{"kind":"stage-entered","stage":"check"}',
        '{"kind":"precaution-given","precaution":"stored-charge","waits":true}',
        '{"kind":"precaution-acknowledged","precaution":"stored-charge"}',
        '{"kind":"energy-changed","to":"isolated","because":"locked"}',
        '{"kind":"energy-changed","to":"proved-dead","because":"measured"}',
        '{"kind":"held","by":"wait"}',
    ]
    state = fold(FACT.validate_json(line) for line in lines)
    assert state.power.at("outdoor") == state.power.at("indoor") == "proved-dead"
    assert state.held
    assert state.held_at_s is None


def test_a_hold_of_unknown_length_counts_as_long(proving_dead):
    visit = proving_dead
    visit.dead()
    visit.state = fold([f.Held(by="wait")], visit.state)
    visit.command("resume")
    assert not visit.state.power.locked


def test_going_back_leaves_what_is_physically_so(proving_dead):
    visit = proving_dead
    visit.dead()
    visit.command("check", "winding-resistance")
    visit.understood()
    off = {item.thing for item in visit.state.off}
    for _ in range(4):
        visit.command("go-back")
        assert {item.thing for item in visit.state.off} >= off
    assert Finding(choice="done")


@pytest.mark.parametrize("place", ["signal", "line"])
def test_charge_at_a_cable_that_does_not_fall_is_told(proving_dead, place):
    """297 V and seven minutes later 256 V: measuring it again and again empties nothing."""
    visit = proving_dead
    visit.dead()
    visit.command("check", f"prove-dead-{place}")
    visit.understood()
    visit.say(visit.readings(0.0, 0.0))
    visit.read(297.0)
    assert visit.state.wait_until_s is not None, "one reading tells no decay: it is waited for"
    assert not any("It does not fall" in text for text in visit.says)
    visit.now_s += 400
    visit.say(visit.readings(0.0, 0.0))
    visit.read(256.0)
    assert any("It does not fall" in text for text in visit.says)
    assert visit.state.power.at(place) == "isolated"


@pytest.fixture
def at_zone_one(visit):
    """A plug is off at the first of three indoor units, which was proved dead."""
    at_the_first_of_three(visit)
    visit.command("check", "indoor-fan-plug")
    visit.locked_out()
    visit.dead()
    visit.understood()
    visit.choose("firm")
    assert visit.state.power.at("indoor/zone-1") == "proved-dead"
    return visit


def test_a_unit_that_was_called_by_another_name_is_measured_again_under_either(at_zone_one):
    visit = at_zone_one
    visit.command("other-zone", "zone-2")
    visit.choose("only-named")
    assert visit.state.zone == "zone-2"
    assert {visit.state.power.at(f"indoor/zone-{number}") for number in (1, 2)} == {"isolated"}
    assert {item.places for item in visit.state.off} == {("indoor/zone-2",)}


def test_what_is_off_at_one_indoor_unit_goes_back_on_before_another_is_gone_to(at_zone_one):
    visit = at_zone_one
    visit.command("other-zone", "zone-2")
    visit.choose("moved")
    assert visit.question == "put-back.state"
    assert visit.state.zone == "zone-1"
    visit.choose("done")
    visit.command("other-zone", "zone-2")
    visit.choose("moved")
    assert visit.state.zone == "zone-2"
