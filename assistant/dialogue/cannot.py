"""A question that cannot be answered ("can't reach it"): the check is set aside with the reason, the visit goes on.

A caution, a proof and a step that changes the energy state are never passed by it.
"""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.altitude import leave_open
from assistant.dialogue.asking import SKIP_TO
from assistant.dialogue.questions import ask_again
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn
from assistant.library.demand import procedures

#: Stages that "I don't know" leads on from as "skip" does; the others need their answer.
_LEADS_ON = (Stage.SITE, Stage.PROFILE, Stage.REFRIGERANT, Stage.ZONE)


def set_aside(turn: Turn, reason: str) -> bool:
    """Set the open question aside. True when the visit may be led on."""
    state = turn.state
    run = state.run
    if state.asking_altitude:
        turn.emit(f.StepRemembered())
        leave_open(turn)
        return True
    if run is None:
        if state.stage not in _LEADS_ON:
            turn.tell("supply-of-building" if state.stage is Stage.SUPPLY else "cannot-here", "remark")
            ask_again(turn)
            return False
        turn.emit(f.StepRemembered())
        turn.tell("set-aside", "result")
        turn.emit(f.StageEntered(stage=SKIP_TO[state.stage]))
        return True
    if run.role == "proof" or run.check in procedures(turn.library):
        turn.tell("cannot-needed", "remark")
        ask_again(turn)
        return False
    turn.emit(f.StepRemembered())
    turn.tell("set-aside", "result")
    turn.emit(f.CheckSkipped(check=run.check, reason=reason))
    return True
