"""Moist air through PsychroLib (ASHRAE Fundamentals 2017, chapter 1). °C, kPa, kg/kg, kJ/kg, m³/kg."""

from __future__ import annotations

from importlib import import_module
from types import ModuleType
from typing import NamedTuple

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.units import shown

AIR_SOURCE = "PsychroLib 2.5, ASHRAE Fundamentals 2017 chapter 1 (ideal gas; W about 0.5 % low at saturation)"

COLDEST_C, HOTTEST_C = -50.0, 80.0
#: Where the vapour pressure of water is known, °C.
VAPOUR_C = (-100.0, 200.0)


class Air(NamedTuple):
    """A state of moist air. ``humidity_ratio`` kg water per kg dry air; enthalpy and volume per kg of dry air."""

    dry_bulb_c: float
    wet_bulb_c: float
    dew_point_c: float
    relative_humidity_percent: float
    humidity_ratio: float
    enthalpy_kj_kg: float
    volume_m3_kg: float
    pressure_kpa: float

    @property
    def density_kg_m3(self) -> float:
        """Mass of moist air per m³: (1 + W)/v."""
        return (1 + self.humidity_ratio) / self.volume_m3_kg


def _psychrolib() -> ModuleType:
    """PsychroLib set to SI, each time: its unit system is a global that other code could have changed."""
    library = import_module("psychrolib")
    library.SetUnitSystem(library.SI)
    return library


def _shown(temperature_c: float) -> str:
    return shown("temperature", temperature_c)


def _dry_bulb(dry_bulb_c: float) -> float:
    return within("dry bulb", dry_bulb_c, COLDEST_C, HOTTEST_C, "°C")


def _pressure(pressure_kpa: float) -> float:
    return within("air pressure", pressure_kpa, 30, 120, "kPa")


def saturated_vapour_pa(temperature_c: float) -> float:
    """Pressure of saturated water vapour in Pa, below 0.01 °C over ice; -100 to 200 °C. Source: AIR_SOURCE."""
    return float(_psychrolib().GetSatVapPres(within("temperature", temperature_c, *VAPOUR_C, "°C")))


def _refuse_boiling(lib: ModuleType, dry_bulb_c: float, pascal: float) -> None:
    """The ideal-gas equations end where vapour takes nearly the whole pressure."""
    if lib.GetSatVapPres(dry_bulb_c) >= 0.9 * pascal:
        raise Inconsistent(
            f"At {_shown(dry_bulb_c)} and {pascal / 1000:.1f} kPa water nearly boils; no room air is so."
        )


def air_from_humidity_ratio(dry_bulb_c: float, humidity_ratio: float, pressure_kpa: float = 101.325) -> Air:
    """Air of ``humidity_ratio`` (1e-7 to 0.6 kg/kg) at ``dry_bulb_c`` (-50 to 80 °C), 30 to 120 kPa.

    Raises OutOfRange, and Inconsistent when that much water is more than saturated air holds.
    """
    lib = _psychrolib()
    pascal = _pressure(pressure_kpa) * 1000
    t = _dry_bulb(dry_bulb_c)
    w = within("humidity ratio", humidity_ratio, 1e-7, 0.6, "kg/kg")
    _refuse_boiling(lib, t, pascal)
    saturated = lib.GetSatHumRatio(t, pascal)
    if w > saturated * (1 + 1e-6):
        raise Inconsistent(
            f"{w:.5f} kg/kg is more water than air of {_shown(t)} holds ({saturated:.5f} kg/kg): look at the readings."
        )
    w = min(w, saturated)
    return Air(
        t,
        _solved(lib.GetTWetBulbFromHumRatio, "wet bulb", t, w, pascal),
        _solved(lib.GetTDewPointFromHumRatio, "dew point", t, w, pascal),
        100 * lib.GetRelHumFromHumRatio(t, w, pascal),
        w,
        lib.GetMoistAirEnthalpy(t, w) / 1000,
        lib.GetMoistAirVolume(t, w, pascal),
        pressure_kpa,
    )


def _solved(function: object, what: str, *values: float) -> float:
    """A PsychroLib search, its failure told as ours."""
    try:
        return float(function(*values))  # type: ignore[operator]
    except ValueError as error:
        raise Inconsistent(f"No {what} was found for this air ({error}).") from error


def air_from_wet_bulb(dry_bulb_c: float, wet_bulb_c: float, pressure_kpa: float = 101.325) -> Air:
    """Air by dry and wet bulb (-50 to 80 °C). Raises Inconsistent for a wet bulb above the dry, or impossibly below.

    Takes ``pressure_kpa`` 30 to 120.
    """
    lib = _psychrolib()
    t, wet = _dry_bulb(dry_bulb_c), within("wet bulb", wet_bulb_c, COLDEST_C, HOTTEST_C, "°C")
    if wet > t:
        raise Inconsistent(f"Wet bulb {_shown(wet)} is above dry bulb {_shown(t)}; look whether they were swapped.")
    pascal = _pressure(pressure_kpa) * 1000
    _refuse_boiling(lib, t, pascal)
    w = _wet_bulb_ratio(lib, t, wet, pascal)
    if w < 1e-7:
        raise Inconsistent(f"Wet bulb {_shown(wet)} is too far below dry bulb {_shown(t)}: drier than dry air.")
    return air_from_humidity_ratio(t, min(w, lib.GetSatHumRatio(t, pascal)), pressure_kpa)


def _wet_bulb_ratio(lib: ModuleType, dry_bulb_c: float, wet_bulb_c: float, pascal: float) -> float:
    """Humidity ratio from dry and wet bulb, unbounded (PsychroLib clamps a negative one in silence).

    Source: ASHRAE Fundamentals 2017, chapter 1, equations 33 (above freezing) and 35 (below).
    """
    saturated = lib.GetSatHumRatio(wet_bulb_c, pascal)
    if wet_bulb_c >= 0:
        above = (2501 - 2.326 * wet_bulb_c) * saturated - 1.006 * (dry_bulb_c - wet_bulb_c)
        return float(above / (2501 + 1.86 * dry_bulb_c - 4.186 * wet_bulb_c))
    below = (2830 - 0.24 * wet_bulb_c) * saturated - 1.006 * (dry_bulb_c - wet_bulb_c)
    return float(below / (2830 + 1.86 * dry_bulb_c - 2.1 * wet_bulb_c))


def air_from_relative_humidity(dry_bulb_c: float, percent: float, pressure_kpa: float = 101.325) -> Air:
    """Air by dry bulb (-50 to 80 °C) and relative humidity (0.5 to 100 %).

    Takes ``pressure_kpa`` 30 to 120.
    """
    lib = _psychrolib()
    t, pascal = _dry_bulb(dry_bulb_c), _pressure(pressure_kpa) * 1000
    share = within("relative humidity", percent, 0.5, 100, "%") / 100
    _refuse_boiling(lib, t, pascal)
    return air_from_humidity_ratio(t, lib.GetHumRatioFromRelHum(t, share, pascal), pressure_kpa)


def saturated_enthalpy_kj_kg(dry_bulb_c: float, pressure_kpa: float = 101.325) -> float:
    """Enthalpy of saturated air alone, kJ per kg of dry air: what a search needs many times. Source: AIR_SOURCE.

    Takes ``dry_bulb_c`` -50 to 80, ``pressure_kpa`` 30 to 120. Raises Inconsistent where water nearly boils.
    """
    lib = _psychrolib()
    t, pascal = _dry_bulb(dry_bulb_c), _pressure(pressure_kpa) * 1000
    _refuse_boiling(lib, t, pascal)
    return float(lib.GetMoistAirEnthalpy(t, lib.GetSatHumRatio(t, pascal))) / 1000


def air_from_dew_point(dry_bulb_c: float, dew_point_c: float, pressure_kpa: float = 101.325) -> Air:
    """Air by dry bulb and dew point (-50 to 80 °C). Raises Inconsistent for a dew point above the dry bulb.

    Takes ``pressure_kpa`` 30 to 120.
    """
    lib = _psychrolib()
    t, dew = _dry_bulb(dry_bulb_c), within("dew point", dew_point_c, COLDEST_C, HOTTEST_C, "°C")
    if dew > t:
        raise Inconsistent(f"Dew point {_shown(dew)} is above dry bulb {_shown(t)}; look whether they were swapped.")
    pascal = _pressure(pressure_kpa) * 1000
    _refuse_boiling(lib, t, pascal)
    return air_from_humidity_ratio(t, lib.GetHumRatioFromTDewPoint(dew, pascal), pressure_kpa)
