"""Saturation of a refrigerant both ways, from tables made once by CoolProp (see ``make_saturation_tables``).

Temperatures in °C, pressures in kPa absolute. Between two rows, a kelvin or less apart, ln p is a straight line of
1/T (Clausius-Clapeyron), so both directions are exact inverses, monotone, and take a few microseconds.
"""

from __future__ import annotations

import json
import math
import os
from bisect import bisect_right
from functools import cache
from typing import Any

from assistant.calculations.errors import UnknownName, within
from assistant.calculations.halving import last_where
from assistant.calculations.refrigerants import refrigerant

ZERO_C_K = 273.15
PHASES = ("liquid", "vapour")
#: os.path, since pathlib would cost the import 10 ms.
_FOLDER = os.path.join(os.path.dirname(__file__), "saturation_tables")


class SaturationLine:
    """The bubble or the dew line of one refrigerant: rising rows of °C and kPa absolute."""

    def __init__(self, label: str, temperatures_c: list[float], pressures_kpa: list[float]) -> None:
        self.label, self._temperatures = label, temperatures_c
        self.coldest_c, self.hottest_c = temperatures_c[0], temperatures_c[-1]
        self.lowest_kpa, self.highest_kpa = pressures_kpa[0], pressures_kpa[-1]
        self._logs = [math.log(p) for p in pressures_kpa]
        self._inverses = [1 / (t + ZERO_C_K) for t in temperatures_c]

    def pressure_kpa(self, temperature_c: float) -> float:
        """Pressure at ``temperature_c``; OutOfRange outside the table."""
        within(f"{self.label} temperature", temperature_c, self.coldest_c, self.hottest_c, "°C")
        row = min(bisect_right(self._temperatures, temperature_c), len(self._logs) - 1) - 1
        x0, x1 = self._inverses[row], self._inverses[row + 1]
        share = (1 / (temperature_c + ZERO_C_K) - x0) / (x1 - x0)
        return math.exp(self._logs[row] + share * (self._logs[row + 1] - self._logs[row]))

    def temperature_c(self, pressure_kpa: float) -> float:
        """Temperature at ``pressure_kpa``; OutOfRange outside the table."""
        within(f"{self.label} pressure", pressure_kpa, self.lowest_kpa, self.highest_kpa, "kPa absolute")
        log = math.log(pressure_kpa)
        row = min(max(bisect_right(self._logs, log) - 1, 0), len(self._logs) - 2)
        share = (log - self._logs[row]) / (self._logs[row + 1] - self._logs[row])
        return 1 / (self._inverses[row] + share * (self._inverses[row + 1] - self._inverses[row])) - ZERO_C_K


@cache
def _table(name: str) -> dict[str, Any]:
    """The shipped table of a refrigerant by its exact name; read once."""
    with open(os.path.join(_FOLDER, f"{name}.json"), encoding="utf-8") as file:
        return dict(json.load(file))


@cache
def lines_of(name: str) -> tuple[SaturationLine, SaturationLine, str]:
    """Bubble line, dew line and source of a refrigerant by its exact name."""
    data = _table(name)
    rows = data["temperature_c"]
    return (
        SaturationLine(f"{name} bubble", rows, data["bubble_kpa"]),
        SaturationLine(f"{name} dew", rows, data["dew_kpa"]),
        f"{data['made_with']}, {data['equation']}",
    )


def bubble_line(name: str) -> SaturationLine:
    """The line where the last vapour condenses (subcooling counts from it). Raises UnknownName."""
    return lines_of(refrigerant(name).name)[0]


def dew_line(name: str) -> SaturationLine:
    """The line where the last liquid boils (superheat counts from it). Raises UnknownName."""
    return lines_of(refrigerant(name).name)[1]


def saturation_source(name: str) -> str:
    """Library, version and equation of state behind the table of ``name``."""
    return lines_of(refrigerant(name).name)[2]


def bubble_pressure_kpa(name: str, temperature_c: float) -> float:
    """Bubble pressure in kPa absolute; OutOfRange outside -70 °C to just under the critical point."""
    return bubble_line(name).pressure_kpa(temperature_c)


def dew_pressure_kpa(name: str, temperature_c: float) -> float:
    """Dew pressure in kPa absolute; OutOfRange outside -70 °C to just under the critical point."""
    return dew_line(name).pressure_kpa(temperature_c)


def bubble_temperature_c(name: str, pressure_kpa: float) -> float:
    """Bubble temperature in °C at kPa absolute; OutOfRange outside the table."""
    return bubble_line(name).temperature_c(pressure_kpa)


def dew_temperature_c(name: str, pressure_kpa: float) -> float:
    """Dew temperature in °C at kPa absolute; OutOfRange outside the table."""
    return dew_line(name).temperature_c(pressure_kpa)


def midpoint_temperature_c(name: str, pressure_kpa: float) -> float:
    """Mean of bubble and dew temperature at one pressure, °C (what a blend has in a heat exchanger)."""
    return (bubble_temperature_c(name, pressure_kpa) + dew_temperature_c(name, pressure_kpa)) / 2


def midpoint_pressure_kpa(name: str, temperature_c: float) -> float:
    """The pressure in kPa absolute whose midpoint is ``temperature_c``: the inverse, by halving.

    Raises OutOfRange outside the span that bubble and dew tables share.
    """
    low, high = dew_line(name), bubble_line(name)
    low_kpa, high_kpa = max(low.lowest_kpa, high.lowest_kpa), min(low.highest_kpa, high.highest_kpa)
    ends = midpoint_temperature_c(name, low_kpa), midpoint_temperature_c(name, high_kpa)
    within(f"{low.label.removesuffix(' dew')} midpoint temperature", temperature_c, ends[0], ends[1], "°C")
    return last_where(lambda kpa: midpoint_temperature_c(name, kpa) < temperature_c, low_kpa, high_kpa)


def density_kg_m3(name: str, temperature_c: float, phase: str = "liquid") -> float:
    """Density of saturated ``liquid`` or ``vapour`` in kg/m³, straight between the table's rows.

    Raises UnknownName, OutOfRange outside -70 °C to just under the critical point.
    """
    if phase not in PHASES:
        raise UnknownName("phase", phase, PHASES)
    known = refrigerant(name).name
    data = _table(known)
    rows, values = data["temperature_c"], data[f"{phase}_kg_m3"]
    within(f"{known} {phase} temperature", temperature_c, rows[0], rows[-1], "°C")
    place = min(bisect_right(rows, temperature_c), len(rows) - 1) - 1
    share = (temperature_c - rows[place]) / (rows[place + 1] - rows[place])
    return float(values[place] + share * (values[place + 1] - values[place]))


def glide_k(name: str, pressure_kpa: float) -> float:
    """Dew less bubble temperature at one pressure, K (0 for a pure refrigerant)."""
    return dew_temperature_c(name, pressure_kpa) - bubble_temperature_c(name, pressure_kpa)
