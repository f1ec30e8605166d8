"""The signal line: a current loop fed outdoors through conductors 2 and 3, opened and closed by both boards in turn."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Literal

from tests.field.machine.circuit import Edge, Net
from tests.field.machine.units import Machine
from tests.field.machine.wiring import Switching, cable_edges

_SOURCE_OHM = 1000.0
_RECEIVER_OHM = 1000.0
_METER_OHM = 1e7  # of a common meter

Behaviour = Literal["jumping", "steady", "none"]


@dataclass(frozen=True)
class Line:
    """Whether it carries, and what a DC meter shows at each end: low and high, and how it behaves."""

    state: Literal["works", "drops", "none"]
    outdoor_v: tuple[float, float]
    indoor_v: tuple[float, float]
    outdoor: Behaviour
    indoor: Behaviour


def line(machine: Machine, now: Switching, outdoor_alive: bool, indoor_alive: bool) -> Line:
    """The line of the visit's zone. ``outdoor_alive``: its rails and processor work."""
    zone, outdoor = machine.zone, machine.outdoor
    sends = outdoor_alive and outdoor.board.signal == "works"
    volts = machine.plate.signal_v * (1 - outdoor.board.signal_weak) if sends else 0.0
    answers = indoor_alive and zone.board.signal == "works"
    opened = _volts(machine, now, volts, closed=False)
    closed = _volts(machine, now, volts, closed=True) if answers else opened
    through = answers and sends and closed[1] > 0.3 * machine.plate.signal_v and zone.cable.order == (0, 1, 2)
    state: Literal["works", "drops", "none"] = "works" if through else "none"
    if through and (closed[1] < 0.42 * machine.plate.signal_v or _disturbed(machine)):
        state = "drops"
    return Line(
        state=state,
        outdoor_v=(min(closed[0], opened[0]), max(closed[0], opened[0])),
        indoor_v=(min(closed[1], opened[1]), max(closed[1], opened[1])),
        outdoor=_shown(through, opened[0], volts),
        indoor=_shown(through, opened[1], volts),
    )


def _shown(through: bool, level: float, volts: float) -> Behaviour:
    if through:
        return "jumping"
    return "steady" if abs(level) > 0.08 * max(volts, 1.0) else "none"


def _volts(machine: Machine, now: Switching, volts: float, closed: bool) -> tuple[float, float]:
    """Volts from 2 to 3 at the outdoor and at the indoor terminals."""
    edges = [] if now.cable_off else cable_edges(machine, now)
    receiver = Edge("in-2", "in-3", _RECEIVER_OHM if closed else inf)
    meters = [Edge("out-2", "out-3", _METER_OHM), Edge("in-2", "in-3", _METER_OHM)]
    at = Net([*edges, receiver, *meters]).voltages({("out-2", "out-3"): (volts, _SOURCE_OHM)})

    def between(side: str) -> float:
        return (at.get(f"{side}-3", 0j) - at.get(f"{side}-2", 0j)).real

    return between("out"), between("in")


def _disturbed(machine: Machine) -> bool:
    cable = machine.zone.cable
    flaky = cable.screw.flaky > 0 or (cable.splice is not None and cable.splice.flaky > 0)
    return cable.route != "apart" or flaky
