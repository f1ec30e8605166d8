"""Leading on: from wherever the visit stands to the next thing the technician must do or say.

``advance`` is called at the end of every turn. It emits and says whatever needs no answer, and stops at the first
thing that does: inside a check see ``running``, in the search ``searching``, at repair and proof ``mending``.
"""

from __future__ import annotations

from assistant.dialogue import altitude
from assistant.dialogue import facts as f
from assistant.dialogue.closing import lead_closing
from assistant.dialogue.courses import begin_course, come_back, course_of, lead_course
from assistant.dialogue.mending import lead_proof, lead_repair
from assistant.dialogue.questions import STAGE_QUESTION, ask_again
from assistant.dialogue.running import lead_run
from assistant.dialogue.searching import lead_search
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn

#: More steps than this without anything to answer lead nowhere: two rules undo each other's work.
MOST_STEPS = 80


def advance(turn: Turn) -> None:
    """Go on until something must be answered or the visit is closed; where no way leads on, say so and ask."""
    for _ in range(MOST_STEPS):
        if turn.state.stage is Stage.CLOSED:
            return
        if turn.state.job.aside and not turn.state.acknowledging:
            ask_again(turn)
            return
        if turn.state.asking_altitude:
            turn.tell(altitude.QUESTION, "question")
            return
        if turn.state.run is not None:
            if lead_run(turn, turn.state.run):
                return
        elif _LEAD[turn.state.stage](turn):
            return
    turn.tell("no-way-on", "caution")
    turn.emit(f.StageEntered(stage=Stage.UNSOLVED))
    ask_again(turn)


def _ask_stage(turn: Turn) -> bool:
    turn.tell(STAGE_QUESTION[turn.state.stage], "question")
    return True


def _ask_unsolved(turn: Turn) -> bool:
    ask_again(turn)
    return True


def _lead_unit(turn: Turn) -> bool:
    ask_again(turn)
    return True


def _lead_indication(turn: Turn) -> bool:
    """A visit that is for something else than a fault follows its course from here."""
    course = course_of(turn)
    if course is not None and not turn.state.job.course:
        begin_course(turn, course)
        return False
    if course is None and turn.state.symptoms:  # told while the unit was being named
        turn.emit(f.StageEntered(stage=Stage.CHECK))
        return False
    return _ask_stage(turn)


def _lead_zone(turn: Turn) -> bool:
    profile = turn.profile
    if course_of(turn) is not None:
        turn.emit(f.StageEntered(stage=Stage.INDICATION))
        return False
    if profile is None or len(profile.zones) < 2:
        turn.emit(f.StageEntered(stage=Stage.INDICATION))
        return False
    return _ask_stage(turn)


def _lead_note(turn: Turn) -> bool:
    if turn.state.job.inside is not None:
        come_back(turn)
        return False
    return _ask_stage(turn) if not lead_closing(turn) else False


_LEAD = {
    Stage.SITE: _ask_stage,
    Stage.PROFILE: _lead_unit,
    Stage.SUPPLY: _ask_stage,
    Stage.REFRIGERANT: _ask_stage,
    Stage.ZONE: _lead_zone,
    Stage.INDICATION: _lead_indication,
    Stage.COURSE: lead_course,
    Stage.CHECK: lead_search,
    Stage.REPAIR: lead_repair,
    Stage.REPAIR_NOTE: _ask_stage,
    Stage.PROOF: lead_proof,
    Stage.UNSOLVED: _ask_unsolved,
    Stage.CUSTOMER_NOTE: _lead_note,
}
