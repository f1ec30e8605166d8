"""The program's profile of a unit, as a technician would write it from that unit's manual."""

from __future__ import annotations

from math import inf
from typing import Any

from assistant.library.profile import UnitProfile
from tests.field.machine.duty import capacity_kw
from tests.field.machine.sensors import ohms
from tests.field.machine.units import Machine

_MAKE = "Quillmere"
_TABLE_C = (-10, 0, 10, 25, 40, 60, 90)
_ZONES = ("the bedroom", "the den", "the great room")


def profile_of(machine: Machine) -> UnitProfile:
    """The profile of a sound machine."""
    plate, outdoor, zone = machine.plate, machine.outdoor, machine.zones[0]
    data: dict[str, Any] = {
        "id": f"{_MAKE} {plate.model}".lower().replace(" ", "-"),
        "make": _MAKE,
        "model": plate.model,
        "phrases": [f"{_MAKE} {plate.model}".lower()],
        "invented": True,
        "source": "invented for the field simulator",
        "features": _features(machine),
        "supply": {
            "system": plate.system,
            "nominal_v": plate.nominal_v,
            "frequency_hz": round(machine.supply.frequency_hz),
            "running_current_a": plate.running_a,
            "breaker_a": machine.breaker.rating_a,
        },
        "refrigerant": {
            "name": plate.fluid,
            "charge_kg": plate.charge_kg,
            "free_length_m": plate.free_length_m,
            "added_g_per_m": plate.added_g_per_m,
            "longest_line_m": plate.longest_m,
            "greatest_height_m": plate.highest_m,
        },
        "zones": _zones(machine),
        "sensors": _sensors(machine),
        "compressor": {"resistance_ohm": 2 * outdoor.compressor.phase_ohm[0]},
        "outdoor_fan": _fan(outdoor.fan),
        "bus": _bus(machine),
        "signal": {
            "terminals": ["1", "2", "3"],
            "pair": ["2", "3"],
            "low_v": round(plate.signal_v / 2, 1),
            "high_v": plate.signal_v,
        },
        "reversing_valve_coil": {"resistance_ohm": outdoor.reversing.coil_ohm},
        "high_pressure_switch": {
            "opens_kpa": outdoor.high_switch.opens_kpa,
            "closes_kpa": outdoor.high_switch.closes_kpa,
        },
    }
    if zone.fan.kind == "dc":
        data["indoor_fan"] = _fan(zone.fan)
    else:
        data["run_capacitors_uf"] = {"indoor-fan": zone.fan.capacitor_uf}
    if not outdoor.valves[0].fixed:
        data["expansion_valve_coil"] = {"resistance_ohm": outdoor.valves[0].phase_ohm[0]}
    if outdoor.low_switch is not None:
        data["low_pressure_switch"] = {
            "opens_kpa": outdoor.low_switch.opens_kpa,
            "closes_kpa": outdoor.low_switch.closes_kpa,
        }
    return UnitProfile.model_validate(data)


def _features(machine: Machine) -> list[str]:
    outdoor, zone = machine.outdoor, machine.zones[0]
    has = {
        "heat-pump": True,
        "auto-mode": len(machine.zones) > 1,
        "display": True,
        "remote-control": True,
        "network-adapter": zone.panel.adapter != "missing",
        "float-switch": zone.pump is not None,
        "condensate-pump": zone.pump is not None,
        "drain-trap": zone.drain.trap != "none",
        "dc-indoor-fan": zone.fan.kind == "dc",
        "dc-outdoor-fan": outdoor.fan.kind == "dc",
        "outdoor-lamps": outdoor.board.lamps,
        "reactor": True,
        "soft-start-relay": True,
        "top-overload": outdoor.compressor.overload_ohm is not None,
        "crankcase-heater": outdoor.compressor.crankcase_ohm is not None,
        "base-heater": outdoor.body.base_heater_ohm is not None,
        "expansion-valve": not outdoor.valves[0].fixed,
        "service-valves": True,
        "separate-power-module": outdoor.module.place == "own",
        "integrated-power-module": outdoor.module.place == "main",
    }
    return [feature for feature, there in has.items() if there]


def _zones(machine: Machine) -> list[dict[str, Any]]:
    if len(machine.zones) == 1:
        kw = capacity_kw(machine)
        return [{"id": "zone-1", "name": "the head", "phrases": ["the head"], "capacity_kw": kw}]
    return [
        {"id": f"zone-{at + 1}", "name": name, "phrases": [name], "capacity_kw": machine.zones[at].capacity_kw}
        for at, name in enumerate(_ZONES)
    ]


def _sensors(machine: Machine) -> dict[str, Any]:
    known = {**machine.zones[0].sensors, **machine.outdoor.sensors}
    return {
        name: {"table": [[t_c, round(ohms(sensor, t_c), 1)] for t_c in _TABLE_C], "tolerance_percent": 5}
        for name, sensor in known.items()
        if ohms(sensor, 25) < inf
    }


def _fan(motor: Any) -> dict[str, Any]:
    return {
        "supply_v": motor.supply_v,
        "control_v": 15.0,
        "control_span_v": [1.5, 6.0],
        "pulses_per_turn": motor.pulses_per_turn,
        "speed_rpm": [400.0, motor.top_rpm],
    }


def _bus(machine: Machine) -> dict[str, Any]:
    power = machine.outdoor.power
    bus: dict[str, Any] = {"capacitance_uf": power.bus_uf, "bleed_ohm": power.bleed_ohm}
    if power.boost != "none":
        bus["boosted_v"] = power.boost_v
    return bus
