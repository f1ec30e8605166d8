"""Three readings between three points: none is larger than the two others together, whatever is broken.

Volts RMS by Kirchhoff's voltage law and Minkowski's inequality; ohms because resistance between terminals is a distance
(Klein and Randić, J. Math. Chem. 12 (1993), from memory).
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.calculations.errors import Inconsistent
from assistant.calculations.found import Limit
from assistant.calculations.uncertainty import Metered

#: What three readings taken one after the other may be off from fitting together, in percent of the largest.
APART_PERCENT = Limit(5.0)


def refuse_what_cannot_be(readings: Mapping[str, Metered], unit: str) -> None:
    """Raise Inconsistent where one of three readings by place is larger than the two others together.

    ``unit`` is how theirs is written. An open line is larger than anything but another one. Their instruments'
    uncertainty, and ``APART_PERCENT`` of the largest, are granted.
    """
    place = max(readings, key=lambda name: readings[name].value)
    largest, others = readings[place], [reading for name, reading in readings.items() if name != place]
    together = sum(reading.value for reading in others)
    if math.isinf(together):
        return
    granted = sum(reading.expanded for reading in others)
    if not largest.open:
        granted += largest.expanded + largest.value * APART_PERCENT / 100
    if largest.value > together + granted:
        shown = "an open line" if largest.open else f"{largest.value:.4g} {unit}"
        raise Inconsistent(
            f"{place} at {shown} is more than the two other readings together ({together:.4g} {unit}), which nothing "
            "can cause: look at the probes and measure all three again."
        )
