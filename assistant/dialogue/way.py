"""What must come before a step, or why it may not come at all: the one place that lets hands, power and flame near.

Every check and every repair passes here before it is described, and again each time it is led on: lock-out, the proof
at each place where hands go, the lower stored voltage that some tests need, what was taken off put back before power,
the refrigerant circuit emptied before a flame. Procedures pass here too.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import cast

from assistant.dialogue.energy import Power, place_key
from assistant.dialogue.hazards import barring, bars, lasts
from assistant.dialogue.state import Latched, Off, VisitState
from assistant.library.demand import Demand, demand_of, demands, procedures
from assistant.library.kinds import At, Circuit, Does
from assistant.library.loader import Library
from assistant.library.models import Check, Repair
from assistant.messages.message import Message, known, message

#: A circuit that holds what a compressor may run on.
_RUNS: tuple[Circuit, ...] = ("charged",)
#: How the circuit is brought to what a step needs, where a procedure can do it.
_EMPTIES: dict[Circuit, tuple[Does, ...]] = {"recovered": ("recover",), "purged": ("recover", "purge")}


@dataclass(frozen=True)
class Way:
    """``steps``: procedures to be done first, in order. ``bar``: why there is no way, None when there is one.

    ``still_on``: the bar is only that these things are on (ids of ``taken-off.yaml``).
    """

    steps: tuple[str, ...] = ()
    bar: Message | None = None
    still_on: tuple[str, ...] = ()

    @property
    def open(self) -> bool:
        """Whether the step may be described now."""
        return not self.steps and self.bar is None


@dataclass(frozen=True)
class Ground:
    """Where the ways are looked for: the visit, the knowledge, and the features of the unit."""

    state: VisitState
    library: Library
    features: frozenset[str]

    def key(self, at: At) -> str:
        """The name of a place in the state."""
        return place_key(at, self.state.zone)


def way_to_check(ground: Ground, check: Check) -> Way:
    """The way to a check or a procedure. A procedure led to for the sake of a check goes by what that one needs off."""
    if check.id in procedures(ground.library):
        run = ground.state.run
        towards = ground.library.checks.get(run.towards) if run and run.check == check.id else None
        return _to_procedure(ground, check, towards.with_off if towards else ())
    demand = demands(ground.library)[check.id]
    run = ground.state.run
    begun = (run is not None and run.check == check.id and run.described) or is_to_be_finished(ground.state, check)
    on = _still_on(ground, demand)
    return on if on is not None else _way(ground, _begun(demand) if begun else demand, (check.id,))


def way_to_repair(ground: Ground, repair: Repair) -> Way:
    """The way to a repair."""
    demand = demand_of(repair)
    return _way(ground, _begun(demand) if ground.state.repair_described else demand, ())


def is_to_be_finished(state: VisitState, check: Check) -> bool:
    """Whether a course makes this step again which cannot begin anew: what was charged into the vacuum is topped up."""
    made = check.circuit.makes
    anew = made is None or made in check.circuit.needs
    return not anew and state.circuit == (made,) and any(name == check.id for name, _ in state.job.repeats)


def _still_on(ground: Ground, demand: Demand) -> Way | None:
    """Why a step has no way that needs something off which is on: nobody is to pull it while the step leads there.

    A cover is no such thing; it comes off in the step itself, under its cautions.
    """
    things, off = ground.library.things, {item.thing for item in ground.state.off}
    on = tuple(thing for thing in demand.with_off if thing not in off and thing in things and not things[thing].outside)
    return Way(bar=message("must-be-off", thing=known("things", on[0], "name")), still_on=on) if on else None


def _begun(demand: Demand) -> Demand:
    """Once a step is under way it changes the circuit itself: only what else it demands is still asked."""
    return replace(demand, circuit=())


def ways(ground: Ground) -> dict[str, Way]:
    """The way to every check that is no procedure. It follows from what is physically so, and is kept for that."""
    state = ground.state
    physical = (_as_ways_go(state.power), state.hazards, state.off, state.circuit, state.zone)
    return _ways(ground.library, ground.features, *physical)


def _as_ways_go(power: Power) -> Power:
    """What of the power a way goes by: what was shown where, but not how little it was and when, save on the bus."""
    stored = tuple(item.model_copy(update={"at_s": 0.0}) for item in power.stored if item.place == "outdoor")[-1:]
    shown = tuple(item.model_copy(update={"volts": 0.0}) for item in power.shown)
    return power.model_copy(update={"shown": shown, "stored": stored})


@lru_cache(maxsize=256)
def _ways(
    library: Library,
    features: frozenset[str],
    power: Power,
    hazards: tuple[Latched, ...],
    off: tuple[Off, ...],
    circuit: tuple[Circuit, ...],
    zone: str | None,
) -> dict[str, Way]:
    state = VisitState(power=power, hazards=hazards, off=off, circuit=circuit, zone=zone)
    ground = Ground(state, library, features)
    out: dict[str, Way] = {}
    clearing = {name for latched in ground.state.hazards for name, _ in latched.cleared_by}
    for demand, names in _alike(library):
        on = _still_on(ground, demand)
        shared: Way | None = None
        for name in names:
            if on is not None:
                out[name] = on
            elif name in clearing:
                out[name] = _way(ground, demand, (name,))
            else:
                shared = shared or _way(ground, demand, (name,))
                out[name] = shared
    return out


@lru_cache(maxsize=4)
def _alike(library: Library) -> tuple[tuple[Demand, tuple[str, ...]], ...]:
    """The checks that are no procedures, by what they demand: those that demand the same go the same way."""
    skip, found = procedures(library), dict[Demand, list[str]]()
    for name, demand in demands(library).items():
        if name not in skip:
            found.setdefault(demand, []).append(name)
    return tuple((demand, tuple(names)) for demand, names in found.items())


def _way(ground: Ground, demand: Demand, itself: Collection[str]) -> Way:
    circuit = _circuit(ground, demand)
    if circuit.bar is not None:
        return circuit
    steps = _with_their_own(ground, [*circuit.steps, *_power(ground, demand)], demand.with_off)
    latched = barring(ground.state, ground.library, demand, (*itself, *steps))
    return _barred(latched) if latched else Way(steps=steps)


def _barred(latched: Latched) -> Way:
    return _barred_by(latched.hazard)


@lru_cache(maxsize=256)
def _barred_by(hazard: str) -> Way:
    return Way(bar=message("barred", hazard=known("hazards", hazard, "name")))


def _with_their_own(ground: Ground, steps: Iterable[str], with_off: Collection[str]) -> tuple[str, ...]:
    """Procedures with what comes before each of them, each once."""
    out: list[str] = []
    for name in steps:
        check = ground.library.checks.get(name)
        if check is not None:
            out += [*_to_procedure(ground, check, with_off).steps, name]
    return tuple(dict.fromkeys(out))


# ---- the refrigerant circuit ------------------------------------------------------------------------------------


def _holds(circuit: Circuit) -> Message:
    return message("circuit", holds=circuit)


def _circuit(ground: Ground, demand: Demand) -> Way:
    """The circuit as the step needs it; power never returns to one that a compressor may not run on."""
    now = ground.state.circuit
    needed = _RUNS if demand.power == "live" or demand.energizes else demand.circuit
    if not needed or set(now) <= set(needed):
        return Way()
    if len(now) > 1:  # work on it was begun and not reported to its end
        return Way(steps=(ground.library.doing("tell-circuit"),))
    if needed is _RUNS:
        return Way(bar=message("circuit-not-charged", circuit=now[0]))
    for wanted in demand.circuit:
        steps = tuple(does for does in _EMPTIES.get(wanted, ()) if does != "recover" or "charged" in now)
        if steps:
            return Way(steps=tuple(map(ground.library.doing, steps)))
    return Way(bar=message("circuit-not-so", circuit=_holds(now[0]), wanted=_holds(demand.circuit[0])))


# ---- power ------------------------------------------------------------------------------------------------------


def _power(ground: Ground, demand: Demand) -> list[str]:
    power, doing = ground.state.power, ground.library.doing
    if demand.power == "live" or demand.energizes:
        back = [doing("put-all-back")] if _to_put_back(ground.state, demand.with_off) else []
        off = power.locked or power.left  # a lock that may hang yet is taken off by its procedure, and not in passing
        return [*back, doing("restore")] if off and demand.power == "live" else back
    if demand.power == "any":
        return []
    if demand.power == "isolated":
        return [] if power.locked else [doing("lock-out")]
    return [step for at in demand.at for step in _proof(ground, at, demand.stored_below_v)]


def _to_put_back(state: VisitState, allowed: Collection[str] = ()) -> bool:
    return any(item.thing not in allowed for item in state.off)


def _proof(ground: Ground, at: At, stored_below_v: float | None) -> list[str]:
    """The procedures that still have to show ``at`` dead, the lock first."""
    place, power, doing = ground.key(at), ground.state.power, ground.library.doing
    if power.at(place) == "proved-dead":
        stored = power.stored_v(place)
        return [doing("lower-bus")] if at == "outdoor" and _too_high(stored, stored_below_v) else []
    left = [check.id for check in proofs_at(ground, at) if not _has_shown(ground, check, place)]
    lower = [doing("lower-bus")] if at == "outdoor" and stored_below_v is not None else []
    return [*([] if power.locked else [doing("lock-out")]), *left, *lower]


def _too_high(stored_v: float | None, below_v: float | None) -> bool:
    return below_v is not None and (stored_v is None or abs(stored_v) >= below_v)


def _has_shown(ground: Ground, check: Check, place: str) -> bool:
    return all(ground.state.power.has_shown(place, what) for what in check.absent)


def proofs_at(ground: Ground, at: At) -> tuple[Check, ...]:
    """The procedures that together prove ``at`` dead on this unit, in order; of two that show the same, the one that
    asks for more of the unit's features."""
    return _proofs(ground.library, at, ground.features)


@lru_cache(maxsize=64)
def _proofs(library: Library, at: At, features: frozenset[str]) -> tuple[Check, ...]:
    mine = [library.checks[name] for name in procedures(library) if name in library.checks]
    mine = [check for check in mine if _proves(check, at) and set(check.needs) <= features]
    best: dict[tuple[str, ...], Check] = {}
    for check in sorted(mine, key=lambda item: len(item.needs)):
        best[check.absent] = check
    return tuple(sorted(best.values(), key=lambda item: item.absent))


def _proves(check: Check, at: At) -> bool:
    return check.proves == at and check.does != "lower-bus"


# ---- the procedures themselves ----------------------------------------------------------------------------------


def _to_procedure(ground: Ground, check: Check, with_off: Collection[str] = ()) -> Way:
    stopped = _stopped(ground, check)
    if stopped is not None:
        return stopped
    if check.does == "restore":
        return _to_restore(ground, tuple(with_off))
    if check.does == "put-all-back":
        places = dict.fromkeys(place for item in _inside(ground, with_off) for place in item.places)
        return Way(steps=tuple(dict.fromkeys(step for place in places for step in _proof_by_key(ground, place))))
    if check.does == "lower-bus":
        return Way(steps=tuple(_proof(ground, "outdoor", None)))
    if check.proves is not None:
        return Way(steps=tuple(_before_proof(ground, check, check.proves)))
    if check.does in ("lock-out", "tell-circuit"):
        return Way()
    return _way(ground, demands(ground.library)[check.id], (check.id,))


def _inside(ground: Ground, with_off: Collection[str]) -> list[Off]:
    """What is off that a hand must go inside for to put it back."""
    things = ground.library.things
    off = [item for item in ground.state.off if item.thing not in with_off]
    return [item for item in off if item.thing not in things or not things[item.thing].outside]


def _stopped(ground: Ground, check: Check) -> Way | None:
    """Where nobody may stay, or nothing is to be touched any more, no procedure goes on but the lock and what clears.

    A hazard that only bars hands lets the proof pass: it is how hands get free again.
    """
    for latched in ground.state.hazards:
        barred = bars(latched, ground.library)
        ends = "stay" in barred or (lasts(latched, ground.library) and "touch" in barred and check.does != "lock-out")
        if ends and all(name != check.id for name, _ in latched.cleared_by):
            return _barred(latched)
    return None


def _before_proof(ground: Ground, check: Check, at: At) -> list[str]:
    """The lock, and what of the same place is shown before."""
    place = ground.key(at)
    steps = [] if ground.state.power.locked else [ground.library.doing("lock-out")]
    for other in proofs_at(ground, at):
        if other.absent >= check.absent:
            break
        if not _has_shown(ground, other, place):
            steps.append(other.id)
    return steps


def _proof_by_key(ground: Ground, place: str) -> list[str]:
    """The proof at a place of the state; an indoor unit that is no longer the one in question is proved like it."""
    at, _, zone = place.partition("/")
    there = Ground(ground.state.model_copy(update={"zone": zone or None}), ground.library, ground.features)
    return _proof(there, cast(At, at), None)


def _to_restore(ground: Ground, with_off: tuple[str, ...]) -> Way:
    """Power returns only to a unit that nothing bars, that is whole, and whose circuit a compressor may run on."""
    demand = Demand(power="any", hits=frozenset({"power", "stay"}), energizes=True, with_off=with_off)
    return _way(ground, demand, ())
