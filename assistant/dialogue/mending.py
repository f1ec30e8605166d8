"""Leading the repair of a suspect that was named, and the proof after it."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.energy import allows, changeover
from assistant.dialogue.running import caution, energy_words, start_or_change_over
from assistant.dialogue.turn import Turn
from assistant.library.models import Suspect
from assistant.library.profile import features_of

#: Every repair is closed by the machine as a whole: air in against air out, and the complaint tried again.
GENERAL_PROOF = ("commission-split-cooling", "commission-complaint-gone")
GENERAL_PROOF_HEATING = ("commission-split-heating", "commission-complaint-gone")


def lead_repair(turn: Turn) -> bool:
    state = turn.state
    assert state.suspect is not None
    if state.asked_for is not None:
        return start_or_change_over(turn, state.asked_for, "asked", "You asked for it.")
    repair = turn.library.suspects[state.suspect].repair
    if not allows(state.energy, repair.energy):
        path = changeover(state.energy, repair.energy)
        if set(path) & set(state.skipped):
            turn.say(f"The repair needs {energy_words(repair.energy)}, which was skipped.", "remark")
            turn.emit(f.RepairDone(suspect=state.suspect, done=False))
            return False
        turn.emit(f.CheckStarted(check=path[0], role="changeover", reason="The repair needs it."))
        return False
    if caution(turn, repair.precautions):
        return True
    if not state.repair_described:
        turn.say(repair.say, "instruction")
        turn.emit(f.RepairDescribed(suspect=state.suspect))
    turn.say("Say done when the repair is made, or not possible.", "question")
    return True


def begin_proof(turn: Turn) -> None:
    """After the repair: the fault's own proof, then the general one that every repair gets."""
    suspect = turn.library.suspects[turn.state.suspect or ""]
    heating = any("heating" in symptom for symptom in turn.state.symptoms)
    general = GENERAL_PROOF_HEATING if heating else GENERAL_PROOF
    checks = dict.fromkeys((*_own_proof(turn, suspect), *general))
    turn.emit(f.ProofBegun(suspect=suspect.id, checks=tuple(checks)))


def _own_proof(turn: Turn, suspect: Suspect) -> list[str]:
    """The fault's own proof as far as this unit has what it measures (three phases, a data plate with the current)."""
    features = features_of(turn.profile) if turn.profile else frozenset()
    return [check for check in suspect.proof if set(turn.check(check).needs) <= features]


def lead_proof(turn: Turn) -> bool:
    state = turn.state
    assert state.suspect is not None
    if state.asked_for is not None:
        return start_or_change_over(turn, state.asked_for, "asked", "You asked for it.")
    if state.proof_failed:
        turn.emit(f.ProofSettled(suspect=state.suspect, proof="failed"))
        turn.say("The proof failed, so the search goes on with what was learnt.", "result")
        return False
    if state.proofs_left:
        return start_or_change_over(turn, state.proofs_left[0], "proof", "It shows that the fault is gone.")
    wanted = set(_own_proof(turn, turn.library.suspects[state.suspect]))
    proved = wanted <= {result.check for result in state.results if result.role == "proof"}
    turn.emit(f.ProofSettled(suspect=state.suspect, proof="proved" if proved else "not proved"))
    turn.say(
        "The repair is proved by measurement." if proved else "The repair is not proved; the record says so.", "result"
    )
    return False
