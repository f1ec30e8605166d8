"""Superheat, subcooling, their targets, compression ratio. Gauge pressures in kPa, temperatures °C, differences K."""

from __future__ import annotations

from typing import NamedTuple

from assistant.calculations.atmosphere import absolute_kpa
from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.saturation import bubble_temperature_c, dew_temperature_c
from assistant.calculations.uncertainty import Accuracy, Judged, judged, propagated

RA3 = "California Title 24, 2008 Residential Appendix RA3.2.2"
SUPERHEAT_SOURCE = "superheat counts from the dew temperature (definition)"
SUBCOOLING_SOURCE = "subcooling counts from the bubble temperature (definition)"
ORIFICE_SOURCE = (
    "(3·wet bulb - 80 - outdoor)/2 in °F: common practice, no source (within 2 °F of the printed charging charts, "
    "up to 5 °F in their hot, humid corner); ±5 °F from " + RA3 + ".5"
)
VALVE_SOURCE = RA3 + ".6: superheat 4 to 25 °F, subcooling ±3 °F of the maker's target"

#: Superheat that a metering valve may show where the maker gives none (RA3.2.2.6: 4 to 25 °F).
VALVE_SUPERHEAT_K = (4 / 1.8, 25 / 1.8)
#: How far superheat at an orifice, and subcooling at a valve, may be from target (RA3.2.2.5 and .6: 5 and 3 °F).
ORIFICE_TOLERANCE_K, SUBCOOLING_TOLERANCE_K = 5 / 1.8, 3 / 1.8


def _line(temperature_c: float) -> float:
    return within("line temperature", temperature_c, -80, 200, "°C")


def superheat_k(refrigerant: str, suction_gauge_kpa: float, line_c: float, altitude_m: float = 0.0) -> float:
    """Line temperature less dew temperature at the suction pressure, K; negative values are told, never clamped.

    ``line_c`` -80 to 200 °C. Raises OutOfRange outside the saturation table, UnknownName. Source: SUPERHEAT_SOURCE.
    """
    return _line(line_c) - dew_temperature_c(refrigerant, absolute_kpa(suction_gauge_kpa, altitude_m))


def subcooling_k(refrigerant: str, liquid_gauge_kpa: float, line_c: float, altitude_m: float = 0.0) -> float:
    """Bubble temperature at the liquid pressure less line temperature, K; negative values are told, never clamped.

    ``line_c`` -80 to 200 °C. Raises OutOfRange outside the saturation table, UnknownName. Source: SUBCOOLING_SOURCE.
    """
    return bubble_temperature_c(refrigerant, absolute_kpa(liquid_gauge_kpa, altitude_m)) - _line(line_c)


def orifice_target_superheat_k(indoor_wet_bulb_c: float, outdoor_c: float) -> float:
    """Target superheat of a fixed orifice in cooling, K: (3·WB - 80 - DB)/2 in °F. Source: ORIFICE_SOURCE.

    ``indoor_wet_bulb_c`` 10 to 24.5, ``outdoor_c`` 12.5 to 46.5 °C. Raises Inconsistent when the target is under
    5 °F, where no charge test is valid (RA3.2.2.5).
    """
    within("indoor wet bulb", indoor_wet_bulb_c, 10, 24.5, "°C")
    within("outdoor temperature", outdoor_c, 12.5, 46.5, "°C")
    target_f = (3 * (indoor_wet_bulb_c * 1.8 + 32) - 80 - (outdoor_c * 1.8 + 32)) / 2
    if target_f < 5:
        raise Inconsistent(
            f"At {indoor_wet_bulb_c:.1f} °C indoor wet bulb and {outdoor_c:.1f} °C outdoors the target superheat is "
            "under 5 °F: charge cannot be tested by superheat now, weigh it in."
        )
    return target_f / 1.8


class CycleJudgement(NamedTuple):
    """A superheat or subcooling in K with its 95 % uncertainty, limits and judgement against them."""

    value_k: float
    low_k: float
    high_k: float
    against: Judged
    source: str


def judge_superheat(
    refrigerant: str,
    suction_gauge_kpa: float,
    line_c: float,
    *,
    gauge: Accuracy,
    thermometer_k: float,
    target_k: float | None = None,
    altitude_m: float = 0.0,
) -> CycleJudgement:
    """Judge superheat: within 5 °F of ``target_k`` (orifice), or without one within what a valve may show.

    ``gauge`` accuracy in kPa, ``thermometer_k`` 0 to 20 K; both propagate numerically (GUM 5.1.3). A reading so near an
    end of the saturation table that its uncertainty leaves it raises OutOfRange.
    """
    within("thermometer accuracy", thermometer_k, 0, 20, "K")
    value = superheat_k(refrigerant, suction_gauge_kpa, line_c, altitude_m)
    low, high = VALVE_SUPERHEAT_K
    if target_k is not None:
        within("target superheat", target_k, 0, 30, "K")
        low, high = target_k - ORIFICE_TOLERANCE_K, target_k + ORIFICE_TOLERANCE_K
    width = propagated(
        lambda p, t: superheat_k(refrigerant, p, t, altitude_m),
        (suction_gauge_kpa, line_c),
        (gauge.expanded(suction_gauge_kpa), thermometer_k),
    )
    source = VALVE_SOURCE if target_k is None else ORIFICE_SOURCE
    return CycleJudgement(value, low, high, judged(value, width, low, high), source)


def judge_subcooling(
    refrigerant: str,
    liquid_gauge_kpa: float,
    line_c: float,
    *,
    target_k: float,
    gauge: Accuracy,
    thermometer_k: float,
    altitude_m: float = 0.0,
) -> CycleJudgement:
    """Judge subcooling: within 3 °F of the maker's ``target_k`` (0 to 30 K). Uncertainty as in ``judge_superheat``."""
    within("thermometer accuracy", thermometer_k, 0, 20, "K")
    within("target subcooling", target_k, 0, 30, "K")
    value = subcooling_k(refrigerant, liquid_gauge_kpa, line_c, altitude_m)
    low, high = target_k - SUBCOOLING_TOLERANCE_K, target_k + SUBCOOLING_TOLERANCE_K
    width = propagated(
        lambda p, t: subcooling_k(refrigerant, p, t, altitude_m),
        (liquid_gauge_kpa, line_c),
        (gauge.expanded(liquid_gauge_kpa), thermometer_k),
    )
    return CycleJudgement(value, low, high, judged(value, width, low, high), VALVE_SOURCE)


def compression_ratio(suction_gauge_kpa: float, discharge_gauge_kpa: float, altitude_m: float = 0.0) -> float:
    """Absolute discharge over absolute suction pressure. Definition.

    Raises OutOfRange for a suction under 1 kPa absolute, Inconsistent when discharge is below suction.
    """
    suction = within("absolute suction pressure", absolute_kpa(suction_gauge_kpa, altitude_m), 1, 10_101.5, "kPa")
    discharge = absolute_kpa(discharge_gauge_kpa, altitude_m)
    if discharge < suction:
        raise Inconsistent(
            f"Discharge at {discharge_gauge_kpa:.4g} kPa is below suction at {suction_gauge_kpa:.4g} kPa gauge: "
            "look whether the hoses are swapped or the valve has reversed."
        )
    return discharge / suction
