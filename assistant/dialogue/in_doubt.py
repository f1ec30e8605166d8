"""A danger that was told and is not settled: asked back and not confirmed, or read in a check that is left half made.

What is asked back and would warn, were it so, stays the question until it is answered; no request passes it. What was
read before a check is left counts where it warns, as if it had been told in passing.
"""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.answers import accept, fits
from assistant.dialogue.asking import pending, underlying
from assistant.dialogue.hazards import raise_told
from assistant.dialogue.running import alive
from assistant.dialogue.settling import gathered, settle
from assistant.dialogue.state import Run
from assistant.dialogue.telling import judge_told
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Correction, Heard, Meaning
from assistant.library.demand import procedures
from assistant.reasoning.judges import judge


def would_warn(turn: Turn) -> bool:
    """Whether what is asked back, were it so, would raise a hazard or take away what was shown of the power."""
    waiting = turn.state.unconfirmed
    if waiting is None:
        return False
    meant = waiting.options or ((waiting.meaning,) if waiting.meaning is not None else ())
    return any(_warns(turn, waiting, meaning) for meaning in meant)


def _warns(turn: Turn, waiting: Heard, meaning: Meaning) -> bool:
    """Tried on a turn of its own, of which nothing is kept."""
    tried = Turn(turn.context, turn.state.model_copy(update={"unconfirmed": None}), turn.now_s)
    nothing = isinstance(meaning, Correction) and meaning.meaning is None
    if nothing or not fits(meaning, underlying(tried.state, tried.library, tried.profile)):
        return False
    accept(tried, waiting.model_copy(update={"meaning": meaning, "options": ()}), "confirmed by voice")
    judge_told(tried)
    run = tried.state.run
    if run is not None and run.live_answers():
        check = tried.check(run.check)
        if pending(check, run) is None or alive(tried, check, run):
            settle(tried, check, run.role, tuple(given.number for given in run.live_answers()))
    return any(_takes_safety(fact, turn) for fact in tried.facts)


def _takes_safety(fact: f.Fact, turn: Turn) -> bool:
    if isinstance(fact, f.EnergyChanged):
        return fact.to == "live" and turn.state.power.locked
    return isinstance(fact, f.HazardRaised | f.ProofDoubted)


def left_behind(turn: Turn, before: Run | None) -> None:
    """Raise what the answers of a check amount to that was under way ``before`` this turn, and is left unjudged.

    Who went back takes them back: then measuring anew alone shows that nothing was to be mended.
    """
    if before is None or not before.live_answers() or before.check in procedures(turn.library):
        return
    now = turn.state.run
    goes_on = now is not None and now.check == before.check and len(now.answers) >= len(before.answers)
    if goes_on or any(isinstance(fact, f.CheckJudged) and fact.check == before.check for fact in turn.facts):
        return
    check = turn.check(before.check)
    answers = gathered(before.live_answers())
    judgement = judge(check, answers, turn.library, turn.profile, turn.altitude_m or 0.0)
    hazard = check.outcomes[judgement.outcome].hazard
    if judgement.verdict != "fail" or not hazard or any(item.hazard == hazard for item in turn.state.hazards):
        return
    raise_told(turn, check, judgement.outcome)
    if any(isinstance(fact, f.WentBack) for fact in turn.facts):
        turn.emit(f.HazardDisputed(hazard=hazard))
