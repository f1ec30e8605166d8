"""What no profile, cache or knowledge file can go beyond: limits that protect people, and the span of each figure.

The limits that protect stand here in code and are applied where they are used, whatever a file says. The spans are
our own: wide enough for every unit of this kind, narrow enough that a slipped digit, a wrong unit, infinity or
"not a number" is refused where it is read. ``USUAL`` is narrower: a figure outside it is possible, and said back.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

#: A bus is dead below this at most, volts: IEC 60364-4-41, 414.4.5, where the skin may be wet (from memory).
DEAD_AT_MOST_V = 30.0
#: More than this of AC is never dead, whatever a check says, volts: IEC 60364-4-41, 414.4.5 of 2005, where the skin may
#: be wet (from memory; the amendment of 2017 is lower).
AC_AT_MOST_V = 12.0
#: No computed wait for capacitors is shorter, seconds: time to lock out, open a cover and test the tester.
#: Common practice, no source. The meter decides in any case.
SHORTEST_WAIT_S = 60.0
#: After a bus was measured and still charged only the rest is waited; shorter than this no meter is put down.
SHORTEST_REST_S = 10.0
#: Nor is one longer, seconds: whoever waits an hour for a bleed resistor has an open one, and the meter tells.
LONGEST_WAIT_S = 3600.0
#: No insulation is good below this, megohms: IEC 60364-6, table 6A, at 500 V (from memory).
INSULATION_AT_LEAST_MOHM = 1.0


def _span(low: float, high: float) -> object:
    return Field(ge=low, le=high, allow_inf_nan=False)


SupplyVolts = Annotated[float, _span(90, 500)]
BusVolts = Annotated[float, _span(90, 1000)]
DeadVolts = Annotated[float, _span(5, DEAD_AT_MOST_V)]
MotorVolts = Annotated[float, _span(5, 450)]
ControlVolts = Annotated[float, _span(0, 60)]
SignalVolts = Annotated[float, _span(-100, 400)]
Amperes = Annotated[float, _span(0.1, 200)]
Kilograms = Annotated[float, _span(0.03, 100)]
PipeMetres = Annotated[float, _span(1, 300)]
FreeMetres = Annotated[float, _span(0, 200)]
GramsPerMetre = Annotated[float, _span(0, 500)]
SensorOhms = Annotated[float, _span(1, 1e8)]
SensorC = Annotated[float, _span(-60, 200)]
BetaKelvin = Annotated[float, _span(1000, 7000)]
WindingOhms = Annotated[float, _span(0.01, 100)]
WindingC = Annotated[float, _span(-40, 120)]
CoilOhms = Annotated[float, _span(1, 1e5)]
Percent = Annotated[float, _span(0.1, 50)]
Megohms = Annotated[float, _span(INSULATION_AT_LEAST_MOHM, 1000)]
BusMicrofarads = Annotated[float, _span(10, 50_000)]
RunMicrofarads = Annotated[float, _span(0.5, 200)]
BleedOhms = Annotated[float, _span(1000, 1e7)]
GaugeKilopascals = Annotated[float, _span(-101, 8000)]
TurnsPerMinute = Annotated[float, _span(10, 10_000)]
PulsesPerTurn = Annotated[int, Field(ge=1, le=60)]
Kilowatts = Annotated[float, _span(0.3, 100)]

#: A name, a terminal, a few words; and a sentence or two.
Words = Annotated[str, Field(max_length=120)]
Prose = Annotated[str, Field(max_length=600)]

#: By dotted path in a profile: the usual span. Our own, from units of this kind; common practice, no source.
USUAL: dict[str, tuple[float, float]] = {
    "supply.running_current_a": (1, 60),
    "supply.breaker_a": (6, 80),
    "refrigerant.charge_kg": (0.2, 15),
    "refrigerant.added_g_per_m": (5, 100),
    "refrigerant.longest_line_m": (10, 100),
    "compressor.resistance_ohm": (0.1, 6),
    "compressor.imbalance_percent": (1, 10),
    "indoor_fan.supply_v": (12, 400),
    "outdoor_fan.supply_v": (12, 400),
    "bus.capacitance_uf": (200, 6000),
    "bus.bleed_ohm": (10_000, 1_000_000),
    "expansion_valve_coil.resistance_ohm": (20, 400),
    "reversing_valve_coil.resistance_ohm": (100, 5000),
    "high_pressure_switch.opens_kpa": (2000, 4800),
    "low_pressure_switch.opens_kpa": (-50, 600),
}
