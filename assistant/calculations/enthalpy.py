"""Enthalpy of a refrigerant at saturation and near it, for the pressure-enthalpy diagram. kJ/kg, °C, kPa absolute.

From tables made once by CoolProp (``make_enthalpy_tables``), straight between rows two kelvins apart; 200 kJ/kg for
saturated liquid at 0 °C. Away from saturation the specific heat goes straight from that at saturation through the mean
over 15 K of subcooling or 20 K of superheat: within 2 kJ/kg there, 20 K below the critical point (tests).
"""

from __future__ import annotations

import json
import os
from bisect import bisect_right
from functools import cache

from assistant.calculations.errors import within
from assistant.calculations.refrigerants import refrigerant
from assistant.calculations.saturation import bubble_line, dew_line

ENTHALPY_SOURCE = "enthalpy at saturation from CoolProp, near it with CoolProp's specific heats"
#: Over which the tables' mean specific heats reach.
SUBCOOLED_K, SUPERHEATED_K = 15.0, 20.0
_FOLDER = os.path.join(os.path.dirname(__file__), "enthalpy_tables")


@cache
def _rows(name: str) -> tuple[tuple[float, ...], ...]:
    with open(os.path.join(_FOLDER, f"{name}.json"), encoding="utf-8") as file:
        return tuple(tuple(float(value) for value in row) for row in json.load(file)["rows"])


def span_c(name: str) -> tuple[float, float]:
    """The coldest and the hottest saturation temperature of the table. Raises UnknownName."""
    rows = _rows(refrigerant(name).name)
    return rows[0][0], rows[-1][0]


def _at(name: str, temperature_c: float) -> tuple[float, ...]:
    rows = _rows(refrigerant(name).name)
    within("saturation temperature", temperature_c, rows[0][0], rows[-1][0], "°C")
    place = min(bisect_right(rows, (temperature_c, float("inf"))), len(rows) - 1)
    low, high = rows[max(0, place - 1)], rows[place]
    share = 0.0 if high[0] == low[0] else (temperature_c - low[0]) / (high[0] - low[0])
    return tuple(a + share * (b - a) for a, b in zip(low, high, strict=True))


def liquid_kj_kg(name: str, temperature_c: float) -> float:
    """Saturated liquid at ``temperature_c``. Raises OutOfRange outside the table, UnknownName."""
    return _at(name, temperature_c)[1]


def vapour_kj_kg(name: str, temperature_c: float) -> float:
    """Saturated vapour at ``temperature_c``. Raises OutOfRange outside the table, UnknownName."""
    return _at(name, temperature_c)[2]


def suction_kj_kg(name: str, pressure_kpa: float, line_c: float) -> float:
    """Vapour of ``line_c`` at ``pressure_kpa`` absolute, superheated or (below the dew point) at the dew point.

    ``line_c`` -80 to 200 °C. Raises OutOfRange, UnknownName.
    """
    within("line temperature", line_c, -80, 200, "°C")
    dew_c = dew_line(name).temperature_c(pressure_kpa)
    row = _at(name, dew_c)
    return row[2] + _away(row[4], row[6], max(0.0, line_c - dew_c), SUPERHEATED_K)


def liquid_line_kj_kg(name: str, pressure_kpa: float, line_c: float) -> float:
    """Liquid of ``line_c`` at ``pressure_kpa`` absolute, subcooled or (above the bubble point) at the bubble point.

    ``line_c`` -80 to 200 °C. Raises OutOfRange, UnknownName.
    """
    within("line temperature", line_c, -80, 200, "°C")
    bubble_c = bubble_line(name).temperature_c(pressure_kpa)
    row = _at(name, bubble_c)
    return row[1] - _away(row[3], row[5], max(0.0, bubble_c - line_c), SUBCOOLED_K)


def _away(at_saturation: float, mean: float, kelvin: float, reach_k: float) -> float:
    """The enthalpy over ``kelvin``; beyond the reach the mean specific heat holds."""
    if kelvin >= reach_k:
        return mean * kelvin
    return at_saturation * kelvin + (mean - at_saturation) / reach_k * kelvin**2
