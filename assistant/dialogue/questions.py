"""The question that is open now, as a message."""

from __future__ import annotations

from assistant.dialogue import altitude, either
from assistant.dialogue.asking import pending, underlying
from assistant.dialogue.job_asking import OPEN_VISITS, ZONE_WRONG, aside_question, open_visits_question, unit_choices
from assistant.dialogue.phrases import labels
from assistant.dialogue.state import Run, Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.units import zone_name
from assistant.dialogue.wording import given_words, spell
from assistant.messages.message import Message, Ref, known, message

#: So many units are offered by name.
_OFFERED = 4
#: The stages that ask a question of their own, and the message that asks it.
STAGE_QUESTION = {
    Stage.SITE: "ask-site",
    Stage.PROFILE: "ask-profile",
    Stage.SUPPLY: "ask-supply",
    Stage.REFRIGERANT: "ask-refrigerant",
    Stage.ZONE: "ask-zone",
    Stage.INDICATION: "ask-indication",
    Stage.UNSOLVED: "ask-unsolved",
    Stage.REPAIR_NOTE: "ask-repair-note",
    Stage.CUSTOMER_NOTE: "ask-customer-note",
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
    if question is not None:
        turn.tell(question, "question")


def present_question(turn: Turn) -> Message | Ref | None:
    """The question that is open now; None when nothing is."""
    state = turn.state
    if state.emergency is not None:
        return message("ask-emergency")
    if state.finishing:
        return message("ask-finish")
    if state.acknowledging:
        return message("say-understood")
    if state.asking_altitude:
        return altitude.QUESTION
    if (last := state.to_correct) is not None:
        return message("correct-to-what", answer=given_words(turn, last))
    if state.job.aside.startswith(OPEN_VISITS):
        return open_visits_question(state.job)
    if state.job.aside.startswith(f"{ZONE_WRONG}:"):
        named = zone_name(turn.profile, state.job.aside.partition(":")[2])
        return message("aside-zone-wrong", words=named)
    if state.job.aside:
        return aside_question(state.job.aside)
    if state.run is not None:
        return run_question(turn, state.run)
    if state.stage is Stage.PROFILE and (units := unit_choices(state.job)):
        return message("which-unit", units=", ".join(choice.phrases[0] for choice in units[:_OFFERED]))
    if state.stage is Stage.UNSOLVED and state.likeliest:
        return message("ask-unsolved-likeliest")
    if state.stage is Stage.REPAIR and state.suspect:
        return message("say-repair-done")
    return message(STAGE_QUESTION[state.stage]) if state.stage in STAGE_QUESTION else None


def run_question(turn: Turn, run: Run) -> Message | Ref | None:
    """What the check under way asks now."""
    check = turn.check(run.check)
    if turn.state.wait_until_s is not None:
        return message("say-ready")
    now = pending(check, run)
    if now is None:
        return None
    question, place = now
    if place is not None:
        return message("and-place", place=labels(check.id, question).place(place))
    return known("checks", check.id, f"ask.{question.key}.say")
