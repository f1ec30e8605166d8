"""Taking an answer into the visit: what was heard, how sure, in range or not, confirmed.

The promise kept here: a reading is recorded only when the ears were sure of it and it lies inside what the
instrument and the place can give, or when the technician confirmed it by voice; and it is read back every time.
"""

from __future__ import annotations

from assistant.dialogue import aside_answers, ledgers, past, phrases
from assistant.dialogue import facts as f
from assistant.dialogue.altitude import ASKED as ALTITUDE
from assistant.dialogue.altitude import take_altitude
from assistant.dialogue.asking import SAID_AGAIN, expectation, pending, underlying
from assistant.dialogue.cannot import set_aside
from assistant.dialogue.contradicting import contradicted
from assistant.dialogue.correcting import ask_correction, correct
from assistant.dialogue.measured_in import ask_which_unit, keep_system
from assistant.dialogue.mishearing import doubtful, mishear, outside
from assistant.dialogue.questions import ask_again
from assistant.dialogue.staged_answers import accept_in_stage
from assistant.dialogue.state import Stage
from assistant.dialogue.telling import judge_told, note_facts
from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import spell
from assistant.job.ledger import FREE
from assistant.language.meaning import (
    Cannot,
    Correction,
    Expectation,
    Finding,
    Heard,
    Indication,
    LedgerSaid,
    Meaning,
    Reading,
    Readings,
    Text,
    Told,
)
from assistant.language.measured_in import could_be
from assistant.library.models import Question
from assistant.messages.message import Value, message

#: A yes or no that is less likely than this is not taken for one.
LIKELY = 0.5


def take(turn: Turn, heard: Heard, how: str = "") -> bool:
    """Take what was heard as an answer to the present question. True when the visit may go on.

    ``how`` it was trusted, where that is known already.
    """
    expected = _expected(turn)
    meaning = heard.meaning
    if isinstance(meaning, Correction) and turn.state.refused:  # "no" is to that, and not to the answer before
        if meaning.meaning is None:
            return mishear(turn)
        if fits(meaning.meaning, expected):
            return take(turn, heard.model_copy(update={"meaning": meaning.meaning}))
    if meaning is None or not fits(meaning, expected):
        return mishear(turn, doubtful(heard.doubt))
    if options := could_be(meaning, expected.reading, turn.state.system):
        return ask_which_unit(turn, heard, options)
    cannot_be = outside(meaning, expected.corrects if isinstance(meaning, Correction) else expected.reading)
    if cannot_be is not None:
        return mishear(turn, cannot_be, refused=True)
    if isinstance(meaning, Correction) and meaning.meaning is None:
        return ask_correction(turn)
    before = contradicted(turn, meaning)
    if before is not None or (heard.trust == "confirm" and _worth_confirming(meaning)):
        return _ask_to_confirm(turn, heard, expected, before)
    return accept(turn, heard, how or ("typed" if typed(heard) else "two ears"))


def _expected(turn: Turn) -> Expectation:
    return expectation(turn.state, turn.library, turn.profile)


def typed(heard: Heard) -> bool:
    """Whether it was written and not spoken."""
    return all(name == "typed" for name, _ in heard.ears)


def fits(meaning: Meaning, expected: Expectation) -> bool:
    """Whether it is an answer to what is asked, or one that may always be given."""
    match meaning:
        case Readings(items=items):
            wanted = expected.reading
            return wanted is not None and all(item.quantity == wanted.quantity for item in items)
        case Finding(choice=choice) | Indication(choice=choice):
            return any(item.id == choice for item in expected.choices)
        case Text():
            return expected.text
        case Correction() | Told() | Cannot() | LedgerSaid():
            return True
    return False


def _worth_confirming(meaning: Meaning) -> bool:
    """Free words are read back but not asked: no number and no decision hangs on them."""
    return not isinstance(meaning, Text) and not (isinstance(meaning, LedgerSaid) and meaning.entry.what in FREE)


def _ask_to_confirm(turn: Turn, heard: Heard, expected: Expectation, before: Reading | None = None) -> bool:
    turn.emit(f.ConfirmationAsked(heard=heard))
    assert heard.meaning is not None
    if before is not None:
        turn.tell("read-before", "remark", reading=phrases.reading(before))
    ask = "heard-right-beside-noise" if heard.poor_sound else "heard-right"
    turn.tell(ask, "question", what=_words(turn, heard.meaning, expected))
    return False


def _words(turn: Turn, meaning: Meaning, expected: Expectation) -> Value:
    last = turn.state.last_answer()
    if isinstance(meaning, Correction) and turn.state.altitude_last:
        return phrases.meaning(meaning, phrases.Labels(ALTITUDE.choices))
    if isinstance(meaning, Correction) and last is not None and not turn.state.refused:
        question = next(one for one in turn.check(last.check).ask if one.key == last.question)
        return phrases.meaning(meaning, phrases.labels(last.check, question))
    return spell(turn, meaning, expected)


def settle_confirmation(turn: Turn, heard: Heard) -> bool:
    """The answer to "I heard ..., right?": yes, no, or the same said again."""
    waiting = turn.state.unconfirmed
    assert waiting is not None
    meaning = heard.meaning
    unclear = heard.trust == "again" or heard.probability < LIKELY
    if heard.poor_sound and meaning == Finding(choice="yes"):  # "no" is not far from "yeah" there
        unclear = heard.trust != "sure"
    if meaning == Finding(choice=SAID_AGAIN):  # "no" is not far from "no heating"
        unclear = heard.trust != "sure"
    if meaning is None or unclear:
        return mishear(turn, message("right-or-wrong"))
    if isinstance(meaning, Finding) and meaning.choice in ("yes", "no", SAID_AGAIN):
        turn.emit(f.ConfirmationSettled(right=meaning.choice != "no"))
        if meaning.choice != "no":
            if waiting.meaning is None or not fits(waiting.meaning, _expected(turn)):
                return mishear(turn)  # it was an answer to another question than is open now
            return accept(turn, waiting, "typed" if typed(heard) else "confirmed by voice")
        turn.tell("not-recorded", "question")
        return False
    said = (
        meaning.meaning if isinstance(meaning, Correction) and not isinstance(waiting.meaning, Correction) else meaning
    )
    if said is None:
        turn.emit(f.ConfirmationSettled(right=False))
        turn.tell("not-recorded", "question")
        return False
    same = said == waiting.meaning or _same_values(said, waiting.meaning)
    turn.emit(f.ConfirmationSettled(right=same))
    if same:
        return accept(turn, waiting, "typed" if typed(heard) else "confirmed by voice")
    if turn.state.finishing:  # whether the visit is to end is asked beneath, and is no answer to its check
        return mishear(turn, message("yes-or-no"))
    return take(turn, heard.model_copy(update={"meaning": said}))


def _same_values(one: Meaning | None, other: Meaning | None) -> bool:
    if not isinstance(one, Readings) or not isinstance(other, Readings):
        return False

    def bare(item: Reading) -> tuple[object, ...]:
        return (item.quantity, item.value, item.special, item.span)

    return [bare(item) for item in one.items] == [bare(item) for item in other.items]


def accept(turn: Turn, heard: Heard, how: str) -> bool:
    """Record what was heard. Returns true when the visit may be led on."""
    meaning = heard.meaning
    keep_system(turn, meaning, underlying(turn.state, turn.library, turn.profile).reading)
    if isinstance(meaning, LedgerSaid):
        return _note_in_ledger(turn, meaning, heard, how)
    if turn.state.job.aside and not (turn.state.to_correct and isinstance(meaning, Readings | Finding | Text)):
        return _accept_aside(turn, heard, how)
    if isinstance(meaning, Cannot):
        return set_aside(turn, meaning.reason)
    if isinstance(meaning, Told):
        return _accept_told(turn, meaning, heard, how)
    if isinstance(meaning, Correction):
        assert meaning.meaning is not None
        return correct(turn, meaning.meaning, heard, how)
    if turn.state.correcting is not None and meaning is not None:
        return correct(turn, meaning, heard, how)
    turn.emit(f.StepRemembered())
    if turn.state.asking_altitude:
        return take_altitude(turn, meaning) or mishear(turn)
    if turn.state.run is not None:
        return _accept_in_run(turn, heard, how)
    return accept_in_stage(turn, heard)


def _note_in_ledger(turn: Turn, said: LedgerSaid, heard: Heard, how: str) -> bool:
    """Noted whatever is asked; a mass that was asked for as well is the answer to it."""
    ledgers.note(turn, said, heard, how)
    wanted = _expected(turn).reading
    open_ = not (turn.state.held or turn.state.acknowledging or turn.state.finishing)
    if open_ and wanted is not None and wanted.quantity == "mass" and said.entry.kg is not None:
        item = Reading(
            quantity="mass", value=said.entry.kg, spoken_value=said.entry.kg, spoken_unit="kg", words=heard.words
        )
        return take(turn, heard.model_copy(update={"meaning": Readings(items=(item,)), "trust": "sure"}), how)
    if not turn.state.held:
        ask_again(turn)
    return False


def _accept_aside(turn: Turn, heard: Heard, how: str) -> bool:
    """The answer to what is asked beside the visit; true when it may be led on."""
    meaning = heard.meaning
    if isinstance(meaning, Cannot):
        aside_answers.skipped(turn)
        return True
    if isinstance(meaning, Correction):
        meaning = meaning.meaning
    if isinstance(meaning, Told):
        note_facts(turn, heard, meaning.facts, how)
        judge_told(turn)  # what it amounts to bars at once, though something else is being asked
        meaning = meaning.answer
        if meaning is None:
            return True  # noted; what is open is asked again
    fits = meaning is not None and not _of_another_question(turn, meaning)
    if not fits or meaning is None or not aside_answers.answered(turn, meaning, heard, how):
        name = "serial-has-digits" if turn.state.job.aside.startswith("plate.serial") else "no-answer-here"
        return mishear(turn, message(name), heard_well=True)
    return True


def _of_another_question(turn: Turn, meaning: Meaning) -> bool:
    """Whether it is a choice that the open aside does not offer: a correction of something else, said beside it."""
    offered = underlying(turn.state, turn.library, turn.profile).choices
    corrects = turn.state.job.aside.startswith("ledger")  # by the choices of what is corrected
    return isinstance(meaning, Finding) and not corrects and meaning.choice not in {one.id for one in offered}


def _accept_told(turn: Turn, told: Told, heard: Heard, how: str) -> bool:
    """Facts told unasked; then the answer that came with them, or the open question once more."""
    turn.emit(f.StepRemembered())
    note_facts(turn, heard, told.facts, how)
    if told.answer is not None:
        return take(turn, heard.model_copy(update={"meaning": told.answer, "trust": "sure"}), how)
    if turn.state.stage is Stage.UNSOLVED and turn.state.told:
        turn.emit(f.StageEntered(stage=Stage.CHECK))
        return True
    judge_told(turn)
    return True


def _accept_in_run(turn: Turn, heard: Heard, how: str) -> bool:
    state = turn.state
    assert state.run is not None
    if state.wait_until_s is not None:
        if not isinstance(heard.meaning, Readings):
            return True  # "ready": the plan tells how long the wait still is, or goes on
        if state.run.waiting:
            turn.tell("hold-early", "remark")
            return True
        turn.emit(f.WaitEnded())  # a reading is taken whenever it is given: the meter decides, not the time
    now = pending(turn.check(state.run.check), state.run)
    assert now is not None
    question, _ = now
    if isinstance(heard.meaning, Readings):
        return _record_readings(turn, question, heard.meaning, heard, how)
    assert isinstance(heard.meaning, Finding | Text)
    _record(turn, question.key, None, heard.meaning, heard, how)
    if isinstance(heard.meaning, Text):
        turn.tell("noted", "result", words=heard.meaning.words)
    else:
        _read_back(turn, question, heard.meaning)
    return True


def _record_readings(turn: Turn, question: Question, readings: Readings, heard: Heard, how: str) -> bool:
    """One or several readings of one question; a place not named is the next one asked for, in order."""
    assert question.reading is not None
    assert turn.state.run is not None
    places = question.reading.places
    answered = {item.place: item for item in turn.state.run.live_answers() if item.question == question.key}
    free = [place.id for place in places if place.id not in answered]
    free = [place for place in free if all(item.place != place for item in readings.items)]
    placed: list[Reading] = []
    for item in readings.items:
        place = item.place if places else None
        if places and place is None:
            if not free:
                return mishear(turn, message("which-place"))
            place = free.pop(0)
        placed.append(item.model_copy(update={"place": place}))
    for item in placed:
        earlier = answered.get(item.place)
        replaces = earlier.number if earlier else None
        _record(turn, question.key, item.place, item, heard, how, replaces=replaces)
    for item in placed:
        _read_back(turn, question, item)
    run = turn.state.run
    for item in placed:
        before = past.trend(turn, run.check, question.key, item.place or "", turn.state.zone or "")
        if before is not None:
            turn.tell(before, "remark")
    ledgers.weighed(turn, f"{run.check}.{question.key}", readings, heard.words, how)
    return True


def _read_back(turn: Turn, question: Question, answer: f.Answer) -> None:
    assert turn.state.run is not None
    turn.tell("read-back", "result", answer=phrases.answer(answer, phrases.labels(turn.state.run.check, question)))


def _record(
    turn: Turn, key: str, place: str | None, answer: f.Answer, heard: Heard, how: str, replaces: int | None = None
) -> None:
    assert turn.state.run is not None
    turn.emit(
        f.AnswerGiven(
            number=turn.state.answers + 1,
            check=turn.state.run.check,
            question=key,
            place=place,
            answer=answer,
            how=how,  # type: ignore[arg-type]
            words=heard.words,
            probability=heard.probability,
            ears=heard.ears,
            replaces=replaces,
        )
    )
