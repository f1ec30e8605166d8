"""How long to wait before the bus is measured: computed advice. The meter, never the timer, proves it dead."""

from __future__ import annotations

from assistant.calculations.power_stage import safe_wait_s
from assistant.library.bounds import LONGEST_WAIT_S, SHORTEST_REST_S, SHORTEST_WAIT_S
from assistant.library.profile import UnitProfile
from assistant.reasoning.waiting import wait_minutes


def discharge_wait(profile: UnitProfile | None, measured_v: float | None) -> tuple[float, str]:
    """Seconds to wait and where the figure comes from, spoken.

    ``measured_v`` is a bus voltage just read that was still too high: then only the rest of the way is waited.
    No profile makes it shorter or longer than ``library/bounds.py`` allows.
    """
    if profile is None:
        return 600.0, "Ten minutes is common practice; the meter decides."
    bus = profile.bus
    if measured_v is not None and bus is not None and measured_v > bus.dead_below_v:
        rest_s = safe_wait_s(measured_v, bus.dead_below_v, bus.bleed_ohm, bus.capacitance_uf)
        return min(max(rest_s, SHORTEST_REST_S), LONGEST_WAIT_S), "The meter decides."
    seconds = min(max(60 * wait_minutes(profile), SHORTEST_WAIT_S), LONGEST_WAIT_S)
    origin = "Computed from the profile" if bus is not None and not profile.general else "A general value"
    return seconds, f"{origin}; the meter decides."
