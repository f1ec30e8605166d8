"""Insulation resistance of windings: corrected to 40 °C, minimum, polarization index. Ohm, °C.

IEEE 43-2013 is for machines of 750 W and more; small hermetic motors read lower, so there it is guidance only. Never
test through a connected inverter.
"""

from __future__ import annotations

from typing import Literal

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.found import Found, Limit, certain, sided
from assistant.calculations.uncertainty import Metered, combined, judged, propagated

Winding = Literal["before-1970", "form-wound", "random-wound"]
CORRECTION_SOURCE = "IEEE 43: halves for every 10 K, to 40 °C (K = 0.5^((40-t)/10))"
MINIMUM_SOURCE = "IEEE 43-2013 table 3: kV+1, 100 and 5 Mohm at 40 °C; kV+1 and 5 from memory"
INDEX_SOURCE = (
    "IEEE 43-2013 table 2: 10 min over 1 min, least 1.5 class A, 2.0 classes B, F, H; above 5000 Mohm it says nothing"
)

COLD_SOURCE = "liquid refrigerant on a cold winding reads low without harm: common practice, no source"

MOST_OHM = 1e12
#: What a small hermetic motor must show where its maker says nothing.
LEAST_OHM = Limit(
    1e6, "common practice, no source (IEEE 43 asks 5 Mohm at 40 °C of random-wound machines of 750 W and more)", True
)
#: Under this it is grounded, cold or warm. Common practice, no source.
GROUNDED_OHM = 0.1e6
SHELLS = ("warm", "cold")
_LEAST_INDEX = {"A": 1.5, "B": 2.0, "F": 2.0, "H": 2.0}
#: Above this one-minute value the index means nothing (IEEE 43-2013, 5.4; the number from memory).
INDEX_MEANINGLESS_OHM = 5e9


def _insulation(value: float) -> float:
    return within("insulation resistance", value, 0, MOST_OHM, "ohm")


def corrected_ohm(measured_ohm: float, winding_c: float, reference_c: float = 40.0) -> float:
    """Insulation resistance at ``reference_c`` from that at ``winding_c`` (-20 to 150 °C). Source: CORRECTION_SOURCE.

    The winding must be above the dew point of the air, else moisture on its surface rules.
    Takes ``measured_ohm`` 0 to 1e12.
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
    Takes ``one_minute_ohm`` 1000 to 1e12, ``ten_minutes_ohm`` 0 to 1e12.
    """
    within("one-minute insulation", one_minute_ohm, 1e3, MOST_OHM, "ohm")
    _insulation(ten_minutes_ohm)
    if one_minute_ohm > INDEX_MEANINGLESS_OHM:
        raise Inconsistent(
            "Above 5000 Mohm at one minute the polarization index says nothing; the value alone is good."
        )
    return ten_minutes_ohm / one_minute_ohm


def judge_insulation(
    measured: Metered,
    winding: Metered | None = None,
    least_ohm: float = LEAST_OHM,
    shell: str = "warm",
) -> Found:
    """Insulation of a winding to ground against ``least_ohm`` (1 kohm to 1 Tohm): ok, low or repeat-warm.

    ``measured`` in ohm; an open line is the best there is. With ``winding`` (°C, its uncertainty is how well the
    winding's own temperature is known) it is corrected to 40 °C, 6.9 % a kelvin. ``shell`` "cold": liquid refrigerant
    may lie on the winding and reads low without harm, so a low value above ``GROUNDED_OHM`` is to be repeated warm.
    Value: corrected (ohm). Source: CORRECTION_SOURCE, COLD_SOURCE.
    Takes ``measured`` 0 to 1e12, ``winding`` -20 to 150, ``least_ohm`` 1000 to 1e12.
    """
    within("least insulation", least_ohm, 1e3, 1e12, "ohm")
    if shell not in SHELLS:
        raise UnknownName("shell", shell, SHELLS)
    outcomes = ("low", "ok", "repeat-warm")
    if measured.open:
        return Found(certain("ok", outcomes), ("ok",), ("repeat-warm",), values={"corrected": None})
    value, width = _insulation(measured.value), measured.expanded
    if winding is not None:
        value = corrected_ohm(measured.value, winding.value)
        factor = value / measured.value if measured.value else 1.0
        kelvin = within("winding temperature accuracy", winding.expanded, 0, 50, "K")
        by_temperature = value * (2 ** (kelvin / 10) - 2 ** (-kelvin / 10)) / 2
        width = combined([measured.expanded * factor, by_temperature])
    against = judged(value, width, least_ohm, None)
    doubtful = shell == "cold" and measured.value >= GROUNDED_OHM
    chances = dict.fromkeys(outcomes, 0.0) | {"ok": against.chance_inside}
    chances["repeat-warm" if doubtful else "low"] += against.chance_below
    return Found(chances, ("ok",), ("repeat-warm",), values={"corrected": value}, against=against)


def judge_polarization_index(one_minute: Metered, ten_minutes: Metered, thermal_class: str = "F") -> Found:
    """Judge the index against the least of class A, B, F or H: ok or low. Source: INDEX_SOURCE.

    Both readings (ohm) come from one meter, whose common error cancels. Values: index, least.
    Takes ``one_minute`` 1000 to 1e12, ``ten_minutes`` 0 to 1e12.
    """
    if thermal_class not in _LEAST_INDEX:
        raise UnknownName("thermal class", thermal_class, _LEAST_INDEX)
    index = polarization_index(one_minute.value, ten_minutes.value)
    width = propagated(_ratio, (one_minute, ten_minutes))
    against = judged(index, width, _LEAST_INDEX[thermal_class], None)
    values = {"index": index, "least": _LEAST_INDEX[thermal_class]}
    return Found(sided(against, ("low", "ok", "ok")), ("ok",), values=values, against=against)


def _ratio(one_minute_ohm: float, ten_minutes_ohm: float) -> float:
    return ten_minutes_ohm / max(one_minute_ohm, 1.0)
