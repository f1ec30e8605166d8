"""Requests to the assistant itself, understood in every state. One small function each, in one table."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache

from assistant.calculations import catalogue
from assistant.calculations.entry import Value
from assistant.dialogue import facts as f
from assistant.dialogue import ledgers, past, trends
from assistant.dialogue.altitude import TOPIC, counts_from_the_sea, leave_open, note_from_sum
from assistant.dialogue.aside_answers import skipped as skip_aside
from assistant.dialogue.asking import OF_SUSPECT, SKIP_TO, expectation, may_skip
from assistant.dialogue.breaks import LONG_S, after_a_break, power_back
from assistant.dialogue.cautions import say_again
from assistant.dialogue.closing import close
from assistant.dialogue.correcting import ask_correction
from assistant.dialogue.courses import JOB, SEARCHES, set_kind, tell_what_is_left
from assistant.dialogue.handover import ask_who
from assistant.dialogue.mending import begin_proof
from assistant.dialogue.plates import ask_plate
from assistant.dialogue.proving import ground
from assistant.dialogue.questions import ask_again
from assistant.dialogue.running import done_checks, instruct_again
from assistant.dialogue.safety import is_it_safe, state_words
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.way import way_to_check
from assistant.dialogue.wording import named_by
from assistant.errors import LaddersideError
from assistant.language import units
from assistant.language.meaning import Calculation, Command
from assistant.library.demand import procedures
from assistant.library.loader import Library
from assistant.library.models import Check
from assistant.messages.message import Message, known, listed, message

#: What takes safety away: obeyed at once whatever is open, and heard in a hold as well.
ALARMS = frozenset({"power-back"})
#: What holds the visit: nothing said is an answer until one of RELEASES is said. Both also decide what the ears attend
#: to meanwhile (``visit.attention``), so that there is one kind of pause and no other.
HOLDS = frozenset({"wait", "stop"})
RELEASES = frozenset({"resume", "ready", "done"})

#: How fast and how loud the voice may be set by words, as shares of the usual, one step a request. Louder than the last
#: its peaks would be bent so much that words suffer (``speaking/synthesis.py``).
PACES = (0.65, 0.8, 1.0, 1.2)
VOLUMES = (0.4, 0.65, 1.0, 1.6)
#: Words of answers that "help" tells wholly, in one breath; of more it tells a few.
_SOON_SAID, _FEW = 14, 3
_MOST_LISTED = 8

#: A handler returns true when the visit may be led on, false when the reply was already said.
Handler = Callable[[Turn, Command], bool]


def obey(turn: Turn, command: Command) -> bool:
    """Carry out a command; an unknown one is answered with what can be said."""
    return commands(turn.library).get(command.name, _help)(turn, command)


@lru_cache(maxsize=4)
def commands(library: Library) -> Mapping[str, Handler]:
    """Every command by name; each kind of visit that the knowledge has is one that chooses it."""
    return {**_COMMANDS, **{f"{JOB}{kind}": set_kind for kind in (*SEARCHES, *library.courses)}}


def _why(turn: Turn, command: Command) -> bool:
    run = turn.state.run
    if run is None:
        turn.tell_why(turn.state.because or message("reason-to-go-on"))
    else:
        if run.towards and isinstance(run.reason, Message):  # older visits say it within the reason
            turn.tell("needed-for", "remark", check=known("checks", run.towards, "title"))
        turn.tell_why(run.reason)
        turn.tell(known("checks", run.check, "why"), "remark")
        last = next((result for result in reversed(turn.state.results) if result.role in ("diagnosis", "asked")), None)
        if last is not None and last.judgement.says:
            turn.tell("verdict-before", "remark", says=last.judgement.says)
    ask_again(turn)
    return False


def _repeat(turn: Turn, command: Command) -> bool:
    # What was said last was an either-or that is settled now: then the question beneath it.
    settled = any(isinstance(fact, f.ConfirmationSettled) for fact in turn.facts)
    before = () if settled else turn.previous_words
    for each in before:
        turn.tell_why(each, "question" if each == before[-1] else "remark")
    if not before:
        ask_again(turn)
    return False


def _set_voice(turn: Turn, command: Command) -> bool:
    """One step slower, faster, louder or quieter, and what was not followed is said again."""
    state, way = turn.state, command.name
    pace = _next(PACES, state.pace, up=way == "faster") if way in ("slower", "faster") else state.pace
    volume = _next(VOLUMES, state.volume, up=way == "louder") if way in ("louder", "quieter") else state.volume
    if (pace, volume) == (state.pace, state.volume):
        turn.tell("voice-at-its-end", "remark", way=way)
        ask_again(turn)
        return False
    turn.emit(f.VoiceSet(pace=pace, volume=volume))
    if way in ("slower", "louder"):
        return _repeat(turn, command)
    turn.tell("voice-faster" if way == "faster" else "voice-quieter", "remark")
    ask_again(turn)
    return False


def _next(steps: tuple[float, ...], now: float, up: bool) -> float:
    """The step above or below ``now``, or ``now`` itself at the end of them."""
    if up:
        return min((step for step in steps if step > now), default=now)
    return max((step for step in steps if step < now), default=now)


def _where_am_i(turn: Turn, command: Command) -> bool:
    state = turn.state
    if state.run is not None:
        at = message("at-check", check=known("checks", state.run.check, "title"))
    else:
        at = message("at-step", step=state.stage.value.replace("-", " "))
    turn.tell("where-am-i", "remark", at=at, done=len(done_checks(turn)), power=state_words(turn))
    ask_again(turn)
    return False


def _what_is_left(turn: Turn, command: Command) -> bool:
    if tell_what_is_left(turn):
        pass
    elif turn.state.stage is Stage.PROOF:
        count = len(turn.state.proofs_left)
        turn.tell("proofs-left", "remark", count=count)
    elif turn.state.symptoms:
        ranked = turn.reasoner.ranked(turn.belief())
        names = [known("suspects", key, "name") for key, _ in ranked if key in turn.library.suspects][:3]
        for how, name in zip(("left-first", "left-then", "left-then"), names, strict=False):
            turn.tell(how, "remark", suspect=name)
    else:
        turn.tell("all-open", "remark")
    ask_again(turn)
    return False


def _skip(turn: Turn, command: Command) -> bool:
    state = turn.state
    if state.job.aside and not state.acknowledging:
        skip_aside(turn)
        return True
    turn.emit(f.StepRemembered())
    if state.asking_altitude:
        leave_open(turn)
        return True
    if state.run is not None:
        turn.tell(_skipped_words(turn, state.run.check), "caution" if state.acknowledging else "result")
        turn.emit(f.CheckSkipped(check=state.run.check))
        return True
    if not may_skip(state):
        turn.tell("supply-of-building" if state.stage is Stage.SUPPLY else "step-needed", "remark")
        ask_again(turn)
        return False
    if state.stage is Stage.CUSTOMER_NOTE:
        close(turn)
    elif state.stage is Stage.REPAIR:
        turn.emit(f.RepairDone(suspect=state.suspect or "", done=False))
    elif state.stage is Stage.REPAIR_NOTE:
        begin_proof(turn)
    else:
        turn.emit(f.StageEntered(stage=SKIP_TO[state.stage]))
    return True


def _skipped_words(turn: Turn, check_id: str) -> str:
    """What is lost by it: a caution takes its step along, a proof everything that hands would touch."""
    if turn.state.acknowledging:
        return "skipped-with-caution"
    return "skipped-proof" if turn.check(check_id).proves is not None else "skipped"


def _go_back(turn: Turn, command: Command) -> bool:
    if turn.state.previous is None:
        turn.tell("at-the-beginning", "remark")
        ask_again(turn)
        return False
    anew = turn.state.previous.changeovers != turn.state.changeovers  # power came on since: the fold begins it anew
    turn.emit(f.WentBack())
    turn.tell("back-one-step", "remark")
    run = turn.state.run
    check = turn.check(run.check) if run is not None else None
    if run is not None and check is not None and (check.may_energize or (run.answers and check.proves is not None)):
        # Half a proof does not outlive doubt about it: after "no, the meter is not good" a "yes" proves nothing. And
        # who is to switch on again hears first what comes before power. Begun anew both speak their cautions.
        turn.emit(f.CheckStarted(check=run.check, role=run.role, reason=run.reason, towards=run.towards))
    if not anew and turn.state.run is run:
        say_again(turn)
        instruct_again(turn)
    return True


def _correction(turn: Turn, command: Command) -> bool:
    if turn.state.acknowledging:  # "yes" to "what should it be?" must never count as understood
        turn.tell("understood-first", "question")
        return False
    return ledgers.ask_correction(turn) or ask_correction(turn)


def _hold(turn: Turn, command: Command) -> bool:
    turn.emit(f.Held(by=command.name, at_s=turn.now_s))
    turn.tell("holding", "remark")
    return False


def _carry_on(turn: Turn, command: Command) -> bool:
    """Go on; after a long hold from the lock, and a caution that was open is said again."""
    state = turn.state
    if not state.held:
        ask_again(turn)
        return False
    turn.emit(f.Released())
    away_s = None if state.held_at_s is None else turn.now_s - state.held_at_s
    anew = (away_s is None or away_s > LONG_S) and after_a_break(turn, away_s)
    if turn.state.acknowledging or turn.state.unconfirmed or turn.state.finishing or turn.state.correcting:
        say_again(turn)
        ask_again(turn)
        return False
    return anew or turn.state.run is None or ask_again_here(turn)


def ask_again_here(turn: Turn) -> bool:
    """Say the present question once more; never leads on."""
    ask_again(turn)
    return False


def _help(turn: Turn, command: Command) -> bool:
    answers = what_may_be_answered(turn)
    if answers is not None:
        turn.tell(answers, "remark")
    turn.tell("help-commands", "remark")
    ask_again(turn)
    return False


def what_may_be_answered(turn: Turn) -> Message | None:
    """What may be answered: every choice, or some of all sorts where they are many."""
    expected = expectation(turn.state, turn.library, turn.profile)
    offered = [choice for choice in expected.choices if choice.offered]
    unit = units.say(expected.reading.unit, expected.reading.quantity) if expected.reading else ""
    if not offered:
        return message("help-reading", unit=unit) if unit else None
    names = named_by(turn, expected)
    first = [names.choice(choice.id) for choice in offered]
    if unit:
        return message("help-reading-or", unit=unit, answer=first[0])
    said = [choice.said for choice in offered]
    if len(" ".join(said).split()) > _SOON_SAID or len(said) > _MOST_LISTED:
        few = dict.fromkeys(first[at * len(first) // _FEW] for at in range(_FEW))
        return message("help-some", answers=listed(list(few)))
    *others, last = first
    return message("help-answers", answers=listed(others), last=last) if others else message("help-one", answer=last)


def _is_it_safe(turn: Turn, command: Command) -> bool:
    is_it_safe(turn)
    ask_again(turn)
    return False


def _ready(turn: Turn, command: Command) -> bool:
    if turn.state.wait_until_s is not None:
        return True
    ask_again(turn)
    return False


def _acknowledged(turn: Turn, command: Command) -> bool:
    """ "Understood" where nothing waits for it: a caution takes its own words, as its answer."""
    turn.tell("understood-first" if turn.state.acknowledging else "nothing-to-acknowledge", "remark")
    ask_again(turn)
    return False


def _finish(turn: Turn, command: Command) -> bool:
    if turn.state.stage is Stage.CUSTOMER_NOTE:
        close(turn)
        return True
    turn.emit(f.FinishAsked(asking=True))
    ask_again(turn)
    return False


def _new_indication(turn: Turn, command: Command) -> bool:
    if turn.state.profile is None and turn.state.note("supply") is None:
        ask_again(turn)
        return False
    turn.emit(f.StepRemembered())
    turn.emit(f.StageEntered(stage=Stage.INDICATION))
    return True


def _check(turn: Turn, command: Command) -> bool:
    wanted = _named_check(turn, command.argument)
    if wanted is None:
        turn.tell("no-such-check", "question")
        if turn.state.acknowledging:  # a caution that waits stays the question
            ask_again(turn)
        return False
    if wanted.id in procedures(turn.library) and turn.state.run is not None and turn.state.run.check == wanted.id:
        ask_again(turn)
        return False
    turn.emit(f.StepRemembered())
    for step in way_to_check(ground(turn), wanted).steps:  # who names it anew takes back what was skipped on the way
        if step in turn.state.skipped:
            turn.emit(f.CheckAskedFor(check=step))
    turn.emit(f.CheckAskedFor(check=wanted.id))
    turn.tell(known("checks", wanted.id, "title"), "result")
    return True


def _named_check(turn: Turn, target: str) -> Check | None:
    """The check that was named, or the first check of this unit that confirms the component named."""
    library = turn.library
    suspect = library.suspects.get(target.removeprefix(OF_SUSPECT)) if target.startswith(OF_SUSPECT) else None
    features = turn.features
    candidates = suspect.confirm if suspect else (target,)
    checks = [library.checks[name] for name in candidates if name in library.checks]
    return next((check for check in checks if set(check.needs) <= features), None)


def _calculate(turn: Turn, command: Command) -> bool:
    turn.tell("how-to-calculate", "remark")
    ask_again(turn)
    return False


def _known_of_the_site(turn: Turn, asked: str) -> dict[str, Value]:
    """What a sum need not be told: by the site and the unit's profile."""
    known: dict[str, Value] = {} if turn.altitude_m is None else {TOPIC: turn.altitude_m}
    unit = turn.profile
    if unit is None:
        return known
    known |= {"refrigerant": unit.refrigerant.name, "system": unit.supply.system}
    if asked == "charge" and not unit.general:
        due = unit.refrigerant
        known |= {"nameplate": due.charge_kg, "free": due.free_length_m, "added": float(due.added_g_per_m)}
    return known


def calculate(turn: Turn, asked: Calculation) -> bool:
    """A sum asked aloud: the same functions that the verdicts use, spoken with the result first."""
    try:
        values = {name: reading.value for name, reading in asked.values if reading.value is not None}
        for name, reading in asked.values:
            if name == TOPIC:
                note_from_sum(turn, reading)
        result = catalogue.run(asked.name, values, _known_of_the_site(turn, asked.name))
    except LaddersideError as error:
        turn.tell("sum-refused", "remark", why=str(error))
    else:
        turn.emit(
            f.CalculationMade(
                name=asked.name,
                formula=result.formula,
                numbers=result.numbers,
                result=result.text,
                source=result.source,
            )
        )
        turn.tell("sum", "result", name=asked.name.replace("-", " "), result=result.text)
        if turn.altitude_m is None and counts_from_the_sea(asked.name):
            turn.tell("sum-at-sea-level", "remark")
    ask_again(turn)
    return False


_COMMANDS: dict[str, Handler] = {
    "why": _why,
    "repeat": _repeat,
    "slower": _set_voice,
    "faster": _set_voice,
    "louder": _set_voice,
    "quieter": _set_voice,
    "where-am-i": _where_am_i,
    "what-is-left": _what_is_left,
    "skip": _skip,
    "go-back": _go_back,
    "correction": _correction,
    "wait": _hold,
    "stop": _hold,
    "resume": _carry_on,
    "help": _help,
    "is-it-safe": _is_it_safe,
    "ready": _ready,
    "done": _ready,
    "finish": _finish,
    "new-indication": _new_indication,
    "check": _check,
    "calculate": _calculate,
    "what-noted": ledgers.what_noted,
    "strike-entry": ledgers.strike,
    "duties": ledgers.tell_duties,
    "last-time": past.last_time,
    "trend": trends.tell_trend,
    "plate": ask_plate,
    "take-over": ask_who,
    "power-back": power_back,
    "acknowledged": _acknowledged,
}

#: Commands that change nothing, so that even a doubtful hearing may be obeyed.
HARMLESS = HOLDS | {
    *("why", "repeat", "where-am-i", "what-is-left", "help", "what-can-i-say", "is-it-safe"),
    *("what-noted", "last-time", "trend", "acknowledged"),
    *("slower", "faster", "louder", "quieter"),
}
