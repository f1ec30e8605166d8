"""Corrections: the last answer, or that of the place named, is replaced; both stay in the journal."""

from __future__ import annotations

from assistant.dialogue import altitude
from assistant.dialogue import facts as f
from assistant.dialogue.asking import reading_expectation
from assistant.dialogue.mishearing import mishear, outside
from assistant.dialogue.questions import ask_again
from assistant.dialogue.settling import settle
from assistant.dialogue.state import Given, Stage
from assistant.dialogue.telling import count_live, judge_told
from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import given_words
from assistant.language.meaning import Finding, Heard, Meaning, Readings, Text
from assistant.library.demand import procedures
from assistant.library.models import Question
from assistant.messages.message import message
from assistant.reasoning.judges import uses_altitude


def ask_correction(turn: Turn) -> bool:
    """ "Correction" alone: ask for what the last answer should be."""
    if turn.state.altitude_last:
        turn.emit(f.AltitudeAsked())
        turn.tell(altitude.QUESTION, "question")
        return False
    last = turn.state.last_answer()
    if last is None:
        turn.tell("nothing-to-correct", "remark")
        ask_again(turn)
        return False
    turn.emit(f.CorrectionAsked(number=last.number))
    turn.tell("correct-to-what", "question", answer=given_words(turn, last))
    return False


def correct(turn: Turn, meaning: Meaning, heard: Heard, how: str) -> bool:
    """Replace the last answer, or that of the place named; both stay in the journal."""
    if turn.state.altitude_last:
        return _correct_altitude(turn, meaning)
    place = next((item.place for item in meaning.items if item.place), None) if isinstance(meaning, Readings) else None
    target = turn.state.last_answer(place) or turn.state.last_answer()
    if target is None:
        turn.tell("nothing-to-correct", "remark")
        ask_again(turn)
        return False
    question = _asked(turn, target)
    answer = _as_answer(meaning, question, target)
    if answer is None:
        return mishear(turn, message("say-correction", answer=given_words(turn, target)))
    turn.emit(f.StepRemembered())
    number = turn.state.answers + 1
    turn.emit(
        f.AnswerGiven(
            number=number,
            check=target.check,
            question=target.question,
            place=target.place,
            answer=answer,
            how=how,  # type: ignore[arg-type]
            words=heard.words,
            probability=heard.probability,
            ears=heard.ears,
            replaces=target.number,
        )
    )
    new = target.model_copy(update={"answer": answer})
    turn.tell("corrected", "result", answer=given_words(turn, new))
    if target.check not in procedures(turn.library):  # those let the power follow by their own verdict
        count_live(turn, answer)
    _judge_again(turn, number)
    judge_told(turn)  # what was told may amount to a hazard now
    return True


def _correct_altitude(turn: Turn, meaning: Meaning) -> bool:
    """Another altitude of the site, and every verdict that hangs on it anew."""
    if outside(meaning, altitude.ASKED.reading):
        return mishear(turn, altitude.QUESTION)
    turn.emit(f.StepRemembered())
    if not altitude.take_altitude(turn, meaning):
        return mishear(turn, altitude.QUESTION)
    for result in turn.state.results:
        check = turn.check(result.check)
        live = tuple(given.number for given in result.answers if not given.replaced)
        if live and uses_altitude(check):
            settle(turn, check, result.role, live)
    return True


def _asked(turn: Turn, given: Given) -> Question:
    return next(question for question in turn.check(given.check).ask if question.key == given.question)


def _as_answer(meaning: Meaning, question: Question, target: Given) -> f.Answer | None:
    """The new answer, or None when it is not of the kind that is being corrected or not plausible."""
    if isinstance(meaning, Readings) and question.reading and len(meaning.items) == 1:
        item = meaning.items[0]
        if item.quantity != question.reading.quantity or outside(meaning, reading_expectation(question.reading)):
            return None
        return item.model_copy(update={"place": target.place})
    if isinstance(meaning, Finding) and any(choice.id == meaning.choice for choice in question.choices):
        return meaning
    return meaning if isinstance(meaning, Text) and question.text else None


def _judge_again(turn: Turn, number: int) -> None:
    """A corrected answer of a judged check changes its verdict; the check under way is judged when complete."""
    for result in turn.state.results:
        live = tuple(given.number for given in result.answers if not given.replaced)
        if number in live:
            settle(turn, turn.check(result.check), result.role, live)
            run = turn.state.run
            if run is not None and not run.live_answers():
                turn.emit(f.RunDropped(check=run.check))
            if turn.state.stage in (Stage.REPAIR, Stage.UNSOLVED) and result.role != "changeover":
                turn.emit(f.StageEntered(stage=Stage.CHECK))
            return
