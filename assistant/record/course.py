"""One pass over a visit's facts: what was truly so at each moment. The state is the dialogue's own fold.

Everything that needs the state as it was then (energy by place, what counted, what was believed) is collected here;
what needs one fact alone is in ``lines.py``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime

from assistant.dialogue import facts as f
from assistant.dialogue.energy import place_key
from assistant.dialogue.evolve import evolve
from assistant.dialogue.state import VisitState
from assistant.library.kinds import At
from assistant.library.loader import Library
from assistant.reasoning.effort import UnitState
from assistant.record.model import EnergySpan, HoldLine, PlaceState
from assistant.record.wording import words
from assistant.visit.reading import Stamped

#: Places whose power has a state of its own, as people call them; each indoor unit is one.
PLACE_NAMES = {
    "supply": "supply side",
    "outdoor": "outdoor unit",
    "indoor": "indoor unit",
    "signal": "signal line",
    "line": "joints on the line",
    "*": "whole unit",
}


def zoned(at: datetime) -> datetime:
    """A time of the journal with its zone: the journal keeps the wall clock of the machine."""
    return at.astimezone()


def place_name(key: str) -> str:
    """A place of the energy state as people call it: "indoor/living" is "indoor unit living"."""
    where, _, zone = key.partition("/")
    return " ".join(filter(None, (PLACE_NAMES.get(where, where), zone.replace("-", " "))))


@dataclass(frozen=True)
class Moment:
    """A judged check with the state right after it."""

    at: datetime
    fact: f.CheckJudged
    state: VisitState
    energy: tuple[PlaceState, ...]


@dataclass
class Course:
    """What the pass collected. ``state`` is the end; ``repairs_before`` the repairs before each answer, by number;
    ``away_s`` how long the visit lay still in all, between its being cut short and being gone on with."""

    state: VisitState = field(default_factory=VisitState)
    moments: list[Moment] = field(default_factory=list)
    energy: list[EnergySpan] = field(default_factory=list)
    holds: list[HoldLine] = field(default_factory=list)
    started: tuple[datetime, VisitState] | None = None
    repairs_before: dict[int, int] = field(default_factory=dict)
    away_s: float = 0.0


def follow(facts: Sequence[Stamped], library: Library) -> Course:
    """Fold the facts, oldest first."""
    course, power = Course(), _Power(library)
    hold: Stamped | None = None
    wait: tuple[Stamped, f.WaitStarted] | None = None
    repairs = 0
    last: datetime | None = None
    for item in facts:
        last_at, last = last, item.at
        if isinstance(item.fact, f.Said):  # half of all facts: what was said changes nothing that is told here
            continue
        before = course.state
        course.state = evolve(before, item.fact)
        power.follow(item, course.state)
        match item.fact:
            case f.CheckJudged() as judged:
                energy = _at_check(judged.check, course.state, library)
                course.moments.append(Moment(item.at, judged, course.state, energy))
            case f.CheckStarted() if course.started is None:
                course.started = (item.at, course.state)
            case f.RepairDone(done=True):
                repairs += 1
            case f.AnswerGiven(number=number) | f.FactTold(number=number):
                course.repairs_before[number] = repairs
            case f.Reopened() if last_at is not None:
                course.away_s += max(0.0, (item.at - last_at).total_seconds())
            case f.WaitStarted() as begun:
                wait = (item, begun)
            case _:
                pass
        if before.wait_until_s is not None and course.state.wait_until_s is None and wait is not None:
            course.holds.append(_held("wait", wait[0], item, wait[1].seconds))
            wait = None
        if course.state.held and not before.held:
            hold = item
        elif before.held and not course.state.held and hold is not None:
            course.holds.append(_held("hold", hold, item))
            hold = None
    for kind, open_ in (("hold", hold), ("wait", wait[0] if wait else None)):
        if open_ is not None:
            course.holds.append(_held(kind, open_, None))
    course.energy = power.spans()
    course.holds.sort(key=lambda line: line.since)
    return course


def _held(kind: str, begun: Stamped, ended: Stamped | None, asked_s: float | None = None) -> HoldLine:
    return HoldLine(
        kind="wait" if kind == "wait" else "hold",
        since=zoned(begun.at),
        until=zoned(ended.at) if ended else None,
        seconds=max(0.0, ended.at_s - begun.at_s) if ended else None,
        asked_s=asked_s,
    )


class _Power:
    """The energy state of the whole unit and of each place that was worked at, as stretches of time."""

    def __init__(self, library: Library) -> None:
        self._library = library
        self._seen: object = None
        self._open: dict[str, EnergySpan] = {}
        self._done: list[EnergySpan] = []

    def follow(self, item: Stamped, state: VisitState) -> None:
        if state.power is self._seen:  # most facts say nothing of the power
            return
        self._seen = state.power
        if not self._open:
            self._open["*"] = EnergySpan(place=place_name("*"), state="live", since=zoned(item.at), until=None)
        because = item.fact.kind.replace("-", " ")
        if isinstance(item.fact, f.EnergyChanged):
            because = words(item.fact.because, self._library)
        # A visit of before the places: what was shown counted for the whole unit.
        self._set("*", state.power.at("*"), item, because)
        for place in {*state.power.dead, *self._open} - {"*"}:
            self._set(place, state.power.at(place), item, because)

    def _set(self, key: str, state: UnitState, item: Stamped, because: str) -> None:
        span = self._open.get(key)
        if span is not None and span.state == state:
            return
        at = zoned(item.at)
        if span is not None:
            self._done.append(span.model_copy(update={"until": at}))
        self._open[key] = EnergySpan(place=place_name(key), state=state, since=at, until=None, because=because)

    def spans(self) -> list[EnergySpan]:
        return sorted([*self._done, *self._open.values()], key=lambda span: (span.since, span.place))


def _at_check(check_id: str, state: VisitState, library: Library) -> tuple[PlaceState, ...]:
    """The energy state at the places that the check comes to; one that touches nothing is told by where it is made."""
    check = library.checks.get(check_id)
    if check is None:
        return (PlaceState(place=place_name("*"), state=state.power.at("*")),)
    places: list[At] = [touch.at for touch in check.touches if touch.at != "anywhere"]
    places = places or [check.where]
    keys = dict.fromkeys(place_key(at, state.zone) if at != "anywhere" else "*" for at in places)
    # Of a place that has no state of its own nothing was proved: it is told as the whole unit.
    return tuple(PlaceState(place=place_name(key), state=state.power.at(key)) for key in keys)
