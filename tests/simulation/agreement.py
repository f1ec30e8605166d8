"""How far the chances written in the knowledge agree with what the simulated unit shows.

For writing honest chances: draws many units of each fault, lets a careful technician answer every check, and compares.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from assistant.reasoning.judgement import Judgement
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


Seen = dict[str, dict[str, float]]


def seen_chances(simulation: Simulation, fault: str, count: int, rng: Random) -> tuple[Seen, dict[str, int]]:
    """Mean chance of each outcome of every check that makes sense on such units, and on how many it did."""
    sums: Seen = defaultdict(lambda: defaultdict(float))
    counts: dict[str, int] = defaultdict(int)
    for unit in complained_units(simulation, fault, count, rng):
        for key, judgement in _all_judged(simulation, unit, rng).items():
            counts[key] += 1
            for outcome, chance in judgement.chances:
                sums[key][outcome] += chance
    return {key: {outcome: total / counts[key] for outcome, total in row.items()} for key, row in sums.items()}, counts


def _all_judged(simulation: Simulation, unit: Unit, rng: Random) -> dict[str, Judgement]:
    """Every check that makes sense on this unit, judged once."""
    technician = Technician(simulation.library, unit, rng, 0.0)
    checks = simulation.library.checks
    judged: dict[str, Judgement] = {}

    def result(key: str) -> Judgement:
        if key not in judged:
            judged[key] = judge(checks[key], technician.answer(checks[key]), simulation.library, unit.profile)
        return judged[key]

    for key in simulation.reasoner(unit.profile).table.checks:
        gates = {gate: wanted for gate, wanted in checks[key].only_if.items() if gate in ANSWERS}
        if key in ANSWERS and all(result(gate).outcome in wanted for gate, wanted in gates.items()):
            result(key)
    return judged


def disagreements(simulation: Simulation, count: int, seed: int) -> list[Disagreement]:
    """Every pair of check and suspect, the dearest first."""
    found = []
    for fault in FAULTS:
        if fault not in simulation.library.suspects:
            continue
        every, draws = seen_chances(simulation, fault, count, Random(f"{seed}-{fault}"))
        for key, seen in every.items():
            check = simulation.library.checks[key]
            written = check.tells.get(fault) or check.otherwise
            if written:
                cost = _cost(seen, written)
                found.append(Disagreement(key, fault, seen, dict(written), fault in check.tells, draws[key], cost))
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
