"""Saturation properties of the refrigerants, from CoolProp (Bell et al., Ind. Eng. Chem. Res. 2014, 53, 2498).

Kept as tables by temperature: one cycle asks for some thousand values.
"""

from __future__ import annotations

from bisect import bisect_left
from functools import cache

from CoolProp.CoolProp import PropsSI

ATMOSPHERE_KPA = 101.3
ZERO_C_K = 273.15
_LOWEST_C = -60.0
_BELOW_CRITICAL_K = 1.5


class Fluid:
    """Columns by saturation temperature in whole degC from -60: pressure (kPa absolute), enthalpies (kJ/kg),
    densities (kg/m3), heat capacity of the vapour (kJ/(kg K))."""

    def __init__(self, name: str, columns: dict[str, list[float]]) -> None:
        self.name = name
        self._columns = columns
        self._last = len(columns["p_kpa"]) - 1

    @property
    def hottest_c(self) -> float:
        return _LOWEST_C + self._last

    def at(self, column: str, t_c: float) -> float:
        """Any column at a saturation temperature; outside the table its end."""
        place = min(max(t_c - _LOWEST_C, 0.0), float(self._last))
        under = min(int(place), self._last - 1)
        values = self._columns[column]
        return values[under] + (place - under) * (values[under + 1] - values[under])

    def pressure(self, t_c: float) -> float:
        """Saturation pressure of the vapour, kPa absolute."""
        return self.at("p_kpa", t_c)

    def temperature(self, p_kpa: float) -> float:
        """Saturation temperature, degC, at an absolute pressure."""
        pressures = self._columns["p_kpa"]
        over = min(max(bisect_left(pressures, p_kpa), 1), self._last)
        low, high = pressures[over - 1], pressures[over]
        share = min(max((p_kpa - low) / (high - low), 0.0), 1.0)
        return _LOWEST_C + over - 1 + share


@cache
def fluid(name: str) -> Fluid:
    """The table of one refrigerant: R32, R410A, R22 or R134a."""
    critical_c = PropsSI("Tcrit", name) - ZERO_C_K
    degrees = range(int(_LOWEST_C), int(critical_c - _BELOW_CRITICAL_K))

    def column(what: str, quality: float, scale: float) -> list[float]:
        return [float(PropsSI(what, "T", t + ZERO_C_K, "Q", quality, name)) * scale for t in degrees]

    return Fluid(
        name,
        {
            "p_kpa": column("P", 1, 1e-3),
            "liquid_h": column("H", 0, 1e-3),
            "vapour_h": column("H", 1, 1e-3),
            "vapour_rho": column("D", 1, 1.0),
            "liquid_rho": column("D", 0, 1.0),
            "vapour_cp": column("C", 1, 1e-3),
        },
    )
