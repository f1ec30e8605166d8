"""Leading through one check: how it begins, and what is said and decided until it is judged.

The order inside a check is fixed here and nowhere else: energy state, then precautions, then the wait, then the
description.
"""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue import phrases
from assistant.dialogue.asking import pending
from assistant.dialogue.energy import PROCEDURES, PROVE_DEAD, RESTORE, after_procedure, allows, changeover
from assistant.dialogue.questions import run_question
from assistant.dialogue.state import Run, Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.waiting import discharge_wait
from assistant.language.meaning import Finding, Reading, Readings, Text
from assistant.library.models import Check, Energy, Precaution, Repair
from assistant.library.profile import features_of
from assistant.reasoning.judges import judge

#: How often a proof that shows unfinished work is made again before it counts as failed.
MOST_REPEATS = 2


def start_or_change_over(turn: Turn, check_id: str, role: f.Role, reason: str, again: bool = False) -> bool:
    """Begin the check, or the first procedure that its energy state needs. Never waits: ``advance`` goes on."""
    check = turn.check(check_id)
    path = changeover(turn.state.energy, check.energy)
    if set(path) & set(turn.state.skipped):
        needs = f"{check.title} needs {energy_words(check.energy)}, which was skipped"
        turn.say(phrases.sentence(needs), "remark")
        turn.emit(f.CheckSkipped(check=check_id))
    elif path:
        turn.emit(f.CheckStarted(check=path[0], role="changeover", reason=f"{check.title} needs it. {reason}"))
    else:
        if again:
            turn.say("Once more, to make sure.", "remark")
        turn.emit(f.CheckStarted(check=check_id, role=role, reason=reason, again=again))
    return False


def energy_words(energy: Energy) -> str:
    return {"live": "power on", "isolated": "the power locked out", "proved-dead": "the unit proved dead"}.get(
        energy, ""
    )


def lead_run(turn: Turn, run: Run) -> bool:
    """Lead through the check under way; true when the technician must answer first."""
    check = turn.check(run.check)
    if not allows(turn.state.energy, check.energy):  # a correction or "go back" made the unit less safe meanwhile
        turn.emit(f.RunDropped(check=check.id))
        return False
    if caution(turn, check.precautions):
        return True
    if check.id == PROVE_DEAD and not run.wait_over and _wait(turn):
        return True
    if pending(check, run) is not None:
        if not run.described:
            turn.emit(f.CheckDescribed(check=check.id, energy=turn.state.energy))
            turn.say(check.probes, "instruction")
        turn.say(run_question(turn, run), "instruction")
        return True
    settle(turn, check, run.role, tuple(given.number for given in run.live_answers()))
    return False


def caution(turn: Turn, wanted: tuple[str, ...]) -> bool:
    """Speak every precaution that is due; true when one waits to be acknowledged."""
    for precaution_id in wanted:
        precaution = turn.library.precautions[precaution_id]
        if not _due(turn, precaution_id, precaution.repeat) or not _concerns(turn, precaution):
            continue
        turn.say(precaution.say, "caution")
        turn.emit(f.PrecautionGiven(precaution=precaution_id, waits=precaution.acknowledge))
        if precaution.acknowledge:
            return True
    return False


def remind(turn: Turn) -> None:
    """Speak again what was cautioned for the step under way: the technician comes back to it from elsewhere."""
    state = turn.state
    if state.run is not None:
        step: Check | Repair = turn.check(state.run.check)
    elif state.stage is Stage.REPAIR and state.suspect:
        step = turn.library.suspects[state.suspect].repair
    else:
        return
    if not allows(state.energy, step.energy):
        return
    for precaution_id in step.precautions:
        precaution = turn.library.precautions[precaution_id]
        given = precaution_id == state.acknowledging or not _due(turn, precaution_id, precaution.repeat)
        if given and _concerns(turn, precaution):
            turn.say(precaution.say, "caution")


def _concerns(turn: Turn, precaution: Precaution) -> bool:
    """Whether the caution is about this unit at all. While the unit is not known, every caution concerns it."""
    if turn.profile is None or (turn.profile.general and turn.state.note("refrigerant") is None):
        return True
    return set(precaution.needs) <= features_of(turn.profile)


def _due(turn: Turn, precaution_id: str, repeat: str) -> bool:
    given = [count for name, count in turn.state.given_precautions if name == precaution_id]
    if repeat == "visit":
        return not given
    run = turn.state.run
    if repeat == "always" and run is not None:
        return precaution_id not in run.cautioned
    return turn.state.changeovers not in given


def _wait(turn: Turn) -> bool:
    """Start or keep the wait for the bus capacitors; false when none is needed or it is over."""
    until = turn.state.wait_until_s
    if until is None:
        last = next((r for r in reversed(turn.state.results) if r.check == PROVE_DEAD), None)
        measured = last.answers[-1].answer if last and last.judgement.outcome == "charged" else None
        seconds, reason = discharge_wait(turn.profile, getattr(measured, "value", None))
        turn.say(f"Wait {phrases.span_of_time(seconds)} for the capacitors. {reason}", "instruction")
        turn.emit(f.WaitStarted(seconds=seconds, until_s=turn.now_s + seconds))
        return True
    if turn.now_s < until:
        turn.say(f"Wait {phrases.span_of_time(until - turn.now_s)} more.", "instruction")
        return True
    turn.emit(f.WaitEnded())
    return False


def settle(turn: Turn, check: Check, role: f.Role, numbers: tuple[int, ...]) -> None:
    """Judge the answers with these numbers, say the verdict and let the energy state follow."""
    answers = given_answers(turn, numbers)
    judgement = judge(check, answers, turn.library, turn.profile)
    turn.emit(f.CheckJudged(check=check.id, role=role, answers=numbers, judgement=judgement))
    if not (turn.replies and turn.replies[-1].text == judgement.says):  # "Nobody knows." was just read back
        turn.say(judgement.says, "result")
    if judgement.verdict == "undecided" and judgement.better:
        turn.say(phrases.sentence(judgement.better), "remark")
    if check.id in PROCEDURES:
        _follow_energy(turn, check, judgement.outcome)
        return
    if role in ("diagnosis", "asked") and _doubt(turn, check.id):
        return
    if role == "proof" and _unfinished(turn, check, judgement.outcome):
        return
    follow = check.follow_up.get(judgement.outcome)
    if follow and role == "diagnosis" and follow not in done_checks(turn) and follow not in turn.state.skipped:
        turn.emit(f.CheckAskedFor(check=follow))


def _unfinished(turn: Turn, check: Check, outcome: str) -> bool:
    """A proof may show that the work itself is not finished: say how, and prove it again, twice at most."""
    outcome_known = check.outcomes.get(outcome)
    redo = outcome_known.redo if outcome_known else ""
    if not redo or turn.state.stage is not Stage.PROOF or turn.state.proofs_repeated.count(check.id) >= MOST_REPEATS:
        return False
    turn.say(redo, "instruction")
    turn.emit(f.ProofRepeated(check=check.id))
    return True


def _follow_energy(turn: Turn, check: Check, outcome: str) -> None:
    """Let the energy state follow a judged procedure; one that could not be done blocks what needs it."""
    now = after_procedure(turn.state.energy, check.id, outcome, check.sets_energy)
    if now != turn.state.energy:
        turn.emit(f.EnergyChanged(to=now, because=f"{check.title}: {outcome}"))
    if check.id == PROVE_DEAD:
        if outcome == "charged" and turn.state.asked_for is None:
            turn.emit(f.CheckAskedFor(check=PROVE_DEAD))
        return
    if outcome == "done":
        return
    turn.emit(f.CheckSkipped(check=check.id))
    if check.id == RESTORE and turn.state.stage is Stage.PROOF:
        turn.emit(f.ProofSettled(suspect=turn.state.suspect or "", proof="failed"))
        turn.say("The proof failed, so the search goes on with what was learnt.", "result")


def _doubt(turn: Turn, check_id: str) -> bool:
    """Notice an answer that clashes with an earlier one, and ask the newer again first; true when it is asked again."""
    mine = turn.state.results[-1]
    if mine.check != check_id or turn.state.mended:
        return False
    before = turn.belief(but_last=True)
    clash = turn.reasoner.contradiction(before, check_id, mine.judgement.chances)
    if clash is None:
        return False
    again = next((name for name in (check_id, clash) if name not in turn.state.doubted), None)
    if again is None or again not in turn.library.checks:
        return False
    turn.say(f"That does not fit with {turn.check(clash).title.lower()}. Let us make sure.", "remark")
    turn.emit(f.AnswersDoubted(check=again))
    return True


def done_checks(turn: Turn) -> tuple[str, ...]:
    """Checks that were judged in this search: those before the last repair may be made again, but for lasting ones."""
    since = turn.state.mended[-1][1] if turn.state.mended else 0
    judged = (result.check for result in turn.state.results[since:] if result.role != "changeover")
    lasting = (result.check for result in turn.state.results[:since] if turn.check(result.check).lasting)
    return (*lasting, *judged)


def given_answers(turn: Turn, numbers: tuple[int, ...]) -> dict[str, Readings | Finding | Text]:
    """The answers with these numbers by question key, places gathered into one ``Readings``."""
    pools = [result.answers for result in turn.state.results] + ([turn.state.run.answers] if turn.state.run else [])
    out: dict[str, list[f.Answer]] = {}
    for given in (item for pool in pools for item in pool if item.number in numbers):
        out.setdefault(given.question, []).append(given.answer)
    return {key: _gathered(items) for key, items in out.items()}


def _gathered(items: list[f.Answer]) -> Readings | Finding | Text:
    first = items[-1]
    if isinstance(first, Reading):
        return Readings(items=tuple(item for item in items if isinstance(item, Reading)))
    return first
