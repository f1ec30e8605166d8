"""Hazards latch: what they bar, what clears them, and all that must not."""

import pytest

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import fold
from assistant.dialogue.hazards import mended_by, raise_hazard
from assistant.dialogue.proving import ground
from assistant.dialogue.state import Stage, VisitState
from assistant.dialogue.turn import Turn
from assistant.dialogue.way import way_to_check, ways
from assistant.language.meaning import Correction, Emergency, Finding, Indication, Text
from assistant.library.profile import features_of


def turn_of(visit):
    return Turn(visit.context, visit.state, visit.now_s)


def standing(visit):
    return {item.hazard for item in visit.state.hazards}


def bar(visit, check):
    return way_to_check(ground(turn_of(visit)), visit.context.library.checks[check]).bar


@pytest.fixture
def grounded(diagnosing):
    """The compressor's insulation was measured at 0.4 megohms (limit of this unit 2), the unit locked and dead."""
    visit = diagnosing
    visit.command("check", "compressor-to-earth")
    visit.locked_out()
    visit.dead()
    reach_warm(visit)
    visit.read(0.4e6)
    assert standing(visit) == {"insulation-low"}
    return visit


def reach(visit, check):
    """Through the procedures and cautions on the way to a check."""
    for _ in range(30):
        visit.understood()
        if visit.question.startswith(check):
            return
        if visit.state.wait_until_s is not None:
            visit.pass_time(3000)
        elif visit.state.run and visit.state.run.check in visit.context.library.checks:
            run = visit.context.library.checks[visit.state.run.check]
            if run.proves is not None and "voltage" in visit.question:
                visit.read(0.4)  # low enough for any test
            elif run.proves is not None and "mains" in visit.question:
                visit.say(visit.readings(0.0, 0.0))
            else:
                visit.choose("yes" if "tried" in visit.question else "done")
    pytest.fail(f"{check} is not reached, but {visit.question}")


def reach_warm(visit):
    """At the insulation test of a warm compressor: of a cold one the reading would only be doubtful."""
    reach(visit, "compressor-to-earth")
    visit.choose("warm")


def test_a_grounded_compressor_is_never_powered(grounded):
    visit = grounded
    assert bar(visit, "restore-power") is not None
    open_ = [name for name, way in ways(ground(turn_of(visit))).items() if way.bar is None]
    checks = visit.context.library.checks
    assert open_
    assert all(checks[name].energy != "live" and not checks[name].may_energize for name in open_)


@pytest.mark.parametrize("what", ["start-current", "supply-volts", "restore-power", "control"])
def test_no_live_check_is_led_to_by_name(grounded, what):
    visit = grounded
    visit.command("check", "start-current" if what == "control" else what)
    assert visit.state.power.locked
    assert not any(fact.kind == "check-described" and fact.check == what for fact in visit.facts)
    assert any("Barred by insulation to ground below its limit" in text for text in visit.says)


@pytest.mark.parametrize("command", ["skip", "go-back", "wait", "finish", "repeat", "what-is-left"])
def test_no_command_takes_it_away(grounded, command):
    visit = grounded
    for _ in range(3):
        visit.command(command)
        if visit.state.held:
            visit.command("resume")
    assert standing(visit) == {"insulation-low"}
    assert bar(visit, "restore-power") is not None


def test_resuming_does_not_take_it_away(grounded):
    grounded.reopen(away_s=30.0)
    assert standing(grounded) == {"insulation-low"}
    grounded.reopen()
    assert standing(grounded) == {"insulation-low"}


def test_a_correction_does_not_clear_it_but_the_new_measurement_does(grounded):
    visit = grounded
    visit.correct(400e6)
    assert standing(visit) == {"insulation-low"}
    assert any("until it is measured again" in text for text in visit.says)
    visit.command("check", "compressor-to-earth")
    reach_warm(visit)
    visit.read(400e6)
    assert standing(visit) == set()
    assert visit.says.count("Cleared: insulation to ground below its limit.") == 1


def test_what_passes_though_nothing_was_mended_still_bars(grounded):
    visit = grounded
    visit.command("check", "compressor-to-earth")
    reach_warm(visit)
    visit.read(200e6)
    assert standing(visit) == {"insulation-low"}
    assert any("nothing was mended" in text for text in visit.says)


def test_repair_and_proof_clear_it(grounded):
    visit = grounded
    named = f.FaultNamed(suspect="compressor-earthed", probability=0.97, reason="a test")
    visit.state = fold([named, f.RepairDone(suspect="compressor-earthed", done=True)], visit.state)
    visit.say(Text(words="a new one"))
    assert "compressor-to-earth" in visit.state.proofs_left
    visit.command("check", "compressor-to-earth")
    reach_warm(visit)
    visit.read(400e6)
    assert standing(visit) == set()


def test_going_back_over_the_clearing_raises_it_again(grounded):
    visit = grounded
    visit.correct(400e6)
    visit.command("check", "compressor-to-earth")
    reach_warm(visit)
    visit.read(400e6)
    assert standing(visit) == set()
    visit.command("go-back")
    assert standing(visit) == {"insulation-low"}


def test_is_it_safe_names_it(grounded):
    grounded.command("is-it-safe")
    assert grounded.says[0] == "No. Barred: insulation to ground below its limit."


def test_the_end_says_first_how_the_unit_is_left(grounded):
    visit = grounded
    visit.command("finish")
    visit.choose("yes")
    reach(visit, "visit.customer-note")
    visit.choose("nothing")
    assert visit.says[0] == "Barred: insulation to ground below its limit."
    assert any(text.startswith("Left isolated and locked") for text in visit.says)
    closed = next(fact for fact in visit.facts if isinstance(fact, f.VisitClosed))
    assert closed.left[0].id == "left-barred"
    assert closed.outcome != "mended"


def test_a_breaker_that_trips_at_once_is_tested_dead_before_anything(visit):
    visit.say(Text(words="mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="breaker-trips-at-once"))
    assert visit.says[1].startswith("Leave the breaker off.")
    assert standing(visit) == {"trips-at-once"}
    asked = []
    for _ in range(200):
        if visit.state.stage is not Stage.CHECK or not visit.state.hazards:
            break
        started = [fact.check for fact in visit.facts if isinstance(fact, f.CheckDescribed)]
        asked = started
        answer(visit)
    live = [name for name in asked if visit.context.library.checks[name].energy == "live"]
    assert live == []
    assert {"compressor-to-earth", "rectifier-diodes"} <= set(asked)


def answer(visit):
    """A sound answer to whatever is asked of a dead unit."""
    visit.understood()
    if visit.state.wait_until_s is not None:
        visit.pass_time(3000)
        return
    from assistant.dialogue.step import expected

    now = expected(visit.context, visit.state)
    if now.reading is None:
        visit.choose(now.choices[0].id)
    elif now.reading.quantity == "resistance":
        values = [400e6 if "earth" in now.question or "insulation" in now.question else 1.0]
        visit.read(values[0]) if not now.reading.places else visit.say(visit.readings(*(1.0,) * 3))
    elif now.question.startswith(("rectifier", "module")):
        visit.say(visit.readings(0.48, 0.48, 0.48))
    else:
        visit.say(visit.readings(0.3, 0.3)) if now.reading.places else visit.read(0.3)


def test_a_unit_that_cannot_be_locked_is_only_looked_at_from_outside(diagnosing):
    visit = diagnosing
    visit.command("check", "lock-out-power")
    visit.choose("cannot")
    assert standing(visit) == {"cannot-lock"}
    checks = visit.context.library.checks
    for name, way in ways(ground(turn_of(visit))).items():
        touched = {touch.what for touch in checks[name].touches}
        if way.open:
            assert not touched & {"cover", "board", "terminals", "conductor-ends", "plug", "motor", "live-probe"}, name
            assert checks[name].energy in ("any", "live"), name
    visit.command("check", "supply-volts")
    assert not any(isinstance(fact, f.CheckDescribed) and fact.check == "supply-volts" for fact in visit.facts)


def test_a_lock_that_was_found_frees_it_again(diagnosing):
    visit = diagnosing
    visit.command("check", "lock-out-power")
    visit.choose("cannot")
    visit.command("check", "lock-out-power")
    visit.choose("done")
    assert standing(visit) == set()
    assert visit.state.power.locked


def test_terminals_that_are_still_fed_are_live_and_are_left_to_an_electrician_after_the_second_time(diagnosing):
    visit = diagnosing
    visit.command("check", "winding-resistance")
    for times in (1, 2):
        visit.locked_out()
        assert visit.question.startswith("mains-dead-outdoor")
        visit.say(visit.readings(231.0, 118.0))
        assert standing(visit) == {"still-fed"}
        assert not visit.state.power.locked
        assert any("Hands off, cover on" in text for text in visit.says) == (times == 1)
    assert any("call an electrician" in text for text in visit.says)
    assert "lock-out-power" in visit.state.skipped
    assert not any(isinstance(fact, f.CheckDescribed) and fact.check == "winding-resistance" for fact in visit.facts)


def test_a_breaker_that_trips_as_power_returns_is_a_hazard_and_is_learnt_from(proving_dead):
    visit = proving_dead
    visit.dead()
    visit.command("check", "supply-volts")
    visit.choose("done")  # all back on
    visit.understood()
    visit.choose("trips")
    assert standing(visit) == {"trips-at-once"}
    assert "breaker-trips-at-once" in visit.state.symptoms
    assert visit.state.power.at("outdoor") == "live"


# ---- emergencies ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["shock", "fire", "smoke", "gas-alarm", "person-down", "burning-smell", "burn"])
def test_what_to_do_first_is_said_first_in_every_state(proving_dead, kind):

    visit = proving_dead
    first = " ".join(visit.context.library.raised_by(kind).first.split())
    visit.say(Emergency(what=kind))
    assert visit.says[0] == first
    assert visit.state.held
    visit.say(Emergency(what=kind))  # also while held
    assert visit.says[0] == first


def test_an_emergency_under_a_caution_drops_it(diagnosing):
    visit = diagnosing
    visit.command("check", "prove-dead")
    visit.choose("done")
    assert visit.state.acknowledging
    visit.say(Emergency(what="shock"))
    assert visit.says[0].startswith("Cut the power")
    assert not visit.state.acknowledging
    assert visit.state.power.at("outdoor") == "live"


def test_a_doubtful_emergency_bars_at_once_and_is_asked_back(diagnosing):
    visit = diagnosing
    visit.say(Emergency(what="fire"), trust="confirm")
    assert visit.says[0].startswith("Everybody out.")
    assert standing(visit) == {"fire"}
    assert visit.question == "emergency.fire"
    visit.say(Correction())
    visit.choose("understood")
    assert visit.question == "emergency.fire"
    visit.say(Finding(choice="no"), trust="confirm")
    assert visit.question == "emergency.fire", "a no that is not sure clears nothing"
    visit.choose("no")
    assert standing(visit) == set()
    assert visit.state.run is not None


def test_after_gas_in_the_room_nothing_goes_on_before_the_detector_is_silent(diagnosing):
    visit = diagnosing
    visit.say(Emergency(what="leak-in-room"))
    visit.command("resume")
    assert visit.question == "room-aired.detector"
    visit.choose("no")
    assert visit.question == "room-aired.detector"
    visit.choose("yes")
    assert standing(visit) == {"leak-open"}
    assert bar(visit, "restore-power") is not None


@pytest.mark.parametrize("kind", ["shock", "fire", "person-down"])
def test_some_end_the_work_of_the_visit(diagnosing, kind):
    visit = diagnosing
    visit.say(Emergency(what=kind))
    visit.command("resume")
    assert visit.state.stage is Stage.UNSOLVED
    visit.command("check", "winding-resistance")
    assert visit.state.stage is Stage.UNSOLVED
    assert not any(isinstance(fact, f.CheckDescribed) and fact.check == "winding-resistance" for fact in visit.facts)


def test_a_symptom_that_is_a_hazard_stops_everything(visit):
    visit.say(Text(words="mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="smell-burnt"))
    assert standing(visit) == {"burning-smell"}
    assert any(text.startswith("Switch off at the breaker now") for text in visit.says)
    visit.command("check", "supply-volts")
    assert not any(isinstance(fact, f.CheckDescribed) and fact.check == "supply-volts" for fact in visit.facts)


def test_is_it_safe_is_answered_while_a_danger_holds_the_visit(diagnosing):
    visit = diagnosing
    visit.say(Emergency(what="burning-smell"))
    visit.command("is-it-safe")
    assert visit.says[0] == "No. Barred: a smell of burning."
    assert visit.state.held
    visit.command("why")
    assert visit.says == []


def test_only_a_repair_that_can_be_behind_it_mends_a_hazard(diagnosing):
    turn = Turn(diagnosing.context, diagnosing.state, diagnosing.now_s)
    raise_hazard(turn, "burning-smell", "burning-smell")
    raise_hazard(turn, "insulation-low", "compressor-to-earth")
    assert mended_by(turn, "drain-slope-wrong") == ()
    assert "insulation-low" in mended_by(turn, "compressor-earthed")
    assert "burning-smell" in mended_by(turn, "compressor-terminals-burnt")


def test_every_hazard_that_waits_for_a_repair_has_one(context):
    """Whatever raises it, some repair of the knowledge can be what mends it."""
    library = context.library
    for check in library.checks.values():
        for outcome in check.outcomes.values():
            if outcome.hazard and library.hazards[outcome.hazard].repair:
                turn = Turn(context, VisitState(), 0.0)
                raise_hazard(turn, outcome.hazard, check.id, outcome.cleared_by)
                assert any(mended_by(turn, suspect) for suspect in library.suspects), (check.id, outcome.hazard)


def test_a_breaker_that_trips_after_a_while_gets_no_power_before_its_insulation_is_measured(visit):
    """29 CFR 1910.334(b)(2): that it is only an overload is not known from its taking some minutes."""
    visit.say(Text(words="mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="breaker-trips-later"))
    assert standing(visit) == {"trips-later"}
    assert bar(visit, "breaker-trip-current") is not None
    visit.command("check", "compressor-to-earth")
    reach_warm(visit)
    visit.read(200e6)
    assert not standing(visit)


@pytest.mark.parametrize("kind", ["plain", "ground-fault"])
def test_a_breaker_that_tripped_above_its_rating_gets_no_power_before_the_dead_tests(diagnosing, kind):
    """368 A may be a short as well as an overload (29 CFR 1910.334(b)(2))."""
    visit = diagnosing
    visit.command("check", "breaker-trip-current")
    visit.understood()
    visit.read(368.0)
    visit.choose("yes")
    visit.read(20.0)
    visit.choose(kind)
    assert standing(visit) == {"tripped-breaker"}
    assert bar(visit, "remote-obeyed") is not None


def test_nobody_is_sent_to_display_or_plate_of_a_unit_at_which_he_may_not_stay(visit):
    visit.say(Text(words="mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="blows-warm-cooling"))
    while not visit.state.job.aside:
        visit.choose("by-itself")
    visit.say(Emergency(what="gas-alarm"))
    visit.command("resume")
    assert visit.question == "room-aired.detector"


def test_a_hazard_is_cleared_on_every_kind_of_unit_by_the_same_measurements(context):
    """What one check measures on one kind of unit, another that confirms the same fault measures on the others."""
    library = context.library

    def alike(one, other):
        return one == other or any({one, other} <= set(suspect.confirm) for suspect in library.suspects.values())

    missing = [
        f"{hazard.id}: {name} at {unit.id}"
        for hazard in library.hazards.values()
        for name in hazard.cleared_by
        for unit in (*library.generals.values(), *library.profiles.values())
        if not any(
            alike(name, other) and set(library.checks[other].needs) <= features_of(unit) for other in hazard.cleared_by
        )
    ]
    assert not missing
