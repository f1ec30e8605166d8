"""How long the capacitors need before the bus can be proved dead, from the unit profile."""

from __future__ import annotations

from assistant.calculations.power_stage import bus_peak_v, safe_wait_s
from assistant.library.profile import UnitProfile
from assistant.reasoning.effort import DEFAULT_WAIT_MIN


def wait_minutes(profile: UnitProfile) -> float:
    """Minutes from switching off until the bus is expected below its limit; the usual wait without bus data.

    For planning only: a bus is dead when a meter says so.
    """
    bus = profile.bus
    if bus is None:
        return DEFAULT_WAIT_MIN
    start_v = bus.boosted_v or bus_peak_v(profile.supply.nominal_v)
    return safe_wait_s(start_v, bus.dead_below_v, bus.bleed_ohm, bus.capacitance_uf) / 60
