"""Taking an answer into the visit: what was heard, how sure, in range or not, confirmed, corrected.

The promise kept here: a reading is recorded only when the ears were sure of it and it lies inside what the
instrument and the place can give, or when the technician confirmed it by voice; and it is read back every time.
"""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue import phrases
from assistant.dialogue.altitude import take_altitude
from assistant.dialogue.asking import (
    MEND_LIKELIEST,
    NO_PROFILE,
    SAID_AGAIN,
    expectation,
    may_skip,
    pending,
    reading_expectation,
)
from assistant.dialogue.cannot import set_aside
from assistant.dialogue.closing import close
from assistant.dialogue.emergencies import from_symptom
from assistant.dialogue.mending import begin_proof, repaired
from assistant.dialogue.questions import ask_again
from assistant.dialogue.running import settle
from assistant.dialogue.searching import take_likeliest
from assistant.dialogue.state import Given, Stage
from assistant.dialogue.telling import judge_told, note_facts
from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import spell
from assistant.language.meaning import (
    Cannot,
    Correction,
    Expectation,
    Finding,
    Heard,
    Indication,
    Meaning,
    Reading,
    ReadingExpectation,
    Readings,
    Text,
    Told,
)
from assistant.library.models import Question

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
            return mishear(turn, "")
        if _fits(meaning.meaning, expected):
            return take(turn, heard.model_copy(update={"meaning": meaning.meaning}))
    if meaning is None or not _fits(meaning, expected):
        return mishear(turn, heard.doubt)
    outside = _outside(meaning, expected.corrects if isinstance(meaning, Correction) else expected.reading)
    if outside:
        return mishear(turn, outside, refused=True)
    if isinstance(meaning, Correction) and meaning.meaning is None:
        return ask_correction(turn)
    if heard.trust == "confirm" and _worth_confirming(meaning):
        return _ask_to_confirm(turn, heard, expected)
    return accept(turn, heard, how or ("typed" if typed(heard) else "two ears"))


def _expected(turn: Turn) -> Expectation:
    return expectation(turn.state, turn.library, turn.profile)


def typed(heard: Heard) -> bool:
    """Whether it was written and not spoken."""
    return all(name == "typed" for name, _ in heard.ears)


def _fits(meaning: Meaning, expected: Expectation) -> bool:
    match meaning:
        case Readings(items=items):
            wanted = expected.reading
            return wanted is not None and all(item.quantity == wanted.quantity for item in items)
        case Finding(choice=choice) | Indication(choice=choice):
            return any(item.id == choice for item in expected.choices)
        case Text():
            return expected.text
        case Correction() | Told() | Cannot():
            return True
    return False


def _worth_confirming(meaning: Meaning) -> bool:
    """Free words are read back but not asked: no number and no decision hangs on them."""
    return not isinstance(meaning, Text)


def _outside(meaning: Meaning, wanted: ReadingExpectation | None) -> str:
    """One sentence when a reading is not what instrument and place can give, else ""."""
    if isinstance(meaning, Correction):
        return _outside(meaning.meaning, wanted) if meaning.meaning is not None else ""
    if not isinstance(meaning, Readings) or wanted is None:
        return ""
    low, high = wanted.plausible
    for item in meaning.items:
        if item.special == "open_line" and not wanted.open_line:
            return "An open line cannot be the answer here. Measure again, please."
        if item.value is not None and not low <= item.value <= high:
            return f"I heard {phrases.reading(item)}, which this place cannot give. Say it again, or measure again."
    return ""


def mishear(turn: Turn, why: str, refused: bool = False) -> bool:
    """Nothing was recorded: say so, and after the third time offer a way on.

    ``refused``: it was understood, but cannot be.
    """
    turn.emit(f.Misheard(refused=refused))
    if turn.state.misheard >= 3:
        way_on = "skip" if may_skip(turn.state) else "help"
        turn.say(f"I still cannot use that. Come closer, say it another way, or say {way_on}.", "question")
    else:
        turn.say(phrases.sentence(why) if why else "Say it again, please.", "question")
    return False


def _ask_to_confirm(turn: Turn, heard: Heard, expected: Expectation) -> bool:
    turn.emit(f.ConfirmationAsked(heard=heard))
    assert heard.meaning is not None
    turn.tell("heard-right", "question", what=_words(turn, heard.meaning, expected))
    return False


def _words(turn: Turn, meaning: Meaning, expected: Expectation) -> str:
    if isinstance(meaning, Correction):
        places = expected.corrects.places if expected.corrects else ()
        return phrases.meaning(meaning, places, expected.corrects_choices)
    return spell(turn, meaning, expected)


def settle_confirmation(turn: Turn, heard: Heard) -> bool:
    """The answer to "I heard ..., right?": yes, no, or the same said again."""
    waiting = turn.state.unconfirmed
    assert waiting is not None
    meaning = heard.meaning
    unclear = heard.trust == "again" or heard.probability < LIKELY
    if meaning == Finding(choice=SAID_AGAIN):  # "no" is not far from "no heating"
        unclear = heard.trust != "sure"
    if meaning is None or unclear:
        return mishear(turn, "Right or wrong? Say yes or no.")
    if isinstance(meaning, Finding) and meaning.choice in ("yes", "no", SAID_AGAIN):
        turn.emit(f.ConfirmationSettled(right=meaning.choice != "no"))
        if meaning.choice != "no":
            return accept(turn, waiting, "confirmed by voice")
        turn.say("Not recorded. Say it again, please.", "question")
        return False
    said = (
        meaning.meaning if isinstance(meaning, Correction) and not isinstance(waiting.meaning, Correction) else meaning
    )
    if said is None:
        turn.emit(f.ConfirmationSettled(right=False))
        turn.say("Not recorded. Say it again, please.", "question")
        return False
    same = said == waiting.meaning or _same_values(said, waiting.meaning)
    turn.emit(f.ConfirmationSettled(right=same))
    if same:
        return accept(turn, waiting, "confirmed by voice")
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
        return take_altitude(turn, meaning) or mishear(turn, "")
    if turn.state.run is not None:
        return _accept_in_run(turn, heard, how)
    return _accept_in_stage(turn, heard)


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
        turn.emit(f.WaitEnded())  # a reading is taken whenever it is given: the meter decides, not the time
    now = pending(turn.check(state.run.check), state.run)
    assert now is not None
    question, _ = now
    if isinstance(heard.meaning, Readings):
        return _record_readings(turn, question, heard.meaning, heard, how)
    assert isinstance(heard.meaning, Finding | Text)
    _record(turn, question.key, None, heard.meaning, heard, how)
    if isinstance(heard.meaning, Text):
        turn.say(phrases.sentence(f"Noted: {heard.meaning.words}"), "result")
    else:
        turn.say(phrases.sentence(phrases.choice_words(question.choices, heard.meaning.choice)), "result")
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
                return mishear(turn, "Which place was that?")
            place = free.pop(0)
        placed.append(item.model_copy(update={"place": place}))
    for item in placed:
        earlier = answered.get(item.place)
        replaces = earlier.number if earlier else None
        _record(turn, question.key, item.place, item, heard, how, replaces=replaces)
    for item in placed:
        turn.say(phrases.sentence(phrases.answer(item, places, (), item.place)), "result")
    return True


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


# ---- corrections ------------------------------------------------------------------------------------------------


def ask_correction(turn: Turn) -> bool:
    """ "Correction" alone: ask for what the last answer should be."""
    last = turn.state.last_answer()
    if last is None:
        turn.say("There is nothing to correct yet.", "remark")
        ask_again(turn)
        return False
    turn.emit(f.CorrectionAsked(number=last.number))
    question = _asked(turn, last)
    turn.say(f"The last answer was {_given_words(question, last)}. What should it be?", "question")
    return False


def correct(turn: Turn, meaning: Meaning, heard: Heard, how: str) -> bool:
    """Replace the last answer, or that of the place named; both stay in the journal."""
    place = next((item.place for item in meaning.items if item.place), None) if isinstance(meaning, Readings) else None
    target = turn.state.last_answer(place) or turn.state.last_answer()
    if target is None:
        turn.say("There is nothing to correct yet.", "remark")
        ask_again(turn)
        return False
    question = _asked(turn, target)
    answer = _as_answer(meaning, question, target)
    if answer is None:
        return mishear(turn, f"The last answer was {_given_words(question, target)}. Say correction and the new one.")
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
    turn.say(phrases.sentence(f"Corrected: {_given_words(question, new)}"), "result")
    _judge_again(turn, number)
    return True


def _asked(turn: Turn, given: Given) -> Question:
    return next(question for question in turn.check(given.check).ask if question.key == given.question)


def _given_words(question: Question, given: Given) -> str:
    places = question.reading.places if question.reading else ()
    return phrases.answer(given.answer, places, question.choices, given.place)


def _as_answer(meaning: Meaning, question: Question, target: Given) -> f.Answer | None:
    """The new answer, or None when it is not of the kind that is being corrected or not plausible."""
    if isinstance(meaning, Readings) and question.reading and len(meaning.items) == 1:
        item = meaning.items[0]
        if item.quantity != question.reading.quantity or _outside(meaning, reading_expectation(question.reading)):
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


# ---- answers outside a check ------------------------------------------------------------------------------------


def _accept_in_stage(turn: Turn, heard: Heard) -> bool:
    state, meaning = turn.state, heard.meaning
    match state.stage, meaning:
        case Stage.SITE, Text(words=words):
            _note(turn, "site", words, words, f"Site: {words}", Stage.PROFILE)
        case Stage.PROFILE, Finding(choice=choice):
            _profile(turn, choice, heard.words)
        case Stage.SUPPLY, Finding(choice=choice):
            _note(turn, "supply", choice, heard.words, _chosen(turn, choice), Stage.REFRIGERANT)
        case Stage.REFRIGERANT, Finding(choice=choice):
            _note(turn, "refrigerant", choice, heard.words, choice, Stage.ZONE)
        case Stage.ZONE, Finding(choice=choice):
            _note(turn, "zone", choice, heard.words, _chosen(turn, choice), Stage.INDICATION)
        case Stage.UNSOLVED, Indication(choice=MEND_LIKELIEST.id):
            take_likeliest(turn)
        case ((Stage.INDICATION | Stage.UNSOLVED), Indication(choice=choice)):
            _indication(turn, choice, heard.words)
        case Stage.REPAIR, Finding(choice=choice):
            turn.emit(f.RepairDone(suspect=state.suspect or "", done=choice == "done"))
            if choice == "done":
                repaired(turn)
            turn.say("Repair noted." if choice == "done" else "Not repaired today; the record says so.", "result")
        case Stage.REPAIR_NOTE, Text(words=words):
            _note(turn, "repair", words, words, f"Noted: {words}", None)
            begin_proof(turn)
        case Stage.CUSTOMER_NOTE, Text(words=words):
            _note(turn, "customer", words, words, f"Noted: {words}", None)
            close(turn)
        case Stage.CUSTOMER_NOTE, Finding():
            close(turn)
        case _:
            return mishear(turn, "")
    return True


def _chosen(turn: Turn, choice: str) -> str:
    return phrases.choice_words(_expected(turn).choices, choice)


def _note(turn: Turn, topic: str, value: str, words: str, back: str, then: Stage | None) -> None:
    turn.emit(f.Noted(topic=topic, value=value.rstrip(" ."), words=words))
    turn.say(phrases.sentence(back), "result")
    if then is not None:
        turn.emit(f.StageEntered(stage=then))


def _profile(turn: Turn, choice: str, words: str) -> None:
    if choice == NO_PROFILE:
        _note(turn, "profile", "", words, "No profile", Stage.SUPPLY)
        return
    profile = turn.library.profiles[choice]
    _note(turn, "profile", choice, words, f"{profile.make} {profile.model}", Stage.ZONE)


def _indication(turn: Turn, choice: str, words: str) -> None:
    shown = ""
    symptom = choice
    if choice.startswith("shown:") and turn.profile is not None:
        indication = turn.profile.indications[int(choice.split(":")[1])]
        shown, symptom = indication.shown, indication.symptom
        turn.say(phrases.sentence(f"{indication.shown}: {indication.meaning}"), "result")
    else:
        turn.say(phrases.sentence(turn.library.symptoms[symptom].name), "result")
    turn.emit(f.IndicationNoted(symptom=symptom, shown=shown, words=words))
    turn.emit(f.StageEntered(stage=Stage.CHECK))
    from_symptom(turn, symptom)
