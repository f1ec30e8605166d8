"""What a judged procedure does to the power: the lock, the voltages found absent, the place proved dead."""

from __future__ import annotations

from typing import cast

from assistant.dialogue import facts as f
from assistant.dialogue.energy import Absent, place_key
from assistant.dialogue.state import Given, Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.waiting import limit_v
from assistant.dialogue.way import Ground, proofs_at
from assistant.language.meaning import Reading
from assistant.library.bounds import AC_AT_MOST_V, DEAD_AT_MOST_V
from assistant.library.kinds import Circuit
from assistant.library.models import Check
from assistant.messages.message import Message, known, message

#: What is never dead, whatever a file says.
_CEILING: dict[Absent, float] = {"mains": AC_AT_MOST_V, "stored": DEAD_AT_MOST_V}
#: After so many times of finding a locked unit still fed, its feeds are for an electrician.
MOST_FED = 2


def ground(turn: Turn) -> Ground:
    """The present state as the ways see it."""
    return Ground(turn.state, turn.library, turn.features)


def follow(turn: Turn, check: Check, outcome: str, answers: tuple[Given, ...], fresh: bool) -> None:
    """Let power, things and circuit follow a judged procedure; one that was not done blocks what needs it.

    ``fresh``: it was done now; otherwise an earlier answer was corrected, which only ever takes safety away.
    """
    if check.proves is not None:
        _proof(turn, check, outcome, answers, fresh)
    elif not fresh:
        _corrected(turn, check, outcome)
    elif check.does == "lock-out":
        _locked(turn, check, outcome)
    elif check.does == "restore":
        _restored(turn, check, outcome)
    elif check.does == "tell-circuit":
        turn.emit(f.CircuitChanged(to=cast(Circuit, outcome), because=check.title))
    elif outcome == "cannot":
        turn.emit(f.CheckSkipped(check=check.id))


def put_back(turn: Turn, things: tuple[str, ...], outcome: str, fresh: bool) -> None:
    """What was ordered back is back, or the power stays off. After a correction it is off as it was before."""
    if fresh and outcome == "done":
        turn.emit(f.PutBack(things=things))
        return
    put_all_back = turn.library.doing("put-all-back")
    if not fresh and outcome != "done":
        for item in turn.state.back_last:
            turn.emit(f.TakenOff(things=(item.thing,), places=item.places, by=put_all_back))
    if fresh:
        turn.emit(f.CheckSkipped(check=put_all_back))


def _corrected(turn: Turn, check: Check, outcome: str) -> None:
    """A procedure of which something else is true than was said has shown nothing; no correction locks anything.

    What the circuit holds is in doubt after it: as it was said, or as it is said now, or charged.
    """
    locked_after_all = check.does == "lock-out" and outcome == "done"
    if check.does == "tell-circuit":
        turn.emit(f.CircuitChanged(to=cast(Circuit, outcome), because=check.title, certain=False))
    elif check.circuit.makes is not None and outcome != "done":
        turn.emit(f.CircuitChanged(to="charged", because=check.title, certain=False))
    if check.does in ("lock-out", "restore") and turn.state.power.locked and not locked_after_all:
        turn.emit(f.EnergyChanged(to="live", because=_because(check, outcome)))


def _locked(turn: Turn, check: Check, outcome: str) -> None:
    if outcome == "done":
        if not turn.state.power.locked:
            turn.emit(f.EnergyChanged(to="isolated", because=_because(check, outcome)))
        return
    if turn.state.power.locked:
        turn.emit(f.EnergyChanged(to="live", because=_because(check, outcome)))
    if outcome == "starts" and _times(turn, check.id, "starts") < MOST_FED:
        _once_more(turn, turn.library.doing("lock-out"))
    else:
        turn.emit(f.CheckSkipped(check=check.id))


def _because(check: Check, outcome: str) -> Message:
    return message("because-check", check=known("checks", check.id, "title"), outcome=outcome)


def _restored(turn: Turn, check: Check, outcome: str) -> None:
    if outcome == "done":  # it counts as on since it was said to be switched on
        return
    turn.emit(f.CheckSkipped(check=check.id))
    if turn.state.stage is Stage.PROOF:
        turn.emit(f.ProofSettled(suspect=turn.state.suspect or "", proof="failed"))
        turn.tell("proof-failed", "result")


def _times(turn: Turn, check_id: str, outcome: str) -> int:
    return sum(1 for r in turn.state.results if r.check == check_id and r.judgement.outcome == outcome)


def _once_more(turn: Turn, check_id: str) -> None:
    """The same procedure again, unless a check that was asked for leads back to it anyway."""
    if turn.state.asked_for is None:
        turn.emit(f.CheckAskedFor(check=check_id))


# ---- the proof at one place -------------------------------------------------------------------------------------


def _proof(turn: Turn, check: Check, outcome: str, answers: tuple[Given, ...], fresh: bool) -> None:
    assert check.proves is not None
    place = place_key(check.proves, turn.state.zone)
    if outcome == "dead" and not _under_the_ceilings(check, answers):  # whatever a knowledge file judges it by
        outcome = "charged"
    if outcome == "fed":
        turn.emit(f.EnergyChanged(to="live", because=_because(check, outcome)))
        if fresh:
            _still_fed(turn)
        return
    if outcome == "untried":
        _meter_not_good(turn, place)
    elif not fresh and outcome != "dead":
        turn.emit(f.ProofDoubted(place=place))
    if not fresh:
        return
    if outcome == "untried":
        _once_more(turn, check.id)
        return
    for what in check.absent:
        volts = _volts(check, what, answers)
        if volts is not None:
            absent = (
                outcome == "dead" or what == "mains" or (check.does == "lower-bus" and volts < limit_v(turn.profile))
            )
            turn.emit(f.VoltageMeasured(place=place, what=what, volts=volts, absent=absent, at_s=turn.now_s))
    if outcome != "dead":
        _once_more(turn, check.id)
    elif check.does != "lower-bus" and _all_shown(turn, check, place):
        turn.emit(f.EnergyChanged(to="proved-dead", because=_because(check, outcome), place=place))
        turn.tell("proved-dead", "result", place=place.partition("/")[0])


def _under_the_ceilings(check: Check, answers: tuple[Given, ...]) -> bool:
    """Whether all that the check shows absent was read, and less of it than any file may allow."""
    read = {what: _volts(check, what, answers) for what in check.absent}
    return bool(read) and all(volts is not None and volts < _CEILING[what] for what, volts in read.items())


def _meter_not_good(turn: Turn, place: str) -> None:
    """A meter that is not good has shown nothing, here or at another place: nobody knows since when."""
    power = turn.state.power
    measured = (*(item.place for item in power.shown), *(item.place for item in power.stored), *power.dead, place)
    for each in dict.fromkeys(measured):
        turn.emit(f.ProofDoubted(place=each))


def _still_fed(turn: Turn) -> None:
    """A locked unit with voltage on it: find the feed and lock it, and leave it to an electrician after the second."""
    fed = sum(1 for result in turn.state.results if result.judgement.outcome == "fed")
    if fed < MOST_FED:
        _once_more(turn, turn.library.doing("lock-out"))
    else:
        turn.tell("still-fed-again", "caution")
        turn.emit(f.CheckSkipped(check=turn.library.doing("lock-out")))


def _all_shown(turn: Turn, check: Check, place: str) -> bool:
    assert check.proves is not None
    power = turn.state.power
    return all(power.has_shown(place, what) for other in proofs_at(ground(turn), check.proves) for what in other.absent)


def _volts(check: Check, what: str, answers: tuple[Given, ...]) -> float | None:
    """The greatest voltage read of this kind, in V; two capacitors in series are added."""
    kind = "voltage_ac" if what == "mains" else "voltage_dc"
    read = [
        abs(given.answer.value)
        for given in answers
        if not given.replaced
        and isinstance(given.answer, Reading)
        and given.answer.quantity == kind
        and given.answer.value is not None
    ]
    if not read:
        return None
    return sum(read) if what == "stored" else max(read)
