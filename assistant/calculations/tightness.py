"""Tightness: nitrogen standing test and vacuum decay. Gauge pressures in kPa, vacuum in Pa absolute, °C, seconds."""

from __future__ import annotations

from typing import Literal, NamedTuple

from assistant.calculations.atmosphere import absolute_kpa, gauge_kpa
from assistant.calculations.errors import within
from assistant.calculations.uncertainty import Accuracy, Judged, combined, judged, propagated

ZERO_C_K = 273.15
GAS_CONSTANT = 8.314462618  # J/(mol·K), CODATA 2018
NITROGEN_SOURCE = (
    "constant density; virial coefficients fitted to Span and others, J. Phys. Chem. Ref. Data 29 (2000), by CoolProp"
)
VACUUM_SOURCE = (
    "under 500 µmHg (66.7 Pa) an hour after pumping to 300: UFGS (US military guide specifications); "
    "steady rise leak, plateau moisture: common practice, no source"
)
MICRON_PA = 133.322387415 / 1000  # conventional millimetre of mercury, NIST SP 811


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
    """
    for value in (start_c, now_c):
        within("gas temperature", value, -50, 80, "°C")
    within("nitrogen pressure", start_kpa, -100, 6000, "kPa")
    absolute, kelvin = absolute_kpa(start_kpa, altitude_m), start_c + ZERO_C_K
    low, high = 0.0, 2000 * absolute / (GAS_CONSTANT * kelvin)
    for _ in range(80):
        middle = (low + high) / 2
        if _nitrogen_kpa(middle, kelvin) < absolute:
            low = middle
        else:
            high = middle
    return gauge_kpa(_nitrogen_kpa(high, now_c + ZERO_C_K), altitude_m)


def ideal_expected_kpa(start_kpa: float, start_c: float, now_c: float, altitude_m: float = 0.0) -> float:
    """The same by the ideal law P2 = P1·T2/T1, which trade literature uses. kPa gauge."""
    for value in (start_c, now_c):
        within("gas temperature", value, -50, 80, "°C")
    within("nitrogen pressure", start_kpa, -100, 6000, "kPa")
    return gauge_kpa(absolute_kpa(start_kpa, altitude_m) * (now_c + ZERO_C_K) / (start_c + ZERO_C_K), altitude_m)


class NitrogenJudgement(NamedTuple):
    """``lost_kpa`` is what temperature does not explain (positive: lost), judged against the largest loss allowed."""

    expected_kpa: float
    lost_kpa: float
    against: Judged


def judge_nitrogen(
    start_kpa: float,
    start_c: float,
    now_kpa: float,
    now_c: float,
    *,
    gauge: Accuracy,
    thermometer_k: float,
    allowed_kpa: float = 7.0,
    altitude_m: float = 0.0,
) -> NitrogenJudgement:
    """Judge a standing test. ``allowed_kpa`` 0 to 500 (7 kPa, about 1 psi: common practice, no source).

    One gauge reads both pressures, so its percentage cancels but for the difference, and only its offset counts twice;
    both temperatures count with ``thermometer_k`` (0 to 20 K, 95 %). Propagated numerically (GUM 5.1.3).
    """
    within("thermometer accuracy", thermometer_k, 0, 20, "K")
    within("allowed loss", allowed_kpa, 0, 500, "kPa")
    expected = nitrogen_expected_kpa(start_kpa, start_c, now_c, altitude_m)
    absolute_kpa(now_kpa, altitude_m)
    lost = expected - now_kpa
    temperatures = propagated(
        lambda a, b: nitrogen_expected_kpa(start_kpa, a, b, altitude_m),
        (start_c, now_c),
        (thermometer_k, thermometer_k),
    )
    width = combined([temperatures, gauge.offset, gauge.offset, gauge.percent_of_reading / 100 * abs(lost)])
    return NitrogenJudgement(expected, lost, judged(lost, width, None, allowed_kpa))


VacuumVerdict = Literal["dry and tight", "moisture", "leak", "undecided"]


class VacuumJudgement(NamedTuple):
    """What a vacuum does after the pump is valved off.

    ``rise_pa`` over the test, its ``early_pa_per_s`` and ``late_pa_per_s`` rates over the first and second half, and
    the ``verdict``; ``against`` judges the last reading against the limit.
    """

    verdict: VacuumVerdict
    rise_pa: float
    early_pa_per_s: float
    late_pa_per_s: float
    against: Judged


def judge_vacuum_decay(
    start_pa: float,
    middle_pa: float,
    end_pa: float,
    duration_s: float,
    *,
    gauge: Accuracy,
    limit_pa: float = 500 * MICRON_PA,
) -> VacuumJudgement:
    """Judge three readings at start, half and end of ``duration_s`` (60 to 1e5 s), 0 to 101 325 Pa absolute.

    Under the limit at the end: dry and tight. Above it, a rise that goes on in the second half (more than half its
    first rate) is a leak, one that levels off is moisture boiling away. Source: VACUUM_SOURCE.
    """
    for name, value in (("start", start_pa), ("middle", middle_pa), ("end", end_pa)):
        within(f"vacuum at {name}", value, 0, 101_325, "Pa")
    within("test time", duration_s, 60, 1e5, "s")
    within("vacuum limit", limit_pa, 1, 10_000, "Pa")
    half = duration_s / 2
    early, late = (middle_pa - start_pa) / half, (end_pa - middle_pa) / half
    against = judged(end_pa, gauge.expanded(end_pa), None, limit_pa)
    verdict: VacuumVerdict = "undecided"
    if against.verdict == "pass":
        verdict = "dry and tight"
    elif against.verdict == "fail":
        noise = combined([gauge.expanded(end_pa), gauge.expanded(middle_pa)]) / half
        verdict = "leak" if late > max(0.5 * early, noise) else "moisture"
    return VacuumJudgement(verdict, end_pa - start_pa, early, late, against)


def leak_rate_pa_m3_s(rise_pa: float, volume_m3: float, duration_s: float) -> float:
    """Leak rate in Pa·m³/s from a pressure rise: Q = V·Δp/t. Rise 0 to 101 325 Pa, 1e-5 to 10 m³, 1 to 1e6 s.

    Source: the pressure-rise method, EN 1779 (title from memory).
    """
    within("pressure rise", rise_pa, 0, 101_325, "Pa")
    within("volume", volume_m3, 1e-5, 10, "m³")
    within("test time", duration_s, 1, 1e6, "s")
    return volume_m3 * rise_pa / duration_s
