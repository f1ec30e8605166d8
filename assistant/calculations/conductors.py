"""Conductors: gauge sizes, resistance, voltage drop, and what explains a drop found under load. mm², m, ohm, V, A."""

from __future__ import annotations

import math
from typing import NamedTuple

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.found import Limit
from assistant.calculations.windings import INTERCEPT_C, Metal

GAUGE_SOURCE = "ASTM B258: d = 0.005·92^((36-n)/39) inch"
RESISTIVITY_SOURCE = (
    "IEC 60028: 1.7241e-8 ohm·m at 20 °C (100 % IACS); aluminium 2.8264e-8 (61 %); temperature as windings"
)
DROP_SOURCE = "R = 2·ρ·L/A out and back, √3·ρ·L/A line to line three-phase; reactance left out (small up to 10 mm²)"

#: How far a supply may fall at the unit when it runs: branch circuit and feeder together.
DROP_PERCENT = Limit(5.0, "NEC informational notes to 210.19 and 215.2: 5 % of feeder and branch (from memory)")

#: ohm·m at 20 °C: copper 100 % IACS (IEC 60028), aluminium 61 % IACS.
_RESISTIVITY_20: dict[Metal, float] = {"copper": 1.7241e-8, "aluminium": 1.7241e-8 / 0.61}
#: Stranding makes a wire longer than its cable. Common practice: 2 % (ASTM B8 lay).
STRANDING = 1.02

#: Sizes that a branch circuit meets.
COMMON_AWG = (14, 12, 10, 8, 6, 4)


def awg_diameter_mm(gauge: float) -> float:
    """Diameter in mm of a solid wire of AWG ``gauge`` (0 to 40). Source: GAUGE_SOURCE."""
    within("wire gauge", gauge, 0, 40, "AWG")
    return float(0.127 * 92 ** ((36 - gauge) / 39))


def awg_area_mm2(gauge: float) -> float:
    """Cross-section in mm² of AWG ``gauge`` (0 to 40). Source: GAUGE_SOURCE."""
    return math.pi / 4 * awg_diameter_mm(gauge) ** 2


def resistance_ohm_per_m(
    area_mm2: float, temperature_c: float = 75.0, metal: Metal = "copper", stranded: bool = False
) -> float:
    """Resistance of one conductor in ohm per m; 0.01 to 1000 mm², -50 to 150 °C. Source: RESISTIVITY_SOURCE."""
    within("conductor area", area_mm2, 0.01, 1000, "mm²")
    within("conductor temperature", temperature_c, -50, 150, "°C")
    if metal not in _RESISTIVITY_20:
        raise UnknownName("metal", metal, _RESISTIVITY_20)
    k = INTERCEPT_C[metal]
    hot = _RESISTIVITY_20[metal] * (k + temperature_c) / (k + 20)
    return hot / (area_mm2 * 1e-6) * (STRANDING if stranded else 1.0)


def _circuit_factor(phases: int) -> float:
    if phases not in (1, 3):
        raise Inconsistent(f"A circuit has 1 or 3 phases, not {phases}.")
    return 2.0 if phases == 1 else math.sqrt(3)


def drop_v(current_a: float, length_m: float, ohm_per_m: float, phases: int = 1) -> float:
    """Drop in V over ``length_m`` one way (0 to 5000), 0 to 1000 A, 1e-6 to 10 ohm per m. Source: DROP_SOURCE."""
    within("current", current_a, 0, 1000, "A")
    within("conductor length", length_m, 0, 5000, "m")
    within("resistance per metre", ohm_per_m, 1e-6, 10, "ohm/m")
    return _circuit_factor(phases) * current_a * length_m * ohm_per_m


class DropExplained(NamedTuple):
    """A drop found under load.

    ``source_ohm`` is what makes it (both ways together, or one line of three phases); ``length_m`` the
    one-way length of conductor that alone would explain it; ``expected_v`` the drop of the run as installed and
    ``extra_ohm`` what that leaves (a joint, a terminal, the transformer), turning
    ``extra_w`` into heat. The last three are None when no length was given.
    """

    drop_v: float
    percent: float
    source_ohm: float
    length_m: float
    expected_v: float | None
    extra_ohm: float | None
    extra_w: float | None


def explain_drop(
    no_load_v: float,
    loaded_v: float,
    current_a: float,
    area_mm2: float,
    length_m: float | None = None,
    *,
    temperature_c: float = 40.0,
    metal: Metal = "copper",
    phases: int = 1,
) -> DropExplained:
    """Which conductor explains the drop from ``no_load_v`` to ``loaded_v`` (1 to 1000 V) at 0.1 to 1000 A.

    Raises Inconsistent when the voltage rises under load: the two readings are not of one supply.
    Takes ``area_mm2`` 0.01 to 1000, ``length_m`` 0 to 5000, ``temperature_c`` -50 to 150.
    """
    within("voltage without load", no_load_v, 1, 1000, "V")
    within("voltage under load", loaded_v, 1, 1000, "V")
    within("current", current_a, 0.1, 1000, "A")
    if loaded_v > no_load_v:
        raise Inconsistent(
            f"The voltage rises under load ({no_load_v:.4g} to {loaded_v:.4g} V): take both readings again."
        )
    per_m = resistance_ohm_per_m(area_mm2, temperature_c, metal, stranded=True)
    drop = no_load_v - loaded_v
    percent, explains = 100 * drop / no_load_v, drop / (_circuit_factor(phases) * current_a * per_m)
    through = current_a * (1.0 if phases == 1 else math.sqrt(3))
    if length_m is None:
        return DropExplained(drop, percent, drop / through, explains, None, None, None)
    expected = drop_v(current_a, length_m, per_m, phases)
    extra = (drop - expected) / through
    return DropExplained(drop, percent, drop / through, explains, expected, extra, extra * current_a**2)


def smallest_awg(
    current_a: float, length_m: float, largest_drop_v: float, phases: int = 1, temperature_c: float = 75.0
) -> int:
    """The thinnest common AWG (14 to 4, stranded copper) whose drop stays within ``largest_drop_v`` (0.1 to 100 V).

    Drop only: the nameplate's least ampacity and greatest fuse, and the local code, decide the size. Raises
    Inconsistent when even 4 AWG drops more.
    Takes ``current_a`` 0 to 1000, ``length_m`` 0 to 5000, ``temperature_c`` -50 to 150.
    """
    within("largest drop", largest_drop_v, 0.1, 100, "V")
    for gauge in COMMON_AWG:
        per_m = resistance_ohm_per_m(awg_area_mm2(gauge), temperature_c, stranded=True)
        if drop_v(current_a, length_m, per_m, phases) <= largest_drop_v:
            return gauge
    raise Inconsistent(
        f"No size up to 4 AWG keeps {current_a:.4g} A over {length_m:.4g} m within {largest_drop_v:.4g} V."
    )
