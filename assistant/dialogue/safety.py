"""The spoken answer to "is it safe?": what bars, what was shown at the place of work, what was not."""

from __future__ import annotations

from assistant.dialogue.cautions import step_under_way
from assistant.dialogue.energy import place_key
from assistant.dialogue.turn import Turn
from assistant.library.demand import demand_of
from assistant.library.kinds import At, Circuit
from assistant.messages.message import Message, known, listed, message

#: How a state is said.
_WORDS = {"live": "power-live", "isolated": "power-isolated", "proved-dead": "power-dead"}


def places_at_work(turn: Turn) -> tuple[str, ...]:
    """The places of the state where hands are or go next: those of the step under way, else both units'."""
    step = step_under_way(turn)
    demand = demand_of(step) if step is not None else None
    here: tuple[At, ...] = demand.at if demand is not None and demand.at else ()
    if not here and step is not None and step.where != "anywhere":
        here = (step.where,)
    return tuple(place_key(at, turn.state.zone) for at in (here or ("outdoor", "indoor")))


def state_words(turn: Turn) -> Message:
    """The power where the work is, in few words."""
    states = {turn.state.power.at(place) for place in places_at_work(turn)}
    worst = next(state for state in ("live", "isolated", "proved-dead") if state in states)
    return message(_WORDS[worst])


def circuit_words(circuit: tuple[Circuit, ...]) -> Message:
    """What the refrigerant circuit holds, or may hold."""
    *others, last = (message("circuit", holds=one) for one in circuit)
    return message("one-or-other", first=listed(others), last=last) if others else last


def is_it_safe(turn: Turn) -> None:
    """Say it: hazards first, then each place. Yes is never said of a place that was not measured."""
    for latched in turn.state.hazards:
        if latched.hazard in turn.library.hazards:
            turn.tell("safe-barred", "caution", hazard=known("hazards", latched.hazard, "name"))
    power = turn.state.power
    if not power.locked:
        turn.tell("safe-live", "caution")
        return
    for place in places_at_work(turn):
        name, _, zone = place.partition("/")
        dead = power.at(place) == "proved-dead"
        if called := _one_of_several(turn, zone):
            turn.tell("safe-here-zone" if dead else "safe-not-here-zone", "caution", zone=called)
        else:
            turn.tell("safe-here" if dead else "safe-not-here", "caution", place=name)
    if turn.state.circuit != ("charged",):
        turn.tell("safe-circuit", "caution", circuit=circuit_words(turn.state.circuit))


def _one_of_several(turn: Turn, zone: str) -> str:
    """The name of an indoor unit beside which there are others: what was shown at one tells nothing of the next."""
    zones = turn.profile.zones if turn.profile is not None else ()
    return next((one.name for one in zones if one.id == zone and len(zones) > 1), "")
