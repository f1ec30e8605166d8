"""How each fact changes what is known of power, hazards, cautions, things taken off and the refrigerant circuit.

The rule of all of these: what is physically so is never undone by talk. Going back, a correction or a drop leaves the
lock, the things taken off, the hazards and the circuit as they are, or in doubt.
"""

from __future__ import annotations

from typing import Any

from assistant.dialogue import facts as f
from assistant.dialogue.energy import EVERYWHERE, Power, less_safe
from assistant.dialogue.state import Caution, Latched, Off, VisitState
from assistant.library.kinds import Circuit


def _with(state: VisitState, **changes: Any) -> VisitState:
    return state.model_copy(update=changes)


def energy_changed(state: VisitState, fact: f.EnergyChanged) -> VisitState:
    """Each return of the power begins a new time, in which cautions are due whole again, one that waited as well."""
    if fact.to == "live":
        now = {"power": Power(left=fact.lock_left), "repair_cautioned": (), "acknowledging": ()}
        return _with(state, changeovers=state.changeovers + 1, **now)
    if fact.to == "isolated":
        return _with(state, power=Power(locked=True))
    return _with(state, power=state.power.proved(fact.place or EVERYWHERE))


def voltage_measured(state: VisitState, fact: f.VoltageMeasured) -> VisitState:
    power = state.power.measured(fact.place, fact.what, fact.volts, fact.at_s, fact.absent)
    return _with(state, power=power)


def proof_doubted(state: VisitState, fact: f.ProofDoubted) -> VisitState:
    return _with(state, power=state.power.doubted(fact.place))


def precaution_given(state: VisitState, fact: f.PrecautionGiven) -> VisitState:
    caution = Caution(precaution=fact.precaution, changeovers=state.changeovers, place=fact.place)
    if fact.waits:
        return _with(state, acknowledging=(*state.acknowledging, caution))
    return _heard(state, caution)


def precaution_acknowledged(state: VisitState, fact: f.PrecautionAcknowledged) -> VisitState:
    mine = next((item for item in state.acknowledging if item.precaution == fact.precaution), None)
    left = tuple(item for item in state.acknowledging if item != mine)
    state = _with(state, acknowledging=left, misheard=0)
    return _heard(state, mine or Caution(precaution=fact.precaution, changeovers=state.changeovers))


def _heard(state: VisitState, caution: Caution) -> VisitState:
    """The caution counts from here on: for this time and place, and for the check under way."""
    if state.run is not None:
        run = state.run.model_copy(update={"cautioned": (*state.run.cautioned, caution.precaution)})
        state = _with(state, run=run)
    else:
        state = _with(state, repair_cautioned=(*state.repair_cautioned, caution.precaution))
    return _with(state, cautions=(*state.cautions, caution))


def hazard_raised(state: VisitState, fact: f.HazardRaised) -> VisitState:
    """A hazard that stands already and is raised anew must be mended and measured anew, by all that ever raised it."""
    others = tuple(item for item in state.hazards if item.hazard != fact.hazard)
    before = next((item.cleared_by for item in state.hazards if item.hazard == fact.hazard), ())
    wanted = {**dict(before), **dict(fact.cleared_by)}
    latched = Latched(hazard=fact.hazard, by=fact.by, cleared_by=tuple(wanted.items()))
    cleared = tuple(item for item in state.cleared if item.hazard != fact.hazard)
    return _with(state, hazards=(*others, latched), cleared=cleared)


def hazard_disputed(state: VisitState, fact: f.HazardDisputed) -> VisitState:
    return _change_hazard(state, fact.hazard, disputed=True)


def hazard_passed(state: VisitState, fact: f.HazardPassed) -> VisitState:
    passed = next((item.passed for item in state.hazards if item.hazard == fact.hazard), ())
    return _change_hazard(state, fact.hazard, passed=(*passed, fact.check))


def hazard_cleared(state: VisitState, fact: f.HazardCleared) -> VisitState:
    gone = tuple(item for item in state.hazards if item.hazard == fact.hazard)
    left = tuple(item for item in state.hazards if item.hazard != fact.hazard)
    return _with(state, hazards=left, cleared=(*state.cleared, *gone) if fact.by != "misheard" else state.cleared)


def hazards_mended(state: VisitState, mends: tuple[str, ...] | None) -> VisitState:
    """A repair was recorded: the hazards that it can have mended (None: all that stand) may now be proved gone."""
    hazards = tuple(
        item.model_copy(update={"mended": True}) if mends is None or item.hazard in mends else item
        for item in state.hazards
    )
    return _with(state, hazards=hazards)


def _change_hazard(state: VisitState, hazard: str, **changes: Any) -> VisitState:
    hazards = tuple(item.model_copy(update=changes) if item.hazard == hazard else item for item in state.hazards)
    return _with(state, hazards=hazards)


def taken_off(state: VisitState, fact: f.TakenOff) -> VisitState:
    kept = tuple(item for item in state.off if item.thing not in fact.things)
    return _with(state, off=(*kept, *(Off(thing=thing, places=fact.places) for thing in fact.things)))


def put_back(state: VisitState, fact: f.PutBack) -> VisitState:
    back = tuple(item for item in state.off if item.thing in fact.things)
    return _with(state, off=tuple(item for item in state.off if item.thing not in fact.things), back_last=back)


def put_back_ordered(state: VisitState, fact: f.PutBackOrdered) -> VisitState:
    return _with(state, run=state.run.model_copy(update={"things": fact.things})) if state.run else state


def circuit_changed(state: VisitState, fact: f.CircuitChanged) -> VisitState:
    if fact.certain:
        return _with(state, circuit=(fact.to,))
    return _with(state, circuit=tuple(dict.fromkeys((*state.circuit, fact.to))))


def emergency_called(state: VisitState, fact: f.EmergencyCalled) -> VisitState:
    """Whatever was under way or open is dropped: what is said first stands alone."""
    dropped = {"run": None, "wait_until_s": None, "acknowledging": (), "correcting": None, "unconfirmed": None}
    closed = {"held": False, "held_at_s": None, "finishing": False, "asked_for": None, "asking_altitude": False}
    anew = {"repair_described": False, "repair_cautioned": (), "refused": False}
    return _with(state, **dropped, **closed, **anew, emergency=None if fact.sure else fact.emergency)


def emergency_settled(state: VisitState, fact: f.EmergencySettled) -> VisitState:
    return _with(state, emergency=None)


def held(state: VisitState, fact: f.Held) -> VisitState:
    """A second "wait" does not begin the hold anew."""
    return state if state.held else _with(state, held=True, held_at_s=fact.at_s)


def released(state: VisitState, fact: f.Released) -> VisitState:
    return _with(state, held=False, held_at_s=None)


def kept_in_going_back(now: VisitState, earlier: VisitState) -> dict[str, Any]:
    """What going back does not undo, or leaves in doubt: it never makes anything safer than it is or was."""
    circuit: tuple[Circuit, ...] = tuple(dict.fromkeys((*now.circuit, *earlier.circuit)))
    anew = _begun_anew(earlier) if begins_anew(now, earlier) else {}
    return {
        **anew,
        "power": less_safe(now.power, earlier.power),
        "hazards": _both(now.hazards, earlier.hazards),
        "off": tuple({item.thing: item for item in (*earlier.off, *now.off)}.values()),
        "circuit": circuit,
        "changeovers": now.changeovers,
        "cautions": now.cautions,
        "emergency": now.emergency,
    }


def begins_anew(now: VisitState, earlier: VisitState) -> bool:
    """Whether power or circuit changed since then, so that the step which is gone back to cannot simply go on."""
    return now.changeovers != earlier.changeovers or set(now.circuit) != set(earlier.circuit)


def _begun_anew(earlier: VisitState) -> dict[str, Any]:
    """Power or circuit changed, or somebody else goes on: the step has its cautions, and all it says, before it."""
    run = earlier.run
    if run is not None:
        run = run.model_copy(update={"cautioned": (), "described": False, "wait_over": False})
    return {"run": run, "repair_cautioned": (), "repair_described": False}


def _both(now: tuple[Latched, ...], earlier: tuple[Latched, ...]) -> tuple[Latched, ...]:
    """Every hazard that stands or stood, each with only what counts towards clearing it in both."""
    before = {item.hazard: item for item in earlier}
    out = {item.hazard: item for item in earlier}
    for item in now:
        was = before.get(item.hazard, item)
        less = {
            "passed": tuple(check for check in item.passed if check in was.passed),
            "mended": item.mended and was.mended,
            "disputed": item.disputed and was.disputed,
        }
        out[item.hazard] = item.model_copy(update=less)
    return tuple(out.values())
