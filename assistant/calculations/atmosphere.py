"""Atmospheric pressure by altitude, and gauge pressures. kPa and m."""

from __future__ import annotations

from assistant.calculations.errors import within

SEA_LEVEL_KPA = 101.325
#: What the weather (2 kPa) and an altitude known to 100 m (1.2 kPa) leave open, 95 %. Common practice, no source.
ATMOSPHERE_EXPANDED_KPA = 2.4
ATMOSPHERE_SOURCE = (
    "p = 101.325·(1 - 2.25577e-5·Z)^5.2559 kPa, ASHRAE Fundamentals psychrometrics (US Standard Atmosphere)"
)


def atmospheric_kpa(altitude_m: float = 0.0) -> float:
    """Standard atmospheric pressure in kPa at ``altitude_m``, -500 to 9000 m. Source: ATMOSPHERE_SOURCE."""
    within("altitude", altitude_m, -500, 9000, "m")
    return float(SEA_LEVEL_KPA * (1 - 2.25577e-5 * altitude_m) ** 5.2559)


def absolute_kpa(gauge_kpa: float, altitude_m: float = 0.0) -> float:
    """Absolute pressure in kPa from gauge, 0 absolute to 10 000 kPa gauge. Definition.

    Takes ``gauge_kpa`` -101.325 to 10000, ``altitude_m`` -500 to 9000.
    """
    local = atmospheric_kpa(altitude_m)
    return within("gauge pressure", gauge_kpa, -local, 10_000, "kPa") + local


def gauge_kpa(absolute: float, altitude_m: float = 0.0) -> float:
    """Gauge pressure in kPa from ``absolute`` (0 to 20 000 kPa). Definition.

    Takes ``altitude_m`` -500 to 9000.
    """
    return within("absolute pressure", absolute, 0, 20_000, "kPa") - atmospheric_kpa(altitude_m)
