"""Leading through one check: how it begins, and what is said and decided until it is judged.

The order inside a check is fixed here and nowhere else: the way to it (``way``), then precautions, then the wait, then
the description.
"""

from __future__ import annotations

from assistant.dialogue import altitude, phrases
from assistant.dialogue import facts as f
from assistant.dialogue.asked_back import expected
from assistant.dialogue.asking import pending
from assistant.dialogue.cautions import caution
from assistant.dialogue.energy import place_key
from assistant.dialogue.pins import tell_pins
from assistant.dialogue.plate_known import answer_from_plate
from assistant.dialogue.proving import ground
from assistant.dialogue.putting_back import order_back
from assistant.dialogue.questions import run_question
from assistant.dialogue.settling import judged, settle
from assistant.dialogue.state import Run
from assistant.dialogue.turn import Turn
from assistant.dialogue.waiting import discharge_wait
from assistant.dialogue.way import Way, is_to_be_finished, way_to_check
from assistant.library.demand import demand_of
from assistant.library.models import Check, Repair
from assistant.messages.message import Message, Value, known, message


def start_or_change_over(turn: Turn, check_id: str, role: f.Role, reason: f.Why, again: bool = False) -> bool:
    """Begin the check, or the first procedure on the way to it. Never waits: ``advance`` goes on."""
    check = turn.check(check_id)
    way = way_to_check(ground(turn), check)
    title = known("checks", check_id, "title")
    if way.bar is not None:
        turn.tell("check-barred", "caution", check=title, bar=way.bar)
        turn.emit(f.CheckSkipped(check=check_id))
    elif blocked(turn, way):
        skipped = known("checks", next(step for step in way.steps if step in turn.state.skipped), "title")
        turn.tell("check-needs-skipped", "remark", check=title, skipped=skipped)
        turn.emit(f.CheckSkipped(check=check_id))
    elif way.steps:
        turn.emit(f.CheckStarted(check=way.steps[0], role="changeover", reason=reason, towards=check_id))
    elif not altitude.ask_first(turn, check):
        if again:
            turn.tell("once-more", "remark")
        turn.emit(f.CheckStarted(check=check_id, role=role, reason=reason, again=again))
        if not again:
            answer_from_plate(turn, check)
    return False


def blocked(turn: Turn, way: Way) -> bool:
    """Whether a step on the way was skipped, so that it leads nowhere."""
    return bool(way.steps) and any(step in turn.state.skipped for step in way.steps)


def lead_run(turn: Turn, run: Run) -> bool:
    """Lead through the check under way; true when the technician must answer first."""
    check = turn.check(run.check)
    if not way_to_check(ground(turn), check).open:  # a correction, "go back" or an alarm changed the ground meanwhile
        turn.emit(f.RunDropped(check=check.id))
        return False
    if caution(turn, check):
        return True
    if not run.described and check.does == "put-all-back":
        order_back(turn, run)
    if "stored" in check.absent and not run.wait_over and not run.live_answers() and _wait(turn, check, run):
        return True
    if run.described and _holds(turn, check, run):
        return True
    if pending(check, run) is not None and not alive(turn, check, run):
        if not run.described:
            _describe(turn, check)
        _say_what_is_dead(turn, check, run)
        question = run_question(turn, run)
        assert question is not None
        turn.tell(question, "instruction")
        return True
    settle(turn, check, run.role, tuple(given.number for given in run.live_answers()))
    return False


def _holds(turn: Turn, check: Check, run: Run) -> bool:
    """Start or keep the wait before a question that counts only after it; false when none is due."""
    now = pending(check, run)
    if now is None or now[0].key not in check.waits or now[0].key in run.waited:
        return False
    until = turn.state.wait_until_s
    if until is None:
        seconds = 60 * check.waits[now[0].key]
        turn.tell("hold-for", "instruction", span=phrases.span_of_time(seconds))
        turn.emit(f.WaitStarted(seconds=seconds, until_s=turn.now_s + seconds, question=now[0].key))
        return True
    if turn.now_s < until:
        turn.tell("hold-more", "instruction", span=phrases.span_of_time(until - turn.now_s))
        return True
    turn.emit(f.WaitEnded())
    return False


def alive(turn: Turn, check: Check, run: Run) -> bool:
    """Whether what was read on the way to a proof already shows voltage: nothing more is asked there then.

    One reading is enough, of whichever two conductors: the others would be measured on live metal.
    """
    answers = run.live_answers()
    if check.proves is None or not answers:
        return False
    inputs = check.judge.inputs
    found = judged(turn, check, tuple(given.number for given in answers)).outcome
    shown = {"fed": inputs.get("mains"), "charged": inputs.get("stored")}.get(found)
    return any(given.question == shown for given in answers)


def _describe(turn: Turn, check: Check) -> None:
    """Say what to do. From here on things may be off, the circuit may be open, and the power may be on."""
    turn.emit(f.CheckDescribed(check=check.id, energy=turn.state.power.at(place_key(check.where, turn.state.zone))))
    if check.probes and not is_to_be_finished(turn.state, check):  # how to finish it was said
        turn.tell(known("checks", check.id, "probes"), "instruction")
        tell_pins(turn, check)
    begun(turn, check, check.id)


def instruct_again(turn: Turn) -> None:
    """What is to be done in the check under way, once more, if it may go on: who went back did it perhaps not so."""
    run = turn.state.run
    if run is None or not run.described or turn.state.acknowledging:
        return
    check = turn.check(run.check)
    if not way_to_check(ground(turn), check).open:
        return
    if check.does == "put-all-back":
        order_back(turn, run)
    if check.probes:
        turn.tell(known("checks", check.id, "probes"), "instruction")
        tell_pins(turn, check)


def _say_what_is_dead(turn: Turn, check: Check, run: Run) -> None:
    """Before the first reading of a kind at a proof: what counts as dead; whoever heard it in this visit knows it."""
    now = pending(check, run)
    if check.proves is None or now is None or now[0].reading is None:
        return
    if any(given.question == now[0].key for given in run.answers):
        return
    done = dict.fromkeys(result.check for result in turn.state.results)
    heard = {value for name in done for value in _dead_below(turn, turn.check(name))}
    for _, value, _ in expected(turn, check, now[0]):
        if (now[0].reading.quantity, value) not in heard:
            turn.tell("dead-below", "instruction", volts=value)


def _dead_below(turn: Turn, check: Check) -> list[tuple[str, Value]]:
    """What a proof counts as dead, by the quantity that it reads; nothing for what is no proof."""
    if check.proves is None:
        return []
    return [
        (question.reading.quantity, value)
        for question in check.ask
        if question.reading is not None
        for _, value, _ in expected(turn, check, question)
    ]


def begun(turn: Turn, step: Check | Repair, name: str) -> None:
    """What may be so from the moment a step is described, whatever is answered about it."""
    things = tuple(step.takes_off)
    if things:
        places = tuple(place_key(at, turn.state.zone) for at in demand_of(step).at) or (
            place_key(step.where, turn.state.zone),
        )
        turn.emit(f.TakenOff(things=things, places=places, by=name))
    if step.circuit.makes is not None:
        for may_be in (*step.circuit.passes, step.circuit.makes):
            turn.emit(f.CircuitChanged(to=may_be, because=name, certain=False))
    if step.may_energize:  # the power comes on anew, even where it was on: cautions are whole again after it
        turn.emit(f.EnergyChanged(to="live", because=_step_name(step, name)))


def _step_name(step: Check | Repair, name: str) -> Message:
    of, field = ("checks", "title") if isinstance(step, Check) else ("suspects", "name")
    return message("knowledge", text=known(of, name, field))


def _wait(turn: Turn, check: Check, run: Run) -> bool:
    """Start or keep the wait for the capacitors; false when none is needed or it is over."""
    assert check.proves is not None
    until = turn.state.wait_until_s
    if until is None:
        place = place_key(check.proves, turn.state.zone)
        measured = [item for item in turn.state.power.stored if item.place == place]
        if check.proves != "outdoor" and not measured:
            return False
        wait = discharge_wait(turn.profile, measured, _below(turn, check, run))
        if not wait.falls:
            turn.tell("not-falling", "caution")
        if wait.seconds <= 0:
            return False
        turn.tell("wait-for-capacitors", "instruction", span=phrases.span_of_time(wait.seconds))
        if wait.why == "wait-decay":
            turn.tell(wait.why, "remark")
        turn.emit(f.WaitStarted(seconds=wait.seconds, until_s=turn.now_s + wait.seconds))
        return True
    if turn.now_s < until:
        turn.tell("wait-more", "instruction", span=phrases.span_of_time(until - turn.now_s))
        return True
    turn.emit(f.WaitEnded())
    return False


def _below(turn: Turn, check: Check, run: Run) -> float | None:
    """The stored voltage that is waited for where it is not the usual limit."""
    if check.does != "lower-bus":
        return None
    towards = turn.library.checks.get(run.towards)
    return towards.bus_below_v if towards else None
