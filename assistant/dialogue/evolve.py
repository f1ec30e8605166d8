"""``evolve(state, fact) -> state``: how each fact changes what is known. Deciding nothing, saying nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from assistant.dialogue import evolve_job as job
from assistant.dialogue import evolve_safety as safety
from assistant.dialogue import facts as f
from assistant.dialogue.energy import place_key
from assistant.dialogue.state import Given, Result, Run, Stage, VisitState
from assistant.language.meaning import Command, Correction

_CORRECTION = Command(name="correction")
#: How many steps "go back" can undo at least.
DEPTH = 40
#: What makes the course of the visit, as far as no "go back" has undone it.
_COURSE = (f.IndicationNoted, f.FaultNamed, f.RepairDone, f.Noted, f.ProofSettled)


def fold(facts: Iterable[f.Fact], state: VisitState | None = None) -> VisitState:
    """The state after all these facts, oldest first."""
    state = state or VisitState()
    for fact in facts:
        state = evolve(state, fact)
    return state


def evolve(state: VisitState, fact: f.Fact) -> VisitState:
    """The state after one more fact."""
    handler = _HANDLERS.get(type(fact))
    state = handler(state, fact) if handler else state
    return _with(state, course=(*state.course, fact)) if isinstance(fact, _COURSE) else state


def _with(state: VisitState, **changes: Any) -> VisitState:
    return state.model_copy(update=changes)


def _turned(state: VisitState, **changes: Any) -> VisitState:
    """The visit takes another direction: whatever was under way or waiting to be answered is dropped."""
    dropped = {"run": None, "wait_until_s": None, "acknowledging": (), "correcting": None, "unconfirmed": None}
    return state.model_copy(update={**dropped, "refused": False, "asking_altitude": False, **changes})


def _run(state: VisitState, **changes: Any) -> VisitState:
    assert state.run is not None, "a fact about a check came without a check under way"
    return _with(state, run=state.run.model_copy(update=changes))


def remember(state: VisitState) -> VisitState:
    """The state with itself as the place "go back" returns to. Past twice DEPTH the chain is cut to DEPTH."""
    kept: list[VisitState] = []
    link: VisitState | None = state
    while link is not None:
        kept.append(link)
        link = link.previous
    if len(kept) <= 2 * DEPTH:
        return _with(state, previous=state)
    chain: VisitState | None = None
    for old in reversed(kept[:DEPTH]):
        chain = old.model_copy(update={"previous": chain})
    return _with(state, previous=chain)


def _words_heard(state: VisitState, fact: f.Fact) -> VisitState:
    return _with(state, spoken=())


def _heard_something(state: VisitState, fact: f.WordsHeard) -> VisitState:
    """An entry of the ledger is fresh until something else is said than "correction"."""
    job = state.job
    corrects = isinstance(fact.heard.meaning, Correction) or fact.heard.meaning == _CORRECTION
    fresh = job.fresh and corrects
    return _with(state, spoken=(), job=job.model_copy(update={"fresh": fresh}) if job.fresh != fresh else job)


def _said(state: VisitState, fact: f.Said) -> VisitState:
    return _with(state, spoken=(*state.spoken, fact.message or fact.text))


def _noted(state: VisitState, fact: f.Noted) -> VisitState:
    state = _with(state, misheard=0)
    if fact.topic == "profile":
        return _with(state, profile=fact.value or None)
    if fact.topic == "zone":
        return _with(state, zone=fact.value)
    if fact.topic == "altitude":
        return _with(state, asking_altitude=False, altitude_at=state.answers)
    return state


def _check_started(state: VisitState, fact: f.CheckStarted) -> VisitState:
    clears = any(check == fact.check for latched in state.hazards for check, _ in latched.cleared_by)
    takes = fact.role == "diagnosis" and not fact.again and not clears  # what clears a hazard is all measured anew
    told = tuple(given for given in state.told if takes and given.check == fact.check)
    run = Run(check=fact.check, role=fact.role, reason=fact.reason, towards=fact.towards, answers=told)
    left = tuple(given for given in state.told if given not in told)
    # A repair that a check comes between is called to mind anew when it is come back to.
    return _with(state, run=run, wait_until_s=None, told=left, repair_cautioned=())


def _answer_given(state: VisitState, fact: f.AnswerGiven) -> VisitState:
    given = Given(
        number=fact.number,
        check=fact.check,
        question=fact.question,
        place=fact.place,
        answer=fact.answer,
        how=fact.how,
    )
    state = _with(state, answers=fact.number, misheard=0, refused=False, correcting=None)
    if fact.replaces is not None:
        return _replace_answer(state, fact.replaces, given)
    if state.run is None or state.run.check != fact.check:
        return state
    return _run(state, answers=(*state.run.answers, given))


def _fact_told(state: VisitState, fact: f.FactTold) -> VisitState:
    """What was told last of a question and place is what counts."""
    given = Given(
        number=fact.number,
        check=fact.check,
        question=fact.question,
        place=fact.place,
        answer=fact.answer,
        how=fact.how,
    )
    matter = (given.check, given.question, given.place)
    others = tuple(old for old in state.told if (old.check, old.question, old.place) != matter)
    return _with(state, answers=fact.number, misheard=0, refused=False, told=(*others, given))


def _replace_answer(state: VisitState, number: int, new: Given) -> VisitState:
    """Put ``new`` in the place of answer ``number``, keeping the old one marked as replaced."""

    def swap(answers: tuple[Given, ...]) -> tuple[Given, ...]:
        out: list[Given] = []
        for given in answers:
            if given.number == number:
                out += [given.model_copy(update={"replaced": True}), new]
            else:
                out.append(given)
        return tuple(out)

    if state.run:
        state = _run(state, answers=swap(state.run.answers))
    results = tuple(result.model_copy(update={"answers": swap(result.answers)}) for result in state.results)
    told = tuple(given for given in swap(state.told) if not given.replaced)
    return _with(state, results=results, told=told)


def _check_judged(state: VisitState, fact: f.CheckJudged) -> VisitState:
    """Finish the run; or, after a correction, replace the judgement of the result with the corrected answers."""
    run = state.run
    if fact.role == "told" and (mine := tuple(given for given in state.told if given.number in fact.answers)):
        result = Result(check=fact.check, role="told", answers=mine, judgement=fact.judgement)
        left_told = tuple(given for given in state.told if given not in mine)
        return _with(state, results=(*state.results, result), told=left_told)
    if run is not None and run.check == fact.check and set(fact.answers) <= {given.number for given in run.answers}:
        zone = state.zone or ""
        result = Result(check=fact.check, role=fact.role, answers=run.answers, judgement=fact.judgement, zone=zone)
        state = _with(state, results=(*state.results, result), run=None, wait_until_s=None)
        left = tuple(check for check in state.proofs_left if check != fact.check)
        failed = state.proof_failed or (fact.role == "proof" and fact.judgement.verdict == "fail")
        asked_for = None if state.asked_for == fact.check else state.asked_for
        return _with(state, proofs_left=left, proof_failed=failed, asked_for=asked_for)
    results = tuple(
        result.model_copy(update={"judgement": fact.judgement})
        if set(fact.answers) <= {given.number for given in result.answers}
        else result
        for result in state.results
    )
    proofs = [result for result in results if result.role == "proof"]
    failed = any(result.judgement.verdict == "fail" for result in proofs) if proofs else state.proof_failed
    return _with(state, results=results, proof_failed=failed)


def _check_asked_for(state: VisitState, fact: f.CheckAskedFor) -> VisitState:
    """The named check comes next. Mid-repair and mid-proof it is an aside; otherwise the search goes on from it."""
    stage = state.stage if state.stage in (Stage.REPAIR, Stage.PROOF) else Stage.CHECK
    skipped = tuple(check for check in state.skipped if check != fact.check)
    taken_up = (*state.taken_up, fact.check) if fact.taken_up else state.taken_up
    return _turned(state, asked_for=fact.check, stage=stage, skipped=skipped, taken_up=taken_up)


def _check_skipped(state: VisitState, fact: f.CheckSkipped) -> VisitState:
    left = tuple(check for check in state.proofs_left if check != fact.check)
    set_aside = (*state.set_aside, (fact.check, len(state.results))) if fact.reason else state.set_aside
    skipped = (*state.skipped, fact.check)
    return _turned(state, skipped=skipped, set_aside=set_aside, proofs_left=left, asked_for=None)


def _fault_named(state: VisitState, fact: f.FaultNamed) -> VisitState:
    named = {"because": fact.reason, "likeliest": fact.likeliest, "run": None}
    if not fact.suspect:
        return _with(state, suspect=None, stage=Stage.UNSOLVED, **named)
    return _with(state, suspect=fact.suspect, stage=Stage.REPAIR, repair_described=False, repair_cautioned=(), **named)


def _proof_repeated(state: VisitState, fact: f.ProofRepeated) -> VisitState:
    """The check stands before the others again; its unfinished answer counts no more."""
    last = max(place for place, result in enumerate(state.results) if result.check == fact.check)
    return _with(
        state,
        results=state.results[:last] + state.results[last + 1 :],
        proofs_left=(fact.check, *state.proofs_left),
        proofs_repeated=(*state.proofs_repeated, fact.check),
        proof_failed=False,
    )


def _proof_settled(state: VisitState, fact: f.ProofSettled) -> VisitState:
    state = _with(state, run=None, proof=fact.proof, proofs_left=())
    if fact.proof == "failed":
        return _with(state, stage=Stage.CHECK, suspect=None, proof_failed=False)
    return _with(state, stage=Stage.CUSTOMER_NOTE)


def _went_back(state: VisitState, fact: f.WentBack) -> VisitState:
    """Back to the remembered step; what is physically so is not undone by it (``evolve_safety``)."""
    earlier = state.previous
    if earlier is None:
        return state
    return _with(
        earlier,
        **safety.kept_in_going_back(state, earlier),
        job=job.kept_in_going_back(state.job, earlier.job),
        technician=state.technician,
        answers=state.answers,
        pace=state.pace,
        volume=state.volume,
        system=state.system,
        acknowledging=(),
        unconfirmed=None,
        held=False,
        held_at_s=None,
    )


def _stage_entered(state: VisitState, fact: f.StageEntered) -> VisitState:
    return _turned(state, stage=Stage(fact.stage), finishing=False, asked_for=None)


def _wait_started(state: VisitState, fact: f.WaitStarted) -> VisitState:
    state = _with(state, wait_until_s=fact.until_s)
    return _run(state, waiting=fact.question) if state.run is not None else state


def _wait_ended(state: VisitState, fact: f.WaitEnded) -> VisitState:
    state = _with(state, wait_until_s=None)
    assert state.run is not None
    if state.run.waiting:
        return _run(state, waiting="", waited=(*state.run.waited, state.run.waiting))
    return _run(state, wait_over=True)


def _visit_opened(state: VisitState, fact: f.VisitOpened) -> VisitState:
    return _with(state, technician=fact.technician, job=state.job.model_copy(update={"on": fact.on}))


def _repair_done(state: VisitState, fact: f.RepairDone) -> VisitState:
    if not fact.done:
        return _with(state, stage=Stage.UNSOLVED, not_mended=(*state.not_mended, fact.suspect))
    state = safety.hazards_mended(state, fact.mends)
    return _with(state, stage=Stage.REPAIR_NOTE, mended=(*state.mended, (fact.suspect, len(state.results))))


def _answers_doubted(state: VisitState, fact: f.AnswersDoubted) -> VisitState:
    results = tuple(r for r in state.results if r.check != fact.check or r.role in ("changeover", "proof"))
    return _turned(state, results=results, doubted=(*state.doubted, fact.check), asked_for=fact.check)


def _zone_changed(state: VisitState, fact: f.ZoneChanged) -> VisitState:
    """What was found at the unit before goes with its name, or counts no more."""
    before = state.zone or ""
    if fact.only_named:
        results = tuple(r.model_copy(update={"zone": fact.zone}) if r.zone == before else r for r in state.results)
        old, new = place_key("indoor", before), place_key("indoor", fact.zone)
        off = tuple(
            item.model_copy(update={"places": tuple(new if place == old else place for place in item.places)})
            for item in state.off
        )
        return _turned(state, zone=fact.zone, results=results, run=state.run, off=off)
    gone = [r.check in fact.elsewhere and r.role not in ("changeover", "proof") for r in state.results]
    return _turned(
        state,
        zone=fact.zone,
        results=tuple(r for r, is_gone in zip(state.results, gone, strict=True) if not is_gone),
        mended=tuple((suspect, at - sum(gone[:at])) for suspect, at in state.mended),
        told=tuple(given for given in state.told if given.check not in fact.elsewhere),
        skipped=tuple(check for check in state.skipped if check not in fact.elsewhere),
        set_aside=tuple((name, at - sum(gone[:at])) for name, at in state.set_aside if name not in fact.elsewhere),
    )


_HANDLERS: dict[type, Callable[[VisitState, Any], VisitState]] = {
    f.VisitOpened: _visit_opened,
    f.Reopened: _words_heard,
    f.TimeReached: _words_heard,
    f.WordsHeard: _heard_something,
    f.Said: _said,
    f.Noted: _noted,
    f.SystemSettled: lambda s, x: _with(s, system=x.system),
    f.AltitudeAsked: lambda s, x: _with(s, asking_altitude=True),
    f.IndicationNoted: lambda s, x: _with(s, misheard=0),
    f.PrecautionGiven: safety.precaution_given,
    f.PrecautionAcknowledged: safety.precaution_acknowledged,
    f.CheckStarted: _check_started,
    f.CheckDescribed: lambda s, x: _run(s, described=True),
    f.CheckAskedFor: _check_asked_for,
    f.WaitStarted: _wait_started,
    f.WaitEnded: _wait_ended,
    f.AnswerGiven: _answer_given,
    f.FactTold: _fact_told,
    f.ConfirmationAsked: lambda s, x: _with(s, unconfirmed=x.heard),
    f.ConfirmationSettled: lambda s, x: _with(s, unconfirmed=None),
    f.CheckJudged: _check_judged,
    f.EnergyChanged: safety.energy_changed,
    f.VoltageMeasured: safety.voltage_measured,
    f.ProofDoubted: safety.proof_doubted,
    f.HazardRaised: safety.hazard_raised,
    f.HazardDisputed: safety.hazard_disputed,
    f.HazardPassed: safety.hazard_passed,
    f.HazardCleared: safety.hazard_cleared,
    f.TakenOff: safety.taken_off,
    f.PutBackOrdered: safety.put_back_ordered,
    f.PutBack: safety.put_back,
    f.CircuitChanged: safety.circuit_changed,
    f.EmergencyCalled: safety.emergency_called,
    f.EmergencySettled: safety.emergency_settled,
    f.CheckSkipped: _check_skipped,
    f.AnswersDoubted: _answers_doubted,
    f.RunDropped: lambda s, x: _turned(s),
    f.FaultNamed: _fault_named,
    f.RepairDescribed: lambda s, x: _with(s, repair_described=True),
    f.RepairDone: _repair_done,
    f.ProofBegun: lambda s, x: _with(
        s, proofs_left=x.checks, proof_failed=False, proofs_repeated=(), stage=Stage.PROOF, run=None
    ),
    f.ProofRepeated: _proof_repeated,
    f.ProofSettled: _proof_settled,
    f.StageEntered: _stage_entered,
    f.ZoneChanged: _zone_changed,
    f.Held: safety.held,
    f.Released: safety.released,
    f.CorrectionAsked: lambda s, x: _with(s, correcting=x.number),
    f.Misheard: lambda s, x: _with(s, misheard=s.misheard + 1, refused=x.refused),
    f.StepRemembered: lambda s, x: remember(s),
    f.WentBack: _went_back,
    f.FinishAsked: lambda s, x: _with(s, finishing=x.asking, acknowledging=()),  # a caution open is said anew
    f.VoiceSet: lambda s, x: _with(s, pace=x.pace, volume=x.volume),
    f.SlowerAsked: lambda s, x: _with(s, pace=0.8),
    **job.HANDLERS,
    f.VisitClosed: lambda s, x: _with(s, stage=Stage.CLOSED, closing=x.outcome, run=None),
}
