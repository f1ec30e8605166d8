"""What is wrong with a supply, from the pattern of all its readings: a lost leg, neutral or ground.

Readings are volts RMS by place: "l1-l2", "l2-l3", "l3-l1", "l1-g", "l2-g", "l3-g", "l1-n", "l2-n", "l3-n", "n-g";
for a single leg and neutral "l-n", "l-g", "n-g". The rules follow from the circuit (Kirchhoff's voltage law and the
phase angles of the system); their bands are common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Literal, NamedTuple

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.supply import NOMINAL_V, System

Pattern = Literal[
    "consistent",
    "dead",
    "leg-missing",
    "legs-alike",
    "neutral-missing",
    "ground-missing",
    "swapped",
    "high-leg",
    "corner-grounded",
    "other-system",
    "unexplained",
]

PLACES = ("l1-l2", "l2-l3", "l3-l1", "l1-g", "l2-g", "l3-g", "l1-n", "l2-n", "l3-n", "n-g", "l-n", "l-g")
RULES_SOURCE = "Kirchhoff's voltage law and the phase angles of the system; bands of 15 %: common practice, no source"

#: Places of a single leg and its neutral alone.
_ONE_LEG = ("l-n", "l-g")
_LOW = 0.3  # of what the place should read: a lost leg, or what leaks back through a load
_NEAR = 0.15
_LEGS: dict[System, int] = {"split-phase-240": 2, "wye-208": 3, "three-phase-400": 3, "three-phase-480": 3}
#: Places that a supply of so many legs has not.
_FOREIGN = {
    1: tuple(place for place in PLACES if any(sign.isdigit() for sign in place)),
    2: tuple(place for place in PLACES if "3" in place or place in _ONE_LEG),
    3: _ONE_LEG,
}


class SupplyPattern(NamedTuple):
    """``pattern`` with the ``legs`` it speaks of ("l1", ...) and ``reason``, one sentence with the numbers."""

    pattern: Pattern
    legs: tuple[str, ...]
    reason: str


def supply_pattern(system: System, readings: Mapping[str, float]) -> SupplyPattern:
    """Recognise the pattern of ``readings`` (0 to 1000 V) of one supply.

    Legs to neutral or ground may be missing from the readings, but then the pattern says less. A "wye-208" or
    "three-phase-400" unit fed by two legs gives "l1-l2", "l1-g", "l2-g" only. Raises UnknownName for a place or
    system that does not exist, Inconsistent when there are too few readings to say anything or a place is of another
    system.
    """
    if system not in NOMINAL_V:
        raise UnknownName("supply system", system, NOMINAL_V)
    for place, volts in readings.items():
        if place not in PLACES:
            raise UnknownName("supply place", place, PLACES)
        if place in _FOREIGN[_LEGS.get(system, 1)]:
            raise Inconsistent(f"There is no {place} in a {system} supply: look at the place, or at the system.")
        within(f"voltage {place}", volts, 0, 1000, "V")
    if system in ("single-phase-115", "single-phase-230"):
        return _one_leg(NOMINAL_V[system], readings)
    if "l1-l2" not in readings:
        raise Inconsistent("The voltage from leg one to leg two is needed to recognise the supply's pattern.")
    if max(readings.values()) < 0.1 * NOMINAL_V[system]:
        return SupplyPattern("dead", (), f"No place reads more than {max(readings.values()):.0f} V.")
    legs = 3 if _LEGS[system] == 3 and "l2-l3" in readings and "l3-l1" in readings else 2
    return _legs(system, legs, readings)


def _near(value: float, target: float) -> bool:
    return abs(value - target) <= _NEAR * target


def _one_leg(nominal: float, readings: Mapping[str, float]) -> SupplyPattern:
    if "l-n" not in readings or "l-g" not in readings:
        raise Inconsistent("Line to neutral and line to ground are both needed to recognise the supply's pattern.")
    l_n, l_g, n_g = readings["l-n"], readings["l-g"], readings.get("n-g")
    top = max(readings.values())
    if top < 0.1 * nominal:
        return SupplyPattern("dead", (), f"No place reads more than {top:.0f} V.")
    numbers = f"Line to neutral {l_n:.0f} V, line to ground {l_g:.0f} V" + (
        "" if n_g is None else f", neutral to ground {n_g:.0f} V"
    )
    neutral_fits, ground_fits = _near(l_n, nominal), _near(l_g, nominal)
    if neutral_fits and ground_fits and (n_g is None or n_g < 0.1 * nominal):
        return SupplyPattern("consistent", (), numbers + ": line, neutral and ground fit together.")
    if neutral_fits and n_g is not None and _near(n_g, nominal) and l_g < _LOW * nominal:
        return SupplyPattern("swapped", (), numbers + ": line and neutral have changed places.")
    if neutral_fits and not ground_fits:
        return SupplyPattern("ground-missing", (), numbers + ": ground floats, it is not connected.")
    if ground_fits and l_n < (1 - _NEAR) * nominal:
        return SupplyPattern("neutral-missing", (), numbers + ": the line is there, the neutral is not connected.")
    if n_g is not None and n_g > 0.5 * nominal and l_g < _LOW * nominal:
        return SupplyPattern("leg-missing", ("l",), numbers + ": the line is lost; neutral is fed from elsewhere.")
    return SupplyPattern("unexplained", (), numbers + ": this fits no single fault.")


def _legs(system: System, count: int, readings: Mapping[str, float]) -> SupplyPattern:
    nominal = NOMINAL_V[system]
    ratio = 2.0 if system == "split-phase-240" else math.sqrt(3)
    leg_v = nominal / ratio
    names = [f"l{i + 1}" for i in range(count)]
    pair_names = ["l1-l2"] if count == 2 else ["l1-l2", "l2-l3", "l3-l1"]
    pairs = {p: readings[p] for p in pair_names}
    grounds = {n: readings[f"{n}-g"] for n in names if f"{n}-g" in readings}
    numbers = ", ".join(f"{p} {v:.0f} V" for p, v in readings.items())
    lost = _lost_legs(names, pairs, grounds, nominal, leg_v)
    if lost is not None:
        return SupplyPattern(lost[0], lost[1], f"{numbers}: {lost[2]}.")
    other = _other_system(system, numbers, pairs, grounds)
    if other is not None:
        return other
    if not all(_near(v, nominal) for v in pairs.values()):
        return SupplyPattern("unexplained", (), f"{numbers}: the legs do not fit {nominal:.0f} V between them.")
    neutral = _neutral(names, readings, leg_v)
    if neutral:
        return SupplyPattern("neutral-missing", (), f"{numbers}: {neutral}.")
    if len(grounds) < count:
        return SupplyPattern("consistent", (), f"{numbers}: the legs fit {nominal:.0f} V; ground was not compared.")
    return _to_ground(system, numbers, grounds, leg_v)


def _lost_legs(
    names: list[str], pairs: Mapping[str, float], grounds: Mapping[str, float], nominal: float, leg_v: float
) -> tuple[Pattern, tuple[str, ...], str] | None:
    """A leg that is not there: near nothing to ground, or every pair with it low and a pair without it whole."""
    whole = {p for p, v in pairs.items() if _near(v, nominal)}
    weak = [n for n in names if n in grounds and grounds[n] < _LOW * leg_v]
    if weak and len(whole) == len(pairs):
        others = [grounds[n] for n in names if n in grounds and n not in weak]
        if len(weak) == 1 and others and all(_near(v, nominal) for v in others):
            return "corner-grounded", tuple(weak), f"{weak[0]} is the grounded corner of a delta"
        return None
    if weak:
        return "leg-missing", tuple(weak), f"{' and '.join(weak)} to ground is near nothing"
    if len(names) == 2 and not whole and len(grounds) == 2 and pairs["l1-l2"] < _LOW * nominal:
        return "legs-alike", ("l1", "l2"), "both terminals carry the same leg: one is lost and fed back through a load"
    if len(names) == 3 and len(whole) == 1:
        kept = next(iter(whole)).split("-")
        gone = tuple(n for n in names if n not in kept)
        return "leg-missing", gone, f"both pairs with {gone[0]} are low while the third is whole"
    return None


def _neutral(names: list[str], readings: Mapping[str, float], leg_v: float) -> str:
    to_neutral = {n: readings[f"{n}-n"] for n in names if f"{n}-n" in readings}
    if not to_neutral:
        return ""
    if readings.get("n-g", 0.0) > _NEAR * leg_v:
        return f"neutral stands {readings['n-g']:.0f} V from ground"
    if any(not _near(v, leg_v) for v in to_neutral.values()):
        return "the legs to neutral are uneven though the legs themselves are whole"
    return ""


def _other_system(
    system: System, numbers: str, pairs: Mapping[str, float], grounds: Mapping[str, float]
) -> SupplyPattern | None:
    """Two like legs tell by their ratio whether they are a split phase (2) or two of a wye (√3)."""
    legs = list(grounds.values())
    if len(legs) != 2 or len(pairs) != 1 or not _near(legs[0], 120.0) or not _near(legs[1], legs[0]):
        return None
    measured = 2 * pairs["l1-l2"] / sum(legs)
    split = measured > (2 + math.sqrt(3)) / 2
    if split == (system == "split-phase-240") or not 1.6 < measured < 2.15:
        return None
    found = "a split phase" if split else "two legs of a wye"
    return SupplyPattern(
        "other-system", (), f"{numbers}: leg to leg is {measured:.2f} times leg to ground, which is {found}."
    )


def _to_ground(system: System, numbers: str, grounds: Mapping[str, float], leg_v: float) -> SupplyPattern:
    if all(_near(v, leg_v) for v in grounds.values()):
        return SupplyPattern("consistent", (), f"{numbers}: legs and ground fit together.")
    high = [n for n, v in grounds.items() if _near(v, leg_v * math.sqrt(3)) and not _near(v, leg_v)]
    if system != "wye-208" and len(high) == 1 and all(_near(v, leg_v) for n, v in grounds.items() if n not in high):
        return SupplyPattern("high-leg", tuple(high), f"{numbers}: {high[0]} is the high leg of a delta.")
    return SupplyPattern("ground-missing", (), f"{numbers}: the legs are whole but ground floats, it is not connected.")
