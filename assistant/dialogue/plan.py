"""Leading on: from wherever the visit stands to the next thing the technician must do or say.

``advance`` is called at the end of every turn. It emits and says whatever needs no answer, and stops at the first
thing that does. The order inside a check is fixed here and nowhere else: energy state, then precautions, then
the wait, then the description.
"""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue import phrases
from assistant.dialogue.asking import pending
from assistant.dialogue.energy import PROCEDURES, PROVE_DEAD, RESTORE, after_procedure, allows, changeover
from assistant.dialogue.state import Run, Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.waiting import discharge_wait
from assistant.language.meaning import Finding, Reading, Readings, Text
from assistant.library.models import Check, Energy, Precaution, Suspect, Where
from assistant.library.profile import features_of
from assistant.reasoning.conclusion import Conclusion
from assistant.reasoning.judges import judge

#: Every repair is closed by the machine as a whole: air in against air out, and the complaint tried again.
GENERAL_PROOF = ("commission-split-cooling", "commission-complaint-gone")
#: How often a proof that shows unfinished work is made again before it counts as failed.
MOST_REPEATS = 2
#: Above this chance a suspect that could not be named may be mended on the technician's own judgement.
EVEN = 0.5
GENERAL_PROOF_HEATING = ("commission-split-heating", "commission-complaint-gone")


def advance(turn: Turn) -> None:
    """Go on until something must be answered or the visit is closed."""
    while turn.state.stage is not Stage.CLOSED:
        if turn.state.run is not None:
            if _lead_run(turn, turn.state.run):
                return
        elif _LEAD[turn.state.stage](turn):
            return


def ask_again(turn: Turn) -> None:
    """Say the present question once more, without anything new."""
    question = present_question(turn)
    if question:
        turn.say(question, "question")


def present_question(turn: Turn) -> str:
    """The words of the question that is open now; empty when nothing is."""
    state = turn.state
    if state.finishing:
        return "Finish the visit and write the record? Yes or no."
    if state.acknowledging is not None:
        return "Say understood when you have it."
    if state.run is not None:
        return _run_question(turn, state.run)
    if state.stage is Stage.UNSOLVED and state.likeliest:
        return "Say repair it anyway, name a check, say what else it does, or say finish."
    if state.stage is Stage.REPAIR and state.suspect:
        return "Say done when the repair is made, or not possible."
    return _STAGE_QUESTION.get(state.stage, "")


_STAGE_QUESTION = {
    Stage.SITE: "Which site is this?",
    Stage.PROFILE: "Which unit is it? Say make and model, or no profile.",
    Stage.SUPPLY: "No profile, so general values apply. What supply does it have?",
    Stage.REFRIGERANT: "Which refrigerant is on the nameplate?",
    Stage.ZONE: "Which indoor unit is in trouble?",
    Stage.INDICATION: "What does the unit show, or what does it do?",
    Stage.UNSOLVED: "Name a check, say what else it does, or say finish.",
    Stage.REPAIR_NOTE: "In a few words, what did you change?",
    Stage.CUSTOMER_NOTE: "Any note for the customer? Say it, or say no note.",
}


def _run_question(turn: Turn, run: Run) -> str:
    check = turn.check(run.check)
    if turn.state.wait_until_s is not None:
        return "Say ready when the time is up."
    now = pending(check, run)
    if now is None:
        return ""
    question, place = now
    if place is not None and question.reading:
        return f"And {phrases.place_name(question.reading.places, place)}?"
    return question.say


# ---- the stages -----------------------------------------------------------------------------------------------


def _ask_stage(turn: Turn) -> bool:
    turn.say(_STAGE_QUESTION[turn.state.stage], "question")
    return True


def _ask_unsolved(turn: Turn) -> bool:
    ask_again(turn)
    return True


def _lead_zone(turn: Turn) -> bool:
    profile = turn.profile
    if profile is None or len(profile.zones) < 2:
        turn.emit(f.StageEntered(stage=Stage.INDICATION))
        return False
    return _ask_stage(turn)


def _lead_search(turn: Turn) -> bool:
    """Diagnosis: the check that was named, or the best next one, or the conclusion."""
    state = turn.state
    if state.asked_for is not None:
        return _start_or_change_over(turn, state.asked_for, "asked", "You asked for it.")
    belief, done, not_now = turn.belief(), done_checks(turn), _not_now(turn)
    named = turn.reasoner.named(belief, done, not_now)
    if named is not None:
        _name_fault(turn, *named)
        return False
    advice = turn.reasoner.next_check(belief, done, not_now, state.energy, _whereabouts(turn))
    if advice is None:
        _admit_unsolved(turn, turn.reasoner.conclusion(belief, done, not_now))
        return False
    reason = turn.reasoner.why(belief, advice)
    return _start_or_change_over(turn, advice.check_id, "diagnosis", reason, again=advice.check_id in done)


def _name_fault(turn: Turn, suspect: str, probability: float) -> None:
    """Say what is at fault and how sure, with the failed check that showed it as the reason."""
    failed = [r.judgement.says for r in turn.state.results if r.judgement.verdict == "fail" and r.role != "changeover"]
    reason = failed[-1] if failed else "The checks leave nothing else."
    turn.emit(f.FaultNamed(suspect=suspect, probability=probability, reason=reason))
    name = turn.library.suspects[suspect].name
    chance = min(99, round(100 * probability))
    turn.say(phrases.sentence(f"The fault is found: {name}. I am {chance} percent sure"), "result")


def _admit_unsolved(turn: Turn, conclusion: Conclusion) -> None:
    """No check is left that would tell: say honestly what remains possible, and what would still tell."""
    possible = [(key, chance) for key, chance in conclusion.remaining if key in turn.library.suspects][:2]
    shares = "; ".join(f"{turn.library.suspects[key].name}, {round(100 * chance)} percent" for key, chance in possible)
    still = f"Still possible: {shares}." if possible else "The fault is none of those I know."
    likeliest = possible[0][0] if possible and possible[0][1] > EVEN else ""
    turn.emit(f.FaultNamed(suspect="", probability=conclusion.probability, reason=still, likeliest=likeliest))
    turn.say(f"No check is left that would tell more now. {still}", "result")
    turn.say(_would_tell(turn), "remark")


def _would_tell(turn: Turn) -> str:
    """The skipped check that would have told most; without one, only the fault itself can."""
    advice = turn.reasoner.next_check(
        turn.belief(), done_checks(turn), frozenset(PROCEDURES), turn.state.energy, _whereabouts(turn)
    )
    if advice is None:
        return "The same checks would tell while the fault shows itself."
    return f"This was skipped and would tell: {turn.check(advice.check_id).title.lower()}."


def take_likeliest(turn: Turn) -> None:
    """Mend what could not be named for certain, on the technician's own judgement; the record says whose it was."""
    suspect = turn.state.likeliest
    chance = dict(turn.reasoner.ranked(turn.belief())).get(suspect, 0.0)
    reason = f"The technician took the likeliest suspect; the checks gave it {round(100 * chance)} percent."
    turn.emit(f.FaultNamed(suspect=suspect, probability=chance, reason=reason))
    turn.say("On your judgement then; the record says so.", "result")


def done_checks(turn: Turn) -> tuple[str, ...]:
    """Checks that were judged in this search: those before the last repair may be made again, but for lasting ones."""
    since = turn.state.mended[-1][1] if turn.state.mended else 0
    judged = (result.check for result in turn.state.results[since:] if result.role != "changeover")
    lasting = (result.check for result in turn.state.results[:since] if turn.check(result.check).lasting)
    return (*lasting, *judged)


def _not_now(turn: Turn) -> frozenset[str]:
    """Checks that cannot come next: skipped, procedures, or behind a changeover that was skipped."""
    skipped = set(turn.state.skipped)
    needs: tuple[Energy, ...] = ("any", "live", "isolated", "proved-dead")
    barred = {need for need in needs if skipped.intersection(changeover(turn.state.energy, need))}
    blocked = {check.id for check in turn.library.checks.values() if check.energy in barred} if barred else set()
    return frozenset(skipped | blocked | set(PROCEDURES))


def _whereabouts(turn: Turn) -> Where:
    """Where the technician stands: at the last check that was tied to a place."""
    for result in reversed(turn.state.results):
        where = turn.check(result.check).where
        if where != "anywhere":
            return where
    return "indoor"


def _start_or_change_over(turn: Turn, check_id: str, role: f.Role, reason: str, again: bool = False) -> bool:
    """Begin the check, or the first procedure that its energy state needs. Never waits: ``advance`` goes on."""
    check = turn.check(check_id)
    path = changeover(turn.state.energy, check.energy)
    if set(path) & set(turn.state.skipped):
        turn.say(f"{phrases.sentence(check.title)} needs {_energy_words(check.energy)}, which was skipped.", "remark")
        turn.emit(f.CheckSkipped(check=check_id))
    elif path:
        turn.emit(f.CheckStarted(check=path[0], role="changeover", reason=f"{check.title} needs it. {reason}"))
    else:
        if again:
            turn.say("Once more, to make sure.", "remark")
        turn.emit(f.CheckStarted(check=check_id, role=role, reason=reason, again=again))
    return False


def _energy_words(energy: Energy) -> str:
    return {"live": "power on", "isolated": "the power locked out", "proved-dead": "the unit proved dead"}.get(
        energy, ""
    )


def _lead_repair(turn: Turn) -> bool:
    state = turn.state
    assert state.suspect is not None
    if state.asked_for is not None:
        return _start_or_change_over(turn, state.asked_for, "asked", "You asked for it.")
    repair = turn.library.suspects[state.suspect].repair
    if not allows(state.energy, repair.energy):
        path = changeover(state.energy, repair.energy)
        if set(path) & set(state.skipped):
            turn.say(f"The repair needs {_energy_words(repair.energy)}, which was skipped.", "remark")
            turn.emit(f.RepairDone(suspect=state.suspect, done=False))
            return False
        turn.emit(f.CheckStarted(check=path[0], role="changeover", reason="The repair needs it."))
        return False
    if caution(turn, repair.precautions):
        return True
    if not state.repair_described:
        turn.say(repair.say, "instruction")
        turn.emit(f.RepairDescribed(suspect=state.suspect))
    turn.say("Say done when the repair is made, or not possible.", "question")
    return True


def begin_proof(turn: Turn) -> None:
    """After the repair: the fault's own proof, then the general one that every repair gets."""
    suspect = turn.library.suspects[turn.state.suspect or ""]
    heating = any("heating" in symptom for symptom in turn.state.symptoms)
    general = GENERAL_PROOF_HEATING if heating else GENERAL_PROOF
    checks = dict.fromkeys((*_own_proof(turn, suspect), *general))
    turn.emit(f.ProofBegun(suspect=suspect.id, checks=tuple(checks)))


def _own_proof(turn: Turn, suspect: Suspect) -> list[str]:
    """The fault's own proof as far as this unit has what it measures (three phases, a data plate with the current)."""
    features = features_of(turn.profile) if turn.profile else frozenset()
    return [check for check in suspect.proof if set(turn.check(check).needs) <= features]


def _lead_proof(turn: Turn) -> bool:
    state = turn.state
    assert state.suspect is not None
    if state.asked_for is not None:
        return _start_or_change_over(turn, state.asked_for, "asked", "You asked for it.")
    if state.proof_failed:
        turn.emit(f.ProofSettled(suspect=state.suspect, proof="failed"))
        turn.say("The proof failed, so the search goes on with what was learnt.", "result")
        return False
    if state.proofs_left:
        return _start_or_change_over(turn, state.proofs_left[0], "proof", "It shows that the fault is gone.")
    wanted = set(_own_proof(turn, turn.library.suspects[state.suspect]))
    proved = wanted <= {result.check for result in state.results if result.role == "proof"}
    turn.emit(f.ProofSettled(suspect=state.suspect, proof="proved" if proved else "not proved"))
    turn.say(
        "The repair is proved by measurement." if proved else "The repair is not proved; the record says so.", "result"
    )
    return False


_LEAD = {
    Stage.SITE: _ask_stage,
    Stage.PROFILE: _ask_stage,
    Stage.SUPPLY: _ask_stage,
    Stage.REFRIGERANT: _ask_stage,
    Stage.ZONE: _lead_zone,
    Stage.INDICATION: _ask_stage,
    Stage.CHECK: _lead_search,
    Stage.REPAIR: _lead_repair,
    Stage.REPAIR_NOTE: _ask_stage,
    Stage.PROOF: _lead_proof,
    Stage.UNSOLVED: _ask_unsolved,
    Stage.CUSTOMER_NOTE: _ask_stage,
}


# ---- inside one check -----------------------------------------------------------------------------------------


def _lead_run(turn: Turn, run: Run) -> bool:
    """Lead through the check under way; true when the technician must answer first."""
    check = turn.check(run.check)
    if run.role != "changeover" and not allows(turn.state.energy, check.energy):
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
        turn.say(_run_question(turn, run), "instruction")
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
