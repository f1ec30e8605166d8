"""What comes of a check's answers: the verdict is said, power, hazards and circuit follow, doubts are asked again."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue import hazards, proving
from assistant.dialogue.plate_known import keep_measured
from assistant.dialogue.state import Given, Stage
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Finding, Reading, Readings, Text
from assistant.library.demand import procedures
from assistant.library.models import Check, Repair
from assistant.messages.catalogue import catalogue
from assistant.messages.measured_in import in_system
from assistant.messages.message import Message, known, message
from assistant.quantities.systems import System
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges import judge

#: How often a proof that shows unfinished work is made again before it counts as failed.
MOST_REPEATS = 2


def ended(turn: Turn, step: Check | Repair, name: str) -> None:
    """What is so once a step was done."""
    if step.puts_back:
        turn.emit(f.PutBack(things=step.puts_back))
    if step.circuit.makes is not None:
        turn.emit(f.CircuitChanged(to=step.circuit.makes, because=name))


def _in_system(judgement: Judgement, system: System) -> Judgement:
    """The verdict in the units that the technician reads."""
    if not isinstance(judgement.says, Message):
        return judgement
    return judgement.model_copy(update={"says": in_system(judgement.says, system)})


def settle(turn: Turn, check: Check, role: f.Role, numbers: tuple[int, ...]) -> None:
    """Judge the answers with these numbers, say the verdict and let power, hazards and circuit follow."""
    run = turn.state.run
    told = role == "told"
    fresh = run is not None and run.check == check.id and set(numbers) <= {given.number for given in run.answers}
    things = run.things if run is not None and fresh else ()
    given = _given(turn, numbers)
    judgement = _in_system(judged(turn, check, numbers), turn.state.system)
    turn.emit(f.CheckJudged(check=check.id, role=role, answers=numbers, judgement=judgement))
    proof = fresh and check.proves is not None and judgement.verdict == "pass"
    if not proof and not _said_back(judgement, given, told):
        _tell_verdict(turn, check, judgement)
    keep_measured(turn, check, given)
    outcome = judgement.outcome
    hazards.follow(turn, check, judgement, fresh, told)
    if told:  # nothing was done now, and nobody was led
        return
    if fresh:
        ended_unless_failed(turn, check, outcome)
    if check.id in procedures(turn.library):
        if check.does == "put-all-back":
            proving.put_back(turn, things, outcome, fresh)
        else:
            proving.follow(turn, check, outcome, given, fresh)
        if proof and turn.replies[-1].message is not None and turn.replies[-1].message.id != "proved-dead":
            _tell_verdict(turn, check, judgement)
        _shows(turn, check, outcome)
        return
    if role in ("diagnosis", "asked") and _doubt(turn, check.id):
        return
    if role == "proof" and _unfinished(turn, check, outcome):
        return
    follow = check.follow_up.get(outcome)
    if follow and role == "diagnosis" and follow not in done_checks(turn) and follow not in turn.state.skipped:
        turn.emit(f.CheckAskedFor(check=follow))


def _said_back(judgement: Judgement, given: tuple[Given, ...], told: bool) -> bool:
    """Whether the verdict would say no more than what was just said back: a look that is in order. "Why" says more."""
    in_order = judgement.verdict in ("pass", "noted")
    return in_order and (told or all(not isinstance(item.answer, Reading) for item in given))


def judged(turn: Turn, check: Check, numbers: tuple[int, ...]) -> Judgement:
    """What the answers with these numbers amount to for a check."""
    return judge(check, given_answers(turn, numbers), turn.library, turn.profile, turn.altitude_m or 0.0)


def ended_unless_failed(turn: Turn, check: Check, outcome: str) -> None:
    """A procedure that was not done has made nothing of the circuit; a check has, whatever it found."""
    if check.id not in procedures(turn.library) or outcome in ("done", "dead"):
        ended(turn, check, check.id)


def _shows(turn: Turn, check: Check, outcome: str) -> None:
    """An outcome that amounts to a symptom is learnt from like one that was told."""
    told = check.outcomes.get(outcome)
    if told is not None and told.shows and told.shows in turn.library.symptoms:
        turn.emit(f.IndicationNoted(symptom=told.shows))


def _says(check: Check, judgement: Judgement) -> f.Why:
    """What is only noted says what it means, and not whether it is within limits."""
    told = check.outcomes.get(judgement.outcome)
    if told is not None and told.verdict == "noted" and told.means:
        return message("knowledge", text=known("checks", check.id, f"outcomes.{judgement.outcome}.means"))
    return judgement.says


def _tell_verdict(turn: Turn, check: Check, judgement: Judgement) -> None:
    """The verdict, unless the answer read back was its own ("Nobody knows."), and what would settle an open one."""
    says, better = _says(check, judgement), judgement.better if judgement.verdict == "undecided" else ""
    if judgement.verdict == "pass":
        says = _few_words(says)
    if not (turn.replies and turn.replies[-1].text == catalogue().in_words(says, turn.library)):
        turn.tell_why(says, "result")
    if better:
        turn.tell_why(better)


def _few_words(says: f.Why) -> f.Why:
    """Within limits few words are enough, the reading was just said back; "why" and the record have them all."""
    if not isinstance(says, Message) or f"passed-{says.id}" not in catalogue().variables:
        return says
    return says.model_copy(update={"id": f"passed-{says.id}"})


def _given(turn: Turn, numbers: tuple[int, ...]) -> tuple[Given, ...]:
    pools = [result.answers for result in turn.state.results] + ([turn.state.run.answers] if turn.state.run else [])
    pools.append(turn.state.told)
    return tuple(item for pool in pools for item in pool if item.number in numbers)


def _unfinished(turn: Turn, check: Check, outcome: str) -> bool:
    """A proof may show that the work itself is not finished: say how, and prove it again, twice at most."""
    outcome_known = check.outcomes.get(outcome)
    redo = outcome_known.redo if outcome_known else ""
    if not redo or turn.state.stage is not Stage.PROOF or turn.state.proofs_repeated.count(check.id) >= MOST_REPEATS:
        return False
    turn.tell(known("checks", check.id, f"outcomes.{outcome}.redo"), "instruction")
    turn.emit(f.ProofRepeated(check=check.id))
    return True


def _doubt(turn: Turn, check_id: str) -> bool:
    """Notice an answer that clashes with an earlier one, and ask the newer again first; true when it is asked again."""
    mine = turn.state.results[-1]
    if mine.check != check_id or turn.state.mended:
        return False
    before = turn.belief(but_last=True)
    clash = turn.reasoner.contradiction(before, check_id, mine.judgement.chances)
    if clash is None:
        return False
    again = next((name for name in (check_id, clash) if name not in turn.state.doubted), None)
    if again is None or again not in turn.library.checks:
        return False
    turn.tell("does-not-fit", "remark", check=known("checks", clash, "title"))
    turn.emit(f.AnswersDoubted(check=again))
    return True


def done_checks(turn: Turn) -> tuple[str, ...]:
    """Checks that were judged in this search: those before the last repair may be made again, but for lasting ones."""
    since = turn.state.mended[-1][1] if turn.state.mended else 0
    judged = (result.check for result in turn.state.results[since:] if result.role != "changeover")
    lasting = (result.check for result in turn.state.results[:since] if turn.check(result.check).lasting)
    return (*lasting, *judged)


def given_answers(turn: Turn, numbers: tuple[int, ...]) -> dict[str, Readings | Finding | Text]:
    """The answers with these numbers by question key."""
    return gathered(_given(turn, numbers))


def gathered(answers: tuple[Given, ...]) -> dict[str, Readings | Finding | Text]:
    """Answers by question key, places gathered into one ``Readings``."""
    out: dict[str, list[f.Answer]] = {}
    for given in answers:
        out.setdefault(given.question, []).append(given.answer)
    return {key: _as_one(items) for key, items in out.items()}


def _as_one(items: list[f.Answer]) -> Readings | Finding | Text:
    first = items[-1]
    if isinstance(first, Reading):
        return Readings(items=tuple(item for item in items if isinstance(item, Reading)))
    return first
