"""``step(context, state, event)``: the dialogue, a pure function. No clock, no device, no file inside.

event ──► hold? ──► confirmation? ──► command? ──► answer ──► advance ──► facts and replies
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from rapidfuzz import fuzz

from assistant.dialogue import asked_back, either, emergencies, in_doubt
from assistant.dialogue import facts as f
from assistant.dialogue.answerable import what_may_be_answered
from assistant.dialogue.answers import accept, settle_confirmation, take, typed
from assistant.dialogue.arriving import tell_what_is_known
from assistant.dialogue.asked_sums import calculate
from assistant.dialogue.asking import NEITHER, expectation, underlying
from assistant.dialogue.breaks import after_a_break, is_locking, where_it_stood
from assistant.dialogue.cautions import say_again, say_anew, speak
from assistant.dialogue.commands import ALARMS, HARMLESS, RELEASES, is_obeyed, obey
from assistant.dialogue.handover import take_over
from assistant.dialogue.mishearing import at_wits_end, doubtful, mishear, way_on
from assistant.dialogue.plan import advance
from assistant.dialogue.questions import ask_again, present_question
from assistant.dialogue.running import instruct_again
from assistant.dialogue.safety import is_it_safe
from assistant.dialogue.scope import scope
from assistant.dialogue.state import Stage, VisitState
from assistant.dialogue.telling import judge_told, note_facts
from assistant.dialogue.turn import Context, Turn
from assistant.dialogue.wording import spell_command
from assistant.job.ledger import FREE
from assistant.language.cues import nothing_holds, runs_now, speaks_of_power
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    BackQuestion,
    Calculation,
    Cannot,
    Command,
    Emergency,
    Expectation,
    Finding,
    Heard,
    LedgerSaid,
    Meaning,
    Text,
    Told,
)
from assistant.language.scope import Scope
from assistant.language.volts import volts_told
from assistant.language.within import is_bare_reading
from assistant.library.bounds import AC_AT_MOST_V
from assistant.messages.message import Message, message


@dataclass(frozen=True)
class Opened:
    """A visit begins. ``on`` is its day (ISO 8601), "" where two of it must be the same whatever the day."""

    library: str
    technician: str = ""
    now_s: float = 0.0
    on: str = ""


@dataclass(frozen=True)
class Resumed:
    """A visit that was cut short goes on: the present question is said again.

    ``away_s``: how long it lay still; None when nobody knows. ``technician``: who goes on with it, "" for the same.
    """

    now_s: float = 0.0
    away_s: float | None = None
    technician: str = ""


@dataclass(frozen=True)
class Words:
    """Something was heard or typed."""

    heard: Heard
    now_s: float = 0.0


@dataclass(frozen=True)
class Elapsed:
    """Time went by without words; ends a wait that is due."""

    now_s: float


@dataclass(frozen=True)
class NotGoneOver:
    """The open visit that was chosen cannot be gone on with; ``why`` in a sentence."""

    why: str
    now_s: float = 0.0


Event = Opened | Resumed | Words | Elapsed


def step(context: Context, state: VisitState, event: Event | NotGoneOver) -> Turn:
    """What the event causes: ``Turn.facts`` to journal, ``Turn.replies`` to speak, ``Turn.state`` after them."""
    turn = Turn(context, state, event.now_s, previous_words=state.spoken)
    match event:
        case Opened():
            turn.emit(f.VisitOpened(library=event.library, technician=event.technician, on=event.on))
            turn.tell("listening", "remark")
            speak(turn, turn.library.opening, "")
            tell_what_is_known(turn)
            advance(turn)
        case Resumed():
            turn.emit(f.Reopened())
            turn.tell("goes-on", "remark")
            another = bool(event.technician) and event.technician != turn.state.technician
            where_it_stood(turn, None if another else event.away_s)
            taken = another and take_over(turn, event.technician)
            leads_on = taken or after_a_break(turn, event.away_s)
            in_doubt.left_behind(turn, state.run)
            if leads_on:
                advance(turn)
            else:
                say_again(turn)
                if not turn.state.held:
                    instruct_again(turn)
                ask_again(turn)
        case Words():
            turn.emit(f.WordsHeard(heard=event.heard))
            leads_on = _hear(turn, event.heard)
            in_doubt.left_behind(turn, state.run)
            if leads_on:
                advance(turn)
        case NotGoneOver():
            turn.emit(f.AsideSettled(topic=state.job.aside))
            turn.tell("cannot-go-over", "caution", why=event.why)
            advance(turn)
        case Elapsed():
            if is_due(state, event.now_s):
                turn.emit(f.TimeReached())
                advance(turn)
    return turn


def is_due(state: VisitState, now_s: float) -> bool:
    """Whether a wait is over that nobody has ended yet."""
    return state.wait_until_s is not None and not state.held and now_s >= state.wait_until_s


def expected(context: Context, state: VisitState) -> Expectation:
    """What the ears should listen for in this state."""
    return expectation(state, context.library, Turn(context, state, 0.0).profile)


def heard_in(context: Context, state: VisitState) -> Scope:
    """All that words may mean in this state."""
    return scope(state, context.library, Turn(context, state, 0.0).profile)


def _hear(turn: Turn, heard: Heard) -> bool:
    """Handle one utterance; true when the visit is to be led on afterwards."""
    state = turn.state
    meaning = heard.meaning
    bare_volts = state.power.locked and heard.trust != "sure" and is_bare_reading(heard.words)
    if bare_volts and isinstance(meaning, Emergency):  # "230 volts" is a reading, and nobody's shock
        return _nothing_near(turn, heard)
    if isinstance(meaning, Emergency) and emergencies.is_emergency(heard):
        return emergencies.call(turn, meaning.what, sure=heard.trust == "sure")
    if state.stage is Stage.CLOSED:
        return False
    if isinstance(meaning, LedgerSaid) and state.emergency is None and (heard.trust == "sure" or not state.held):
        return _ledger(turn, heard)
    alarm = _alarm(heard) if state.power.locked or is_locking(turn) else None
    if alarm is not None:
        return _command(turn, alarm)
    if isinstance(meaning, Command) and state.held and meaning.name not in RELEASES:
        if meaning.name == "is-it-safe" and state.hazards and heard.trust == "sure":
            is_it_safe(turn)  # held by a danger, it is still asked; the hold stays
        return False
    if state.held:
        return obey(turn, Command(name="resume")) if isinstance(meaning, Command) and heard.trust != "again" else False
    if state.emergency is not None:
        return _settle_emergency(turn, heard)
    meaning = _as_finding(turn, meaning)
    heard = heard.model_copy(update={"meaning": meaning})
    if state.unconfirmed is not None and state.unconfirmed.options:
        return _settle_either(turn, heard)
    if heard.options and heard.trust != "again" and not (state.acknowledging or state.finishing):
        if any(isinstance(one, Command | Cannot) for one in heard.options) and in_doubt.would_warn(turn):
            return _first_that(turn)
        return _ask_either(turn, heard)
    heard = heard.model_copy(update={"options": ()})  # which of them was meant is not asked here
    if meaning is not None and heard.trust != "again":
        if isinstance(meaning, Command) and is_obeyed(heard):
            return _command(turn, meaning)
        if isinstance(meaning, Calculation):
            return calculate(turn, meaning)
        if isinstance(meaning, BackQuestion):
            return asked_back.answer(turn, meaning)
    if state.unconfirmed is not None:
        asked = state.unconfirmed.meaning
        if isinstance(asked, Command) and heard.trust != "again" and meaning in (Finding(choice="yes"), asked):
            turn.emit(f.ConfirmationSettled(right=True))
            return _command(turn, asked)
        if isinstance(meaning, Command | Cannot | Told) and heard.trust != "again" and in_doubt.would_warn(turn):
            return _first_that(turn)
        return settle_confirmation(turn, heard)
    if heard.trust == "again" or meaning is None:
        return mishear(turn, message("understood-first")) if state.acknowledging else _nothing_near(turn, heard)
    if isinstance(meaning, Command):
        if state.acknowledging:  # no other question is open beside a caution
            return mishear(turn, message("understood-first"))
        return _confirm_command(turn, heard)
    return _answer(turn, heard)


def _confirm_command(turn: Turn, heard: Heard) -> bool:
    assert isinstance(heard.meaning, Command)
    if in_doubt.would_warn(turn):
        return _first_that(turn)
    if turn.state.unconfirmed is not None:
        turn.emit(f.ConfirmationSettled(right=False))
    turn.emit(f.ConfirmationAsked(heard=heard))
    turn.tell("heard-right", "question", what=spell_command(turn, heard.meaning))
    return False


def _alarm(heard: Heard) -> Command | None:
    """What takes safety away, where it was meant, or may have been by words that speak of power."""
    if nothing_holds(heard.words) and not isinstance(heard.meaning, Finding):
        return Command(name="power-back")
    if (heard.meaning is None or isinstance(heard.meaning, Told)) and runs_now(heard.words):
        return Command(name="power-back")
    if heard.trust == "again":
        return None
    meaning = heard.meaning
    if isinstance(meaning, Text):  # a note, unless it is just what is said of power that is back
        meaning = interpret(heard.words, Expectation(question="note")).meaning
    said = (meaning, *(heard.options if speaks_of_power(heard.words) else ()))
    return next((one for one in said if isinstance(one, Command) and one.name in ALARMS), None)


def _ledger(turn: Turn, heard: Heard) -> bool:
    """An entry of the ledger, whatever is open: a number that is not sure is asked back."""
    assert isinstance(heard.meaning, LedgerSaid)
    if heard.trust == "again":
        return mishear(turn, doubtful(heard.doubt))
    if heard.trust == "confirm" and heard.meaning.entry.what not in FREE:
        if turn.state.acknowledging:
            return mishear(turn, message("understood-first"))
        if in_doubt.would_warn(turn):
            return _first_that(turn)
        turn.emit(f.ConfirmationAsked(heard=heard))
        ask_again(turn)
        return False
    return accept(turn, heard, "typed" if typed(heard) else "two ears")


def _ask_either(turn: Turn, heard: Heard) -> bool:
    """Two or three near meanings: which one?"""
    if not all(either.is_short(option) for option in heard.options):
        plain = heard.model_copy(update={"options": ()})
        return take(turn, plain) if not isinstance(heard.meaning, Command) else _nothing_near(turn, plain)
    asked = underlying(turn.state, turn.library, turn.profile)
    heard = either.told_apart(turn, heard, asked)
    if not heard.options:
        return take(turn, heard) if not isinstance(heard.meaning, Command) else _confirm_command(turn, heard)
    question = either.question(turn, heard, asked)
    if turn.state.unconfirmed is not None:
        turn.emit(f.ConfirmationSettled(right=False))
    turn.emit(f.ConfirmationAsked(heard=heard))
    turn.tell(question, "question")
    return False


#: So often is it asked which; then none of them was meant, and the question itself is asked again.
_ASKED_WHICH = 2


def _settle_either(turn: Turn, heard: Heard) -> bool:
    """The answer to an either-or. Whatever else is surely meant, a request among it, goes before."""
    waiting = turn.state.unconfirmed
    assert waiting is not None
    meaning = heard.meaning
    chosen = either.picked(waiting.options, meaning) if heard.trust != "again" else None
    if chosen is None and isinstance(meaning, BackQuestion) and heard.trust != "again":
        return asked_back.answer(turn, meaning)  # which of them was meant is still to be said
    if chosen is None and isinstance(meaning, Command) and meaning.name in HARMLESS and heard.trust != "again":
        return _command(turn, meaning)
    if chosen is not None:
        turn.emit(f.ConfirmationSettled(right=True))
        how = "typed" if typed(heard) else "confirmed by voice"
        if isinstance(chosen, Command):
            return _command(turn, chosen)
        if isinstance(chosen, BackQuestion):
            return asked_back.answer(turn, chosen)
        return take(
            turn, waiting.model_copy(update={"meaning": chosen, "options": (), "trust": "sure", "doubt": ""}), how
        )
    if meaning == Finding(choice=NEITHER.id) and heard.trust != "again":
        turn.emit(f.ConfirmationSettled(right=False))
        turn.tell("neither-then", "remark")
        ask_again(turn)
        return False
    if meaning is None or heard.trust != "sure" or meaning == Finding(choice="yes"):
        turn.emit(f.Misheard())
        if turn.state.misheard < _ASKED_WHICH or in_doubt.would_warn(turn):
            turn.tell("first-or-second", "question", count=len(waiting.options))
            return False
        turn.emit(f.ConfirmationSettled(right=False))
        turn.tell("neither-then", "remark")
        ask_again(turn)
        return False
    if isinstance(meaning, Command | Cannot | Told) and in_doubt.would_warn(turn):
        return _first_that(turn)
    turn.emit(f.ConfirmationSettled(right=False))
    return _hear(turn, heard)


#: Two ears that wrote nearly the same heard well, whatever it means.
_WELL = 85


def _nothing_near(turn: Turn, heard: Heard) -> bool:
    """Nothing fits. Words that were heard well are answered with what can be said here, others are asked again.

    A voltage that is told while the lock hangs counts as there, whatever was asked.
    """
    if turn.state.power.locked and (volts_told(heard.words) or 0.0) >= AC_AT_MOST_V:
        return _command(turn, Command(name="power-back"))
    if heard.talk and not typed(heard):
        return False
    answers = what_may_be_answered(turn)
    if heard.doubt or answers is None or not _heard_well(heard):
        return mishear(turn, doubtful(heard.doubt) or _beside_noise(turn, heard))
    turn.emit(f.Misheard())
    if at_wits_end(turn):
        turn.tell("still-not-near", "question", way=way_on(turn))
        turn.tell(answers, "question")
    else:
        turn.tell("not-near", "question", answers=answers)
    return False


def _beside_noise(turn: Turn, heard: Heard) -> Message | None:
    """How a number comes through where the sound is poor."""
    number = expectation(turn.state, turn.library, turn.profile).reading is not None
    return message("say-digit-by-digit") if number and heard.poor_sound else None


def _heard_well(heard: Heard) -> bool:
    if typed(heard):
        return True
    written = [words for _, words in heard.ears if words.strip()]
    return any(fuzz.ratio(one, other) >= _WELL for one, other in combinations(written, 2))


def _settle_emergency(turn: Turn, heard: Heard) -> bool:
    """Only yes and no are answers to whether an emergency was meant."""
    meaning = heard.meaning
    if meaning == Finding(choice="yes") and heard.trust != "again":
        return emergencies.settle(turn, real=True)
    if meaning == Finding(choice="no") and heard.trust == "sure":
        return emergencies.settle(turn, real=False)
    emergencies.ask_back(turn)
    return False


def _as_finding(turn: Turn, meaning: Meaning | None) -> Meaning | None:
    """ "Done" or "ready" is a choice of the question where it has one, and a command elsewhere."""
    if isinstance(meaning, Command) and not meaning.argument:
        expected_now = expectation(turn.state, turn.library, turn.profile)
        if any(choice.id == meaning.name for choice in expected_now.choices):
            return Finding(choice=meaning.name)
    return meaning


def _command(turn: Turn, command: Command) -> bool:
    if turn.state.unconfirmed is not None and command.name not in HARMLESS:
        warns = in_doubt.would_warn(turn)
        if warns and command.name not in ALARMS:
            return _first_that(turn)
        if not warns:
            turn.emit(f.ConfirmationSettled(right=False))
    if turn.state.finishing and command.name not in HARMLESS:
        turn.emit(f.FinishAsked(asking=False))
        say_anew(turn)
    return obey(turn, command)


def _first_that(turn: Turn) -> bool:
    """What is asked back would warn, were it so: it stays the question."""
    turn.tell("first-that", "remark")
    ask_again(turn)
    return False


def _answer(turn: Turn, heard: Heard) -> bool:
    state = turn.state
    if state.finishing:
        if not isinstance(heard.meaning, Finding):
            return mishear(turn, message("yes-or-no"))
        turn.emit(f.FinishAsked(asking=False))
        if heard.meaning.choice == "yes":
            turn.emit(f.StepRemembered())
            turn.emit(f.StageEntered(stage=Stage.CUSTOMER_NOTE))
        return True
    if state.acknowledging:
        if isinstance(heard.meaning, Told) and heard.trust == "sure":
            note_facts(turn, heard, heard.meaning.facts, "typed" if typed(heard) else "two ears")
            judge_told(turn)
            if not turn.state.acknowledging:  # what was told brought the power back: the caution is due anew
                return True
        return _acknowledge(turn, heard)
    return take(turn, heard)


def _acknowledge(turn: Turn, heard: Heard) -> bool:
    """A caution counts by its own acknowledgement, heard beyond doubt, and by nothing else."""
    if heard.trust != "sure" or heard.meaning != Finding(choice="understood"):
        return mishear(turn, message("understood-first"))
    for caution in turn.state.acknowledging:
        turn.emit(f.PrecautionAcknowledged(precaution=caution.precaution))
    return True


__all__ = [
    "Elapsed",
    "Event",
    "Opened",
    "Resumed",
    "Words",
    "expected",
    "heard_in",
    "is_due",
    "present_question",
    "step",
]
