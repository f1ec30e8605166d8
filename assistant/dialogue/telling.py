"""Facts told unasked: noted, said back, and used by the search as soon as they answer a check.

Never by this way: the energy state, acknowledgements, proofs.
"""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.asking import reading_expectation
from assistant.dialogue.emergencies import from_symptom
from assistant.dialogue.hazards import raise_told
from assistant.dialogue.measured_in import as_told
from assistant.dialogue.mishearing import outside
from assistant.dialogue.opening import indicated
from assistant.dialogue.scope import is_proof
from assistant.dialogue.settling import done_checks, judged, settle
from assistant.dialogue.state import Given, Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import question_of, spell_fact
from assistant.language.meaning import Heard, Indication, Reading, Readings, ToldAnswer, ToldFact
from assistant.library.bounds import AC_AT_MOST_V, DEAD_AT_MOST_V
from assistant.library.demand import procedures
from assistant.library.models import Check
from assistant.messages.message import message


def note_facts(turn: Turn, heard: Heard, facts: tuple[ToldFact, ...], how: str) -> None:
    """Note each fact and say it back; one that cannot be is named and left out."""
    for fact in facts:
        if isinstance(fact, Indication) and fact.choice.startswith("shown:"):
            indicated(turn, fact.choice, heard.words)
            from_symptom(turn, turn.state.symptoms[-1])
        elif isinstance(fact, Indication):
            if fact.choice in turn.library.symptoms and fact.choice not in turn.state.symptoms:
                turn.emit(f.IndicationNoted(symptom=fact.choice, words=heard.words))
                from_symptom(turn, fact.choice)
                _say_back(turn, fact)
        elif _may_be_told(turn, fact):
            for each in (_in_units(turn, one) for one in _one_by_one(fact)):
                if each is None:
                    turn.tell("told-which-unit", "remark", fact=spell_fact(turn, fact))
                elif _outside(turn, each):
                    turn.tell("told-outside", "remark", fact=spell_fact(turn, each))
                else:
                    _note(turn, heard, each, how)
                    _say_back(turn, each)
    _raise_dangers(turn)


def _say_back(turn: Turn, fact: ToldFact) -> None:
    turn.tell("told-noted", "result", fact=spell_fact(turn, fact))


def _one_by_one(fact: ToldAnswer) -> tuple[ToldAnswer, ...]:
    """Each reading of a told answer for itself."""
    if not isinstance(fact.answer, Readings):
        return (fact,)
    return tuple(fact.model_copy(update={"answer": Readings(items=(item,))}) for item in fact.answer.items)


def judge_told(turn: Turn) -> None:
    """Judge every check whose questions were all answered unasked, while the fault is being looked for.

    At any other time, or after that check was made, what was told is kept, and its dangers are raised at once.
    """
    for check, numbers in _all_told(turn):
        if _still_sought(turn, check):
            settle(turn, check, "told", numbers)
    _raise_dangers(turn)


def _raise_dangers(turn: Turn) -> None:
    """Whatever the visit is at, what is told now and will not be judged as a check counts where it warns."""
    now = {fact.number for fact in turn.facts if isinstance(fact, f.FactTold | f.AnswerGiven)}
    for check, numbers in _all_told(turn):
        if now.intersection(numbers) and not _still_sought(turn, check):
            raise_told(turn, check, judged(turn, check, numbers).outcome)


def _still_sought(turn: Turn, check: Check) -> bool:
    return turn.state.stage is Stage.CHECK and check.id not in done_checks(turn)


def _all_told(turn: Turn) -> list[tuple[Check, tuple[int, ...]]]:
    """The checks whose questions were all answered unasked, and the numbers of these answers."""
    out = []
    for check_id in dict.fromkeys(given.check for given in turn.state.told):
        mine = tuple(given for given in turn.state.told if given.check == check_id)
        if _complete(turn.check(check_id), mine):
            out.append((turn.check(check_id), tuple(given.number for given in mine)))
    return out


def _may_be_told(turn: Turn, fact: ToldAnswer) -> bool:
    """Nothing of the energy state, and no proof but as the next answer of the check that is under way."""
    check = turn.library.checks.get(fact.question.partition(".")[0])
    if check is None or check.id in procedures(turn.library):
        return False
    under_way = turn.state.run is not None and turn.state.run.check == check.id
    return under_way or not is_proof(check, turn.library)


def _in_units(turn: Turn, fact: ToldAnswer) -> ToldAnswer | None:
    """The fact in the visit's system of measurement; None where its unit was not said and could be in either."""
    _, question = question_of(turn, fact)
    if question.reading is None or not isinstance(fact.answer, Readings):
        return fact
    told = as_told(turn, fact.answer, reading_expectation(question.reading))
    return fact.model_copy(update={"answer": told}) if told is not None else None


def _outside(turn: Turn, fact: ToldAnswer) -> bool:
    """Whether a told reading is not what instrument and place can give."""
    _, question = question_of(turn, fact)
    wanted = reading_expectation(question.reading) if question.reading else None
    return outside(fact.answer, wanted) is not None


def _note(turn: Turn, heard: Heard, fact: ToldAnswer, how: str) -> None:
    check, question = question_of(turn, fact)
    items: tuple[f.Answer, ...] = fact.answer.items if isinstance(fact.answer, Readings) else (fact.answer,)
    run = turn.state.run
    for item in items:
        place = item.place if isinstance(item, Reading) else None
        told = {
            "number": turn.state.answers + 1,
            "check": check.id,
            "question": question.key,
            "place": place,
            "answer": item,
            "how": how,
            "words": heard.words,
            "probability": heard.probability,
            "ears": heard.ears,
        }
        if run is not None and run.check == check.id:  # the next question of the same check, in the same breath
            turn.emit(f.AnswerGiven.model_validate(told))
        else:
            turn.emit(f.FactTold.model_validate(told))
            count_live(turn, item)


def count_live(turn: Turn, answer: f.Answer) -> None:
    """A voltage told of while the lock hangs may be there now: nothing that was shown counts until it is shown anew."""
    if not (turn.state.power.locked and isinstance(answer, Reading) and answer.value is not None):
        return
    limit = {"voltage_ac": AC_AT_MOST_V, "voltage_dc": DEAD_AT_MOST_V}.get(answer.quantity)
    if limit is not None and abs(answer.value) >= limit:
        turn.emit(f.EnergyChanged(to="live", because=message("because-voltage-told")))
        turn.tell("told-voltage", "caution")


def _complete(check: Check, given: tuple[Given, ...]) -> bool:
    for question in check.ask:
        mine = [item for item in given if item.question == question.key]
        if question.reading and question.reading.places:
            if {place.id for place in question.reading.places} - {item.place for item in mine}:
                return False
        elif not mine:
            return False
    return True
