"""What a value of each quantity may be at all. A calculation's own ranges are narrower and speak first.

So a value that a calculation did not come to use, or a limit that it has no range for, is refused too when it cannot
be: a negative mass, a limit of a million volts. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from assistant.calculations.entry import Calculation, Value
from assistant.calculations.errors import within
from assistant.calculations.uncertainty import Metered

#: Lowest and highest value of a quantity, in the unit kept inside.
WORLD: dict[str, tuple[float, float]] = {
    "resistance": (0, 1e13),
    "voltage_ac": (0, 1e5),
    "voltage_dc": (-1e5, 1e5),
    "current": (0, 1e5),
    "frequency": (0, 1e6),
    "capacitance": (0, 1e7),
    "temperature": (-200, 1000),
    "temperature_difference": (-500, 500),
    "pressure_gauge": (-2000, 1e5),
    "vacuum": (0, 2e5),
    "humidity": (0, 100),
    "mass": (0, 1e4),
    "mass_per_length": (0, 1e4),
    "length": (-1e4, 1e4),
    "density": (0, 1e4),
    "power": (-1e8, 1e8),
    "percent": (-1000, 1000),
    "kelvin": (1, 1e5),
    "speed": (0, 1e6),
    "duration": (0, 1e9),
    "airflow": (0, 1e7),
    "area": (0, 1e6),
    "volume": (0, 1e4),
    "pressure_absolute": (0, 1e5),
}


def refuse_absurd(calculation: Calculation, taken: Mapping[str, Value]) -> None:
    """Raise OutOfRange for a number that no quantity of its kind has; an open line is none."""
    for parameter in calculation.parameters:
        value = taken[parameter.name]
        if isinstance(value, Metered):
            value = None if value.open else value.value
        if isinstance(value, float) and value != float("inf") and parameter.quantity in WORLD:
            within(parameter.about, value, *WORLD[parameter.quantity], parameter.unit)
