"""The supply judged: one voltage or three against the band, their unbalance, a leg that is not there; frequency."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.calculations.departure import largest_departure_percent
from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.found import Found, certain, sided
from assistant.calculations.sampling import judged_by_sampling
from assistant.calculations.supply import (
    UNBALANCE_PERCENT,
    Standard,
    System,
    derating_factor,
    frequency_band_hz,
    limits_v,
    unbalance_percent,
)
from assistant.calculations.supply_pattern import supply_pattern
from assistant.calculations.triangle import refuse_what_cannot_be
from assistant.calculations.uncertainty import Metered, judged

OUTCOMES = ("ok", "low", "high", "unbalanced", "lost-leg")
PAIRS = ("l1-l2", "l2-l3", "l3-l1")
#: A place under this share of its lower limit carries nothing, or only what leaks back through a load.
LOST_SHARE = 0.5
LOST_SOURCE = "a leg is lost under half of the lower limit, or where only one pair of three is whole: " + (
    "common practice, no source"
)


def judge_supply(
    voltages: Mapping[str, Metered],
    system: System,
    standard: Standard | None = None,
    nameplate: str | None = None,
    low_v: float | None = None,
    high_v: float | None = None,
    unbalance_limit_percent: float | None = UNBALANCE_PERCENT,
) -> Found:
    """Judge volts RMS (0 to 1000) by place: one voltage, or the three pairs of ``PAIRS``.

    The band is ``low_v`` to ``high_v`` where they are given, else that of the nameplate, the standard, or the usual
    standard of the system. ok, low, high, of three also unbalanced, and lost-leg. Values: voltage (the worst), low,
    high, band_source, unbalance (%) and derating where there are three. Source: LOST_SOURCE for a lost leg.
    Raises OutOfRange, UnknownName, and Inconsistent for two voltages or none, or three that cannot be.
    """
    if len(voltages) not in (1, 3):
        raise Inconsistent(f"A supply is judged by one voltage or three, not {len(voltages)}.")
    for place, volts in voltages.items():
        within(f"supply voltage {place}".strip(), 0.0 if volts.open else volts.value, 0, 1000, "V")
    if len(voltages) == 3:
        refuse_what_cannot_be(voltages, "V")
    low, high, source = limits_v(system, standard, nameplate)
    if low_v is not None or high_v is not None:
        low, high, source = low_v or low, high_v or high, ""
    worst = min(voltages, key=lambda place: min(voltages[place].value - low, high - voltages[place].value))
    values: dict[str, float | str | None] = {"voltage": voltages[worst].value, "low": low, "high": high}
    values |= {"band_source": source, "unbalance": None, "derating": None}
    lost = _lost(voltages, system, low)
    if lost:
        return Found(certain("lost-leg", OUTCOMES), ("ok",), values=values, places=lost)
    against = judged(voltages[worst].value, voltages[worst].expanded, low, high)
    chances = {**sided(against), "unbalanced": 0.0, "lost-leg": 0.0}
    places = (worst,) if worst else ()
    if len(voltages) == 3 and unbalance_limit_percent is not None:
        uneven = judge_unbalance(tuple(voltages.values()), unbalance_limit_percent)
        values |= uneven.values
        chances["unbalanced"] = chances["ok"] * uneven.chances["unbalanced"]
        chances["ok"] -= chances["unbalanced"]
        if max(chances, key=lambda name: chances[name]) in ("ok", "unbalanced") and against.verdict == "pass":
            against = uneven.against or against
    return Found(chances, ("ok",), values=values, against=against, places=places)


def _lost(voltages: Mapping[str, Metered], system: System, low: float) -> tuple[str, ...]:
    """Places that carry nothing; of three pairs with only one whole, the leg that the two others share."""
    gone = tuple(place for place, volts in voltages.items() if volts.value < LOST_SHARE * low)
    if gone or tuple(voltages) != PAIRS:
        return gone
    try:
        pattern = supply_pattern(system, {place: volts.value for place, volts in voltages.items()})
    except Inconsistent:
        return ()
    return pattern.legs if pattern.pattern == "leg-missing" else ()


def judge_unbalance(voltages: tuple[Metered, ...], limit_percent: float = UNBALANCE_PERCENT) -> Found:
    """Judge the unbalance of three line-to-line voltages against ``limit_percent`` (0.1 to 5 %): ok or unbalanced.

    1 % needs no derating (MG-1); 3 % is what C84.1 advises at most. One meter reads all three, so its common error
    cancels; judged by sampling, since equal voltages are at a kink. Values: unbalance (%), derating (None above 5 %).
    Raises Inconsistent for three that cannot be.
    """
    within("unbalance limit", limit_percent, 0.1, 5, "%")
    refuse_what_cannot_be(dict(zip(PAIRS, voltages, strict=True)), "V")
    first, second, third = voltages
    percent = unbalance_percent(first.value, second.value, third.value)
    against = judged_by_sampling(_departure, voltages, None, limit_percent)
    values = {"unbalance": percent, "derating": derating_factor(percent) if percent <= 5 else None}
    return Found(sided(against, ("ok", "ok", "unbalanced")), ("ok",), values=values, against=against)


def _departure(*volts: float) -> float:
    return largest_departure_percent([max(v, 1e-6) for v in volts])


def judge_frequency(frequency: Metered, nominal_hz: float, standard: str = "motor-5-percent") -> Found:
    """Judge a frequency (0 to 1000 Hz) against ``nominal_hz`` (45 to 65): ok, low or high."""
    within("frequency", frequency.value, 0, 1000, "Hz")
    against = judged(frequency.value, frequency.expanded, *frequency_band_hz(nominal_hz, standard))
    return Found(sided(against), ("ok",), values={"frequency": frequency.value}, against=against)
