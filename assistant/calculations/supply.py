"""The supply at the unit's terminals: bands by standard, unbalance, derating, frequency. Volts RMS, Hz, percent."""

from __future__ import annotations

from typing import Literal

from assistant.calculations.departure import largest_departure_percent
from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.found import Limit
from assistant.calculations.monotone import MonotoneCurve
from assistant.quantities.supplies import SUPPLIES

System = Literal[
    "single-phase-115", "single-phase-230", "split-phase-240", "wye-208", "three-phase-400", "three-phase-480"
]
Standard = Literal[
    "c84.1-service-a",
    "c84.1-service-b",
    "c84.1-utilization-a",
    "c84.1-utilization-b",
    "iec-60038",
    "en-50160-extreme",
    "motor-10-percent",
]

#: Nominal system voltage between the terminals that feed the unit: what a band of C84.1 counts from. The nameplate may
#: print less, see ``rated_v``.
NOMINAL_V: dict[System, float] = {
    "single-phase-115": 120.0,
    "single-phase-230": 230.0,
    "split-phase-240": 240.0,
    "wye-208": 208.0,
    "three-phase-400": 400.0,
    "three-phase-480": 480.0,
}
#: What a nameplate prints for the systems that no visit knows yet (ANSI C84.1, table 1).
_NAMEPLATE_V: dict[System, float] = {"three-phase-480": 460.0}

#: Low and high in V. ANSI C84.1 table 1 (120 V base; 208 V row scaled and rounded as the table does), IEC 60038
#: table 1 (±10 %), EN 50160 (+10/-15 % for the last 5 % of 10-minute means).
_BANDS: dict[tuple[System, Standard], tuple[float, float]] = {
    ("single-phase-115", "c84.1-service-a"): (114, 126),
    ("single-phase-115", "c84.1-service-b"): (110, 127),
    ("single-phase-115", "c84.1-utilization-a"): (108, 126),
    ("single-phase-115", "c84.1-utilization-b"): (104, 127),
    ("split-phase-240", "c84.1-service-a"): (228, 252),
    ("split-phase-240", "c84.1-service-b"): (220, 254),
    ("split-phase-240", "c84.1-utilization-a"): (216, 252),
    ("split-phase-240", "c84.1-utilization-b"): (208, 254),
    ("wye-208", "c84.1-service-a"): (197, 218),
    ("wye-208", "c84.1-service-b"): (191, 220),
    ("wye-208", "c84.1-utilization-a"): (187, 218),
    ("wye-208", "c84.1-utilization-b"): (180, 220),
    ("three-phase-480", "c84.1-service-a"): (456, 504),
    ("three-phase-480", "c84.1-service-b"): (440, 508),
    ("three-phase-480", "c84.1-utilization-a"): (432, 504),
    ("three-phase-480", "c84.1-utilization-b"): (416, 508),
    ("single-phase-230", "iec-60038"): (207, 253),
    ("three-phase-400", "iec-60038"): (360, 440),
    ("single-phase-230", "en-50160-extreme"): (195.5, 253),
    ("three-phase-400", "en-50160-extreme"): (340, 440),
}
BAND_SOURCE: dict[Standard, str] = {
    "c84.1-service-a": "ANSI C84.1, service voltage, range A",
    "c84.1-service-b": "ANSI C84.1, service voltage, range B",
    "c84.1-utilization-a": "ANSI C84.1, utilization voltage, range A",
    "c84.1-utilization-b": "ANSI C84.1, utilization voltage, range B",
    "iec-60038": "IEC 60038, nominal ±10 %",
    "en-50160-extreme": "EN 50160, +10/-15 % for all 10-minute means",
    "motor-10-percent": "NEMA MG-1, rated voltage ±10 %",
}
USUAL_STANDARD: dict[System, Standard] = {
    "single-phase-115": "c84.1-utilization-a",
    "single-phase-230": "iec-60038",
    "split-phase-240": "c84.1-utilization-a",
    "wye-208": "c84.1-utilization-a",
    "three-phase-400": "iec-60038",
    "three-phase-480": "c84.1-utilization-a",
}

#: What is printed on the unit: its lowest and highest rated volts.
NAMEPLATES: dict[str, tuple[float, float]] = {
    "115": (115, 115),
    "200": (200, 200),
    "208": (208, 208),
    "208/230": (208, 230),
    "230": (230, 230),
    "220-240": (220, 240),
    "265": (265, 265),
    "380-415": (380, 415),
    "460": (460, 460),
    "575": (575, 575),
}
NAMEPLATE_SOURCE = (
    "10 % below the lowest to 10 % above the highest rated voltage on the nameplate (AHRI Standard 110, from memory; "
    "187 to 253 V for 208/230 in a compressor maker's bulletin)"
)

#: Largest unbalance of three phases.
UNBALANCE_PERCENT = Limit(
    3.0, "ANSI C84.1: 3 % at the meter without load (from memory); NEMA MG-1 derates motors from 1 %"
)
UNBALANCE_SOURCE = "NEMA MG-1, 12.45: largest departure from the mean of the line-to-line voltages"
#: Derating of motors by unbalance, in percent and factor: NEMA MG-1 figure 14-1 read at whole percents (from memory).
_DERATING = MonotoneCurve([1.0, 2.0, 3.0, 4.0, 5.0], [1.0, 0.95, 0.88, 0.82, 0.75], "voltage unbalance")
DERATING_SOURCE = "NEMA MG-1, figure 14-1; 3 to 5 % from memory"


def rated_v(system: System) -> float:
    """What the nameplate of a unit for this system prints, volts: 115 on a 120 V system. Source: ANSI C84.1, table 1.

    Raises UnknownName for another system.
    """
    if system not in NOMINAL_V:
        raise UnknownName("supply system", system, NOMINAL_V)
    return SUPPLIES[system].nameplate_v if system in SUPPLIES else _NAMEPLATE_V[system]


def band_v(system: System, standard: Standard) -> tuple[float, float]:
    """Lowest and highest allowed volts. Raises UnknownName for a pair that no table has."""
    if system not in NOMINAL_V:
        raise UnknownName("supply system", system, NOMINAL_V)
    if standard not in BAND_SOURCE:
        raise UnknownName("supply standard", standard, BAND_SOURCE)
    if standard == "motor-10-percent":
        return rated_v(system) * 0.9, rated_v(system) * 1.1
    if (system, standard) not in _BANDS:
        raise UnknownName(
            f"standard for {system}", standard, [*(s for y, s in _BANDS if y == system), "motor-10-percent"]
        )
    return _BANDS[system, standard]


def nameplate_band_v(nameplate: str) -> tuple[float, float]:
    """Lowest and highest volts that a unit with ``nameplate`` (of ``NAMEPLATES``) stands. Source: NAMEPLATE_SOURCE."""
    if nameplate not in NAMEPLATES:
        raise UnknownName("nameplate voltage", nameplate, NAMEPLATES)
    low, high = NAMEPLATES[nameplate]
    return low * 0.9, high * 1.1


def limits_v(
    system: System, standard: Standard | None = None, nameplate: str | None = None
) -> tuple[float, float, str]:
    """Lowest and highest volts and their source: by nameplate where it is given, else by standard or the usual one."""
    if nameplate is not None:
        return (*nameplate_band_v(nameplate), NAMEPLATE_SOURCE)
    if system not in NOMINAL_V:
        raise UnknownName("supply system", system, NOMINAL_V)
    chosen = standard or USUAL_STANDARD[system]
    return (*band_v(system, chosen), BAND_SOURCE[chosen])


def unbalance_percent(l1_l2_v: float, l2_l3_v: float, l3_l1_v: float) -> float:
    """100·max|V - mean|/mean in %, 0 to 200; each voltage 0 to 1000 V, not all zero. Source: UNBALANCE_SOURCE."""
    values = (l1_l2_v, l2_l3_v, l3_l1_v)
    for value in values:
        within("line-to-line voltage", value, 0, 1000, "V")
    if sum(values) < 3:
        raise Inconsistent("All three line-to-line voltages are about zero, so there is no unbalance to speak of.")
    return largest_departure_percent(values)


def derating_factor(percent: float) -> float:
    """Share of its rated power that a motor may give at ``percent`` unbalance (0 to 5 %). Source: DERATING_SOURCE.

    1 up to 1 %; above 5 % the motor should not be run (MG-1), so OutOfRange.
    """
    within("voltage unbalance", percent, 0, 5, "%")
    return 1.0 if percent <= 1 else _DERATING.at(percent)


#: Allowed departure of the frequency in percent.
_FREQUENCY_PERCENT = {"motor-5-percent": 5.0, "en-50160": 1.0}
FREQUENCY_SOURCE = {
    "motor-5-percent": "NEMA MG-1, 12.44: rated frequency ±5 %",
    "en-50160": "EN 50160: 50 Hz ±1 % for 99.5 % of a year",
}


def frequency_band_hz(nominal_hz: float, standard: str = "motor-5-percent") -> tuple[float, float]:
    """Lowest and highest frequency around ``nominal_hz`` (45 to 65). Source: FREQUENCY_SOURCE."""
    within("nominal frequency", nominal_hz, 45, 65, "Hz")
    if standard not in _FREQUENCY_PERCENT:
        raise UnknownName("frequency standard", standard, _FREQUENCY_PERCENT)
    share = _FREQUENCY_PERCENT[standard] / 100
    return nominal_hz * (1 - share), nominal_hz * (1 + share)
