"""NTC thermistor curves: resistance from temperature and back.

A curve is one of ``BetaCurve``, ``SteinhartHartCurve`` and ``TableCurve``; all answer ``resistance_ohm(t_c)``
and ``temperature_c(r_ohm)``. Temperatures in °C, resistances in ohm.
Sources: Steinhart and Hart, "Calibration curves for thermistors", Deep-Sea Research 15 (1968) 497-503;
the Beta equation as in IEC 60539-1 (title from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

from assistant.calculations.errors import Inconsistent, OutOfRange, UnknownName, within
from assistant.calculations.monotone import MonotoneCurve

ZERO_C_K = 273.15
REFERENCE_K = 298.15  # 25 °C
#: What any service thermistor meets; outside it neither equation is used.
COLDEST_C, HOTTEST_C = -60.0, 200.0
LEAST_OHM, MOST_OHM = 1e-3, 1e9
#: Where the sensor sits in its divider, and where the volts of its connector are read.
SENSOR_SIDES = ("ground", "reference")
DIVIDER_SOURCE = "voltage divider R = R_fixed·V/(V_ref - V) (Ohm's law); reference and fixed resistor from the board"


class Curve(Protocol):
    """A thermistor's curve."""

    def resistance_ohm(self, temperature_c: float) -> float:
        """Resistance in ohm at ``temperature_c`` in °C; OutOfRange outside the curve."""

    def temperature_c(self, resistance_ohm: float) -> float:
        """Temperature in °C at ``resistance_ohm``; OutOfRange outside the curve."""


def _kelvin(temperature_c: float) -> float:
    return within("thermistor temperature", temperature_c, COLDEST_C, HOTTEST_C, "°C") + ZERO_C_K


def _celsius(inverse_kelvin: float) -> float:
    """°C from 1/T, refused when it is not a temperature that a thermistor meets."""
    if inverse_kelvin <= 0:
        raise OutOfRange("thermistor temperature", math.inf, COLDEST_C, HOTTEST_C, "°C")
    return within("thermistor temperature", 1 / inverse_kelvin - ZERO_C_K, COLDEST_C, HOTTEST_C, "°C")


def _ohm(resistance_ohm: float) -> float:
    return within("thermistor resistance", resistance_ohm, LEAST_OHM, MOST_OHM, "ohm")


@dataclass(frozen=True)
class BetaCurve:
    """R = R25·exp(B·(1/T - 1/298.15 K)).

    ``r25_ohm``: resistance at 25 °C, 1 to 1e8 ohm; ``beta_k``: 500 to 10 000 K, for the span in use (B25/50 and
    B25/85 of one sensor differ by about 2 %). One Beta is off by several percent 25 K from its span: prefer a table.
    """

    r25_ohm: float
    beta_k: float

    def __post_init__(self) -> None:
        within("resistance at 25 °C", self.r25_ohm, 1, 1e8, "ohm")
        within("Beta", self.beta_k, 500, 10_000, "K")

    def resistance_ohm(self, temperature_c: float) -> float:
        """Resistance in ohm at -60 to 200 °C; OutOfRange when it leaves 1 mohm to 1 Gohm."""
        return _ohm(self.r25_ohm * math.exp(self.beta_k * (1 / _kelvin(temperature_c) - 1 / REFERENCE_K)))

    def temperature_c(self, resistance_ohm: float) -> float:
        """Temperature in °C; OutOfRange when it leaves -60 to 200 °C."""
        return _celsius(1 / REFERENCE_K + math.log(_ohm(resistance_ohm) / self.r25_ohm) / self.beta_k)


@dataclass(frozen=True)
class SteinhartHartCurve:
    """1/T = a + b·ln R + c·(ln R)³, T in K, R in ohm.

    ``a`` -0.02 to 0.02, ``b`` 1e-6 to 0.01, ``c`` 0 to 1e-4 (1/K): with these the curve is monotone everywhere.
    Extrapolate no more than 20 K beyond the points it was fitted to.
    """

    a: float
    b: float
    c: float

    def __post_init__(self) -> None:
        within("Steinhart-Hart a", self.a, -0.02, 0.02, "1/K")
        within("Steinhart-Hart b", self.b, 1e-6, 0.01, "1/K")
        within("Steinhart-Hart c", self.c, 0, 1e-4, "1/K")

    def temperature_c(self, resistance_ohm: float) -> float:
        """Temperature in °C; OutOfRange when it leaves -60 to 200 °C."""
        log = math.log(_ohm(resistance_ohm))
        return _celsius(self.a + self.b * log + self.c * log**3)

    def resistance_ohm(self, temperature_c: float) -> float:
        """Resistance in ohm: the one real root of the cubic in ln R (hyperbolic form, b and c being positive)."""
        rest = 1 / _kelvin(temperature_c) - self.a
        if self.c < 1e-16:  # the cubic term is then under 1e-12 of the others
            log = rest / self.b
        else:
            p = self.b / self.c
            log = 2 * math.sqrt(p / 3) * math.sinh(math.asinh(1.5 * rest / self.b * math.sqrt(3 / p)) / 3)
        if not math.log(LEAST_OHM) - 1 < log < math.log(MOST_OHM) + 1:
            raise OutOfRange("thermistor resistance", math.inf if log > 0 else 0.0, LEAST_OHM, MOST_OHM, "ohm")
        return _ohm(math.exp(log))


@dataclass(frozen=True)
class TableCurve:
    """A table of (°C, ohm), at least two rows, resistance falling with temperature, in any order.

    Between the rows ln R is a monotone cubic of 1/T, so every row is met exactly; nothing is extrapolated.
    Raises Inconsistent when the rows do not fall.
    """

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        _ = self._curve

    @cached_property
    def _curve(self) -> MonotoneCurve:
        rows = sorted(((1 / _kelvin(t), math.log(_ohm(r))) for t, r in self.points))
        curve = MonotoneCurve([x for x, _ in rows], [y for _, y in rows], "thermistor table")
        if rows[0][1] > rows[-1][1]:
            raise Inconsistent("The thermistor table rises with temperature; an NTC sensor falls.")
        return curve

    @property
    def span_c(self) -> tuple[float, float]:
        """Lowest and highest temperature of the table in °C."""
        return min(t for t, _ in self.points), max(t for t, _ in self.points)

    def resistance_ohm(self, temperature_c: float) -> float:
        """Resistance in ohm; OutOfRange outside the table."""
        low, high = self.span_c
        within("temperature for the thermistor table", temperature_c, low, high, "°C")
        known = dict(self.points).get(temperature_c)
        if known is not None:
            return known
        values = [r for _, r in self.points]  # the curve stays within them but for rounding
        return min(max(math.exp(self._curve.at(1 / _kelvin(temperature_c))), min(values)), max(values))

    def temperature_c(self, resistance_ohm: float) -> float:
        """Temperature in °C; OutOfRange outside the table."""
        values = [r for _, r in self.points]
        within("resistance for the thermistor table", resistance_ohm, min(values), max(values), "ohm")
        for t, r in self.points:
            if r == resistance_ohm:
                return t
        return _celsius(self._curve.inverse(math.log(resistance_ohm)))


def curve_from(
    r25_ohm: float | None = None, beta_k: float | None = None, table: Sequence[tuple[float, float]] = ()
) -> Curve:
    """The best curve that the data allow: the table when there is one, else Beta.

    Raises Inconsistent when there is neither a table nor both ``r25_ohm`` and ``beta_k``.
    """
    if table:
        return TableCurve(tuple((float(t), float(r)) for t, r in table))
    if r25_ohm is None or beta_k is None:
        raise Inconsistent("A thermistor needs either a table or both its resistance at 25 °C and its Beta.")
    return BetaCurve(r25_ohm, beta_k)


def percent_per_kelvin(curve: Curve, temperature_c: float) -> float:
    """Relative slope of ``curve`` at ``temperature_c`` in % per K (negative: NTC), from a step of 0.05 K.

    At an end of the curve the step is taken on the inner side only. Raises OutOfRange outside the curve.
    Takes ``temperature_c`` -60 to 200.
    """
    here = curve.resistance_ohm(temperature_c)
    ends = []
    for step in (-0.05, 0.05):
        try:
            ends.append((temperature_c + step, curve.resistance_ohm(temperature_c + step)))
        except OutOfRange:
            ends.append((temperature_c, here))
    (t0, r0), (t1, r1) = ends
    if t0 == t1:
        raise Inconsistent("The thermistor curve is too short to have a slope.")
    return 100 * (r1 - r0) / (t1 - t0) / here


def connector_ohm(volts: float, reference_v: float, fixed_ohm: float, sensor_side: str = "ground") -> float:
    """Resistance of a sensor from the volts across its connector: a divider of one fixed resistor and the sensor.

    ``sensor_side`` "ground": R = R_fixed·V/(V_ref - V); "reference" (the sensor is fed, the volts stand across the
    fixed resistor): R = R_fixed·(V_ref - V)/V. ``volts`` above 0 and under ``reference_v`` (1 to 24 V), ``fixed_ohm``
    10 to 1e6. Source: the voltage divider (Ohm's law). Raises Inconsistent at either end: the line is shorted or open.
    Takes ``volts`` 0 to 24.
    """
    within("reference voltage", reference_v, 1, 24, "V")
    within("fixed resistor", fixed_ohm, 10, 1e6, "ohm")
    within("volts at the connector", volts, 0, 24, "V")
    if sensor_side not in SENSOR_SIDES:
        raise UnknownName("side of the sensor", sensor_side, SENSOR_SIDES)
    rest = reference_v - volts
    if volts <= 0.002 * reference_v or rest <= 0.002 * reference_v:
        raise Inconsistent(
            f"{volts:.3g} V of {reference_v:.3g} V is an end of the divider: the sensor or its line is open or shorted."
        )
    return fixed_ohm * (volts / rest if sensor_side == "ground" else rest / volts)
