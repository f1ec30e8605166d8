"""Requests to the assistant itself, understood in every state. One small function each, in one table."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache

from assistant.dialogue import facts as f
from assistant.dialogue import ledgers, past, trends
from assistant.dialogue.altitude import leave_open
from assistant.dialogue.answerable import what_may_be_answered
from assistant.dialogue.aside_answers import skipped as skip_aside
from assistant.dialogue.asking import SKIP_TO, may_skip
from assistant.dialogue.breaks import LONG_S, after_a_break, power_back
from assistant.dialogue.cautions import say_again
from assistant.dialogue.closing import close
from assistant.dialogue.correcting import ask_correction
from assistant.dialogue.courses import JOB, SEARCHES, set_kind, tell_what_is_left
from assistant.dialogue.evolve_safety import begins_anew
from assistant.dialogue.handover import ask_who
from assistant.dialogue.mending import begin_proof
from assistant.dialogue.nameable import OF_SUSPECT
from assistant.dialogue.other_zone import other_zone
from assistant.dialogue.plates import ask_plate
from assistant.dialogue.proving import ground
from assistant.dialogue.questions import ask_again
from assistant.dialogue.running import instruct_again
from assistant.dialogue.safety import is_it_safe, state_words
from assistant.dialogue.settling import done_checks
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.voice_set import repeat, set_voice
from assistant.dialogue.way import way_to_check
from assistant.language.meaning import BackQuestion, Calculation, Command, Heard
from assistant.library.demand import procedures
from assistant.library.loader import Library
from assistant.library.models import Check
from assistant.messages.message import Message, known, message

#: What takes safety away: obeyed at once whatever is open, and heard in a hold as well.
ALARMS = frozenset({"power-back"})
#: What holds the visit: nothing said is an answer until one of RELEASES is said. Both also decide what the ears attend
#: to meanwhile (``visit.attention``), so that there is one kind of pause and no other.
HOLDS = frozenset({"wait", "stop"})
RELEASES = frozenset({"resume", "ready", "done"})


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
    anew = begins_anew(turn.state, turn.state.previous)  # the fold has done so
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
    candidates = suspect.confirm if suspect else (target,)
    checks = [library.checks[name] for name in candidates if name in library.checks]
    return next((check for check in checks if turn.has(check.needs)), None)


def _calculate(turn: Turn, command: Command) -> bool:
    turn.tell("how-to-calculate", "remark")
    ask_again(turn)
    return False


_COMMANDS: dict[str, Handler] = {
    "why": _why,
    "repeat": repeat,
    "slower": set_voice,
    "faster": set_voice,
    "louder": set_voice,
    "quieter": set_voice,
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
    "other-zone": other_zone,
    "power-back": power_back,
    "acknowledged": _acknowledged,
}

#: Commands that change nothing, so that even a doubtful hearing may be obeyed.
HARMLESS = HOLDS | {
    *("why", "repeat", "where-am-i", "what-is-left", "help", "what-can-i-say", "is-it-safe"),
    *("what-noted", "last-time", "trend", "acknowledged"),
    *("slower", "faster", "louder", "quieter"),
}
#: Commands that can be taken back by one word are obeyed even when only one ear was sure.
PLAIN = frozenset({"resume", "ready", "done", "correction"})


def is_obeyed(heard: Heard) -> bool:
    """Whether a request is done at once, though the ears were not sure of it: it costs no more than a word."""
    meaning = heard.meaning
    if isinstance(meaning, Command) and not heard.options:
        return heard.trust == "sure" or meaning.name in HARMLESS or meaning.name in PLAIN
    return isinstance(meaning, Calculation | BackQuestion) and not heard.options
