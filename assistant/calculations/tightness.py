"""Tightness: nitrogen standing test and vacuum decay. Gauge pressures in kPa, vacuum in Pa absolute, °C, seconds."""

from __future__ import annotations

from assistant.calculations.atmosphere import absolute_kpa, gauge_kpa
from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.found import Found, Limit, sided
from assistant.calculations.halving import last_where
from assistant.calculations.uncertainty import LARGEST, Metered, judged, propagated
from assistant.calculations.units import shown
from assistant.quantities.table import QUANTITIES

ZERO_C_K = 273.15
GAS_CONSTANT = 8.314462618  # J/(mol·K), CODATA 2018
NITROGEN_SOURCE = (
    "constant density; virial coefficients fitted to Span and others, J. Phys. Chem. Ref. Data 29 (2000), by CoolProp"
)
VACUUM_SOURCE = "a rise that goes on is a leak, one that levels off moisture: common practice, no source"
MICRON_PA = QUANTITIES["vacuum"].unit("micron").factor
UFGS = "UFGS (US military guide specifications): evacuate to 300 µmHg, at most 500 µmHg after an hour isolated"
#: How deep a circuit is pumped, and what it may have risen to at the end of the test.
DEEP_PA, RISEN_PA = Limit(300 * MICRON_PA, UFGS), Limit(500 * MICRON_PA, UFGS)
#: A rise that goes on with more than this share of its first half is a leak; less levels off.
GOES_ON_SHARE = Limit(0.5)
#: Share of the absolute pressure that a nitrogen test may lose beyond temperature: 20 kPa of 4 MPa.
ALLOWED_PERCENT = Limit(0.5)
#: What it may lose however low it is: a digital gauge read twice tells no less.
ALLOWED_KPA = Limit(10.0)


def _nitrogen_kpa(mol_per_m3: float, kelvin: float) -> float:
    """Pressure of nitrogen by its second and third virial coefficients, kPa absolute.

    B and C in cm³/mol and (cm³/mol)², fitted to Span and others, J. Phys. Chem. Ref. Data 29 (2000) as CoolProp 8.0.0
    has it, -50 to 80 °C.
    """
    x = 300 / kelvin
    second, third = (42.64 - 37.03 * x - 10.17 * x * x) * 1e-6, (639 + 781 * x) * 1e-12
    return mol_per_m3 * GAS_CONSTANT * kelvin * (1 + second * mol_per_m3 + third * mol_per_m3**2) / 1000


def nitrogen_expected_kpa(start_kpa: float, start_c: float, now_c: float, altitude_m: float = 0.0) -> float:
    """Gauge pressure in kPa that a tight circuit of nitrogen shows now: its density stays. Source: NITROGEN_SOURCE.

    ``start_kpa`` gauge, up to 6000; temperatures -50 to 80 °C of the gas (the pipe, not the air). The ideal law
    P2 = P1·T2/T1 is short by a tenth of the change at 40 bar; this is within 1 kPa of the real gas up to 4500 kPa.
    Takes ``start_kpa`` -100 to 6000, ``altitude_m`` -500 to 9000.
    """
    for value in (start_c, now_c):
        within("gas temperature", value, -50, 80, "°C")
    within("nitrogen pressure", start_kpa, -100, 6000, "kPa")
    absolute, kelvin = absolute_kpa(start_kpa, altitude_m), start_c + ZERO_C_K
    density = last_where(lambda mol_per_m3: _nitrogen_kpa(mol_per_m3, kelvin) < absolute, 0.0, LARGEST)
    return gauge_kpa(_nitrogen_kpa(density, now_c + ZERO_C_K), altitude_m)


def ideal_expected_kpa(start_kpa: float, start_c: float, now_c: float, altitude_m: float = 0.0) -> float:
    """The same by the ideal law P2 = P1·T2/T1, which trade literature uses. kPa gauge.

    Takes ``start_kpa`` -100 to 6000, ``start_c`` and ``now_c`` -50 to 80, ``altitude_m`` -500 to 9000.
    """
    for value in (start_c, now_c):
        within("gas temperature", value, -50, 80, "°C")
    within("nitrogen pressure", start_kpa, -100, 6000, "kPa")
    return gauge_kpa(absolute_kpa(start_kpa, altitude_m) * (now_c + ZERO_C_K) / (start_c + ZERO_C_K), altitude_m)


def judge_nitrogen(
    start: Metered,
    start_temperature: Metered,
    now: Metered,
    now_temperature: Metered,
    allowed_percent: float = ALLOWED_PERCENT,
    allowed_kpa: float = ALLOWED_KPA,
    altitude_m: float = 0.0,
) -> Found:
    """Judge a standing test (gauge kPa, °C): holds, falls, or rises (then it is still being fed, and says nothing).

    ``allowed_percent`` (0.01 to 10) of the absolute pressure at the start, and ``allowed_kpa`` (0 to 500) in any case,
    may be lost beyond what temperature explains.
    One gauge and one thermometer read both times: what is the same in both readings all but cancels, and only their own
    part counts twice. Propagated numerically (GUM 5.1.3). Values: expected, lost, allowed_loss (kPa).
    Takes ``start_temperature`` and ``now_temperature`` -50 to 80, ``now`` -101.325 to 10000, ``altitude_m`` -500 to
    9000.
    """
    within("allowed loss", allowed_percent, 0.01, 10, "%")
    within("allowed loss", allowed_kpa, 0, 500, "kPa")
    allowed = max(float(allowed_kpa), absolute_kpa(start.value, altitude_m) * allowed_percent / 100)

    def lost(start_kpa: float, start_c: float, now_kpa: float, now_c: float) -> float:
        return nitrogen_expected_kpa(start_kpa, start_c, now_c, altitude_m) - now_kpa

    absolute_kpa(now.value, altitude_m)
    readings = (start, start_temperature, now, now_temperature)
    value = lost(*(reading.value for reading in readings))
    against = judged(value, propagated(lost, readings), -allowed, allowed)
    values = {"expected": value + now.value, "lost": value, "allowed_loss": allowed}
    return Found(sided(against, ("rises", "holds", "falls")), ("holds",), ("rises",), values, against)


VACUUM_OUTCOMES = ("holds", "not-deep", "moisture", "leak")


def judge_vacuum(
    start: Metered,
    middle: Metered,
    end: Metered,
    duration_s: float,
    deep_pa: float = DEEP_PA,
    limit_pa: float = RISEN_PA,
    goes_on_share: float = GOES_ON_SHARE,
) -> Found:
    """Judge three readings (Pa absolute, 0 to 101 325) after the pump is valved off: at once, at half time, at the end.

    not-deep: the first is above ``deep_pa``; holds: the last is within ``limit_pa``; else the rise tells. A leak goes
    on in the second half of ``duration_s`` (60 to 1e5 s) with more than ``goes_on_share`` of the first half's rise,
    moisture boils away and levels off. Values: rise (Pa), early and late (Pa a minute), ratio. Raises Inconsistent
    for a vacuum that deepens beyond its gauge's uncertainty. Source: VACUUM_SOURCE.
    Takes ``deep_pa`` and ``limit_pa`` 1 to 10000, ``goes_on_share`` 0.05 to 1.
    """
    readings = {"start": start, "half time": middle, "the end": end}
    for name, reading in readings.items():
        within(f"vacuum at {name}", reading.value, 0, 101_325, "Pa")
    within("test time", duration_s, 60, 1e5, "s")
    within("vacuum limit", limit_pa, 1, 10_000, "Pa")
    within("deep vacuum", deep_pa, 1, 10_000, "Pa")
    within("share of the rise that goes on", goes_on_share, 0.05, 1, "1")
    for before, after in ((start, middle), (middle, end)):
        if before.value - after.value > before.expanded + after.expanded:
            raise Inconsistent(
                f"The vacuum deepens from {shown('vacuum', before.value)} to {shown('vacuum', after.value)}, which "
                "none does that is valved off: close the valve to the pump and take the three readings again."
            )
    shallow = judged(start.value, start.expanded, None, deep_pa).chance_above
    last = judged(end.value, end.expanded, None, limit_pa)

    def going_on(first: float, half: float, final: float) -> float:
        return (final - half) - goes_on_share * (half - first)

    value = going_on(start.value, middle.value, end.value)
    leaks = judged(value, propagated(going_on, (start, middle, end)), None, 0.0).chance_above
    risen = (1 - shallow) * last.chance_above
    chances = {
        "holds": (1 - shallow) * last.chance_inside,
        "not-deep": shallow,
        "moisture": risen * (1 - leaks),
        "leak": risen * leaks,
    }
    early, late = middle.value - start.value, end.value - middle.value
    values = {
        "rise": end.value - start.value,
        "early": 120 * early / duration_s,
        "late": 120 * late / duration_s,
        "ratio": late / early if early > 0 else None,
        "last": end.value,
    }
    return Found(chances, ("holds",), values=values, against=last)


def leak_rate_pa_m3_s(rise_pa: float, volume_m3: float, duration_s: float) -> float:
    """Leak rate in Pa·m³/s from a pressure rise: Q = V·Δp/t. Rise 0 to 101 325 Pa, 1e-5 to 10 m³, 1 to 1e6 s.

    Source: the pressure-rise method, EN 1779 (title from memory).
    """
    within("pressure rise", rise_pa, 0, 101_325, "Pa")
    within("volume", volume_m3, 1e-5, 10, "m³")
    within("test time", duration_s, 1, 1e6, "s")
    return volume_m3 * rise_pa / duration_s
