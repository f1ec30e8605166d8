"""Requests to the assistant itself, understood in every state. One small function each, in one table."""

from __future__ import annotations

from collections.abc import Callable

from assistant.calculations import catalogue
from assistant.dialogue import facts as f
from assistant.dialogue import phrases
from assistant.dialogue.answers import ask_correction, close
from assistant.dialogue.asking import OF_SUSPECT, SKIP_TO, expectation, may_skip
from assistant.dialogue.energy import PROCEDURES, safe_to_touch
from assistant.dialogue.mending import begin_proof
from assistant.dialogue.questions import ask_again
from assistant.dialogue.running import done_checks, remind
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn
from assistant.errors import LaddersideError
from assistant.language import units
from assistant.language.meaning import Calculation, Command, Expectation
from assistant.library.models import Check
from assistant.library.profile import features_of

#: What holds the visit: nothing said is an answer until one of RELEASES is said. Both also decide what the ears attend
#: to meanwhile (``visit.attention``), so that there is one kind of pause and no other.
HOLDS = frozenset({"wait", "stop"})
RELEASES = frozenset({"resume", "ready", "done"})

#: Words of answers that "help" tells wholly, in one breath; of more it tells a few.
_SOON_SAID, _FEW = 14, 3

#: A handler returns true when the visit may be led on, false when the reply was already said.
Handler = Callable[[Turn, Command], bool]


def obey(turn: Turn, command: Command) -> bool:
    """Carry out a command; an unknown one is answered with what can be said."""
    return COMMANDS.get(command.name, _help)(turn, command)


def _why(turn: Turn, command: Command) -> bool:
    run = turn.state.run
    if run is None:
        for sentence in phrases.sentences(turn.state.because or "It is needed to go on."):
            turn.say(sentence, "remark")
    else:
        for sentence in phrases.sentences(run.reason):
            turn.say(sentence, "remark")
        turn.say(turn.check(run.check).why, "remark")
    ask_again(turn)
    return False


def _repeat(turn: Turn, command: Command) -> bool:
    before = turn.previous_words
    for text in before:
        turn.say(text, "question" if text == before[-1] else "remark")
    if not before:
        ask_again(turn)
    return False


def _slower(turn: Turn, command: Command) -> bool:
    turn.emit(f.SlowerAsked())
    return _repeat(turn, command)


def _where_am_i(turn: Turn, command: Command) -> bool:
    state = turn.state
    energy = {"live": "power is on", "isolated": "locked out, not proved dead", "proved-dead": "proved dead"}[
        state.energy
    ]
    if state.run is not None:
        at = f"at the check {turn.check(state.run.check).title}"
    else:
        at = f"at the step {state.stage.value.replace('-', ' ')}"
    done = len(done_checks(turn))
    checks = "one check" if done == 1 else f"{done} checks"
    turn.say(phrases.sentence(f"You are {at}; {checks} done; {energy}"), "remark")
    ask_again(turn)
    return False


def _what_is_left(turn: Turn, command: Command) -> bool:
    if turn.state.stage is Stage.PROOF:
        count = len(turn.state.proofs_left)
        turn.say(f"{count} proof checks are left." if count != 1 else "One proof check is left.", "remark")
    elif turn.state.symptoms:
        ranked = turn.reasoner.ranked(turn.belief())
        names = [turn.library.suspects[key].name for key, _ in ranked if key in turn.library.suspects][:3]
        for how, name in zip(("Most likely now", "Then", "Then"), names, strict=False):
            turn.say(phrases.sentence(f"{how}: {name}"), "remark")
    else:
        turn.say("Everything is still open.", "remark")
    ask_again(turn)
    return False


def _skip(turn: Turn, command: Command) -> bool:
    state = turn.state
    turn.emit(f.StepRemembered())
    if state.run is not None:
        turn.say("Skipped." if state.acknowledging is None else "A caution is not skipped, so the step is.", "result")
        turn.emit(f.CheckSkipped(check=state.run.check))
        return True
    if not may_skip(state):
        turn.say("This step is needed. You can say finish, or go back.", "remark")
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


def _go_back(turn: Turn, command: Command) -> bool:
    if turn.state.previous is None:
        turn.say("This is the beginning.", "remark")
        ask_again(turn)
        return False
    turn.emit(f.WentBack())
    turn.say("Back one step.", "remark")
    remind(turn)
    return True


def _correction(turn: Turn, command: Command) -> bool:
    return ask_correction(turn)


def _hold(turn: Turn, command: Command) -> bool:
    turn.emit(f.Held(by=command.name))
    turn.say("Waiting. Say carry on when you are back.", "remark")
    return False


def _carry_on(turn: Turn, command: Command) -> bool:
    if turn.state.held:
        turn.emit(f.Released())
    ask_again(turn)
    return False


def _help(turn: Turn, command: Command) -> bool:
    turn.say(_answers(expectation(turn.state, turn.library, turn.profile)), "remark")
    turn.say("You can say why, repeat, slower, skip, go back, correction, wait, or is it safe.", "remark")
    ask_again(turn)
    return False


def _answers(expected: Expectation) -> str:
    """What may be answered: every choice, or some of all sorts where they are many."""
    first = [choice.phrases[0] for choice in expected.choices]
    if not first:
        unit = units.say(expected.reading.unit, expected.reading.quantity) if expected.reading else ""
        return f"You can answer with a number in {unit}, or no reading." if unit else ""
    if len(" ".join(first).split()) > _SOON_SAID:
        few = [first[at * len(first) // _FEW] for at in range(_FEW)]
        return phrases.sentence(f"You can answer, for example, {', '.join(dict.fromkeys(few))}")
    *others, last = first
    return phrases.sentence(f"You can answer {', '.join(others)} or {last}" if others else f"You can answer {last}")


def _is_it_safe(turn: Turn, command: Command) -> bool:
    turn.say(safe_to_touch(turn.state.energy), "caution")
    ask_again(turn)
    return False


def _ready(turn: Turn, command: Command) -> bool:
    if turn.state.wait_until_s is not None:
        return True
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
        turn.say("I know no check of that on this unit. Say check and the part.", "question")
        return False
    if wanted.id in PROCEDURES and turn.state.run is not None and turn.state.run.check == wanted.id:
        ask_again(turn)
        return False
    turn.emit(f.StepRemembered())
    turn.emit(f.CheckAskedFor(check=wanted.id))
    turn.say(phrases.sentence(wanted.title), "result")
    return True


def _named_check(turn: Turn, target: str) -> Check | None:
    """The check that was named, or the first check of this unit that confirms the component named."""
    library = turn.library
    suspect = library.suspects.get(target.removeprefix(OF_SUSPECT)) if target.startswith(OF_SUSPECT) else None
    features = features_of(turn.profile) if turn.profile else frozenset()
    candidates = suspect.confirm if suspect else (target,)
    checks = [library.checks[name] for name in candidates if name in library.checks]
    return next((check for check in checks if set(check.needs) <= features), None)


def _calculate(turn: Turn, command: Command) -> bool:
    turn.say("Name the sum and its readings, as in: superheat, suction one hundred twenty psi, line fifty.", "remark")
    ask_again(turn)
    return False


def calculate(turn: Turn, asked: Calculation) -> bool:
    """A sum asked aloud: the same functions that the verdicts use, spoken with the result first."""
    try:
        values = {name: reading.value for name, reading in asked.values if reading.value is not None}
        known = {"refrigerant": turn.profile.refrigerant.name} if turn.profile else {}
        result = catalogue.run(asked.name, values, known)
    except LaddersideError as error:
        turn.say(str(error), "remark")
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
        turn.say(phrases.sentence(f"{asked.name.replace('-', ' ')}: {result.text}"), "result")
    ask_again(turn)
    return False


COMMANDS: dict[str, Handler] = {
    "why": _why,
    "repeat": _repeat,
    "slower": _slower,
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
}

#: Commands that change nothing, so that even a doubtful hearing may be obeyed.
HARMLESS = HOLDS | {"why", "repeat", "slower", "where-am-i", "what-is-left", "help", "is-it-safe"}
