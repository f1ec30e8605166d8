"""What a fault is: values that differ from the sound machine, and what mends them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Level = Mapping[str, object]
Season = Literal["any", "cooling", "heating", "frost", "cool", "cold", "cold-cooling"]
Units = frozenset[str]

SOLO: Units = frozenset({"solo-240", "solo-230"})
TRIO: Units = frozenset({"trio"})
BASIC: Units = frozenset({"basic-208", "basic-115"})
ALL: Units = SOLO | TRIO | BASIC
ELECTRONIC_VALVE: Units = SOLO | TRIO
NEUTRAL: Units = frozenset({"solo-230", "basic-115"})
TWO_LEGS: Units = ALL - NEUTRAL


@dataclass(frozen=True)
class Fault:
    """One way in which an installation can be wrong.

    ``levels``: the changed values by path (see ``units.put``), mildest first. ``mends``: repairs (ids of
    ``world.repairs``) that a good technician would make. ``season``: when it shows: in either mode, in one, in frost
    (heating near freezing), in cool weather (either mode, below 10 degC), below freezing, or when
    cooling is wanted in the cold. ``history`` and
    ``sometimes`` are what the customer would tell. ``circumstances`` are set too and are no fault (a long line).
    """

    id: str
    says: str
    physics: str
    levels: tuple[Level, ...]
    mends: tuple[str, ...]
    units: Units = ALL
    season: Season = "any"
    history: Literal["never", "after-work", "by-itself"] = "by-itself"
    dear: bool = False
    sometimes: bool = False
    zones: tuple[int, ...] = (0, 1, 2)  # zones of a three-zone unit that can suffer from it
    circumstances: Level = field(default_factory=dict)
    hidden: bool = False  # makes no complaint alone; only beside another fault

    @property
    def paths(self) -> frozenset[str]:
        return frozenset(path for level in self.levels for path in level)
