"""The supplies that a unit may hang on, and what each is called.

ANSI C84.1 tells two voltages of one supply apart: the nominal system voltage, which the utility keeps and to which
its bands belong (120 V), and the nominal utilization voltage, which the nameplate prints (115 V). IEC 60038 knows only
one. A profile holds what its nameplate prints; a band of C84.1 is counted from the system's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

SupplySystem = Literal["single-phase-230", "split-phase-240", "wye-208", "three-phase-400", "single-phase-115"]


@dataclass(frozen=True)
class Supply:
    """``system_v`` and ``nameplate_v`` between the terminals that feed the unit, volts RMS; ``hz`` its usual frequency.

    ``plate_v`` is what a nameplate may print for it, lowest and highest. ``phrases`` are what a technician calls it,
    the first also what it is called in a reply. Source of the voltages: ANSI C84.1, table 1 (60 Hz), and IEC 60038,
    table 1 (50 Hz).
    """

    id: SupplySystem
    system_v: float
    nameplate_v: float
    hz: int
    phases: int
    plate_v: tuple[float, float]
    phrases: tuple[str, ...]


SUPPLIES: dict[str, Supply] = {
    supply.id: supply
    for supply in (
        Supply(
            "single-phase-230", 230, 230, 50, 1, (200, 250),
            ("single phase two thirty", "two hundred thirty volts", "two hundred thirty", "two thirty", "single phase"),
        ),
        Supply(
            "split-phase-240", 240, 240, 60, 1, (200, 250),
            (
                "split phase", "two hundred forty volts", "two hundred forty", "two forty", "two forty single phase",
                "single phase two forty", "two hundred forty volt single phase", "two forty split phase",
            ),
        ),
        Supply(
            "wye-208", 208, 208, 60, 1, (190, 230), (
                "two oh eight", "two hundred eight volts", "two hundred eight", "two oh eight three phase",
                "three phase two oh eight",
            ),
        ),
        Supply(
            "three-phase-400", 400, 400, 50, 3, (340, 480),
            ("three phase", "four hundred volts", "four hundred", "three phase four hundred"),
        ),
        Supply(
            "single-phase-115", 120, 115, 60, 1, (100, 130),
            ("one fifteen", "one hundred fifteen volts", "one hundred fifteen", "one twenty"),
        ),
    )
}  # fmt: skip
