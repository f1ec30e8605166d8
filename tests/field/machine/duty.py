"""The refrigerant duty that a machine with its faults puts on the cycle, calibrated at the rated point.

Rated: 27 degC indoors and 35 degC outdoors (the test condition T1 of ISO 5151), evaporating at 10 degC, condensing
at 46 degC (typical of such units, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import log, sqrt

from tests.field.machine.air import AIR_CP, SENSIBLE_SHARE, Air
from tests.field.machine.cycle import Duty, Point, solve
from tests.field.machine.parts import ExpansionValve
from tests.field.machine.refrigerant import fluid
from tests.field.machine.units import Machine
from tests.field.machine.weather import Mode, Weather

_INDOOR_AIR_KG_S_KW = 0.057
_UNDRIVEN_AT = 0.25  # where a valve stays when nothing turns it
_WET_GAIN = 1.1  # frost and dew give the outdoor coil some more
_LOWEST_HEAD_C = 30.0  # the control slows the outdoor fan to keep the condenser above it


@dataclass(frozen=True)
class Rated:
    """Constants of one machine: coils as NTU at rated air, swept volume, valve."""

    indoor_ntu: float
    outdoor_ntu: float
    swept_m3_s: float
    valve_k: float


@lru_cache(maxsize=16)
def rated(name: str, kw: float, outdoor_air_kg_s: float) -> Rated:
    gas = fluid(name)
    indoor_c = _INDOOR_AIR_KG_S_KW * kw * AIR_CP / SENSIBLE_SHARE
    outdoor_c = outdoor_air_kg_s * AIR_CP
    latent = gas.at("vapour_h", 10) + 4.4 - gas.at("liquid_h", 41)
    flow = kw / latent
    head = (gas.pressure(46) - gas.pressure(10)) * 1e3
    return Rated(
        indoor_ntu=-log(1 - kw / (indoor_c * 17)),
        outdoor_ntu=-log(1 - min(0.92, 1.26 * kw / (outdoor_c * 11))),
        swept_m3_s=flow / 0.9 / (gas.at("vapour_rho", 10) * 283 / 287),
        valve_k=flow / sqrt(2 * gas.at("liquid_rho", 41) * head),
    )


def capacity_kw(machine: Machine) -> float:
    return sum(zone.capacity_kw for zone in machine.zones)


def valve_range(valve: ExpansionValve, driven: bool) -> tuple[float, float]:
    """Least and most opening, as shares of the rated one."""
    if valve.fixed:
        return 1.0, 1.0
    if valve.stuck_at is not None:
        return valve.stuck_at, valve.stuck_at
    broken = any(ohm > 1e5 for ohm in valve.phase_ohm)
    if not driven or broken or valve.coil == "lifted" or valve.plug.ohm > 1e3:
        return _UNDRIVEN_AT, _UNDRIVEN_AT
    return (0.35, 0.8) if valve.sticky else (0.05, 1.6)


@dataclass(frozen=True)
class Ask:
    """What the control asks of the circuit: mode in effect, share of full speed, zones that are served."""

    mode: Mode
    speed: float
    ports: tuple[int, ...]
    bypass: float = 0.0
    reverse: bool = False
    superheat_bias_k: float = 0.0


def duty(machine: Machine, weather: Weather, ask: Ask, indoor: Air, outdoor: Air) -> Duty:
    """The duty of one steady state; ``indoor`` and ``outdoor`` are the air over the coils."""
    name = machine.plate.fluid
    own = rated(name, capacity_kw(machine), machine.plate.outdoor_air_kg_s)
    weights = [port_weight(machine, port) * machine.zones[machine.pipes_to[port]].capacity_kw for port in ask.ports]
    share = max(sum(weights) / capacity_kw(machine), 0.02)
    nominal_share = sum(machine.zones[machine.pipes_to[port]].capacity_kw for port in ask.ports) / capacity_kw(machine)
    indoor_rate = _INDOOR_AIR_KG_S_KW * capacity_kw(machine) * AIR_CP * indoor.flow * share
    outdoor_rate = machine.plate.outdoor_air_kg_s * AIR_CP * outdoor.flow
    indoor_ua = own.indoor_ntu / SENSIBLE_SHARE * indoor.exchange / max(indoor.flow, 0.02)
    outdoor_ntu = own.outdoor_ntu * outdoor.exchange / max(outdoor.flow, 0.02)
    least, most = _range(machine, ask)
    coil = machine.outdoor.coil
    heats = ask.mode == "heating"
    warmer = 9 * coil.recirculation + (4 if coil.behind_m < 0.12 else 0)
    outdoor_c = weather.outdoor_c + (-0.5 * warmer if heats else warmer)
    lines, gas, compressor = machine.lines, machine.refrigerant, machine.outdoor.compressor
    wet = 0.93 if gas.wet else 0.0  # the ice in the valve
    stems = 1 - lines.stems_open
    liquid = 1 - (1 - lines.strainer) * (1 - 0.8 * lines.kink) * (1 - wet) * (1 - stems)
    long = max(0.0, lines.length_m - machine.plate.longest_m) / 60
    pump = compressor.pump * (0.04 if ask.reverse else 1.0)
    return Duty(
        fluid=gas.fluid,
        evaporator_air_c=outdoor_c if heats else weather.indoor_c,
        condenser_air_c=weather.indoor_c if heats else outdoor_c,
        evaporator_c_kw_k=outdoor_rate * _WET_GAIN if heats else indoor_rate / SENSIBLE_SHARE,
        condenser_c_kw_k=indoor_rate if heats else outdoor_rate,
        evaporator_ntu=outdoor_ntu if heats else indoor_ua * SENSIBLE_SHARE,
        condenser_ntu=indoor_ua if heats else outdoor_ntu,
        swept_m3_s=own.swept_m3_s * ask.speed * (1.1 if heats else 1.0),
        valve_k=own.valve_k * max(nominal_share, 0.05) * _capillary(machine, weather, heats),
        fixed_valve=least == most,
        least_opening=least,
        most_opening=most,
        restriction=liquid,
        suction_restriction=max(lines.kink, stems, min(long, 0.75)),
        charge=gas.charge,
        air_kpa=gas.air_kpa,
        pump=max(pump, 0.03),
        bypass=ask.bypass,
    )


def _capillary(machine: Machine, weather: Weather, heats: bool) -> float:
    """A fixed unit has a second capillary for heating, and its accumulator keeps back charge as it gets colder."""
    if not heats or not machine.outdoor.valves[0].fixed:
        return 1.0
    return min(0.95, max(0.4, 0.75 + 0.018 * (weather.outdoor_c - 7)))


def port_weight(machine: Machine, port: int) -> float:
    """How much of its share a zone's coil is fed through its valve."""
    least, most = valve_range(machine.outdoor.valves[min(port, len(machine.outdoor.valves) - 1)], _driven(machine))
    if len(machine.outdoor.valves) == 1:
        return 1.0
    return 1.0 if most > least else min(1.0, most / 0.7)


def _driven(machine: Machine) -> bool:
    return machine.outdoor.board.valve_drive == "works"


def _range(machine: Machine, ask: Ask) -> tuple[float, float]:
    if len(machine.outdoor.valves) > 1:
        least, most = 0.05, 1.6
    else:
        least, most = valve_range(machine.outdoor.valves[0], _driven(machine))
    if least == most:
        return least, most
    if ask.superheat_bias_k > 3:
        return min(1.5, 0.9 + 0.05 * ask.superheat_bias_k), 1.6
    if ask.superheat_bias_k < -3:
        return least, max(0.12, 0.9 + 0.08 * ask.superheat_bias_k)
    return least, most


def run_point(machine: Machine, weather: Weather, ask: Ask, indoor: Air, outdoor: Air) -> Point:
    """The steady state; in cool weather the control slows the outdoor fan to keep the condenser warm."""
    wanted = duty(machine, weather, ask, indoor, outdoor)
    if wanted.fixed_valve and not machine.outdoor.valves[0].fixed:
        opening = wanted.least_opening
        wanted = _scaled(wanted, opening)
    point = solve(wanted)
    slows = machine.outdoor.head_control == "works"
    if (
        slows
        and ask.mode == "cooling"
        and point.condensing_c < _LOWEST_HEAD_C
        and weather.outdoor_c < _LOWEST_HEAD_C - 6
    ):
        slow = max(0.12, (point.condensing_c - weather.outdoor_c) / (_LOWEST_HEAD_C + 2 - weather.outdoor_c))
        point = solve(duty(machine, weather, ask, indoor, Air(outdoor.flow * slow, outdoor.exchange * slow)))
    return point


def _scaled(wanted: Duty, opening: float) -> Duty:
    """A valve that stands still is an orifice of that size."""
    return replace(wanted, valve_k=wanted.valve_k * opening)
