"""Leading the repair of a suspect that was named, and the proof after it."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.cautions import caution
from assistant.dialogue.hazards import wanted_proofs
from assistant.dialogue.proving import ground
from assistant.dialogue.running import begun, blocked, start_or_change_over
from assistant.dialogue.settling import ended
from assistant.dialogue.turn import Turn
from assistant.dialogue.way import way_to_check, way_to_repair
from assistant.library.closing import general_proof
from assistant.library.models import Suspect
from assistant.messages.message import known, message


def lead_repair(turn: Turn) -> bool:
    state = turn.state
    assert state.suspect is not None
    if state.asked_for is not None:
        return start_or_change_over(turn, state.asked_for, "asked", message("reason-asked"))
    repair = turn.library.suspects[state.suspect].repair
    way = way_to_repair(ground(turn), repair)
    if way.bar is not None or blocked(turn, way):
        if way.bar is not None:
            turn.tell("repair-barred", "caution", bar=way.bar)
        else:
            skipped = next(step for step in way.steps if step in state.skipped)
            turn.tell("repair-needs-skipped", "remark", skipped=known("checks", skipped, "title"))
        _not_done(turn, state.suspect)
        return False
    if way.steps:
        turn.emit(f.CheckStarted(check=way.steps[0], role="changeover", reason=message("reason-repair")))
        return False
    if caution(turn, repair):
        return True
    if not state.repair_described:
        turn.tell(known("suspects", state.suspect, "repair.say"), "instruction")
        turn.emit(f.RepairDescribed(suspect=state.suspect))
        begun(turn, repair, state.suspect)
    turn.tell("say-repair-done", "question")
    return True


def _not_done(turn: Turn, suspect: str) -> None:
    turn.emit(f.RepairDone(suspect=suspect, done=False))


def repaired(turn: Turn) -> None:
    """The repair was made: what it puts back is back, and the circuit is as it leaves it."""
    suspect = turn.library.suspects.get(turn.state.suspect or "")
    if suspect is not None:
        ended(turn, suspect.repair, suspect.id)


def begin_proof(turn: Turn) -> None:
    """After the repair: what the hazards that stand ask for, the fault's own proof, then the general one."""
    suspect = turn.library.suspects[turn.state.suspect or ""]
    told = ((result.check, result.judgement.outcome) for result in turn.state.results)
    general = [
        name for name in general_proof(turn.library, turn.state.symptoms, told) if turn.has(turn.check(name).needs)
    ]
    own = _own_proof(turn, suspect)
    cleared_first = [name for name in wanted_proofs(turn) if name not in own]
    checks = dict.fromkeys((*cleared_first, *own, *general))
    turn.emit(f.ProofBegun(suspect=suspect.id, checks=tuple(checks)))


def _own_proof(turn: Turn, suspect: Suspect) -> list[str]:
    """The fault's own proof as far as this unit has what it measures (three phases, a data plate with the current)."""
    return [check for check in suspect.proof if turn.has(turn.check(check).needs)]


def lead_proof(turn: Turn) -> bool:
    state = turn.state
    assert state.suspect is not None
    if state.asked_for is not None:
        return start_or_change_over(turn, state.asked_for, "asked", message("reason-asked"))
    if state.proof_failed:
        turn.emit(f.ProofSettled(suspect=state.suspect, proof="failed"))
        turn.tell("proof-failed", "result")
        return False
    if state.proofs_left:
        return start_or_change_over(turn, next_proof(turn), "proof", message("reason-proof"))
    wanted = set(_own_proof(turn, turn.library.suspects[state.suspect]))
    proved = wanted <= {result.check for result in state.results if result.role == "proof"}
    proved = proved and not state.hazards
    turn.emit(f.ProofSettled(suspect=state.suspect, proof="proved" if proved else "not proved"))
    turn.tell("proof-made" if proved else "proof-missing", "result")
    return False


def next_proof(turn: Turn) -> str:
    """The first proof that nothing bars: those that clear a hazard come before the power that it bars, and while the
    unit is locked what needs no power comes before what does, so that it is not locked once more."""
    left = turn.state.proofs_left
    here = ground(turn)
    able = [name for name in left if way_to_check(here, turn.check(name)).bar is None]
    dead = [name for name in able if turn.check(name).energy != "live"] if turn.state.energy != "live" else []
    return (dead or able or list(left))[0]
