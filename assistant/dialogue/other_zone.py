"""Another indoor unit than was named: only its name was wrong, or the search goes on at another one."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.energy import place_key
from assistant.dialogue.job_asking import ONLY_NAMED, ZONE_OTHER, ZONE_WRONG
from assistant.dialogue.questions import ask_again
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.units import zone_name
from assistant.language.meaning import Command

#: Where a fault is still being looked for.
_SEARCHING = (Stage.INDICATION, Stage.CHECK, Stage.UNSOLVED)


def other_zone(turn: Turn, command: Command) -> bool:
    """ "Wrong room", "it's zone two, not zone one"."""
    refused = _refused(turn)
    if refused:
        turn.tell(refused, "remark")
        ask_again(turn)
        return False
    if command.argument:
        named(turn, command.argument)
    else:
        turn.emit(f.AsideAsked(topic=ZONE_OTHER))
    return True


def _refused(turn: Turn) -> str:
    if turn.state.acknowledging:
        return "understood-first"
    if turn.profile is None or len(turn.profile.zones) < 2:
        return "zone-only-one"
    if turn.state.stage not in _SEARCHING or turn.state.zone is None or turn.state.job.course:
        return "zone-later"
    return ""


def named(turn: Turn, zone: str) -> None:
    """The unit that it is; where something was found, measured or taken off at the one before it is asked which of two
    was meant."""
    if zone == turn.state.zone:
        turn.tell("zone-is-that", "remark", zone=zone_name(turn.profile, zone))
    elif _made_at_the_unit(turn) or _worked_at(turn, turn.state.zone or ""):
        turn.emit(f.AsideAsked(topic=f"{ZONE_WRONG}:{zone}"))
    else:
        _change(turn, f.ZoneChanged(zone=zone))
        turn.tell("now-zone", "result", zone=zone_name(turn.profile, zone))


def settled(turn: Turn, zone: str, choice: str, words: str) -> None:
    """Whether only the name was wrong: what was found stays. Else it counts for the unit where it was found."""
    before = turn.state.zone or ""
    put_all_back = turn.library.doing("put-all-back")
    if choice != ONLY_NAMED and put_all_back not in turn.state.skipped and _off_at(turn, before):
        turn.tell("zone-put-back-first", "caution", zone=zone_name(turn.profile, before))
        turn.emit(f.CheckAskedFor(check=put_all_back))
        return
    if choice == ONLY_NAMED:
        for name in (before, zone):  # what was measured where nobody can tell is measured again before hands go in
            turn.emit(f.ProofDoubted(place=place_key("indoor", name)))
        _change(turn, f.ZoneChanged(zone=zone, only_named=True), words)
        turn.tell("zone-only-named", "result", zone=zone_name(turn.profile, zone))
        return
    _change(turn, f.ZoneChanged(zone=zone, elsewhere=_made_at_the_unit(turn)), words)
    turn.tell("now-zone", "result", zone=zone_name(turn.profile, zone))
    turn.tell("zone-moved", "remark", before=zone_name(turn.profile, before))


def _off_at(turn: Turn, zone: str) -> bool:
    """Whether something is off at this indoor unit: nobody leaves it so, nor puts it back at another one."""
    return any(place_key("indoor", zone) in item.places for item in turn.state.off)


def _worked_at(turn: Turn, zone: str) -> bool:
    """Whether hands or a meter were at this indoor unit."""
    power, place = turn.state.power, place_key("indoor", zone)
    return _off_at(turn, zone) or place in power.dead or any(item.place == place for item in power.shown)


def _change(turn: Turn, changed: f.ZoneChanged, words: str = "") -> None:
    turn.emit(f.StepRemembered())
    turn.emit(changed)
    turn.emit(f.Noted(topic="zone", value=changed.zone, words=words))


def _made_at_the_unit(turn: Turn) -> tuple[str, ...]:
    """Checks that were made, told of or passed over at the indoor unit, changeovers and proofs apart."""
    state = turn.state
    made = [result.check for result in state.results if result.role not in ("changeover", "proof")]
    made += [state.run.check] if state.run is not None and state.run.live_answers() else []
    every = dict.fromkeys((*made, *(given.check for given in state.told), *state.skipped))
    return tuple(check for check in every if turn.check(check).where == "indoor")
