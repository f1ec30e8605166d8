"""A net of conductors: ohms between two points, and the voltages that sources give with their loads.

Alternating voltages are phasors of effective values: the two legs of a split-phase supply are 120 V and -120 V, those
of a wye stand 120 degrees apart. Loads are resistances, which the caller fits to their power.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import inf

import numpy as np

#: No joint is better than this, and no gap is worse: keeps the equations solvable.
_LEAST_OHM = 1e-5
_LEAK_OHM = 1e9
EARTH = "earth"
Pair = tuple[str, str]


@dataclass(frozen=True)
class Edge:
    """One conductor or part between two points; ``inf`` ohm is a gap."""

    a: str
    b: str
    ohm: float


class Net:
    """Conductors by name of their ends. Earth is the point that voltages are told against."""

    def __init__(self, edges: Iterable[Edge]) -> None:
        self.edges = [edge for edge in edges if edge.ohm < _LEAK_OHM]
        points = {EARTH} | {point for edge in self.edges for point in (edge.a, edge.b)}
        self._at = {point: place for place, point in enumerate(sorted(points))}

    def resistance(self, a: str, b: str) -> float:
        """Ohms between two points; ``inf`` where nothing joins them."""
        if a == b:
            return 0.0
        if not self._joined(a, b):
            return inf
        conductance = self._conductance({})
        current = np.zeros(len(self._at))
        current[self._at[a]], current[self._at[b]] = 1.0, -1.0
        volts = np.linalg.solve(conductance, current)
        return float(volts[self._at[a]] - volts[self._at[b]])

    def voltages(self, sources: Mapping[Pair, tuple[complex, float]]) -> dict[str, complex]:
        """Volts of every point against earth, as phasors.

        ``sources``: between (minus, plus) a voltage and its inner ohm.
        """
        for pair in sources:
            for point in pair:
                self._at.setdefault(point, len(self._at))
        conductance = self._conductance({pair: ohm for pair, (_, ohm) in sources.items()})
        current = np.zeros(len(self._at), dtype=complex)
        for (minus, plus), (volts, ohm) in sources.items():
            flow = volts / max(ohm, _LEAST_OHM)
            current[self._at[plus]] += flow
            current[self._at[minus]] -= flow
        volts_at = np.linalg.solve(conductance, current)
        earth = volts_at[self._at[EARTH]]
        return {point: complex(volts_at[place] - earth) for point, place in self._at.items()}

    def _conductance(self, inner_ohm: Mapping[Pair, float]) -> np.ndarray:
        matrix = np.zeros((len(self._at), len(self._at)))
        inner = [Edge(a, b, ohm) for (a, b), ohm in inner_ohm.items()]
        for edge in (*self.edges, *inner):
            one, other, share = self._at[edge.a], self._at[edge.b], 1 / max(edge.ohm, _LEAST_OHM)
            matrix[one, one] += share
            matrix[other, other] += share
            matrix[one, other] -= share
            matrix[other, one] -= share
        matrix += np.eye(len(self._at)) / _LEAK_OHM
        matrix[self._at[EARTH], self._at[EARTH]] += 1.0  # what hangs free leaks to earth and rests there
        return matrix

    def _joined(self, a: str, b: str) -> bool:
        reached, edge_of = {a}, [a]
        while edge_of:
            point = edge_of.pop()
            for edge in self.edges:
                for one, other in ((edge.a, edge.b), (edge.b, edge.a)):
                    if one == point and other not in reached:
                        reached.add(other)
                        edge_of.append(other)
        return b in reached
