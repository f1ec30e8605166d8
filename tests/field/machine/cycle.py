"""The refrigerant circuit in its steady state, lumped: evaporator, compressor, condenser, valve, charge.

Evaporator and condenser are exchangers at one temperature, Q = (1 - exp(-NTU)) C (T_air - T); the compressor moves
swept volume times suction density; the valve passes m = K sqrt(2 rho dp) (any text on refrigeration; lumped constants
calibrated so that the rated point gives the rated figures, from memory). The part of the evaporator that is left dry
superheats the gas; too little charge uncovers the valve's inlet, too much drowns the condenser.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, sqrt

from tests.field.machine.refrigerant import ZERO_C_K, Fluid, fluid

_TARGET_SUPERHEAT_K = 4.0
_RATED_SUBCOOLING_K = 5.0
_VAPOUR_CP = 1.1  # kJ/(kg K), superheated gas, rough
_EXPONENT = 1.18  # polytropic
_COMPRESSION_SHARE = 0.72  # of the work that is compression; the rest is motor and drive loss, most of it in the gas
_OVERHEAT_KEEP = 0.75


@dataclass(frozen=True)
class Duty:
    """One steady state to solve. Air in degC; ``*_c_kw_k``: heat capacity rate of the air; ``*_ntu``: of the coil."""

    fluid: str
    evaporator_air_c: float
    condenser_air_c: float
    evaporator_c_kw_k: float
    condenser_c_kw_k: float
    evaporator_ntu: float
    condenser_ntu: float
    swept_m3_s: float
    valve_k: float
    fixed_valve: bool = False
    least_opening: float = 0.05
    most_opening: float = 1.6
    restriction: float = 0.0  # share of the liquid line's area lost
    suction_restriction: float = 0.0
    charge: float = 1.0
    air_kpa: float = 0.0
    pump: float = 1.0
    bypass: float = 0.0  # share of the hot gas that slips back through a half-shifted reversing valve


@dataclass(frozen=True)
class Point:
    """What comes out. Pressures kPa absolute, temperatures degC, heat and power kW."""

    evaporating_c: float
    condensing_c: float
    low_kpa: float
    high_kpa: float
    superheat_k: float
    subcooling_k: float
    suction_c: float
    entering_c: float
    discharge_c: float
    liquid_c: float
    behind_restriction_c: float
    cooling_kw: float
    heating_kw: float
    power_kw: float
    opening: float
    floods: bool


def solve(duty: Duty) -> Point:
    """The steady state, by bisection on the condensing and, within it, the evaporating temperature."""
    gas = fluid(duty.fluid)
    low, high = duty.condenser_air_c, min(gas.hottest_c - 0.5, 85.0)
    point = None
    for _ in range(16):
        middle = (low + high) / 2
        point = _at(duty, gas, middle)
        shed = _exchange(duty.condenser_c_kw_k, _drowned_ntu(duty)) * (middle - duty.condenser_air_c)
        if point.heating_kw > shed:
            low = middle
        else:
            high = middle
    assert point is not None
    return point


def subcooling_of(charge: float) -> float:
    """Liquid that stands in the condenser: 5 K at the right charge, none below 87 %."""
    return max(0.0, _RATED_SUBCOOLING_K + 38 * (charge - 1))


def feed_of(charge: float) -> float:
    """Share of the valve's capacity left when vapour comes with the liquid."""
    return 1.0 if charge > 0.87 else max(0.02, 1 - 2.2 * (0.87 - charge))


def _drowned_ntu(duty: Duty) -> float:
    spare = max(0.0, subcooling_of(duty.charge) - _RATED_SUBCOOLING_K)
    return duty.condenser_ntu * max(0.3, 1 - 0.045 * spare) / (1 + duty.air_kpa / 800)


def _exchange(capacity_rate: float, ntu: float) -> float:
    return capacity_rate * (1 - exp(-ntu))


def _at(duty: Duty, gas: Fluid, condensing_c: float) -> Point:
    """The point for one condensing temperature: the evaporating temperature follows from compressor and valve."""
    subcooling = subcooling_of(duty.charge)
    liquid_c = max(condensing_c - subcooling, min(duty.condenser_air_c, condensing_c))
    low, high = -58.0, duty.evaporator_air_c - 0.05
    for _ in range(17):
        middle = (low + high) / 2
        flow, superheat, _ = _evaporator(duty, gas, middle, liquid_c)
        most = _valve(duty, gas, middle, condensing_c, liquid_c, 1.0)
        if duty.fixed_valve:
            too_cold = most > flow
        else:  # the control holds the superheat for as long as the opening that this takes can be had
            opening = flow / max(most, 1e-9)
            wanted = superheat > _TARGET_SUPERHEAT_K and opening <= duty.most_opening
            too_cold = wanted or opening < duty.least_opening
        if too_cold:
            low = middle
        else:
            high = middle
    return _told(duty, gas, condensing_c, liquid_c, (low + high) / 2)


def _evaporator(duty: Duty, gas: Fluid, t_c: float, liquid_c: float) -> tuple[float, float, bool]:
    """Compressor flow (kg/s), superheat (K) and whether liquid is left, at one evaporating temperature."""
    most_kw = _exchange(duty.evaporator_c_kw_k, duty.evaporator_ntu) * (duty.evaporator_air_c - t_c)
    latent = gas.at("vapour_h", t_c) - gas.at("liquid_h", liquid_c)
    superheat = 0.0
    flow = 0.0
    for _ in range(3):  # the density depends a little on the superheat
        flow = _compressor_flow(duty, gas, t_c, superheat)
        dry = 1 - flow * latent / max(most_kw, 1e-6)
        superheat = (duty.evaporator_air_c - t_c) * (1 - exp(-3 * dry)) if dry > 0 else 0.0
    return flow, superheat, dry < -0.02


def _compressor_flow(duty: Duty, gas: Fluid, t_c: float, superheat: float) -> float:
    suction_t = _low_at_compressor(duty, gas, t_c)
    rho = gas.at("vapour_rho", suction_t) * (suction_t + ZERO_C_K) / (suction_t + superheat + ZERO_C_K)
    return duty.swept_m3_s * duty.pump * (1 - duty.bypass) * 0.9 * rho


def _low_at_compressor(duty: Duty, gas: Fluid, t_c: float) -> float:
    """Saturation temperature at the compressor when the gas line is narrowed."""
    lost = 1 - 0.5 * duty.suction_restriction**2
    return gas.temperature(gas.pressure(t_c) * lost)


def _valve(duty: Duty, gas: Fluid, t_c: float, condensing_c: float, liquid_c: float, opening: float) -> float:
    """Flow through valve and restriction in a row, kg/s."""
    drop = max(gas.pressure(condensing_c) - gas.pressure(t_c), 0.0) * 1e3
    k = duty.valve_k * opening
    if duty.restriction > 0:
        other = duty.valve_k * 4 * (1 - min(duty.restriction, 0.995)) / duty.restriction
        k = 1 / sqrt(1 / k**2 + 1 / other**2)
    return k * feed_of(duty.charge) * sqrt(2 * gas.at("liquid_rho", liquid_c) * drop)


def _told(duty: Duty, gas: Fluid, condensing_c: float, liquid_c: float, t_c: float) -> Point:
    flow, superheat, floods = _evaporator(duty, gas, t_c, liquid_c)
    h_in, h_gas = gas.at("liquid_h", liquid_c), gas.at("vapour_h", t_c)
    most_kw = _exchange(duty.evaporator_c_kw_k, duty.evaporator_ntu) * (duty.evaporator_air_c - t_c)
    cooling = min(flow * (h_gas - h_in + _VAPOUR_CP * superheat), most_kw)
    suction_sat = _low_at_compressor(duty, gas, t_c)
    low, high = gas.pressure(suction_sat), gas.pressure(condensing_c)
    entering = t_c + superheat
    ratio = max(high / low, 1.02)
    whole = flow / max(1 - duty.bypass, 0.05)
    volume = 1 / gas.at("vapour_rho", suction_sat)
    work = low * volume * _EXPONENT / (_EXPONENT - 1) * (ratio ** ((_EXPONENT - 1) / _EXPONENT) - 1)
    power = whole * work / _COMPRESSION_SHARE / max(duty.pump, 0.3)
    gain = power / max(whole, 1e-5) * _OVERHEAT_KEEP
    suction = entering
    hot = condensing_c + (
        gas.at("vapour_h", suction_sat) + _VAPOUR_CP * (suction - suction_sat) + gain - gas.at("vapour_h", condensing_c)
    ) / gas.at("vapour_cp", condensing_c)
    if floods:
        hot -= 18
    if duty.bypass > 0:
        suction = entering + duty.bypass * (hot - entering)
        hot += 0.6 * duty.bypass * (hot - entering)
    opening = flow / max(_valve(duty, gas, t_c, condensing_c, liquid_c, 1.0), 1e-9)
    return Point(
        evaporating_c=t_c,
        condensing_c=condensing_c,
        low_kpa=low,
        high_kpa=high + duty.air_kpa * (condensing_c + ZERO_C_K) / (20 + ZERO_C_K),
        superheat_k=superheat,
        subcooling_k=max(0.0, condensing_c - liquid_c),
        suction_c=suction,
        entering_c=entering,
        discharge_c=min(hot, 150.0),
        liquid_c=liquid_c,
        behind_restriction_c=max(t_c, _behind(duty, gas, condensing_c, liquid_c, flow)),
        cooling_kw=cooling,
        heating_kw=cooling + power,
        power_kw=power,
        opening=opening,
        floods=floods,
    )


def _behind(duty: Duty, gas: Fluid, condensing_c: float, liquid_c: float, flow: float) -> float:
    """Temperature behind the restriction: liquid flashes where its pressure falls under saturation."""
    if duty.restriction <= 0:
        return liquid_c
    k = duty.valve_k * 4 * (1 - min(duty.restriction, 0.995)) / duty.restriction
    drop = (flow / (k * feed_of(duty.charge))) ** 2 / (2 * gas.at("liquid_rho", liquid_c)) / 1e3
    left = max(gas.pressure(condensing_c) - drop, 120.0)
    return min(liquid_c, gas.temperature(left))
