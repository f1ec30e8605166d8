"""How far the chances written in the knowledge agree with what the simulated unit shows.

For writing honest chances: draws many units of each fault, lets a careful technician answer every check, and compares.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from assistant.library.models import Check
from assistant.reasoning.judges import judge
from tests.simulation.catalogue import ANSWERS, FAULTS, broken_unit, shown
from tests.simulation.technician import Technician
from tests.simulation.unit import Unit
from tests.simulation.visit import Simulation


@dataclass(frozen=True)
class Disagreement:
    """``cost`` is the surprise in bits, per unit with this fault, from believing ``written`` when ``seen`` is true."""

    check: str
    suspect: str
    seen: dict[str, float]
    written: dict[str, float]
    named: bool
    draws: int
    cost: float


def complained_units(simulation: Simulation, fault: str, count: int, rng: Random) -> Iterator[Unit]:
    """Units with a fault that somebody complains of, over all profiles that can have it."""
    profiles = [p for p in simulation.profiles if fault in simulation.reasoner(p).table.suspect_at]
    for _ in range(40 * count):
        if not profiles or count == 0:
            return
        unit = broken_unit(rng.choice(profiles), simulation.library.suspects[fault], rng)
        if shown(unit):
            count -= 1
            yield unit


def seen_chances(
    simulation: Simulation, fault: str, count: int, rng: Random
) -> dict[str, tuple[dict[str, float], int]]:
    """Mean chance of each outcome of every check that makes sense on such units, and on how many it did."""
    sums: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    counts: dict[str, int] = defaultdict(int)
    for unit in complained_units(simulation, fault, count, rng):
        technician = Technician(simulation.library, unit, rng, 0.0)
        outcomes: dict[str, str] = {}

        def result(check: Check) -> str:
            if check.id not in outcomes:
                judgement = judge(check, technician.answer(check), simulation.library, unit.profile)
                outcomes[check.id] = judgement.outcome
                for outcome, chance in judgement.chances:
                    sums[check.id][outcome] += chance
                counts[check.id] += 1
            return outcomes[check.id]

        checks = simulation.library.checks
        for key in simulation.reasoner(unit.profile).table.checks:
            gates = {gate: wanted for gate, wanted in checks[key].only_if.items() if gate in ANSWERS}
            if key in ANSWERS and all(result(checks[gate]) in wanted for gate, wanted in gates.items()):
                result(checks[key])
    return {
        key: ({outcome: total / counts[key] for outcome, total in row.items()}, counts[key])
        for key, row in sums.items()
    }


def disagreements(simulation: Simulation, count: int, seed: int) -> list[Disagreement]:
    """Every pair of check and suspect, the dearest first."""
    found = []
    for fault in FAULTS:
        if fault not in simulation.library.suspects:
            continue
        for key, (seen, draws) in seen_chances(simulation, fault, count, Random(f"{seed}-{fault}")).items():
            check = simulation.library.checks[key]
            written = check.tells.get(fault) or check.otherwise
            if written:
                cost = _cost(seen, written)
                found.append(Disagreement(key, fault, seen, dict(written), fault in check.tells, draws, cost))
    return sorted(found, key=lambda item: -item.cost * min(1.0, item.draws / count * 2))


def _cost(seen: dict[str, float], written: dict[str, float]) -> float:
    """Kullback-Leibler divergence in bits, both with the chance of a slip mixed in."""
    slip = 0.02
    names = set(seen) | set(written)
    cost = 0.0
    for name in names:
        p = (1 - slip) * seen.get(name, 0.0) + slip / len(names)
        q = (1 - slip) * written.get(name, 0.0) + slip / len(names)
        cost += p * math.log2(p / q)
    return cost
