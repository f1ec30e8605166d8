"""What a thermistor's resistance is, and what temperature the board makes of it.

R = R25 exp(Beta (1/T - 1/T25)) (the defining formula of Beta, IEC 60539-1).
"""

from __future__ import annotations

from math import exp, inf, log

from tests.field.machine.parts import Sensor
from tests.field.machine.refrigerant import ZERO_C_K

_T25_K = 25 + ZERO_C_K


def ohms(sensor: Sensor, t_c: float) -> float:
    """Resistance at the sensor's own leads."""
    if sensor.broken == "open":
        return inf
    if sensor.broken == "short":
        return 3.0
    return sensor.r25_ohm * sensor.factor * exp(sensor.beta_k * (1 / (t_c + ZERO_C_K) - 1 / _T25_K))


def read_c(sensor: Sensor, t_c: float, bad: bool) -> float | None:
    """The temperature that the board reads through the plug; None when it sees an open or shorted sensor."""
    through = ohms(sensor, t_c) + (inf if bad and sensor.plug.flaky > 0 else sensor.plug.ohm)
    if through > 300 * sensor.r25_ohm or through < 60:
        return None
    return 1 / (1 / _T25_K + log(through / sensor.r25_ohm) / sensor.beta_k) - ZERO_C_K
