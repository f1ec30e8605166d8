"""The technician's instruments: percent of reading, offset, resolution, drift, and where their range ends.

Figures are those of middling handheld instruments, from memory; a meter keeps its own drift for the whole visit.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from math import inf

from tests.field.world import Found


@dataclass(frozen=True)
class Class:
    """95 % of readings lie within percent and offset; ``top`` ends the range (an open line above, for ohms)."""

    percent: float
    offset: float
    resolution: float
    top: float = inf


CLASSES: dict[str, Class] = {
    "voltage_ac": Class(1.0, 0.4, 0.1, 1000),
    "voltage_dc": Class(0.6, 0.02, 0.01, 1000),
    "current": Class(2.0, 0.06, 0.01, 400),
    "resistance": Class(1.0, 0.05, 0.01, 5e10),
    "frequency": Class(0.1, 0.1, 0.01, 1e5),
    "capacitance": Class(3.0, 1.0, 1.0, 1e4),
    "temperature": Class(0.5, 0.6, 0.1, 400),
    "pressure_gauge": Class(1.0, 6.0, 1.0, 6000),
    "vacuum": Class(8.0, 1.0, 1.0, 1e5),
    "mass": Class(0.3, 0.005, 0.005, 100),
    "length": Class(1.5, 0.02, 0.05, 200),
    "speed": Class(1.0, 4.0, 1.0, 1e4),
}
#: A zeroed low-ohm range or a four-wire meter, for windings of about an ohm.
_LOW_OHM = Class(0.5, 0.004, 0.001, 2000)
_LOW_OHM_TOP = 20.0
#: From here on a resistance is read with the insulation tester, which is coarse.
_MEGGER_OHM = 4e7
_MEGGER = Class(8.0, 2e4, 1e4, 2e9)


class Meters:
    """One technician's set; the same drift all visit, fresh noise each reading."""

    def __init__(self, rng: random.Random, low_ohm: bool = False) -> None:
        self._rng = rng
        self._low_ohm = low_ohm
        self._drift = {quantity: rng.gauss(0, 0.35) for quantity in CLASSES}

    def shows(self, quantity: str, true: float) -> float:
        """The number on the display for a true value; ``inf`` beyond the range."""
        own = CLASSES[quantity]
        if quantity == "resistance" and true > _MEGGER_OHM:
            own = _MEGGER
        if quantity == "resistance" and self._low_ohm and true < _LOW_OHM_TOP:
            own = _LOW_OHM
        if abs(true) > own.top or true == inf:
            return inf
        spread = self._drift[quantity] + self._rng.gauss(0, 0.3)
        shown = true * (1 + own.percent / 100 * spread) + own.offset * spread
        step = max(own.resolution, 10 ** (_magnitude(shown) - 4))  # four digits
        rounded = round(shown / step) * step
        return float(max(rounded, 0.0) if true >= 0 and quantity != "temperature" else rounded)

    def reads(self, quantity: str, found: Found) -> Found:
        """A finding of the world as this set of meters shows it."""
        if found.open_line:
            return found
        if found.span is not None:
            low, high = (self.shows(quantity, end) for end in found.span)
            return Found(span=(min(low, high), max(low, high)))
        if found.values:
            return Found(values={place: self.shows(quantity, value) for place, value in found.values.items()})
        shown = self.shows(quantity, found.value if found.value is not None else 0.0)
        return Found(open_line=True) if shown == inf else Found(shown)


def _magnitude(value: float) -> int:
    """Digits before the point."""
    digits = 1
    while abs(value) >= 10**digits:
        digits += 1
    return digits
