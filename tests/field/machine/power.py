"""Electrical energy in the unit: voltages under load, the bus charged, loaded and decaying, and what trips.

The bus: peak of the supply behind the bridge, less the ripple I / (2 f C) of its capacitors (from memory: any text on
capacitor-input rectifiers); after switching off it falls by the board's own draw, then by the bleed, V0 exp(-t / RC).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, inf, sqrt

from tests.field.machine.units import Machine
from tests.field.machine.wiring import Switching, sources, supply_net, two_legs

_POWER_FACTOR = 0.95
_LEAST_SHARE = 0.55  # of nominal: below it a switching supply drops out
_UNDERVOLTAGE = 0.70  # of the rated bus: below it the inverter gives up
_STANDBY_W = 6.0
_STANDBY_OHM = 300e3  # what the boards still draw once their switching supply has dropped out
_HOT_PTC = 3.0  # a soft-start resistor that carries the run current gets hot and resists more
_DROP_OUT_V = 90.0  # bus at which it does


@dataclass(frozen=True)
class Electric:
    """Effective volts between points, bus volts, and what the protective devices do."""

    volts: dict[str, complex]
    unit_v: float
    stage_v: float
    indoor_v: float
    bus_v: float
    bus_low_v: float
    current_a: float

    def between(self, a: str, b: str) -> float:
        """Volts a meter shows between two points; a point that is joined to nothing reads 0."""
        return abs(self.volts.get(a, 0j) - self.volts.get(b, 0j))


def electric(machine: Machine, now: Switching, outdoor_w: float = _STANDBY_W, indoor_w: float = 12.0) -> Electric:
    """The supply with these loads; a load whose voltage collapses drops out."""
    nominal = machine.plate.nominal_v
    stage_ohm, indoor_ohm = nominal**2 / outdoor_w, nominal**2 / indoor_w
    feeds = sources(machine)
    volts: dict[str, complex] = {}
    for _ in range(25):
        volts = supply_net(machine, now, stage_ohm, indoor_ohm).voltages(feeds)
        stage = _across(volts, "stage-1", "stage-2")
        indoor = _across(volts, "indoor-board-1", "indoor-board-2")
        fitted = (_fit(stage_ohm, stage, outdoor_w, nominal), _fit(indoor_ohm, indoor, indoor_w, nominal))
        if abs(fitted[0] - stage_ohm) < 0.01 * stage_ohm and abs(fitted[1] - indoor_ohm) < 0.01 * indoor_ohm:
            break
        stage_ohm, indoor_ohm = fitted
    stage = _across(volts, "stage-1", "stage-2")
    current = stage / stage_ohm / _POWER_FACTOR
    bus = idle_bus(machine, stage)
    return Electric(
        volts=volts,
        unit_v=_across(volts, "unit-1", "unit-2"),
        stage_v=stage,
        indoor_v=_across(volts, "indoor-board-1", "indoor-board-2"),
        bus_v=bus,
        bus_low_v=loaded_bus(machine, stage, outdoor_w),
        current_a=current,
    )


def _across(volts: dict[str, complex], a: str, b: str) -> float:
    return abs(volts.get(a, 0j) - volts.get(b, 0j))


def _fit(ohm: float, volts: float, watts: float, nominal: float) -> float:
    """The resistance nearer to what takes this power; a constant-power load below its least voltage takes no more."""
    wanted = max(volts, _LEAST_SHARE * nominal) ** 2 / watts
    return float(sqrt(ohm * wanted))


def charges(machine: Machine) -> bool:
    """Whether direct current can reach the bus at all."""
    power = machine.outdoor.power
    dead_short = "short" in power.bridge or _shoot_through(machine)
    return power.soft_start_ohm < 1e4 and not dead_short and power.bridge.count("open") < 3


def _shoot_through(machine: Machine) -> bool:
    legs = machine.outdoor.module.legs
    return any(legs[phase] == "short" and legs[phase + 3] == "short" for phase in range(3))


def idle_bus(machine: Machine, stage_v: float) -> float:
    """Bus volts with nothing running."""
    return sqrt(2) * stage_v if charges(machine) else 0.0


def rated_bus(machine: Machine) -> float:
    power = machine.outdoor.power
    return power.boost_v if power.boost != "none" else sqrt(2) * machine.plate.nominal_v


def loaded_bus(machine: Machine, stage_v: float, watts: float) -> float:
    """The lowest the bus falls to while ``watts`` are drawn."""
    power = machine.outdoor.power
    top = idle_bus(machine, stage_v)
    if top <= 0:
        return 0.0
    if power.boost == "works" and stage_v > _LEAST_SHARE * machine.plate.nominal_v:
        top = power.boost_v
    pulses = machine.supply.frequency_hz * (1 if "open" in power.bridge else 2)
    farads = power.bus_uf * power.capacitor_share * 1e-6
    ripple = watts / top / (pulses * max(farads, 1e-7))
    limiting = watts / top * _HOT_PTC * power.soft_start_ohm if power.relay == "open" else 0.0
    return max(0.0, top - min(ripple, 0.9 * top) - limiting)


def holds_up(machine: Machine, bus_low_v: float) -> bool:
    """Whether the inverter keeps running on this bus."""
    return bus_low_v >= _UNDERVOLTAGE * rated_bus(machine)


def outdoor_rails(machine: Machine, stage_v: float) -> bool:
    """Whether the outdoor control supply works: from the bus, or before it where the standby relay cuts the bus."""
    enough = stage_v > 0.45 * machine.plate.nominal_v
    fed = True if machine.outdoor.power.standby_cut else charges(machine)
    return enough and fed and machine.outdoor.board.rails == "works"


def indoor_rails(machine: Machine, indoor_v: float) -> bool:
    return indoor_v > 0.45 * machine.plate.nominal_v and machine.zone.board.rails == "works"


def bus_after(machine: Machine, start_v: float, seconds: float) -> float:
    """Bus volts some time after power went off."""
    power = machine.outdoor.power
    farads = power.bus_uf * max(power.capacitor_share, 1e-3) * 1e-6
    volts = start_v
    if machine.outdoor.board.rails == "works" and start_v > _DROP_OUT_V and not power.standby_cut:
        lasts_s = 0.5 * farads * (start_v**2 - _DROP_OUT_V**2) / _STANDBY_W
        if seconds < lasts_s:
            return float(sqrt(start_v**2 - 2 * _STANDBY_W * seconds / farads))
        volts, seconds = _DROP_OUT_V, seconds - lasts_s
    bleed = 1 / (1 / power.bleed_ohm + 1 / _STANDBY_OHM) if power.bleed_ohm < inf else _STANDBY_OHM
    return volts * exp(-seconds / (bleed * farads))


# ---- protective devices ----------------------------------------------------------------------------------


def shorted(machine: Machine) -> bool:
    """Whether a dead short lies across the supply as soon as power is on."""
    power = machine.outdoor.power
    if machine.branch.short:
        return True
    behind_fuse = power.varistor == "short" or ("short" in power.bridge and power.soft_start_after_bridge)
    return behind_fuse and power.fuse_ohm < 1


def standing_leak_ma(machine: Machine) -> float:
    return machine.branch.leak_ma + machine.outdoor.power.earth_leak_ma


def motor_leak_ma(machine: Machine) -> float:
    """Through the compressor's insulation while the inverter puts half the bus on it."""
    return rated_bus(machine) / 2 / (machine.outdoor.compressor.insulation_mohm * 1e6) * 1e3


def trip(machine: Machine, current_a: float, inverter_runs: bool) -> str:
    """What the breaker does: "none", "at-once" (on switching on), "start" (as the compressor starts) or "later"."""
    breaker = machine.breaker
    if shorted(machine):
        return "at-once"
    limit = breaker.earth_fault_ma
    if limit is not None and standing_leak_ma(machine) > 0.7 * limit:
        return "at-once"
    if limit is not None and inverter_runs and standing_leak_ma(machine) + motor_leak_ma(machine) > 0.7 * limit:
        return "start"
    return "later" if inverter_runs and current_a > 1.05 * breaker.rating_a * breaker.strength else "none"


def trips_without_unit(machine: Machine) -> bool:
    """With the disconnect off, only what lies before it can trip the breaker."""
    limit = machine.breaker.earth_fault_ma
    return machine.branch.short or (limit is not None and machine.branch.leak_ma > 0.7 * limit)


def neutral_used(machine: Machine) -> bool:
    return not two_legs(machine)
