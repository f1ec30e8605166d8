"""Insulation resistance of windings: corrected to 40 °C, minimum, polarization index. Ohm, °C.

IEEE 43-2013 is for machines of 750 W and more; small hermetic motors read lower, so there it is guidance only. Never
test through a connected inverter.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.uncertainty import Accuracy, Judged, combined, judged

Winding = Literal["before-1970", "form-wound", "random-wound"]
CORRECTION_SOURCE = "IEEE 43: halves for every 10 K, to 40 °C (K = 0.5^((40-t)/10))"
MINIMUM_SOURCE = "IEEE 43-2013 table 3: kV+1, 100 and 5 Mohm at 40 °C; kV+1 and 5 from memory"
INDEX_SOURCE = (
    "IEEE 43-2013 table 2: 10 min over 1 min, least 1.5 class A, 2.0 classes B, F, H; above 5000 Mohm it says nothing"
)

MOST_OHM = 1e12
_LEAST_INDEX = {"A": 1.5, "B": 2.0, "F": 2.0, "H": 2.0}
#: Above this one-minute value the index means nothing (IEEE 43-2013, 5.4; the number from memory).
INDEX_MEANINGLESS_OHM = 5e9


def _insulation(value: float) -> float:
    return within("insulation resistance", value, 0, MOST_OHM, "ohm")


def corrected_ohm(measured_ohm: float, winding_c: float, reference_c: float = 40.0) -> float:
    """Insulation resistance at ``reference_c`` from that at ``winding_c`` (-20 to 150 °C). Source: CORRECTION_SOURCE.

    The winding must be above the dew point of the air, else moisture on its surface rules.
    """
    within("winding temperature", winding_c, -20, 150, "°C")
    within("reference temperature", reference_c, -20, 150, "°C")
    return float(_insulation(measured_ohm) * 0.5 ** ((reference_c - winding_c) / 10))


def minimum_ohm(rated_kv: float, winding: str = "random-wound") -> float:
    """Least one-minute value at 40 °C in ohm; ``rated_kv`` 0.05 to 20. Source: MINIMUM_SOURCE.

    Raises UnknownName for another winding, Inconsistent for a random-wound machine of 1 kV or more.
    """
    within("rated voltage", rated_kv, 0.05, 20, "kV")
    if winding == "before-1970":
        return (rated_kv + 1) * 1e6
    if winding == "form-wound":
        return 100e6
    if winding == "random-wound":
        if rated_kv >= 1:
            raise Inconsistent(f"A random-wound machine is rated under 1 kV, not {rated_kv:.3g} kV.")
        return 5e6
    raise UnknownName("winding", winding, ("before-1970", "form-wound", "random-wound"))


def polarization_index(one_minute_ohm: float, ten_minutes_ohm: float) -> float:
    """Ten-minute over one-minute resistance. Source: INDEX_SOURCE.

    Raises Inconsistent above 5000 Mohm at one minute, where the index says nothing; OutOfRange under 1 kohm.
    """
    within("one-minute insulation", one_minute_ohm, 1e3, MOST_OHM, "ohm")
    _insulation(ten_minutes_ohm)
    if one_minute_ohm > INDEX_MEANINGLESS_OHM:
        raise Inconsistent(
            "Above 5000 Mohm at one minute the polarization index says nothing; the value alone is good."
        )
    return ten_minutes_ohm / one_minute_ohm


class InsulationJudgement(NamedTuple):
    """One-minute value at 40 °C in ohm against the least allowed."""

    corrected_ohm: float
    minimum_ohm: float
    against: Judged


def judge_insulation(
    measured_ohm: float, winding_c: float, least_ohm: float, meter: Accuracy, thermometer_k: float = 5.0
) -> InsulationJudgement:
    """Judge ``measured_ohm`` corrected to 40 °C against ``least_ohm`` (1 kohm to 1 Tohm; profile or ``minimum_ohm``).

    ``thermometer_k`` (0 to 50 K) is how well the winding's own temperature is known: 6.9 % of the value a kelvin.
    """
    within("least insulation", least_ohm, 1e3, 1e12, "ohm")
    within("winding temperature accuracy", thermometer_k, 0, 50, "K")
    value = corrected_ohm(measured_ohm, winding_c)
    factor = value / measured_ohm if measured_ohm else 1.0
    by_temperature = value * (2 ** (thermometer_k / 10) - 2 ** (-thermometer_k / 10)) / 2
    width = combined([meter.expanded(measured_ohm) * factor, by_temperature])
    return InsulationJudgement(value, least_ohm, judged(value, width, least_ohm, None))


def judge_polarization_index(
    one_minute_ohm: float, ten_minutes_ohm: float, thermal_class: str, meter: Accuracy
) -> Judged:
    """Judge the index against the least of class A, B, F or H. Source: INDEX_SOURCE.

    Both readings come from one meter: half its percentage counts, twice (common practice, no source).
    """
    if thermal_class not in _LEAST_INDEX:
        raise UnknownName("thermal class", thermal_class, _LEAST_INDEX)
    index = polarization_index(one_minute_ohm, ten_minutes_ohm)
    return judged(index, index * meter.percent_of_reading / 100 * 0.5**0.5, _LEAST_INDEX[thermal_class], None)
