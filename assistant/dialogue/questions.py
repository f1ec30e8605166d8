"""The words of the question that is open now."""

from __future__ import annotations

from assistant.dialogue import altitude, either, phrases
from assistant.dialogue.asking import pending, underlying
from assistant.dialogue.state import Run, Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import spell
from assistant.messages.catalogue import catalogue

STAGE_QUESTION = {
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


def ask_again(turn: Turn) -> None:
    """Say the present question once more, without anything new: what was asked back, where that is still open."""
    waiting = turn.state.unconfirmed
    if waiting is not None and waiting.meaning is not None:
        asked = underlying(turn.state, turn.library, turn.profile)
        if waiting.options:
            turn.tell(either.question(turn, waiting, asked), "question")
        else:
            turn.tell("heard-right", "question", what=spell(turn, waiting.meaning, asked))
        return
    question = present_question(turn)
    if question:
        turn.say(question, "question")


def present_question(turn: Turn) -> str:
    """The words of the question that is open now; empty when nothing is."""
    state = turn.state
    if state.emergency is not None:
        return "Did I hear that right? Yes or no."
    if state.finishing:
        return "Finish the visit and write the record? Yes or no."
    if state.acknowledging:
        return "Say understood."
    if state.asking_altitude:
        return catalogue().words(altitude.QUESTION, turn.library)
    if state.run is not None:
        return run_question(turn, state.run)
    if state.stage is Stage.UNSOLVED and state.likeliest:
        return "Say repair it anyway, name a check, say what else it does, or say finish."
    if state.stage is Stage.REPAIR and state.suspect:
        return "Say done when the repair is made, or not possible."
    return STAGE_QUESTION.get(state.stage, "")


def run_question(turn: Turn, run: Run) -> str:
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
