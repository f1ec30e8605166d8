"""A circuit at rest judged by its pressure, and the pressure switches that hang on it. Gauge kPa, °C, K."""

from __future__ import annotations

from assistant.calculations.atmosphere import absolute_kpa, gauge_kpa
from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.found import Found, Limit
from assistant.calculations.refrigerant_cycle import width_at_saturation
from assistant.calculations.saturation import bubble_line, bubble_temperature_c, dew_line, dew_temperature_c
from assistant.calculations.uncertainty import COVERAGE_95, Metered, against_limits, judged, normal_below

STANDING_SOURCE = (
    "while liquid is left a circuit at rest stands at the saturation of its coldest part (physics); "
    "above the saturation of its warmest part another gas is mixed in"
)
#: What the parts of a resting circuit differ in temperature from where the thermometer sits.
TOLERANCE_K = Limit(3.0)


def judge_standing(
    refrigerant: str,
    pressure: Metered,
    coldest: Metered,
    warmest: Metered | None = None,
    tolerance_k: float = TOLERANCE_K,
    altitude_m: float = 0.0,
) -> Found:
    """Judge an equalised pressure (gauge kPa) at rest: low, ok or high, in kelvin of saturation.

    ``coldest`` and ``warmest`` (°C, -40 to 60; one temperature stands for both) may be off by ``tolerance_k`` (0 to 20)
    of what the circuit feels. low: its dew temperature is under the coldest part, so refrigerant is missing; high: its
    bubble temperature is over the warmest, so another gas is in it or a spot is warmer. It says nothing of how much
    liquid is left. Values: excess (K, 0 between), low, high (kPa gauge, saturation at the coldest and warmest part).
    Source: STANDING_SOURCE.
    Takes ``pressure`` -101.325 to 10000, ``altitude_m`` -500 to 9000.
    """
    warm = coldest if warmest is None else warmest
    for reading in (coldest, warm):
        within("standing temperature", reading.value, -40, 60, "°C")
    within("tolerance of the temperature", tolerance_k, 0, 20, "K")
    if coldest.value > warm.value:
        coldest, warm = warm, coldest
    here = absolute_kpa(pressure.value, altitude_m)
    under = dew_temperature_c(refrigerant, here) - coldest.value
    over = bubble_temperature_c(refrigerant, here) - warm.value
    under_width = width_at_saturation(
        refrigerant, lambda kpa, c: dew_temperature_c(refrigerant, kpa) - c, pressure, coldest, altitude_m
    )
    over_width = width_at_saturation(
        refrigerant, lambda kpa, c: bubble_temperature_c(refrigerant, kpa) - c, pressure, warm, altitude_m
    )
    low = _beyond(-tolerance_k - under, under_width)
    high = _beyond(over - tolerance_k, over_width)
    excess = over if over > 0 else under if under < 0 else 0.0
    width = over_width if excess > 0 else under_width
    against = against_limits(excess, width, -tolerance_k, tolerance_k, (low, max(0.0, 1 - low - high), high))
    values = {
        "excess": excess,
        "low": gauge_kpa(dew_line(refrigerant).pressure_kpa(coldest.value), altitude_m),
        "high": gauge_kpa(bubble_line(refrigerant).pressure_kpa(warm.value), altitude_m),
    }
    chances = {"low": low, "ok": against.chance_inside, "high": high}
    return Found(chances, ("ok",), values=values, against=against)


def _beyond(distance: float, expanded: float) -> float:
    """Chance that a limit passed by ``distance`` is truly passed."""
    if expanded == 0:
        return 1.0 if distance > 0 else 0.0
    return normal_below(distance * COVERAGE_95 / expanded)


SWITCH_SIDES = ("high", "low")
CONTACTS = ("open", "closed")
SWITCH_SOURCE = (
    "without the unit's own points: high-pressure switches of any unit are closed below saturation at 45 °C and open "
    "above 70 °C (or the end of the table), low-pressure switches closed above saturation at -15 °C: "
    "common practice, no source"
)
#: Saturation temperatures between which switches of all units open and close.
HIGH_CLOSED_BELOW_C, HIGH_OPEN_ABOVE_C, LOW_CLOSED_ABOVE_C = 45.0, 70.0, -15.0
#: Under this any low-pressure switch is open: a circuit that holds next to nothing. kPa gauge.
LOW_OPEN_BELOW_KPA = -30.0


def switch_points_kpa(refrigerant: str, side: str, altitude_m: float = 0.0) -> tuple[Limit, Limit]:
    """(opens, closes) in kPa gauge that every unit's switch keeps to with this refrigerant. Source: SWITCH_SOURCE.

    Takes ``altitude_m`` -500 to 9000.
    """
    if side not in SWITCH_SIDES:
        raise UnknownName("side", side, SWITCH_SIDES)
    if side == "low":
        closes = gauge_kpa(dew_line(refrigerant).pressure_kpa(LOW_CLOSED_ABOVE_C), altitude_m)
        return Limit(LOW_OPEN_BELOW_KPA, SWITCH_SOURCE, True), Limit(closes, SWITCH_SOURCE, True)
    line = bubble_line(refrigerant)
    opens = gauge_kpa(line.pressure_kpa(min(HIGH_OPEN_ABOVE_C, line.hottest_c)), altitude_m)
    closes = gauge_kpa(line.pressure_kpa(HIGH_CLOSED_BELOW_C), altitude_m)
    return Limit(opens, SWITCH_SOURCE, True), Limit(closes, SWITCH_SOURCE, True)


def judge_pressure_switch(
    pressure: Metered, contact: str, opens_kpa: float, closes_kpa: float, side: str = "high"
) -> Found:
    """A pressure switch's contact against the pressure it feels (gauge kPa): ok, stuck-open or stuck-closed.

    Between its two points either contact is right. Raises UnknownName, and Inconsistent for points that are the wrong
    way round for the side.
    Takes ``pressure`` -101.325 to 10000.
    """
    for name, known, words in (("contact", contact, CONTACTS), ("side", side, SWITCH_SIDES)):
        if known not in words:
            raise UnknownName(name, known, words)
    absolute_kpa(pressure.value)
    if (opens_kpa > closes_kpa) != (side == "high") and opens_kpa != closes_kpa:
        raise Inconsistent(f"A {side}-pressure switch opens {'above' if side == 'high' else 'below'} where it closes.")
    to_open = judged(pressure.value, pressure.expanded, None, opens_kpa)
    to_close = judged(pressure.value, pressure.expanded, None, closes_kpa)
    must_open = to_open.chance_above if side == "high" else 1 - to_open.chance_above
    must_close = 1 - to_close.chance_above if side == "high" else to_close.chance_above
    wrong, name = (must_close, "stuck-open") if contact == "open" else (must_open, "stuck-closed")
    chances = {"ok": 1 - wrong, "stuck-open": 0.0, "stuck-closed": 0.0} | {name: wrong}
    values = {"opens": float(opens_kpa), "closes": float(closes_kpa)}
    return Found(chances, ("ok",), values=values, against=to_close if contact == "open" else to_open)
