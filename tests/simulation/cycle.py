"""The refrigerant circuit at full speed: where it settles with what is wrong in it.

A steady balance in shares of the sound unit (common practice figures, no source): heat exchangers follow their airflow,
the expansion valve opens to hold 5 K of superheat as far as it can, flash gas of a low charge and every narrow place
take from its feed, and what is missing of the feed shows as superheat, a colder coil and less output. Pressures come
from CoolProp's tables through the calculation core.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.calculations.atmosphere import SEA_LEVEL_KPA
from assistant.calculations.saturation import bubble_pressure_kpa, dew_pressure_kpa

#: Superheat that the control holds, K.
TARGET_SUPERHEAT_K = 5.0
#: The valve's widest opening in shares of what the sound unit needs at full speed.
WIDEST = 1.8
#: Temperature differences of the sound unit at full speed, K.
COOLING_COIL_K, OUTDOOR_COIL_K, HEATING_COIL_K, OUTDOOR_BOILING_K = 18.0, 12.0, 20.0, 9.0
#: Each kelvin that the compressor must lift more than a sound one costs 1.2 % of output, from here on.
FREE_CLIMB_K = 4.0
#: Above this condensing temperature, °C, the high pressure stops it; below this boiling one the low pressure does.
HIGH_STOP_C, LOW_STOP_C = 63.0, -20.0
#: Heating, the control eases the compressor off as the indoor coil gets hotter than this, °C.
EASE_ABOVE_C = 51.0
#: Discharge temperature at which the control stops, °C.
HOT_STOP_C = 108.0


@dataclass(frozen=True)
class Inputs:
    """What the circuit meets. Shares: 1 is the sound unit. Temperatures in °C."""

    cooling: bool
    indoor_c: float  # on the coil, with air that comes straight back
    outdoor_c: float
    room_c: float
    weather_c: float
    indoor_flow: float
    outdoor_flow: float
    charge: float
    narrow: float  # what strainer, kinks and valves leave of the liquid's way
    strainer: float
    opening: float | None  # None: the control moves the valve; else where it is stuck
    other_gas_kpa: float
    slide_leak: float  # share of hot gas passing the reversing valve
    pumping: float = 1.0  # what the compressor still moves


@dataclass(frozen=True)
class Settled:
    """Where the circuit settles. ``output`` is the share of full capacity, ``climb_k`` what the compressor lifts more
    than a sound one on the same day, K.
    """

    boiling_c: float
    condensing_c: float
    superheat_k: float
    subcooling_k: float
    discharge_c: float
    output: float
    climb_k: float
    strainer_drop_k: float
    valve_rise_k: float
    high_kpa: float
    stop: str  # "", high-pressure, low-pressure, hot-discharge


def sound_lift_k(cooling: bool, room_c: float, weather_c: float) -> float:
    """From boiling to condensing in a sound unit on such a day, K."""
    if cooling:
        return weather_c + OUTDOOR_COIL_K - (room_c - COOLING_COIL_K)
    return min(room_c + HEATING_COIL_K, EASE_ABOVE_C) - (weather_c - OUTDOOR_BOILING_K)


def feed(inputs: Inputs, opening: float | None) -> float:
    """What reaches the evaporator, in shares of what it needs."""
    flash = 1.0 if inputs.charge >= 0.92 else max(0.08, 1 - 2.5 * (0.92 - inputs.charge))
    way = max(0.01, inputs.narrow * inputs.strainer * flash)
    set_to = min(max(1 / way, 0.1), WIDEST) if opening is None else opening
    return set_to * way


def settle(refrigerant: str, inputs: Inputs) -> Settled:
    """The steady state at full speed."""
    fed = feed(inputs, inputs.opening)
    lacking, excess = max(0.0, 1 - fed), max(0.0, fed - 1)
    evaporator_flow, condenser_flow = (
        (inputs.indoor_flow, inputs.outdoor_flow) if inputs.cooling else (inputs.outdoor_flow, inputs.indoor_flow)
    )
    evaporator_flow, condenser_flow = max(0.04, evaporator_flow), max(0.04, condenser_flow)
    output = inputs.pumping * max(0.03, fed if fed < 1 else 1.0) ** 0.8 * evaporator_flow**0.3
    output *= max(0.1, 1 - 2.2 * inputs.slide_leak) * (1 - 0.08 * min(excess, 1.5))
    air_c, reject_c = (inputs.indoor_c, inputs.outdoor_c) if inputs.cooling else (inputs.outdoor_c, inputs.indoor_c)
    boil_k, reject_k = (COOLING_COIL_K, OUTDOOR_COIL_K) if inputs.cooling else (OUTDOOR_BOILING_K, HEATING_COIL_K)
    boiling = air_c - boil_k * inputs.pumping * evaporator_flow**0.3 / evaporator_flow**0.6 - 35 * lacking + 5 * excess
    boiling = max(boiling, -55.0)
    superheat = max(0.0, TARGET_SUPERHEAT_K - 12 * excess) + 32 * lacking
    superheat = min(superheat, max(2.0, air_c - boiling - 1.0))
    over = max(0.0, inputs.charge - 1)
    output *= 1 - inputs.other_gas_kpa / 4000  # gas that does not condense takes room from what does
    condensing = reject_c + reject_k * output / condenser_flow**0.8 + 45 * over
    if not inputs.cooling and condensing > EASE_ABOVE_C:
        condensing = EASE_ABOVE_C + 0.45 * (condensing - EASE_ABOVE_C)
    subcooling = _subcooling(inputs, lacking, over)
    high_kpa = bubble_pressure_kpa(refrigerant, min(condensing, 68.0)) + inputs.other_gas_kpa
    felt = condensing + inputs.other_gas_kpa / 60
    climb = felt - boiling - sound_lift_k(inputs.cooling, inputs.room_c, inputs.weather_c)
    output *= max(0.3, 1 - 0.012 * max(0.0, climb - FREE_CLIMB_K))
    # A leaking slide warms the suction behind the valve, not at the port before it.
    discharge = condensing + 18 + 1.1 * superheat + 0.4 * max(0.0, -boiling) + 95 * inputs.slide_leak
    discharge += inputs.other_gas_kpa / 40
    return Settled(
        boiling_c=boiling,
        condensing_c=condensing,
        superheat_k=superheat,
        subcooling_k=subcooling,
        discharge_c=discharge,
        output=output,
        climb_k=climb,
        strainer_drop_k=0.3 + max(0.0, 0.6 - inputs.strainer) * 30,
        valve_rise_k=1.0 + 70 * inputs.slide_leak,
        high_kpa=high_kpa,
        stop=_stop(felt, boiling, discharge),
    )


def _subcooling(inputs: Inputs, lacking: float, over: float) -> float:
    """At the condenser's end: a full charge backs up, a low one runs dry, a throttled valve holds liquid back."""
    held = 9 * lacking if inputs.charge >= 0.92 else 0.0
    return max(0.0, 7 - 45 * max(0.0, 0.97 - inputs.charge) + 45 * over + held + inputs.other_gas_kpa / 60)


def _stop(condensing_c: float, boiling_c: float, discharge_c: float) -> str:
    if condensing_c > HIGH_STOP_C:
        return "high-pressure"
    if boiling_c < LOW_STOP_C:
        return "low-pressure"
    return "hot-discharge" if discharge_c > HOT_STOP_C else ""


def dew_gauge_kpa(refrigerant: str, temperature_c: float) -> float:
    """Gauge pressure of vapour that boils at ``temperature_c``."""
    return dew_pressure_kpa(refrigerant, min(max(temperature_c, -60.0), 68.0)) - SEA_LEVEL_KPA


def bubble_gauge_kpa(refrigerant: str, temperature_c: float) -> float:
    """Gauge pressure of liquid that condenses at ``temperature_c``."""
    return bubble_pressure_kpa(refrigerant, min(max(temperature_c, -60.0), 68.0)) - SEA_LEVEL_KPA
