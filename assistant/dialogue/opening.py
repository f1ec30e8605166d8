"""The first minutes of a repair: what matters for this complaint is asked once, before anything is opened.

What is asked of which complaint stands in ``knowledge/opening.yaml``; the answers are findings like any other, and the
search starts from them. A question whose answer is known, or would tell nothing any more, is left out.
"""

from __future__ import annotations

from collections.abc import Collection

from assistant.dialogue import facts as f
from assistant.dialogue.emergencies import from_symptom
from assistant.dialogue.hazards import bars
from assistant.dialogue.job_asking import REPORTS
from assistant.dialogue.running import start_or_change_over
from assistant.dialogue.settling import done_checks
from assistant.dialogue.state import VisitState
from assistant.dialogue.turn import Turn
from assistant.language.closed import NOTHING_REPORTED
from assistant.library.opening import OpeningQuestion
from assistant.messages.message import known, message
from assistant.reasoning.belief import Belief

#: Once one of these was made the first minutes are over.
_SEARCHED: tuple[f.Role, ...] = ("diagnosis", "asked", "changeover", "course")


def lead_opening(turn: Turn, belief: Belief, not_now: Collection[str]) -> bool:
    """Ask the next of the first questions; false when none is left. Never waits: ``advance`` goes on.

    Nobody is sent to plate or display of a unit at which he may not stay.
    """
    if any("stay" in bars(latched, turn.library) for latched in turn.state.hazards):
        return False
    asked = [one for one in turn.library.first_questions if not set(one.of).isdisjoint(turn.state.symptoms)]
    if turn.state.job.inside is not None or _is_over(turn.state, asked):
        return False
    checks = [one.check for one in asked if one.check is not None]
    wanted = turn.reasoner.worth_asking_first(belief, checks, done_checks(turn), not_now)
    for one in asked:
        if one.check is not None and (one.check in wanted or (one.decides and _may_ask(turn, one.check, not_now))):
            start_or_change_over(turn, one.check, "diagnosis", message("reason-opening"))
            return True
        if (one.reports and _may_report(turn)) or (one.plate is not None and _lacks(turn, one.plate)):
            turn.emit(f.AsideAsked(topic=REPORTS if one.reports else f"plate.{one.plate}:only"))
            return True
    return False


def _may_ask(turn: Turn, check: str, not_now: Collection[str]) -> bool:
    return check not in done_checks(turn) and check not in not_now and turn.has(turn.check(check).needs)


def _is_over(state: VisitState, asked: list[OpeningQuestion]) -> bool:
    mine = {one.check for one in asked}
    return bool(state.mended) or any(r.role in _SEARCHED and r.check not in mine for r in state.results)


def _lacks(turn: Turn, field: str) -> bool:
    plate = turn.state.job.plate
    return getattr(plate, field) is None and field not in plate.unsaid and not turn.state.profile


def _may_report(turn: Turn) -> bool:
    """Not asked yet, and no report was told."""
    if any(turn.library.symptoms[symptom].one_of for symptom in turn.state.symptoms):
        return False
    shown = any(isinstance(fact, f.IndicationNoted) and fact.shown for fact in turn.state.course)
    return not shown and REPORTS not in turn.state.job.settled


def indicated(turn: Turn, choice: str, words: str) -> None:
    """What the unit shows or does, in the profile's terms or plain words: said back and learnt from."""
    shown, symptom = "", choice
    if choice.startswith("shown:") and turn.profile is not None:
        indication = turn.profile.indications[int(choice.split(":")[1])]
        shown, symptom = indication.shown, indication.symptom
        turn.tell("shown", "result", shown=indication.shown, means=indication.meaning)
    else:
        turn.tell(known("symptoms", symptom, "name"), "result")
        if symptom in turn.library.symptoms and turn.library.symptoms[symptom].hint:
            turn.tell(known("symptoms", symptom, "hint"), "remark")
    turn.emit(f.IndicationNoted(symptom=symptom, shown=shown, words=words))


def reported(turn: Turn, choice: str, words: str) -> None:
    """What display or lamps report besides the complaint, or nothing."""
    turn.emit(f.AsideSettled(topic=REPORTS))
    if choice == NOTHING_REPORTED.id:
        turn.tell("reports-nothing", "result")
        return
    indicated(turn, choice, words)
    from_symptom(turn, turn.state.symptoms[-1])
