"""The gauge pressures that are plausible for the conditions, running in cooling or heating.

The temperature differences between air and refrigerant are common practice, no source (an inverter unit at part load
works with the small ones); the pressures follow from the saturation tables.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from assistant.calculations.atmosphere import gauge_kpa
from assistant.calculations.errors import UnknownName, within
from assistant.calculations.saturation import bubble_pressure_kpa, dew_pressure_kpa

Mode = Literal["cooling", "heating"]
#: Kelvin between the air and the refrigerant: evaporator colder than its air by 5 to 25, condenser warmer by 4 to 22.
EVAPORATOR_K, CONDENSER_K = (5.0, 25.0), (4.0, 22.0)
ENVELOPE_SOURCE = (
    "saturation at 5 to 25 K below the evaporator's air and 4 to 22 K above the condenser's air: "
    "common practice, no source"
)


class Envelope(NamedTuple):
    """Plausible gauge pressures in kPa, low and high, and the coil temperatures in °C behind them."""

    suction_kpa: tuple[float, float]
    discharge_kpa: tuple[float, float]
    evaporating_c: tuple[float, float]
    condensing_c: tuple[float, float]


def pressure_envelope(
    refrigerant: str, mode: str, indoor_c: float, outdoor_c: float, altitude_m: float = 0.0
) -> Envelope:
    """What suction and discharge may show with ``indoor_c`` (0 to 45) and ``outdoor_c`` (-35 to 55) air.

    The evaporator is indoors in cooling, outdoors in heating. Raises UnknownName for another mode, OutOfRange when the
    condenser would pass the refrigerant's table (too near its critical point to be judged).
    Takes ``altitude_m`` -500 to 9000.
    """
    within("indoor temperature", indoor_c, 0, 45, "°C")
    within("outdoor temperature", outdoor_c, -35, 55, "°C")
    if mode not in ("cooling", "heating"):
        raise UnknownName("mode", mode, ("cooling", "heating"))
    source_c, sink_c = (indoor_c, outdoor_c) if mode == "cooling" else (outdoor_c, indoor_c)
    evaporating = source_c - EVAPORATOR_K[1], source_c - EVAPORATOR_K[0]
    # A condenser cannot be colder than the evaporator's own coil, whatever the air.
    condensing = max(sink_c, evaporating[1]) + CONDENSER_K[0], max(sink_c, evaporating[1]) + CONDENSER_K[1]
    suction = tuple(gauge_kpa(dew_pressure_kpa(refrigerant, t), altitude_m) for t in evaporating)
    discharge = tuple(gauge_kpa(bubble_pressure_kpa(refrigerant, t), altitude_m) for t in condensing)
    return Envelope((suction[0], suction[1]), (discharge[0], discharge[1]), evaporating, condensing)
