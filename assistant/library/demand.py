"""What a step demands of the machine, derived from what its data say that hands touch, never from its words."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from assistant.library.kinds import At, Bar, Circuit, Energy, Slug, Touched, Where
from assistant.library.loader import Library
from assistant.library.models import PROCEDURES, Check, Repair, Touch

#: Electrical parts that are handled or measured dead.
HANDLED: frozenset[Touched] = frozenset({"board", "terminals", "conductor-ends", "plug", "motor"})
#: What a hand inside is, for a hazard that bars it. A cover is one: behind it lie the others.
INSIDE: frozenset[Touched] = HANDLED | {"cover", "live-probe", "moving-parts", "water", "refrigerant-circuit", "flame"}
#: Work within reach of fingers that something may turn, cut or shock by itself.
_STILL: frozenset[Touched] = frozenset({"moving-parts", "cover", "flame"})

#: The units are proved dead before what lies between them.
_UNITS_FIRST: tuple[At, ...] = ("supply", "outdoor", "indoor", "line", "signal")


@dataclass(frozen=True)
class Demand:
    """What must hold before a step is described.

    ``power`` and the places ``at`` where it must hold; ``stored_below_v`` a lower stored voltage in V than the usual
    limit; ``with_off`` what need not be back on; ``circuit`` the states of the refrigerant circuit that will do (empty:
    any); ``hits`` what of it a hazard may bar; ``energizes`` whether following it can close the power.
    """

    power: Energy
    at: tuple[At, ...] = ()
    stored_below_v: float | None = None
    with_off: tuple[Slug, ...] = ()
    circuit: tuple[Circuit, ...] = ()
    hits: frozenset[Bar] = frozenset()
    energizes: bool = False


def demand_of(step: Check | Repair) -> Demand:
    """The demand of one step. What its touches ask counts besides what it says itself: the safer of the two."""
    touched = {touch.what for touch in step.touches}
    power = _power(step.energy, touched)
    if power == "any" and step.may_energize:
        power = "live"  # closing the power is done on a unit that is whole and that nothing bars
    return Demand(
        power=power,
        at=_places(step) if power == "proved-dead" else (),
        stored_below_v=getattr(step, "bus_below_v", None),
        with_off=getattr(step, "with_off", ()),
        circuit=step.circuit.needs,
        hits=_hits(step, power, touched),
        energizes=step.may_energize,
    )


def power_for(what: Touched) -> Energy:
    """The power that a touch asks for by itself."""
    return _power("any", {what})


def _power(said: Energy, touched: set[Touched]) -> Energy:
    if touched & HANDLED:
        return "proved-dead"
    if said == "any" and touched & _STILL and "live-probe" not in touched:
        return "isolated"
    return "live" if said == "any" and "live-probe" in touched else said


def _places(step: Check | Repair) -> tuple[At, ...]:
    """Where hands go: the places of what is handled, or all of where the step is when its touches do not say."""
    named = [touch.at for touch in step.touches if touch.what in HANDLED]
    wheres: list[At] = list(named) or [_at(step.where)]
    if "signal" in named and step.where in ("outdoor", "indoor", "anywhere"):
        wheres.append(_at(step.where))  # the signal terminals sit beside the mains terminals of their unit
    places = dict.fromkeys(place for at in wheres for place in places_of(at))
    return tuple(sorted(places, key=_UNITS_FIRST.index))


def places_of(at: At) -> tuple[At, ...]:
    """The places that a touch "anywhere" means: both units."""
    return ("outdoor", "indoor") if at == "anywhere" else (at,)


def _at(where: Where) -> At:
    return where


def _hits(step: Check | Repair, power: Energy, touched: set[Touched]) -> frozenset[Bar]:
    hits: set[Bar] = {"stay"}
    if power == "live" or step.may_energize:
        hits.add("power")
    if "flame" in touched:
        hits.add("flame")
    if touched & INSIDE if step.touches else power in ("isolated", "proved-dead"):
        hits.add("touch")
    return frozenset(hits)


def cautions_of(step: Check | Repair, library: Library) -> tuple[Slug, ...]:
    """The cautions of a step in the order they are spoken: those that it names, then those that its touches bring."""
    brought = [name for touch in step.touches for name in _brought(touch, step.energy, library)]
    return tuple(dict.fromkeys((*step.precautions, *brought)))


@lru_cache(maxsize=512)
def _brought(touch: Touch, energy: Energy, library: Library) -> tuple[Slug, ...]:
    cautions = library.precautions.values()
    return tuple(item.id for item in cautions if any(touched.holds(touch, energy) for touched in item.comes_with))


@lru_cache(maxsize=4)
def demands(library: Library) -> dict[str, Demand]:
    """The demand of every check of a library, by id."""
    return {check.id: demand_of(check) for check in library.checks.values()}


@lru_cache(maxsize=4)
def procedures(library: Library) -> frozenset[str]:
    """The ids of the safety procedures: checks that change what is shown of power and circuit, and tell no suspect."""
    return frozenset(check for check, system in library.system_of.items() if system == PROCEDURES)
