"""The circuit diagram of the supply as a graph, from the panel to the bridge and to the indoor board.

    panel ─ breaker ─ wire ─ disconnect ─ screw ─ unit terminals ─ fuse ─ filter ─ stage input
                                               └─ cable 1, 2 ─ indoor terminals ─ fuse ─ indoor board

Point names: ``panel-1``, ``unit-1``, ``stage-1``, ``indoor-1``, ``indoor-board-1`` and the same with 2. Conductor 2 is
the second leg or the neutral.
"""

from __future__ import annotations

import cmath
from dataclasses import dataclass, field
from math import inf, pi

from tests.field.machine.circuit import EARTH, Edge, Net, Pair
from tests.field.machine.parts import Contact
from tests.field.machine.units import Machine

_CLOSED_OHM = 0.003
#: A varistor that has shorted, an arc with its leads.
_SHORT_OHM = 0.05


@dataclass(frozen=True)
class Switching:
    """What stands how while something is measured.

    ``bad``: loose contacts are open at this moment. ``cable_off``: the signal cable is off its terminals.
    """

    disconnect_on: bool = True
    bad: bool = False
    cable_off: bool = False
    off: frozenset[str] = field(default_factory=frozenset)


def through(contact: Contact, bad: bool) -> float:
    """Ohms of a contact now."""
    return inf if bad and contact.flaky > 0 else contact.ohm


def two_legs(machine: Machine) -> bool:
    return machine.supply.leg_v[1] > 0


def phasors(machine: Machine) -> tuple[complex, complex]:
    """The two supply conductors against earth with no load."""
    one, two = machine.supply.leg_v
    apart = 2 * pi / 3 if machine.plate.system == "wye-208" else pi
    legs = complex(one), two * cmath.exp(1j * apart)
    lost = machine.supply.lost_leg
    return (0j if lost == 1 else legs[0], 0j if lost == 2 else legs[1])


def sources(machine: Machine) -> dict[Pair, tuple[complex, float]]:
    """The supply: each conductor from earth behind its service resistance; a lost leg gives nothing."""
    one, two = phasors(machine)
    ohm = machine.supply.service_ohm
    lost = machine.supply.lost_leg
    return {
        (EARTH, "panel-1"): (one, inf_to_gap(inf if lost == 1 else ohm)),
        (EARTH, "panel-2"): (two, inf_to_gap(inf if lost == 2 else ohm)),
    }


def inf_to_gap(ohm: float) -> float:
    """A source's resistance; a gap as a very large number, since a source must have one."""
    return min(ohm, 1e8)


def supply_net(machine: Machine, now: Switching, outdoor_ohm: float = inf, indoor_ohm: float = inf) -> Net:
    """The whole supply with the outdoor power stage and the indoor board as resistances."""
    branch, power = machine.branch, machine.outdoor.power
    closed = _CLOSED_OHM if machine.breaker.position == "on" else inf
    screw = through(branch.screw, now.bad)
    pull = branch.pull_out_ohm if now.disconnect_on else (inf, inf)
    legs = two_legs(machine)
    wire_two = branch.wire_ohm if legs else branch.neutral_ohm
    edges = [
        Edge("panel-1", "unit-1", closed + branch.wire_ohm + pull[0] + screw),
        Edge("panel-2", "unit-2", (closed if legs else 0.0) + wire_two + pull[1]),
        Edge("unit-1", "stage-1", power.fuse_ohm + power.reactor_ohm),
        Edge("unit-2", "stage-2", 0.02),
        Edge("stage-1", "stage-2", outdoor_ohm),
        Edge("indoor-1", "indoor-board-1", machine.zone.board.fuse_ohm),
        Edge("indoor-2", "indoor-board-2", 0.02),
        Edge("indoor-board-1", "indoor-board-2", indoor_ohm),
    ]
    if power.varistor == "short":
        edges.append(Edge("stage-1", "stage-2", _SHORT_OHM))
    if not now.cable_off:
        edges += cable_edges(machine, now)
        edges += [Edge(f"unit-{n}", f"out-{n}", 0.002) for n in (1, 2)]
        edges += [Edge(f"in-{n}", f"indoor-{n}", 0.002) for n in (1, 2)]
    return Net(edges)


def cable_edges(machine: Machine, now: Switching) -> list[Edge]:
    """The cable between outdoor terminals ``out-1..3`` and indoor terminals ``in-1..3`` of the visit's zone."""
    cable = machine.zone.cable
    splice = through(cable.splice, now.bad) if cable.splice else 0.0
    screw = through(cable.screw, now.bad)
    feed = through(cable.feed_screw, now.bad)
    edges = []
    for conductor in range(3):
        end = cable.order[conductor]
        extra = splice + screw if conductor == 2 else feed if conductor == 0 else 0.0
        ohm = cable.conductor_ohm[conductor] + extra
        edges.append(Edge(f"out-{conductor + 1}", f"in-{end + 1}", ohm))
    edges.append(Edge("out-2", "out-3", cable.short_23_ohm))
    return edges


def cable_net(machine: Machine, now: Switching, jumper: bool = False) -> Net:
    """The cable alone, off both terminals; with ``jumper`` conductors 2 and 3 are joined indoors."""
    joined = [Edge("in-2", "in-3", 0.01)] if jumper else []
    return Net([*cable_edges(machine, now), *joined])
